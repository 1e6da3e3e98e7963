// The local page in a real browser: what a person does there. Usage: node page.mjs PROGRAM MODULES [SHOTS]
import { spawn } from 'node:child_process';
import { createRequire } from 'node:module';
import { readFileSync, mkdirSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import assert from 'node:assert/strict';

const [, , program, modules, shots] = process.argv;
const need = createRequire(resolve(modules, 'package.json'));
const { chromium } = need('playwright-core');
const axe = readFileSync(need.resolve('axe-core/axe.min.js'), 'utf8');
const root = resolve(dirname(fileURLToPath(import.meta.url)), '../..');
if (shots) mkdirSync(shots, { recursive: true });

function serve(...args) {
  const child = spawn(resolve(program), ['serve', ...args], { cwd: root, stdio: ['ignore', 'pipe', 'ignore'] });
  return new Promise((done, failed) => {
    child.once('error', failed);
    child.once('exit', (code) => failed(new Error(`serve ended with ${code}`)));
    child.stdout.once('data', (line) => done({ child, url: String(line).trim() }));
  });
}

const { child, url } = await serve();
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM || '/usr/bin/chromium', args: ['--no-sandbox', '--disable-dev-shm-usage'] });
let failed = 0;
let asked = [];

const all = [];

/** One thing that a person does, on a page of its own. */
const does = (name, options, act) => { if (!process.env.ONLY || name.includes(process.env.ONLY)) all.push({ name, act: () => doing(name, options, act) }); };

/** Two persons at once: half the time, and what one does must not disturb the other. */
async function lanes(many) {
  // The longest first.
  all.sort((a, b) => b.name.includes('every') - a.name.includes('every'));
  const lane = async () => { for (let next = all.shift(); next; next = all.shift()) await next.act(); };
  await Promise.all(Array.from({ length: many }, lane));
}

async function doing(name, options, act) {
  const begin = Date.now();
  const context = await browser.newContext({ viewport: { width: 1400, height: 950 }, acceptDownloads: true, ...options });
  const page = await context.newPage();
  const errors = [];
  page.on('pageerror', (e) => errors.push(e.message));
  page.on('console', (m) => { if (m.type() === 'error' && !/422/.test(m.text())) errors.push(m.text()); });
  page.on('request', (r) => asked.push(r.url()));
  try {
    await page.goto(url);
    await page.waitForFunction(() => /\d/.test(document.querySelector('#total').textContent));
    await act(page);
    assert.deepEqual(errors, []);
    console.log(`ok   ${name} (${Date.now() - begin} ms)`);
  } catch (e) {
    failed += 1;
    console.log(`FAIL ${name}\n${e.stack}`);
    if (shots) await page.screenshot({ path: join(shots, 'failed.png'), fullPage: true });
  }
  await context.close();
}

const sum = (page) => page.textContent('#total');
const total = (page, is) => page.waitForFunction((t) => document.querySelector('#total').textContent === t, is);
const totalNot = (page, is) => page.waitForFunction((t) => document.querySelector('#total').textContent !== t, is);
const shot = (page, name, fullPage = false) => (shots ? page.screenshot({ path: join(shots, `${name}.png`), fullPage }) : null);
const field = (page, path) => page.locator(`[data-path="${path}"]`).first();
const text = (page) => page.inputValue('#text');
const answered = (page) => page.evaluate(() => new Promise((done) => { document.addEventListener('answered', done, { once: true }); setTimeout(done, 4000); }));

async function audit(page, what) {
  const begin = Date.now();
  // The page lets no foreign script in: the audit comes through the debugger.
  const debug = await page.context().newCDPSession(page);
  await debug.send('Runtime.evaluate', { expression: axe });
  await debug.detach();
  const found = await page.evaluate(() => window.axe.run(document, { resultTypes: ['violations'] }));
  const bad = found.violations.filter((v) => ['serious', 'critical', 'moderate'].includes(v.impact));
  if (process.env.TIMES) console.log(`     audit ${what}: ${Date.now() - begin} ms`);
  assert.deepEqual(bad.map((v) => `${what}: ${v.id} ${v.nodes.map((n) => n.target.join(' ')).slice(0, 3).join(', ')}`), []);
}

does('the first estimate from nothing', {}, async (page) => {
  assert.equal(await page.textContent('#title'), 'Rest house, hill road');
  assert.match(await sum(page), /^UGX 10\u2009422\u2009000$/);
  assert.match(await page.getAttribute('#picture', 'alt'), /^Long section/);
  assert.ok(await page.evaluate(() => document.querySelector('#picture').naturalWidth > 100));
  await shot(page, 'first');
  for (const id of ['bill', 'orders', 'materials', 'bars']) {
    await page.click(`#tab-${id}`);
    await page.waitForSelector(`#sheet-${id} tbody tr`);
    await shot(page, id);
  }
});

does('a dimension is changed, and everything follows', {}, async (page) => {
  await page.click('[data-id="cross-section"]');
  await page.waitForFunction(() => /^Cross section/.test(document.querySelector('#picture').alt));
  const before = await page.getAttribute('#picture', 'src');
  await field(page, 'tank.width').fill('1.60 m');
  await total(page, 'UGX 10\u2009646\u2009000');
  await page.waitForFunction((src) => document.querySelector('#picture').src !== src, before);
  assert.match(await text(page), /width = "1.60 m" {19}# clear width/);
  // Any dimension, from the drawing's own list.
  await page.click('#dims-box summary');
  await page.fill('#find', 'cover thickness');
  await shot(page, 'dimensions');
  await field(page, 'tank.cover.thickness').fill('150 mm');
  await totalNot(page, 'UGX 10\u2009646\u2009000');
  assert.match(await text(page), /thickness = "150 mm"\nmix = "1:1.5:3"\nwall_beams/);
  await page.click('#undo');
  await page.click('#undo');
  await total(page, 'UGX 10\u2009422\u2009000');
  assert.equal(await text(page), readFileSync(join(root, 'samples/rest-house/job.toml'), 'utf8'));
});

does('the list of dimensions follows the drawing, and the drawing shows which is meant', {}, async (page) => {
  const rows = () => page.locator('#dims .row:visible');
  const followed = () => page.waitForFunction(() => /^[1-9]\d* of \d+$/.test(document.querySelector('#only-says').textContent), null, { timeout: 90000 });
  // A small job: each length is tried, and this program may be one that is not made for speed.
  await page.selectOption('#samples', 'smallest');
  await page.waitForFunction(() => document.querySelectorAll('#pictures button').length === 5);
  await page.click('[data-id="plan-floor"]');
  await page.waitForFunction(() => /^Plan at floor/.test(document.querySelector('#picture').alt));
  await page.click('#dims-box summary');
  await followed();
  const few = await rows().count();
  assert.ok(few > 2 && few < 7, `${few} of the plan`);
  assert.ok(await page.locator('#dims [data-path="tank.width"]').isVisible());
  assert.equal(await page.locator('#dims [data-path="tank.height"]').isVisible(), false);
  await page.locator('#dims [data-path="tank.width"]').focus();
  await page.waitForSelector('#marks i.own');
  assert.match(await page.locator('#dims .row:has([data-path="tank.width"])').textContent(), /marked on the drawing: 1200/);
  const [mark, picture] = await page.evaluate(() => ['#marks i.own', '#picture'].map((s) => document.querySelector(s).getBoundingClientRect().toJSON()));
  assert.ok(mark.left > picture.left && mark.right < picture.right && mark.top > picture.top && mark.bottom < picture.bottom);
  await page.locator('#figure').scrollIntoViewIfNeeded();
  await shot(page, 'marked');
  await audit(page, 'marked');
  await page.keyboard.press('Tab');
  await page.uncheck('#only');
  assert.equal(await rows().count(), 7);
  assert.ok(await page.locator('#dims [data-path="tank.height"]').isVisible());
});

does('a refused value is told at its field, and at its line', {}, async (page) => {
  await field(page, 'tank.width').fill('1.');
  await page.waitForSelector('.row.bad');
  const row = page.locator('#form .row.bad');
  assert.match(await row.textContent(), /a length needs its unit.*write "1\. m"/);
  assert.equal(await field(page, 'tank.width').getAttribute('aria-invalid'), 'true');
  assert.ok(await page.evaluate(() => document.querySelector('#work').classList.contains('stale')));
  assert.match(await page.getAttribute('#picture', 'alt'), /^Long section/);
  await page.waitForSelector('#problems:not([hidden])');
  await page.click('#problems .link');
  assert.equal(await page.evaluate(() => { const t = document.querySelector('#text'); return t.value.slice(t.selectionStart, t.selectionEnd); }), '"1."');
  assert.equal(await page.textContent('#lines b'), '30');
  await shot(page, 'refused');
  await audit(page, 'refused');
  // Mended in the text, the form follows.
  await page.keyboard.type('"1.70 m"');
  await page.waitForFunction(() => !document.querySelector('.row.bad'));
  assert.equal(await field(page, 'tank.width').inputValue(), '1.70 m');
  assert.match(await page.textContent('#live'), /./);
});

does('markup in a name stays a name', {}, async (page) => {
  await field(page, 'job.title').fill('<img src=x onerror=alert(1)> & "Pit"');
  await page.waitForFunction(() => document.querySelector('#title').textContent.startsWith('<img'));
  assert.equal(await page.locator('h1 img').count(), 0);
  await page.click('#tab-papers');
});

does('a price list is dropped', {}, async (page) => {
  const list = readFileSync(join(root, 'rates/prices/demo-ugx.csv'), 'utf8').replaceAll(',15000,UGX', ',16000,UGX');
  await page.setInputFiles('#list-file', { name: 'mine.csv', mimeType: 'text/csv', buffer: Buffer.from(list) });
  await totalNot(page, 'UGX 10\u2009422\u2009000');
  assert.match(await page.textContent('#under'), /mine/);
  assert.match(await text(page), /rates = "mine.csv"/);
  await page.setInputFiles('#list-file', { name: 'bad.csv', mimeType: 'text/csv', buffer: Buffer.from('a,b\n1,2\n') });
  await page.waitForFunction(() => /is not taken/.test(document.querySelector('#list-says').textContent));
});

does('a supplier\u2019s list is told how to be read', {}, async (page) => {
  const list = 'Duka la mfano\nJina la bidhaa,Kipimo,Bei,Bei na kodi\nDig the pit,m3,16000,18880\nCement 50kg,bag,36000,42480\nWheelbarrow <b>,nr,150000,177000\n';
  await page.click('#tab-prices');
  await page.setInputFiles('#prices-file', { name: 'duka.csv', mimeType: 'text/csv', buffer: Buffer.from(list) });
  await page.waitForSelector('#list-heads select');
  assert.match(await page.textContent('#list-name'), /duka.csv is not taken yet/);
  for (const [head, column] of [['Jina la bidhaa', 'description'], ['Kipimo', 'unit'], ['Bei', 'rate']]) {
    await page.selectOption(`[data-head="${head}"]`, column);
    await page.waitForFunction(([h, c]) => document.querySelector(`[data-head="${h}"]`).value === c, [head, column]);
  }
  for (const [name, value] of [['currency', 'UGX'], ['date', '2026-10-01'], ['source', 'the shop']]) { await page.fill(`#t-${name}`, value); await page.press(`#t-${name}`, 'Tab'); }
  await page.waitForFunction(() => /duka.csv: 1 rows, UGX/.test(document.querySelector('#list-name').textContent));
  await page.waitForSelector('[data-line="3"]');
  // An answer that comes late takes nothing away of what is being written.
  let answer;
  const late = new Promise((done) => { answer = done; });
  await page.route('**/needs', async (route) => { await late; await route.continue(); });
  await page.fill('[data-line="3"]', 'work excavation-pit/0-1.5');
  await page.press('[data-line="3"]', 'Enter');
  await page.waitForFunction(() => /duka.csv: 2 rows/.test(document.querySelector('#list-name').textContent));
  await page.fill('[data-line="5"]', '-');
  answer();
  await page.waitForFunction(() => /1 of \d+ have a price/.test(document.querySelector('#sheet-sum').textContent));
  await page.unroute('**/needs');
  assert.equal(await page.inputValue('[data-line="5"]'), '-');
  await page.press('[data-line="5"]', 'Enter');
  await page.waitForFunction(() => /Every line is known/.test(document.querySelector('#list-lines').textContent));
  assert.match(await text(page), /rates = "duka.csv"/);
  await page.click('#sheet-box summary');
  await page.waitForFunction(() => /1 of \d+ have a price/.test(document.querySelector('#sheet-sum').textContent));
  await page.selectOption('#lines-show', 'all');
  await shot(page, 'prices', true);
  await audit(page, 'prices');
  for (const [id, name] of [['plain-save', 'duka-plain.csv'], ['map-save', 'duka.map.csv']]) {
    const [download] = await Promise.all([page.waitForEvent('download'), page.click(`#${id}`)]);
    assert.equal(download.suggestedFilename(), name);
    assert.match(readFileSync(await download.path(), 'utf8'), /excavation-pit\/0-1.5/);
  }
});

does('a figure is asked how it comes about', {}, async (page) => {
  await page.click('#tab-bill');
  await page.click('#sheet-bill tbody td button >> nth=0');
  await page.waitForFunction(() => /excavation-pit/.test(document.querySelector('#how-text').textContent));
  await shot(page, 'how');
  await audit(page, 'how');
  await page.fill('#how-id', 'cemment');
  await page.press('#how-id', 'Enter');
  await page.click('#how-says button >> text=cement');
  await page.waitForFunction(() => /[Cc]ement/.test(document.querySelector('#how-text').textContent));
  await page.keyboard.press('Escape');
  assert.equal(await page.evaluate(() => document.querySelector('#how').open), false);
});

does('the foreman: the card of a stage, and the store', {}, async (page) => {
  await page.click('#tab-orders');
  // A stage lists what is ordered, used or must stand there, not all that lies in the store.
  await page.waitForSelector('#sheet-orders table');
  const idle = await page.$$eval('#sheet-orders table:first-of-type tbody tr', (rows) => rows.map((r) => [...r.cells].map((c) => c.textContent.trim()))
    .filter((c) => c.length === 7 && c[1] === '0' && !Number(c[3].replace(/\s/g, '')) && !/board|batten|bearer|prop/.test(c[0])));
  assert.deepEqual(idle, []);
  await page.waitForSelector('#stage option[value="base"]', { state: 'attached' });
  await page.selectOption('#stage', 'base');
  await page.waitForFunction(() => /cement/i.test(document.querySelector('#card-text').textContent));
  await shot(page, 'stage');
  const [download] = await Promise.all([page.waitForEvent('download'), page.click('#card-print')]);
  assert.match(readFileSync(await download.path(), 'latin1'), /^%PDF/);
  await page.click('#store-box summary');
  await page.setInputFiles('#store-file', { name: 'came.csv', mimeType: 'text/csv', buffer: Buffer.from('date,material,quantity\n2026-12-01,cement,20\n') });
  await page.waitForSelector('#store-says pre');
  assert.match(await page.textContent('#store-says pre'), /cement/i);
  await page.setInputFiles('#store-file', { name: 'came.csv', mimeType: 'text/csv', buffer: Buffer.from('date,material,quantity\nmonday,cement,20\n') });
  await page.waitForSelector('#store-says .wrong');
  await audit(page, 'stage');
});

does('a second take-off is held against the job', {}, async (page) => {
  await page.click('#tab-second');
  await page.setInputFiles('#second-file', join(root, 'samples/rest-house/second.csv'));
  await page.waitForSelector('#finding pre');
  assert.match(await page.textContent('#finding pre'), /bulking billed: x 1\.4/);
  await shot(page, 'second');
});

does('what is paid: at a stage, at a day, in per cent', {}, async (page) => {
  await page.selectOption('#samples', 'guest-house');
  await total(page, 'KES 268\u2009931.54');
  await page.click('#tab-payments');
  await page.waitForFunction(() => /stage payments of the priced bill/.test(document.querySelector('#paid').textContent));
  await page.selectOption('#at-stage', 'walls-lower');
  await page.waitForFunction(() => /as if walls, lower part/.test(document.querySelector('#paid').textContent));
  await page.fill('#at-day', '2026-12-18');
  await page.press('#at-day', 'Tab');
  await page.waitForFunction(() => /the work as seen on Fri 18 Dec 2026/.test(document.querySelector('#paid').textContent));
  assert.equal(await page.inputValue('#at-stage'), '');
  await page.fill('#at-day', '2026-12-20');
  await page.click('#at summary');
  await page.fill('#done-walls-lower', '80');
  await page.press('#done-walls-lower', 'Tab');
  await page.waitForFunction(() => /80 %/.test(document.querySelector('#paid').textContent));
  const [download] = await Promise.all([page.waitForEvent('download'), page.click('#paid button >> text=CSV')]);
  assert.match(readFileSync(await download.path(), 'utf8'), /walls-lower/);
  await page.fill('#at-day', '20.12.2026');
  await page.press('#at-day', 'Tab');
  await page.waitForSelector('#paid .wrong');
  await shot(page, 'payments');
  await audit(page, 'payments');
});

does('variations, and the job as built', {}, async (page) => {
  await page.setInputFiles('#open', join(root, 'samples/workshop/as-built.toml'));
  await page.waitForFunction(() => /Workshop/.test(document.querySelector('#title').textContent));
  await page.click('#tab-vary');
  await page.setInputFiles('#contract-file', join(root, 'samples/workshop/job.toml'));
  const [, sum] = readFileSync(join(root, 'samples/workshop/expected/vary.txt'), 'utf8').match(/adjusted sum +(KES [\d .]+\d)/);
  await page.waitForFunction((sum) => document.querySelector('#varied').textContent.replaceAll('\u00a0', ' ').includes(sum), sum);
  assert.equal(await page.inputValue('#contract'), 'file');
  await shot(page, 'variations');
  await audit(page, 'variations');
  await page.fill('#vary-day', 'soon');
  await page.press('#vary-day', 'Tab');
  await page.waitForSelector('#varied .wrong');
  await page.fill('#vary-day', '');
  await page.press('#vary-day', 'Tab');
  await page.click('#varied button >> text=Draw it as built');
  await page.waitForFunction(() => /height = "1\.95 m"/.test(document.querySelector('#text').value));
  // The job that was there is A now.
  await page.click('#tab-compare');
  await page.waitForFunction(() => /tank\.height/.test(document.querySelector('#compared').textContent));
});

does('priced copies side by side', {}, async (page) => {
  await page.click('#tab-returned');
  await page.setInputFiles('#copies-file', ['kato', 'nile'].map((who) => join(root, `samples/rest-house/returned-${who}.csv`)));
  await page.waitForFunction(() => /Lowest as corrected: Kato/.test(document.querySelector('#compared-copies').textContent));
  await shot(page, 'copies');
  await audit(page, 'copies');
  await page.fill('#copies-ratio', '0');
  await page.press('#copies-ratio', 'Tab');
  await page.waitForSelector('#compared-copies .wrong');
  await page.fill('#copies-ratio', '2');
  await page.press('#copies-ratio', 'Tab');
  await page.waitForSelector('#compared-copies pre');
  await page.click('#copies button >> nth=0');
  await page.waitForFunction(() => document.querySelectorAll('#copies li').length === 1);
  await page.waitForFunction(() => /to be priced: 1/.test(document.querySelector('#compared-copies').textContent));
});

does('the sheet of a spreadsheet file is chosen', {}, async (page) => {
  await page.click('#tab-prices');
  await page.setInputFiles('#prices-file', join(root, 'tests/corpus/list-book/two-sheets.xlsx'));
  await page.waitForSelector('#t-sheet-row:not([hidden])');
  const names = await page.$$eval('#t-sheet option', (all) => all.map((o) => o.value));
  assert.ok(names.length > 2, String(names));
  await page.selectOption('#t-sheet', names.at(-1));
  await page.waitForFunction((name) => document.querySelector('#list-name').textContent.includes(`#${name}`), names.at(-1));
  await audit(page, 'sheets');
});

does('every paper is downloaded', {}, async (page) => {
  await page.click('#tab-papers');
  await shot(page, 'papers', true);
  const ids = await page.$$eval('[data-paper]', (all) => all.map((b) => b.dataset.paper));
  assert.ok(ids.length > 30, String(ids.length));
  // Pictures and cards to print take their time in a program that is not made for speed: one of each stands for all here,
  // and tests/page.rs takes every one.
  const family = (id) => (/^(drawings\/.*png|cards[/-])/.test(id) ? id.replace(/[/-].*\./, '.') : id);
  for (const id of ids.filter((one, i) => ids.findIndex((other) => family(other) === family(one)) === i)) {
    const [download] = await Promise.all([page.waitForEvent('download'), page.click(`[data-paper="${id}"]`)]);
    const path = await download.path();
    assert.ok(readFileSync(path).length > 40, id);
    assert.match(download.suggestedFilename(), /^rest-house/, id);
  }
});

does('two designs are compared', {}, async (page) => {
  await page.click('#tab-compare');
  await page.click('#keep');
  await field(page, 'tank.height').fill('1.80 m');
  await page.waitForFunction(() => /tank\.height/.test(document.querySelector('#compared').textContent));
  assert.match(await page.textContent('#compared'), /\+\d/);
  await shot(page, 'compare');
  await page.click('#back');
  await total(page, 'UGX 10\u2009422\u2009000');
});

does('the cheapest is searched, stopped and taken', {}, async (page) => {
  await page.click('#tab-cheapest');
  await page.fill('#s-length', '1.5 m..9 m');
  await page.fill('#s-width', '0.8 m..4 m');
  await page.fill('#s-depth', '1.2 m..3 m');
  await page.click('#begin');
  await page.waitForFunction(() => / of /.test(document.querySelector('#progress-says').textContent));
  await shot(page, 'search');
  await page.click('#stop');
  await page.waitForFunction(() => /stopped/.test(document.querySelector('#progress-says').textContent));
  await page.fill('#s-length', '2.8 m..3 m');
  await page.fill('#s-width', '1.5 m');
  await page.fill('#s-depth', '1.6 m');
  await page.click('#begin');
  await page.waitForSelector('#found tbody button', { timeout: 60000 });
  await shot(page, 'cheapest');
  await page.click('#found tbody button >> nth=0');
  await page.waitForFunction(() => /Total/.test(document.querySelector('#compared').textContent));
  assert.match(await text(page), /# clear lengths, face of masonry/);
});

does('a phone of 360 px', { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true }, async (page) => {
  for (const id of ['drawings', 'bill', 'orders', 'bars', 'prices', 'cheapest', 'payments', 'vary', 'returned', 'papers']) {
    await page.click(`#tab-${id}`);
    await page.waitForTimeout(120);
    const over = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    assert.ok(over <= 0, `${id} is ${over} px too wide`);
  }
  await page.click('#tab-drawings');
  await shot(page, 'phone', true);
  await page.tap('.jump a >> nth=0');
  await field(page, 'tank.persons').fill('40');
  await page.waitForFunction(() => /does not comply/.test(document.querySelector('#verdict').textContent));
  await shot(page, 'phone-form');
  await audit(page, 'phone');
});

does('by keyboard alone', {}, async (page) => {
  const at = () => page.evaluate(() => document.activeElement.id || document.activeElement.dataset.path || document.activeElement.className);
  const to = async (fits) => {
    for (let n = 0; n < 80; n += 1) { await page.keyboard.press('Tab'); if (fits(await at())) return; }
    assert.fail('not reached by Tab');
  };
  await page.keyboard.press('Tab');
  assert.equal(await at(), 'skip');
  const persons = await page.getAttribute('[data-path="tank.persons"]', 'id');
  await to((id) => id === persons);
  await page.keyboard.press('Control+A');
  await page.keyboard.type('40');
  await page.waitForFunction(() => /does not comply/.test(document.querySelector('#verdict').textContent));
  assert.equal(await at(), persons);
  await to((id) => id === 'tab-drawings');
  await page.keyboard.press('ArrowRight');
  assert.equal(await at(), 'tab-bill');
  await page.waitForSelector('#sheet-bill tbody tr');
  await page.keyboard.press('End');
  assert.equal(await at(), 'tab-papers');
  await to((id) => id === 'sheet-papers');
  await page.keyboard.press('Tab');
  const [download] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Enter')]);
  assert.equal(download.suggestedFilename(), 'rest-house.toml');
  const outline = await page.evaluate(() => getComputedStyle(document.activeElement).outlineStyle);
  assert.notEqual(outline, 'none');
});

does('dark, and every sheet audited', { colorScheme: 'dark' }, async (page) => {
  assert.notEqual(await page.evaluate(() => getComputedStyle(document.body).backgroundColor), 'rgb(247, 244, 236)');
  await page.click('#text-toggle');
  await shot(page, 'dark');
  await audit(page, 'dark drawings');
});

does('light, and every sheet audited', {}, async (page) => {
  for (const id of ['drawings', 'bill', 'orders', 'materials', 'bars', 'prices', 'compare', 'cheapest', 'second', 'payments', 'vary', 'returned', 'papers']) {
    await page.click(`#tab-${id}`);
    await page.waitForTimeout(150);
    await audit(page, id);
  }
  await page.click('#tab-drawings');
  for (const box of ['dims', 'cautions', 'defaults']) await page.click(`#${box}-box summary`);
  await audit(page, 'open lists');
});

does('every sample opens', {}, async (page) => {
  for (const name of ['smallest', 'school', 'clinic', 'textbook']) {
    await page.selectOption('#samples', name);
    await answered(page);
    await page.waitForFunction(() => document.querySelector('#problems').hidden || document.querySelector('#problems').classList.contains('mild'));
    await shot(page, `sample-${name}`);
  }
  await page.evaluate(() => { window.onbeforeunload = null; });
});

await lanes(2);
if (process.env.MEASURE) {
  does('from key to picture', {}, async (page) => {
    await page.click('[data-id="cross-section"]');
    await page.waitForFunction(() => /^Cross section/.test(document.querySelector('#picture').alt));
    await page.evaluate(() => {
      window.times = [];
      const picture = document.querySelector('#picture');
      let key = 0;
      document.addEventListener('input', () => { key = performance.now(); }, true);
      picture.addEventListener('load', () => requestAnimationFrame(() => { if (key) window.times.push(performance.now() - key); key = 0; }));
    });
    const widths = ['1.52 m', '1.54 m', '1.56 m', '1.58 m', '1.62 m', '1.64 m', '1.66 m', '1.68 m', '1.72 m', '1.74 m'];
    for (const w of [...widths, ...widths.reverse()]) { await field(page, 'tank.width').fill(w); await page.waitForTimeout(250); }
    const times = (await page.evaluate(() => window.times)).sort((a, b) => a - b);
    console.log(`     key to picture, ${times.length} times: median ${times[Math.floor(times.length / 2)].toFixed(0)} ms, most ${times.at(-1).toFixed(0)} ms`);
  });
  await lanes(1);
}

await browser.close();
child.removeAllListeners('exit');
child.kill();
const elsewhere = asked.filter((u) => !u.startsWith(url) && !u.startsWith('blob:') && !u.startsWith('data:'));
if (elsewhere.length) { failed += 1; console.log(`FAIL asked elsewhere: ${elsewhere.slice(0, 3)}`); }
console.log(failed ? `${failed} failed` : 'the page does what it should');
process.exit(failed ? 1 : 0);
