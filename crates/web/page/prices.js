// A price list of the user's own: which column is what, which line prices what; both can be changed here.
import { group, h, table } from './show.js';

const $ = (id) => document.getElementById(id);
const COLUMNS = [['rate', 'rate'], ['description', 'words'], ['code', 'our code'], ['unit', 'unit'], ['kind', 'kind'], ['currency', 'currency'],
  ['date', 'day'], ['source', 'source'], ['tax', 'tax in it, %'], ['per', 'for how many']];
const BY = { map: 'as you say', code: 'by our code', words: 'by its words', sizes: 'by words and sizes', '': '' };
const MOST = 150;

let page;
/** The list that is looked at: its file, what is said of it, how it was read. */
const list = { file: null, heads: {}, map: new Map(), it: null, needs: null, show: 'open', find: '', more: MOST, waits: false };
let turn = 0;

export function begin(its) {
  page = its;
  page.dropper($('prices-drop'), $('prices-file'), take);
  $('told').addEventListener('change', read);
  $('told').addEventListener('submit', (e) => { e.preventDefault(); read(); });
  $('lines-show').addEventListener('change', () => { list.show = $('lines-show').value; list.more = MOST; lines(); });
  $('lines-find').addEventListener('input', () => { list.find = $('lines-find').value; list.more = MOST; lines(); });
  $('plain-save').addEventListener('click', () => save('/list/plain'));
  $('map-save').addEventListener('click', () => save('/list/map'));
}

/** A new file: what was said of another does not hold for it. */
export async function take(file) {
  Object.assign(list, { file, heads: {}, map: new Map(), it: null, show: 'open', find: '', more: MOST });
  $('t-sheet').replaceChildren();
  delete $('t-sheet').dataset.key;
  $('told').reset();
  $('lines-find').value = '';
  const it = await read();
  if (it?.taken) page.change('job.rates', it.name);
}

function head() {
  const told = Object.fromEntries(new FormData($('told')));
  return { name: list.file.name, ...told, heads: list.heads, map: [...list.map.values()] };
}

/** Reads the file as it is said to be read. */
async function read() {
  if (!list.file) return null;
  const mine = (turn += 1);
  const before = list.it;
  try {
    const it = await page.drop('/list', head(), list.file);
    if (mine !== turn) return null;
    list.it = it;
    show();
    if (it.taken && before) { if (page.state.answer?.text.includes(`"${it.name}"`)) page.update(); else page.change('job.rates', it.name); }
    await needs();
    return it;
  } catch (e) {
    list.it = null;
    $('list-name').textContent = `${list.file.name.slice(0, 80)} is not taken`;
    $('list-read').hidden = true;
    for (const home of ['list-says', 'list-problems']) $(home)?.replaceChildren(h('p', { class: 'wrong' }, e.message));
    return null;
  }
}

/** What the job needs of it; asked again when the job has changed. */
export async function needs() {
  if (!list.it) return;
  const mine = turn;
  try {
    const it = await (await page.ask('/needs', { text: page.state.text, list: list.it.taken ? list.it.name : '' })).json();
    if (mine !== turn) return;
    list.needs = it;
    const all = [...it.needs, ...it.others];
    const twice = new Set(all.map((g) => g.code).filter((code, i, codes) => codes.indexOf(code) !== i));
    $('goods').replaceChildren(...all.map((g) => h('option', { value: twice.has(g.code) ? `${g.kind} ${g.code}` : g.code }, `${g.title}, ${g.unit}`)));
    sheet();
    if (list.show === 'open') lines();
  } catch (e) { page.gone(e); }
}

/** What mends it here; hints of the program speak of files and commands. */
const HERE = { R002: 'say below which column is what', R013: 'say its day below', R018: 'say its source below', R019: 'say its currency below',
  R059: 'say below which one counts', R060: 'say below what they price, or leave them', R072: 'choose another below', R073: 'choose one below, and say which column is what', R074: 'choose another below',
  R009: 'say the decimal mark below', R098: 'what is taken wrongly, say below' };

const said = (p) => h('p', { class: p.error ? 'wrong' : 'soft' }, `${p.line ? `line ${p.line}: ` : ''}${p.message} `, h('span', { class: 'code' }, p.code), h('span', { class: 'soft' }, ` ${HERE[p.code] || p.hint}`));

function show() {
  const it = list.it;
  const open = it.lines.filter((l) => !l.code && l.by !== 'out').length;
  const short = it.taken ? h('p', {}, `${it.name}: ${it.rows} rows are read${open ? `, ${open} price nothing` : ''}.`) : h('p', { class: 'wrong' }, `${it.name} is not taken.`);
  const why = it.taken ? [] : it.problems.filter((p) => p.error).slice(0, 2).map(said);
  $('list-says').replaceChildren(short, ...why, h('button', { type: 'button', onclick: () => page.select('prices', true) }, it.taken ? 'See how it was read' : 'Say how to read it'));
  $('list-name').textContent = it.taken ? `${it.name}: ${it.rows} rows, ${it.currency}` : `${it.name} is not taken yet`;
  $('list-problems').replaceChildren(...it.problems.map(said));
  $('list-read').hidden = !it.heads.length && it.sheets.length < 2;
  sheetsOf(it);
  $('plain-save').disabled = !it.taken;
  $('map-save').disabled = !it.lines.length || it.own_form;
  const choice = (c, i) => h('select', { 'aria-label': `Column ${c.head || i + 1} is`, 'data-head': c.head, onchange: (e) => { list.heads[c.head] = e.target.value || '-'; read(); } },
    h('option', { value: '' }, 'not read'), ...COLUMNS.map(([id, title]) => h('option', { value: id, selected: c.column === id }, title)));
  keepFocus('list-heads', 'data-head', [table('Columns', ['Column of the list', 'The first below it', 'Taken as'], it.heads.map((c, i) => [c.head || '\u2013', c.sample, c.head ? choice(c, i) : 'not read']))]);
  lines();
}

/** Which sheet of the file is read. */
function sheetsOf(it) {
  const key = it.sheets.join('|');
  $('t-sheet-row').hidden = it.sheets.length < 2;
  const first = () => { if ($('t-sheet').value === '') $('t-sheet').options[0].textContent = it.sheet ? `${it.sheet}, the first that is a list` : 'none is a price list by itself'; };
  if ($('t-sheet').dataset.key === key) { if (it.sheets.length) first(); return; }
  $('t-sheet').dataset.key = key;
  $('t-sheet').replaceChildren(h('option', { value: '' }, ''), ...it.sheets.map((name) => h('option', { value: name }, name)));
  first();
}

/** Replaces what is in a box, and leaves the keyboard where it was. */
function keepFocus(home, name, nodes) {
  const at = $(home).contains(document.activeElement) ? document.activeElement.getAttribute(name) : null;
  $(home).replaceChildren(...nodes);
  if (at !== null) $(home).querySelector(`[${name}="${CSS.escape(at)}"]`)?.focus();
}

const asSaid = (l) => { const told = list.map.get(`${l.description}|${l.unit}`); return told ? told.slice(2).join(' ').trim() : priced(l); };
const priced = (l) => (l.by === 'out' ? '-' : l.code ? ([...$('goods').options].some((o) => o.value === `${l.kind} ${l.code}`) ? `${l.kind} ${l.code}` : l.code) : '');

function lines() {
  const it = list.it;
  if (!it) return;
  // What somebody is writing is not taken away by an answer: the lines wait until it is said, or left.
  const open = document.activeElement;
  list.waits = $('list-lines').contains(open) && open.matches('input') && open.value !== open.defaultValue;
  if (list.waits) return;
  const needed = new Set((list.needs?.needs || []).map((g) => g.line).filter(Boolean));
  const words = list.find.toLowerCase().split(/\s+/).filter(Boolean);
  const fits = { open: (l) => !l.code && l.by !== 'out', job: (l) => needed.has(l.line), all: () => true }[list.show];
  const found = it.lines.filter((l) => fits(l) && words.every((w) => `${l.line} ${l.description} ${l.code} ${l.unit}`.toLowerCase().includes(w)));
  const row = (l) => {
    const input = h('input', { value: asSaid(l), list: 'goods', 'data-line': l.line, 'aria-label': `Line ${l.line}, ${l.description}, prices`, disabled: it.own_form,
      onchange: () => { input.defaultValue = input.value; decide(l, input.value); }, onblur: () => { if (list.waits) lines(); } });
    const yes = l.perhaps && !l.code && l.by !== 'out' ? h('button', { type: 'button', 'aria-label': `${l.perhaps} ? for line ${l.line}`, onclick: () => decide(l, l.perhaps) }, `${l.perhaps} ?`) : null;
    return [`${l.line}`, l.description, l.unit, group(l.rate), h('span', { class: 'pick' }, input, yes), l.by === 'out' ? 'left out' : l.code ? BY[l.by] : l.why];
  };
  const shown = found.slice(0, list.more);
  const more = found.length > shown.length ? h('button', { type: 'button', onclick: () => { list.more += MOST; lines(); } }, `${found.length - shown.length} more`) : null;
  const none = found.length ? null : h('p', {}, list.show === 'open' && !words.length ? 'Every line is known, or left out.' : 'No such line.');
  keepFocus('list-lines', 'data-line', [none, found.length ? table('Lines of the list', ['#Line', 'Words', 'Unit', '#Rate', 'Prices', 'Known'], shown.map(row)) : null, more].filter(Boolean));
}

/** A line prices this, nothing (-), or whatever its words say (empty). */
function decide(line, text) {
  const [first, rest] = text.trim().split(/\s+(.*)/);
  const kind = ['work', 'material', 'labour', 'plant'].includes(first) && rest ? first : '';
  const code = kind ? rest : text.trim();
  const key = `${line.description}|${line.unit}`;
  if (code) list.map.set(key, [line.description, line.unit, kind, code]);
  else list.map.delete(key);
  read();
}

/** The rate sheet of the job: what each good is priced by. */
function sheet() {
  const all = list.needs?.needs || [];
  const words = (n) => list.it.lines.find((l) => l.line === n)?.description || '';
  const rate = (n) => list.it.lines.find((l) => l.line === n)?.rate;
  const lacking = all.filter((g) => !g.line).length;
  $('sheet-sum').textContent = all.length ? `What this job needs: ${all.length - lacking} of ${all.length} have a price` : 'What this job needs';
  const rows = [...all].sort((a, b) => Boolean(a.line) - Boolean(b.line));
  $('rate-sheet').replaceChildren(table('Rate sheet of this job', ['Good or work', 'Code', 'Unit', '#Line', 'Words of the list', '#Rate'],
    rows.map((g) => ({ cells: [g.title, g.code, g.unit, g.line ? `${g.line}` : '', g.line ? words(g.line) : h('span', { class: 'wrong' }, g.lacks || 'no price'), g.line ? group(rate(g.line)) : ''] }))));
}

async function save(path) {
  const body = new Blob([`${JSON.stringify(head())}\n`, list.file]);
  const reply = await fetch(path, { method: 'POST', headers: { 'Content-Type': 'application/octet-stream' }, body });
  if (!reply.ok) { page.say(reply.status === 422 ? (await reply.json()).problems[0]?.message : await reply.text()); return; }
  const name = /filename="([^"]*)"/.exec(reply.headers.get('Content-Disposition') || '')?.[1] || 'list.csv';
  page.keepFile(name, await reply.blob());
  page.say(`${name} is saved`);
}
