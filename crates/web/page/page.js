// The page: one text of a job, a form over it, a drawing of it. Who measures and prices is the program.
import * as account from './account.js';
import * as dims from './dims.js';
import * as prices from './prices.js';
import * as show from './show.js';
import * as site from './site.js';
const { h } = show;
const $ = (id) => document.getElementById(id);

const SHEETS = [['drawings', 'Drawings'], ['bill', 'Bill'], ['orders', 'Orders'], ['materials', 'Materials'], ['bars', 'Bars'],
  ['prices', 'Prices'], ['compare', 'Compare'], ['cheapest', 'Cheapest'], ['second', 'Second take-off'], ['payments', 'Payments'], ['vary', 'Variations'], ['returned', 'Priced copies'], ['papers', 'Papers']];

const state = {
  text: '', pending: new Map(), typed: 0, asked: 0, taken: 0, flying: 0, again: false, idle: 0,
  sheet: 'drawings', picture: '', answer: null, last: null, past: [], pastAt: 0, pastPlace: '', kept: null, saved: '', search: null, second: '', secondSheet: '',
};

// ---- asking ----------------------------------------------------------------------------------------------------

/** What the program says where it takes something not: it is there, and says why. */
async function refusal(reply) { return Object.assign(new Error((await reply.text()).trim()), { said: true }); }

async function ask(path, body) {
  const reply = await fetch(path, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) });
  if (!reply.ok && reply.status !== 422) throw await refusal(reply);
  return reply;
}

async function drop(path, head, file) {
  const body = new Blob([`${JSON.stringify(head)}\n`, file]);
  const reply = await fetch(path, { method: 'POST', headers: { 'Content-Type': 'application/octet-stream' }, body });
  if (!reply.ok) throw await refusal(reply);
  return reply.json();
}

/** Questions under way at once: the newest need not wait for the one before. */
const FLYING = 2;
/** After so long without a key, ms, what nobody needs while typing is asked for. */
const IDLE = 500;

/** Asks for the job as it is now; with `lists`, for the lists of drawings and papers too. */
async function update(lists = false) {
  clearTimeout(state.idle);
  if (state.flying >= FLYING) { state.again = true; return; }
  state.flying += 1;
  const [typed, turn] = [state.typed, (state.asked += 1)];
  const edits = [...state.pending].map(([path, value]) => ({ path, value }));
  try {
    const answer = await (await ask('/estimate', { text: state.text, edits, show: state.sheet, picture: state.picture, lists: lists === true })).json();
    // What comes after a newer answer is old.
    if (typed !== state.typed) state.again = true;
    else if (turn > state.taken) {
      state.taken = turn;
      state.text = answer.text;
      for (const e of edits) if (state.pending.get(e.path) === e.value) state.pending.delete(e.path);
      receive(answer);
    }
    gone(false);
  } catch (e) { gone(e); }
  state.flying -= 1;
  if (state.again) { state.again = false; update(); } else if (lists !== true && !state.flying) state.idle = setTimeout(() => update(true), IDLE);
}

/** When no question about the job is under way. */
async function quiet() { while (state.flying) await new Promise((done) => { setTimeout(done, 30); }); }

async function figures(text, paths) {
  try { return await (await ask('/figures', { text, picture: state.last.picture.id, paths })).json(); } catch { return null; }
}

/** Tells that there is no answer, and why; false where there is one again. */
function gone(why) {
  document.body.classList.toggle('gone', Boolean(why));
  if (!why) return;
  const text = why.said ? `This is not taken: ${why.message}. The drawing and the figures are those of before.`
    : `The program does not answer (${why.message}). Start it again with tankwright serve; what you typed is still here.`;
  say(text);
  drawn.delete('problems');
  $('problems').hidden = false;
  $('problems').replaceChildren(h('p', {}, text));
}

let sayLater = 0;
function say(text) { clearTimeout(sayLater); sayLater = setTimeout(() => { $('live').textContent = text; }, 600); }

// ---- changes ---------------------------------------------------------------------------------------------------

/** Keeps the text for Undo: once for what is typed in one go at one place. */
function remember(place) {
  const now = Date.now();
  if ((now - state.pastAt > 900 || place !== state.pastPlace) && state.past.at(-1) !== state.text) {
    state.past.push(state.text);
    if (state.past.length > 100) state.past.shift();
  }
  state.pastAt = now;
  state.pastPlace = place;
  $('undo').disabled = !state.past.length;
}

function change(path, value) { remember(path); state.pending.set(path, value); update(); }

function replace(text) {
  remember('');
  put(text);
}

function put(text) {
  state.text = text;
  state.pending.clear();
  state.typed += 1;
  $('text').value = text;
  update();
}

// ---- the answer ------------------------------------------------------------------------------------------------

function receive(answer) {
  state.answer = answer;
  const made = answer.bill !== undefined;
  const before = state.last;
  if (made) state.last = answer;
  const shown = state.last;
  if (shown) show.numbers(shown.numbers);
  for (const list of ['drawings', 'papers']) if (made && answer[list] === null) answer[list] = before?.[list] ?? [];
  $('work').classList.toggle('stale', !made && Boolean(shown));
  $('total').classList.toggle('stale-sum', !made);
  if (document.activeElement !== $('text')) $('text').value = answer.text;
  fields($('form'), answer.questions, true, made);
  if ($('dims-box').open || !made) fields($('dims'), answer.lengths, false, made);
  problems(answer, made);
  numbers(answer);
  if (shown) {
    head(shown);
    pictures(shown);
    sheet(shown);
    notes();
  }
  const wrong = answer.problems.filter((p) => p.error).length;
  say(wrong ? `${wrong} problem${wrong > 1 ? 's' : ''}: ${answer.problems.find((p) => p.error).message}` : `Total ${$('total').textContent}`);
  dims.mark();
  document.dispatchEvent(new CustomEvent('answered'));
}

/** Does what is shown of something follow a change: nothing is built again for what is the same. */
const drawn = new Map();
function changed(what, it) {
  const now = JSON.stringify(it);
  if (drawn.get(what) === now) return false;
  drawn.set(what, now);
  return true;
}

function head(it) {
  $('title').textContent = it.title;
  document.title = `${it.title} \u2013 Tankwright`;
  $('under').textContent = [it.date, it.profile, it.bill.price_list?.name.replace(/^.*\/|\.csv$/g, '')].filter(Boolean).join(' \u00b7 ');
  $('total').textContent = it.bill.total === null ? 'no prices' : `${it.bill.currency} ${show.money(it.bill.total)}`;
  $('total-below').textContent = $('total').textContent;
  $('verdict').textContent = it.sizing ? (it.sizing.complies === true ? 'complies with its rule' : it.sizing.complies === false ? 'does not comply' : 'rule not judged') : '';
}

/** Fields by path: built where their number changes, else only filled. */
function fields(home, groups, wide, made) {
  const paths = groups.flatMap((g) => g.fields.map((f) => f.path)).join('|');
  // While a value is wrong it is not among the lengths that could be read: the list stays as it was.
  if (home.dataset.paths !== paths && (made || !home.dataset.paths)) {
    const focus = document.activeElement?.dataset?.path;
    home.replaceChildren(...groups.map((g) => h('fieldset', { 'data-part': g.part }, h('legend', {}, g.title), ...g.fields.map((f) => field(f, wide)))));
    home.dataset.paths = paths;
    if (wide) listDrop(home);
    else { dims.filter(); dims.look(); }
    home.inputs = new Map([...home.querySelectorAll('[data-path]')].map((input) => [input.dataset.path, input]));
    if (focus) home.querySelector(`[data-path="${CSS.escape(focus)}"]`)?.focus();
  }
  for (const f of groups.flatMap((g) => g.fields)) {
    const input = home.inputs?.get(f.path);
    if (!input) continue;
    if (input.tagName === 'SELECT') choices(input, f);
    const value = f.value ?? (input.tagName === 'SELECT' ? f.default ?? '' : '');
    if (!state.pending.has(f.path) && !(document.activeElement === input && input.dataset.typing)) input.value = value;
    input.placeholder = f.default ?? '';
    const help = input.closest('.row').querySelector('.help');
    const text = helps(f, wide);
    if (help.textContent !== text) help.textContent = text;
  }
}

/** What a field asks; in the long list only whence its default is. */
function helps(f, wide) { return wide ? f.help : f.value === null && f.source ? `default: ${f.source}` : ''; }

function choices(select, f) {
  const key = f.choices.map((c) => c.value).join('|') + (f.value === null);
  if (select.dataset.key === key) return;
  const none = f.value === null && f.default === null;
  const optional = f.path.startsWith('sizing.') || f.path === 'job.rates';
  select.replaceChildren(...(none || optional ? [h('option', { value: '' }, 'none')] : []), ...f.choices.map((c) => h('option', { value: c.value }, c.title)));
  select.dataset.key = key;
}

let numbered = 0;
function field(f, wide) {
  const id = `f${(numbered += 1)}`;
  const input = f.choices.length
    ? h('select', { id, 'data-path': f.path, 'aria-describedby': `${id}h`, onchange: () => change(f.path, input.value) })
    : h('input', { id, 'data-path': f.path, 'aria-describedby': `${id}h`, inputmode: f.number ? 'numeric' : null,
      oninput: () => { input.dataset.typing = 1; change(f.path, input.value); },
      onblur: () => { delete input.dataset.typing; } });
  const long = wide && (f.choices.length > 0 || /title|percolation|chambers|water_use/.test(f.path));
  return h('div', { class: `row${long ? ' wide' : ''}`, title: wide ? null : f.help },
    h('label', { for: id }, f.label), input, h('small', { id: `${id}h` }, h('span', { class: 'help' }, helps(f, wide)), h('span', { class: 'note', hidden: true }), h('span', { class: 'where' }), h('span', { class: 'wrong', hidden: true })));
}

/** What the job comes to, beside the question it answers. */
function notes() {
  const put = (path, text) => {
    const row = document.querySelector(`#form [data-path="${path}"]`)?.closest('.row');
    const note = row?.querySelector('.note');
    if (note) { note.hidden = !text; note.textContent = text ? ` \u2014 ${text}` : ''; }
  };
  put('sizing.rule', state.last.sizing?.says);
}

let boxLater = 0;
/** So many problems stand in the box, the others behind a click. */
const MOST = 5;
function problems(answer, made) {
  if (!changed('problems', [answer.problems, made, $('form').dataset.paths, $('dims').dataset.paths])) return;
  document.querySelectorAll('.row.bad').forEach((row) => {
    row.classList.remove('bad');
    row.querySelector('[data-path]').removeAttribute('aria-invalid');
    row.querySelector('.wrong').hidden = true;
  });
  for (const p of answer.problems.filter((p) => p.path)) {
    for (const home of [$('form'), $('dims')]) {
      const of = (path) => home.querySelector(`[data-path="${CSS.escape(path)}"]`);
      const input = of(p.path) || of(p.path.replace(/(\[\d+\])+$/, ''));
      const row = input?.closest('.row');
      if (!row || (row.classList.contains('bad'))) continue;
      const wrong = row.querySelector('.wrong');
      wrong.textContent = ` ${p.message.replace(/^[\w.[\]]+: /, '')}${p.hint ? `: ${p.hint}` : ''}`;
      wrong.hidden = false;
      if (!p.error) continue;
      row.classList.add('bad');
      input.setAttribute('aria-invalid', 'true');
    }
  }
  const box = $('problems');
  clearTimeout(boxLater);
  if (!answer.problems.length) { box.hidden = true; return; }
  // A value half typed is wrong for a moment: nothing jumps for that.
  if (box.hidden) boxLater = setTimeout(() => { box.hidden = false; }, document.activeElement?.dataset?.typing ? 900 : 0);
  const errors = answer.problems.filter((p) => p.error).length;
  box.classList.toggle('mild', made);
  const stale = state.last ? ' The drawing and the figures are those of the last job without mistakes.' : '';
  const title = made ? (errors ? 'The price list does not do for this job, so there are no prices.' : 'To know')
    : `${errors} problem${errors > 1 ? 's' : ''} to mend.${stale}`;
  const list = (all) => h('ul', {}, ...all.map((p) => h('li', {},
    p.message, ' ', h('span', { class: 'code' }, p.code), ' ',
    p.line && !p.file ? h('button', { type: 'button', class: 'link', onclick: () => jump(p) }, `line ${p.line}`) : p.file ? h('span', { class: 'code' }, `${p.file}${p.line ? `:${p.line}` : ''}`) : null,
    p.hint ? h('span', { class: 'hint' }, p.hint) : null)));
  const rest = answer.problems.slice(MOST);
  const needs = made && errors ? h('p', {}, h('button', { type: 'button', onclick: () => select('prices', true) }, 'What this job needs of its list')) : null;
  const more = rest.length ? h('details', {}, h('summary', {}, `${rest.length} more`), list(rest)) : null;
  box.replaceChildren(...[h('strong', {}, title), needs, list(answer.problems.slice(0, MOST)), more].filter(Boolean));
}

function jump(p) {
  pane(true);
  const text = $('text');
  if (text.value !== state.answer.text) text.value = state.answer.text;
  text.focus();
  text.setSelectionRange(p.from, Math.max(p.to, p.from));
  const high = parseFloat(getComputedStyle(text).lineHeight);
  text.scrollTop = Math.max(0, (p.line - 6) * high);
}

// ---- the drawing -----------------------------------------------------------------------------------------------

let url = '';
function pictures(it) {
  const drawings = it.drawings;
  const home = $('pictures');
  const d = it.picture;
  if (changed('drawings', drawings)) {
    home.replaceChildren(...drawings.map(([id, title]) => h('button', { type: 'button', 'data-id': id, onclick: () => { state.picture = id; update(); } }, title)));
  }
  home.querySelectorAll('button').forEach((b) => b.setAttribute('aria-pressed', b.dataset.id === d?.id));
  $('figure').hidden = !d;
  if (d && changed('picture', [d.id, d.title, d.alt, d.svg])) {
    const old = url;
    url = URL.createObjectURL(new Blob([d.svg], { type: 'image/svg+xml' }));
    $('picture').src = url;
    $('picture').alt = `${d.title}. ${d.alt}`;
    if (old) setTimeout(() => URL.revokeObjectURL(old), 2000);
    if (changed('picture-id', d.id)) { dims.filter(); dims.look(); }
  }
  if (d) $('caption').replaceChildren(h('span', {}, d.title), h('button', { type: 'button', class: 'link', 'aria-pressed': $('paper').classList.contains('large'), onclick: large }, 'larger'));
  if (changed('four', it.four)) $('four').replaceChildren(...it.four.map(([figure, what]) => h('div', {}, h('dt', {}, what), h('dd', {}, site.asks(figure, 'earth')))));
  if (changed('says', [it.sizing, it.holds, it.scope, it.balances])) {
    const says = [];
    if (it.sizing) says.push([it.sizing.complies === false ? 'no' : it.sizing.complies ? 'ok' : '', [it.sizing.says, ...(it.sizing.reasons || [])].join('; ')]);
    says.push(['', site.asks(it.holds, 'capacity')], ...it.scope.map((s) => ['', s]), ['ok', `${it.balances} balances close: measured twice, the same to the last digit`]);
    $('says').replaceChildren(...says.map(([mark, text]) => h('li', { class: mark || null }, text)));
  }
  if (changed('cautions', it.cautions)) {
    $('cautions-sum').textContent = `Cautions (${it.cautions.length})`;
    $('cautions').replaceChildren(...it.cautions.map((c) => h('li', { class: 'no' }, c.says, h('span', { class: 'soft' }, `${c.code} \u00b7 ${c.source}${c.line ? ` \u00b7 line ${c.line}` : ''}`))));
  }
  if (changed('defaults', it.defaults)) {
    $('defaults-sum').textContent = `Defaults used (${it.defaults.length})`;
    $('defaults').replaceChildren(...it.defaults.map(([path, value, source]) => h('li', {}, `${path} = ${value}`, h('span', { class: 'soft' }, source))));
  }
}

function large() { $('paper').classList.toggle('large'); pictures(state.last); }

// ---- sheets ----------------------------------------------------------------------------------------------------

function sheet(it) {
  const put = (id, nodes) => $(`sheet-${id}`).replaceChildren(...nodes);
  if (state.sheet === 'bill' && changed('bill', it.bill)) put('bill', show.bill(it.bill, site.asks));
  if (['orders', 'materials', 'bars'].includes(state.sheet) && it.paper && it === state.answer && changed(state.sheet, it.paper)) {
    if (state.sheet === 'orders') $('orders-all').replaceChildren(...show.orders(it.paper, site.asks));
    else put(state.sheet, show[state.sheet](it.paper, site.asks));
  }
  if (state.sheet === 'orders') site.card();
  if (state.sheet === 'prices') prices.needs();
  if (state.sheet === 'papers' && changed('papers', it.papers)) papers(it);
  if (state.sheet === 'compare') compare();
  account.shows(state.sheet);
}

function select(id, focus) {
  state.sheet = id;
  for (const [name] of SHEETS) {
    const tab = $(`tab-${name}`);
    tab.setAttribute('aria-selected', name === id);
    tab.tabIndex = name === id ? 0 : -1;
    $(`sheet-${name}`).hidden = name !== id;
    if (focus && name === id) tab.focus();
  }
  if (['orders', 'materials', 'bars'].includes(id)) update();
  else if (state.last) sheet(state.last);
}

function tabs() {
  $('tabs').replaceChildren(...SHEETS.map(([id, title]) => h('button', { type: 'button', role: 'tab', id: `tab-${id}`, 'aria-controls': `sheet-${id}`, onclick: () => select(id) }, title)));
  $('tabs').addEventListener('keydown', (e) => {
    const at = SHEETS.findIndex(([id]) => id === state.sheet);
    const to = { ArrowRight: at + 1, ArrowLeft: at - 1, Home: 0, End: SHEETS.length - 1 }[e.key];
    if (to === undefined) return;
    e.preventDefault();
    select(SHEETS[(to + SHEETS.length) % SHEETS.length][0], true);
  });
}

function papers(it) {
  const groups = new Map();
  for (const p of it.papers) groups.set(p.title, [...(groups.get(p.title) || []), p.id]);
  const ending = (id) => id.split('.').pop();
  const one = ([title, ids]) => h('div', {}, h('span', {}, title), ...ids.map((id) => h('button', { type: 'button', 'aria-label': `${title}, ${ending(id)}`, 'data-paper': id, onclick: () => download(id) }, ending(id).toUpperCase())));
  const all = [...groups];
  const site = all.filter(([, ids]) => ids[0].startsWith('orders/') || ids[0].startsWith('cards/') || ids[0].startsWith('cards') || ids[0].endsWith('.ics'));
  const drawn = all.filter(([, ids]) => ids[0].startsWith('drawings/'));
  const rest = all.filter((g) => !site.includes(g) && !drawn.includes(g));
  const part = (title, list) => (list.length ? [h('h2', {}, title), h('div', { class: 'papers' }, ...list.map(one))] : []);
  $('papers').replaceChildren(...part('For the office', rest), ...part('Drawings', drawn), ...part('For the site', site));
}

async function download(paper) {
  try {
    const reply = await ask('/paper', { text: state.text, paper });
    if (reply.status === 422) { say((await reply.json()).problems[0]?.message || 'refused'); return; }
    const name = /filename="([^"]*)"/.exec(reply.headers.get('Content-Disposition') || '')?.[1] || paper.replace('/', '-');
    keepFile(name, await reply.blob());
    if (paper === 'job.toml') state.saved = state.text;
    say(`${name} is saved`);
  } catch (e) { gone(e); }
}

// Some browsers lose a file that is handed over within a few dozen ms of the one before: they are kept apart.
const APART = 120;
let nextFile = 0;
function keepFile(name, blob) {
  const a = h('a', { href: URL.createObjectURL(blob), download: name });
  const at = Math.max(Date.now(), nextFile);
  nextFile = at + APART;
  setTimeout(() => {
    document.body.append(a);
    a.click();
    a.remove();
    setTimeout(() => URL.revokeObjectURL(a.href), 5000);
  }, at - Date.now());
}

async function compare() {
  $('back').disabled = state.kept === null;
  if (state.kept === null) { $('compared').replaceChildren(); return; }
  try {
    const it = await (await ask('/compare', { a: state.kept, b: state.text })).json();
    $('compared').replaceChildren(...show.compared(it));
  } catch (e) { gone(e); }
}

// ---- search ----------------------------------------------------------------------------------------------------

async function search(e) {
  e.preventDefault();
  const given = Object.fromEntries(new FormData($('search')));
  try {
    state.search = await (await ask('/cheapest', { text: state.text, given })).json();
    $('begin').disabled = true;
    $('stop').disabled = false;
    $('found').replaceChildren();
    look(false);
  } catch (e) { gone(e); }
}

async function look(stop) {
  const mine = state.search?.id;
  if (mine === undefined) return;
  try {
    const it = await (await ask('/cheapest/look', { id: mine, stop })).json();
    const bar = $('progress');
    bar.hidden = it.state !== 'runs';
    bar.max = Math.max(it.all, 1);
    bar.value = it.done;
    $('progress-says').textContent = { runs: it.all ? `${show.group(it.done)} of ${show.group(it.all)}` : 'begins', found: 'done', stopped: 'stopped; nothing is changed', refused: '' }[it.state];
    if (it.state === 'runs') { if (!stop) setTimeout(() => look(false), 250); else setTimeout(() => look(false), 60); return; }
    $('begin').disabled = false;
    $('stop').disabled = true;
    state.search = null;
    if (it.state === 'found') $('found').replaceChildren(...show.cheapest(it.report, take));
    if (it.state === 'refused') $('found').replaceChildren(...refusals(it.problems));
  } catch (e) { gone(e); }
}

/** Problems, and what is only to be known. */
const refusals = (list) => list.map((p) => h('p', { class: p.error ? 'wrong' : 'soft' }, p.file && p.line ? `${p.file}, line ${p.line}: ` : p.line ? `line ${p.line}: ` : '', `${p.message} `, h('span', { class: 'code' }, p.code), p.hint ? h('span', { class: 'soft' }, ` ${p.hint}`) : null));

function take(tank) {
  if (state.kept === null) state.kept = state.text;
  replace(tank.job);
  say('this tank is drawn now; the one before is kept as A under Compare');
  select('compare', true);
}

// ---- files -----------------------------------------------------------------------------------------------------

function listDrop(home) {
  const input = h('input', { id: 'list-file', type: 'file', accept: '.csv,.xlsx,.xlsm' });
  const zone = h('div', { class: 'drop', id: 'list-drop' }, h('label', { class: 'button', for: 'list-file' }, 'Your price list', input), h('span', {}, 'CSV or XLSX, or drop it here'));
  const says = h('div', { id: 'list-says', 'aria-live': 'polite' });
  home.lastElementChild.append(zone, says);
  dropper(zone, input, prices.take);
}

/** Which sheet of a spreadsheet file is read. */
function sheets(label, all, chosen, take) {
  const select = h('select', { class: 'short', 'aria-label': label, onchange: () => take(select.value) }, h('option', { value: '' }, 'the first that does'), ...all.map((name) => h('option', { value: name, selected: name === chosen }, name)));
  return h('label', {}, `${label} `, select);
}

function dropper(zone, input, take) {
  const all = (files) => [...files].slice(0, input.multiple ? files.length : 1).forEach((file) => take(file));
  input.addEventListener('change', () => { all(input.files); input.value = ''; });
  zone.addEventListener('dragover', (e) => { e.preventDefault(); zone.classList.add('over'); });
  zone.addEventListener('dragleave', () => zone.classList.remove('over'));
  zone.addEventListener('drop', (e) => { e.preventDefault(); zone.classList.remove('over'); all(e.dataTransfer.files); });
}

async function takeSecond(file) {
  $('finding').replaceChildren(h('p', {}, `${file.name} is read \u2026`));
  try {
    const it = await drop('/second', { name: file.name }, file);
    if (!it.taken) { $('finding').replaceChildren(...refusals(it.problems)); return; }
    state.second = it.name;
    state.secondSheet = '';
    await hold();
  } catch (e) { $('finding').replaceChildren(h('p', { class: 'wrong' }, e.message)); }
}

/** Holds the second take-off against the job as it is now. */
async function hold() {
  try {
    const found = await (await ask('/crosscheck', { text: state.text, name: state.second, sheet: state.secondSheet })).json();
    const again = h('button', { type: 'button', onclick: hold }, 'Hold it against the job as it is now');
    const save = h('button', { type: 'button', onclick: () => keepFile('crosscheck.txt', new Blob([found.paper], { type: 'text/plain' })) }, 'Save this paper');
    const which = found.sheets.length > 1 ? h('p', { class: 'bar' }, sheets('Sheet', found.sheets, state.secondSheet, (sheet) => { state.secondSheet = sheet; hold(); })) : null;
    $('finding').replaceChildren(...[which].filter(Boolean), ...refusals(found.problems), ...(found.paper ? [h('p', { class: 'bar' }, save, again), h('pre', { tabindex: 0, 'aria-label': 'Cross-check' }, found.paper)] : []));
  } catch (e) { $('finding').replaceChildren(h('p', { class: 'wrong' }, e.message)); }
}

// ---- text ------------------------------------------------------------------------------------------------------

function pane(open) {
  $('text-pane').hidden = !open;
  $('text-toggle').setAttribute('aria-expanded', open);
  $('main').classList.toggle('with-text', open);
  if (open) numbers(state.answer);
}

function numbers(answer) {
  if ($('text-pane').hidden) return;
  const wrong = new Set((answer?.problems || []).filter((p) => p.error && !p.file).map((p) => p.line));
  const count = $('text').value.split('\n').length;
  const nodes = [];
  for (let n = 1; n <= count; n += 1) nodes.push(wrong.has(n) ? h('b', {}, `${n}`) : `${n}`, '\n');
  $('lines').replaceChildren(...nodes);
  $('lines').scrollTop = $('text').scrollTop;
}

// ---- begin -----------------------------------------------------------------------------------------------------

async function begin() {
  tabs();
  select('drawings');
  const it = await (await fetch('/start')).json();
  state.text = it.text;
  state.saved = it.text;
  $('text').value = it.text;
  $('samples').append(...it.samples.map(([name]) => h('option', { value: name }, name)));
  $('samples').addEventListener('change', (e) => {
    const found = it.samples.find(([name]) => name === e.target.value);
    if (found) replace(found[1]);
    e.target.value = '';
  });
  $('text').addEventListener('input', () => { remember('text'); state.text = $('text').value; state.pending.clear(); state.typed += 1; numbers(state.answer); update(); });
  $('text').addEventListener('scroll', () => { $('lines').scrollTop = $('text').scrollTop; });
  $('text-toggle').addEventListener('click', () => pane($('text-pane').hidden));
  $('undo').addEventListener('click', () => { const text = state.past.pop(); $('undo').disabled = !state.past.length; state.pastAt = 0; if (text !== undefined) put(text); });
  $('save').addEventListener('click', () => download('job.toml'));
  $('open').addEventListener('change', async (e) => { const file = e.target.files[0]; if (file) replace(await file.text()); e.target.value = ''; });
  $('form').addEventListener('submit', (e) => e.preventDefault());
  const shared = { state, ask, drop, change, update, say, gone, select, quiet, figures, keepFile, download, refusals, dropper, replace, sheets, keep: () => { state.kept = state.text; }, fill: () => { if (state.answer) fields($('dims'), state.answer.lengths, false, state.answer.bill !== undefined); } };
  for (const part of [account, dims, prices, site]) part.begin(shared);
  $('keep').addEventListener('click', () => { state.kept = state.text; compare(); say('this design is kept as A'); });
  $('back').addEventListener('click', () => { if (state.kept !== null) replace(state.kept); });
  $('search').addEventListener('submit', search);
  $('stop').addEventListener('click', () => look(true));
  dropper($('second-drop'), $('second-file'), takeSecond);
  window.addEventListener('beforeunload', (e) => { if (state.text !== state.saved) e.preventDefault(); });
  update(true);
}

begin().catch((e) => gone(e));
