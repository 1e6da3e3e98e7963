// Money between the two sides: payments at a day or a stage, variations, priced copies of the bill.
import { h } from './show.js';

const $ = (id) => document.getElementById(id);
let page;
/** The contract's job file where one was chosen; the priced copies, each with the sheet that is read. */
const held = { contract: null, copies: [] };
const turns = { payments: 0, vary: 0, returned: 0 };
const SHOWS = { payments, vary, returned };

export function begin(its) {
  page = its;
  const later = (form, tell) => {
    $(form).addEventListener('submit', (e) => { e.preventDefault(); tell(); });
    $(form).addEventListener('change', tell);
  };
  // A day and a stage are two ways to say when.
  $('at-day').addEventListener('change', () => { $('at-stage').value = ''; });
  $('at-stage').addEventListener('change', () => { $('at-day').value = ''; });
  later('at', payments);
  later('vary', vary);
  later('returned', returned);
  page.dropper($('contract-drop'), $('contract-file'), async (file) => {
    held.contract = { name: file.name, text: await file.text() };
    $('contract').querySelector('[value=file]').textContent = file.name;
    $('contract').querySelector('[value=file]').hidden = false;
    $('contract').value = 'file';
    vary();
  });
  // What was not taken is told until more is brought, or something is changed.
  const heard = () => $('copies-says').replaceChildren();
  $('copies-file').addEventListener('change', heard);
  $('copies-drop').addEventListener('drop', heard);
  $('returned').addEventListener('change', heard);
  page.dropper($('copies-drop'), $('copies-file'), copy);
}

/** A sheet that is looked at, with the job as it is now. */
export const shows = (sheet) => SHOWS[sheet]?.();

/** Asks; nothing where something was asked since. */
async function told(what, path, body) {
  const mine = (turns[what] += 1);
  const it = await (await page.ask(path, body)).json();
  return mine === turns[what] ? it : null;
}

/** A paper of the program, what is to be known of it, and how to keep it. */
function paper(home, name, it, more = []) {
  const save = (ending, text, type) => h('button', { type: 'button', 'aria-label': `Save ${name} as ${ending}`, onclick: () => page.keepFile(`${name}.${ending}`, new Blob([text], { type })) }, ending.toUpperCase());
  const keep = () => h('p', { class: 'bar' }, h('span', {}, 'Save'), save('txt', it.paper, 'text/plain'), save('csv', it.csv, 'text/csv'), save('json', it.json, 'application/json'), ...more);
  $(home).replaceChildren(...page.refusals(it.problems), ...(it.paper ? [keep(), h('pre', { tabindex: 0, 'aria-label': name }, it.paper)] : []));
}

async function payments() {
  const given = new FormData($('at'));
  const done = [...given].filter(([name]) => name.startsWith('done:')).map(([name, percent]) => [name.slice(5), percent]);
  try {
    const it = await told('payments', '/payments', { text: page.state.text, at: given.get('day') || given.get('stage') || '', done });
    if (!it) return;
    stages(it.stages);
    paper('paid', 'payments', it);
  } catch (e) { page.gone(e); }
}

/** The stages of the job: built again only where they are others. */
function stages(all) {
  const now = all.map(([id]) => id).join('|');
  if (!all.length || $('at-done').dataset.stages === now) return;
  $('at-done').dataset.stages = now;
  const chosen = $('at-stage').value;
  $('at-stage').replaceChildren(h('option', { value: '' }, 'no stage'), ...all.map(([id, title]) => h('option', { value: id, selected: id === chosen }, title)));
  $('at-done').replaceChildren(...all.map(([id, title]) => h('div', { class: 'row' }, h('label', { for: `done-${id}` }, title), h('input', { id: `done-${id}`, name: `done:${id}`, inputmode: 'decimal', maxlength: 9, placeholder: '%' }))));
}

async function vary() {
  const which = $('contract').value;
  $('contract').querySelector('[value=kept]').hidden = page.state.kept === null;
  const contract = which === 'kept' ? { name: 'the design kept as A', text: page.state.kept } : which === 'file' ? held.contract : null;
  try {
    const it = await told('vary', '/vary', { text: page.state.text, contract: contract?.text || '', name: contract?.name || '', date: $('vary-day').value });
    if (!it) return;
    const built = it.built ? [h('button', { type: 'button', onclick: () => page.keepFile('as-built.toml', new Blob([it.built], { type: 'text/plain' })) }, 'Save the job as built'),
      h('button', { type: 'button', onclick: () => { page.keep(); page.replace(it.built); page.say('the job as built is drawn now; the one before is kept as A'); } }, 'Draw it as built')] : [];
    paper('varied', 'variations', it, built);
  } catch (e) { page.gone(e); }
}

async function copy(file) {
  try {
    const it = await page.drop('/second', { name: file.name }, file);
    if (!it.taken) { $('copies-says').append(...page.refusals(it.problems)); return; }
    held.copies = [...held.copies.filter((c) => c.name !== it.name), { name: it.name, sheet: '', sheets: [] }];
    await returned();
  } catch (e) { $('copies-says').append(h('p', { class: 'wrong' }, e.message)); }
}

async function returned() {
  const copies = held.copies.map(({ name, sheet }) => ({ name, sheet }));
  list();
  if (!copies.length) { turns.returned += 1; $('compared-copies').replaceChildren(); return; }
  try {
    const it = await told('returned', '/returned', { text: page.state.text, copies, ratio: $('copies-ratio').value });
    if (!it) return;
    it.sheets.forEach((sheets, i) => { held.copies[i].sheets = sheets.length || !held.copies[i].sheets.length ? sheets : held.copies[i].sheets; });
    list();
    paper('compared-copies', 'returned', it);
  } catch (e) { page.gone(e); }
}

/** The copies that stand side by side. */
function list() {
  const one = (c) => h('li', { class: 'bar' }, h('span', {}, c.name),
    c.sheets.length > 1 ? page.sheets(`Sheet of ${c.name}`, c.sheets, c.sheet, (sheet) => { c.sheet = sheet; returned(); }) : null,
    h('button', { type: 'button', 'aria-label': `Take away ${c.name}`, onclick: () => { held.copies = held.copies.filter((other) => other !== c); returned(); } }, 'Take away'));
  $('copies').replaceChildren(...held.copies.map(one));
}
