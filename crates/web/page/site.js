// How a figure comes about; the card of a stage; what is in the store.
import { h } from './show.js';

const $ = (id) => document.getElementById(id);
let page;
const stage = { all: '', id: '', text: '' };

export function begin(its) {
  page = its;
  $('how-form').addEventListener('submit', (e) => { e.preventDefault(); how($('how-id').value.trim()); });
  $('how-close').addEventListener('click', () => $('how').close());
  $('how-save').addEventListener('click', () => page.keepFile(`how-${$('how-id').value.replace(/[^\w.-]+/g, '-')}.txt`, new Blob([$('how-text').textContent], { type: 'text/plain' })));
  $('stage').addEventListener('change', () => { stage.id = $('stage').value; card(); });
  $('card-save').addEventListener('click', () => page.keepFile(`${stage.id}.txt`, new Blob([stage.text], { type: 'text/plain' })));
  $('card-print').addEventListener('click', () => page.download(`cards/${stage.id}.pdf`));
  page.dropper($('store-drop'), $('store-file'), store);
}

/** A figure that can be asked where it comes from. */
export function asks(label, id) {
  return h('button', { type: 'button', class: 'link', 'aria-haspopup': 'dialog', 'aria-label': `${label}: how it comes about`, title: 'how it comes about', onclick: () => how(id) }, label);
}

export async function how(id) {
  const dialog = $('how');
  $('how-id').value = id;
  if (!dialog.open) dialog.showModal();
  try {
    const it = await (await page.ask('/explain', { text: page.state.text, id })).json();
    $('how-text').textContent = it.paper;
    $('how-text').hidden = $('how-save').hidden = !it.paper;
    const near = it.others.map((other) => h('button', { type: 'button', class: 'link', onclick: () => how(other) }, other));
    $('how-says').replaceChildren(...page.refusals(it.problems), ...(near.length ? [h('p', {}, 'Near it: ', ...near)] : []));
  } catch (e) { $('how-says').replaceChildren(h('p', { class: 'wrong' }, e.message)); }
}

/** The stages of the job as they are now, and the card of the one that is chosen. */
export async function card() {
  if (page.state.answer?.bill === undefined) return;
  try {
    const it = await (await page.ask('/card', { text: page.state.answer.text, id: stage.id })).json();
    const all = it.others.join('|');
    if (stage.all !== all) {
      stage.all = all;
      if (!it.others.includes(stage.id)) stage.id = '';
      $('stage').replaceChildren(h('option', { value: '' }, 'all stages'), ...it.others.map((id) => h('option', { value: id }, id.replaceAll('-', ' '))));
      $('stage').value = stage.id;
    }
    stage.text = it.paper;
    $('card').hidden = !it.paper;
    $('card-text').textContent = it.paper;
    $('orders-all').hidden = Boolean(it.paper);
  } catch (e) { page.gone(e); }
}

async function store(file) {
  try {
    const it = await page.drop('/store', { name: file.name, text: page.state.text }, file);
    const save = () => page.keepFile('store.txt', new Blob([it.paper], { type: 'text/plain' }));
    $('store-says').replaceChildren(...page.refusals(it.problems), ...(it.paper ? [h('p', { class: 'bar' }, h('button', { type: 'button', onclick: save }, 'Save this paper')), h('pre', { tabindex: 0, 'aria-label': 'Store' }, it.paper)] : []));
  } catch (e) { $('store-says').replaceChildren(h('p', { class: 'wrong' }, e.message)); }
}
