// Every length of the job as the drawing's own list: only those that the drawing shows, and where it shows them.
import { h } from './show.js';

const $ = (id) => document.getElementById(id);
const PART = 8;

/** By drawing and list of paths: what is shown of each path. */
const known = new Map();
let page;
let looking = 0;
let marked = 0;

export function begin(its) {
  page = its;
  $('find').addEventListener('input', filter);
  $('only').addEventListener('change', () => { filter(); look(); });
  $('dims-box').addEventListener('toggle', () => { page.fill(); look(); });
  for (const home of [$('dims'), $('form')]) {
    home.addEventListener('focusin', () => mark(0));
    home.addEventListener('focusout', () => { marked += 1; clear(); });
  }
}

const paths = () => [...$('dims').querySelectorAll('[data-path]')].map((input) => input.dataset.path);
const key = () => `${page.state.last?.picture?.id}|${$('dims').dataset.paths}`;

/** Asks which of them the drawing shows, a few at a time: a key that is typed goes before. */
export async function look() {
  const mine = (looking += 1);
  if (!$('dims-box').open || !$('only').checked || !page.state.last?.picture) return;
  const found = known.get(key()) || {};
  known.set(key(), found);
  const text = page.state.last.text;
  let left = paths().filter((path) => !(path in found));
  while (left.length) {
    $('only-says').textContent = `looking through ${left.length} more \u2026`;
    await page.quiet();
    if (mine !== looking) return;
    const asked = left.slice(0, PART);
    left = left.slice(PART);
    const it = await page.figures(text, asked);
    if (mine !== looking) return;
    for (const path of asked) found[path] = it?.shows[path]?.here ?? true;
  }
  filter();
}

/** Shows what the words and the drawing ask for. */
export function filter() {
  const words = $('find').value.toLowerCase().split(/\s+/).filter(Boolean);
  const shown = $('only').checked ? known.get(key()) : null;
  let [some, all] = [0, 0];
  for (const set of $('dims').children) {
    const part = `${set.querySelector('legend').textContent} ${set.dataset.part}`.toLowerCase();
    let any = false;
    for (const row of set.querySelectorAll('.row')) {
      const path = row.querySelector('[data-path]').dataset.path;
      const text = `${part} ${row.querySelector('label').textContent} ${row.title}`.toLowerCase();
      row.hidden = !words.every((w) => text.includes(w)) || shown?.[path] === false;
      any ||= !row.hidden;
      all += 1;
      some += row.hidden ? 0 : 1;
    }
    set.hidden = !any;
  }
  $('only-says').textContent = `${some} of ${all}`;
}

// ---- where the drawing shows it --------------------------------------------------------------------------------

function clear() { $('marks').replaceChildren(); }

/** The lengths that stand at a field: itself, or those of its list. */
function lengths(path) {
  const all = (page.state.last?.lengths || []).flatMap((g) => g.fields.map((f) => f.path));
  return path ? all.filter((one) => one === path || one.startsWith(`${path}[`)) : [];
}

/** Marks on the drawing what changes with the field that is looked at. */
export async function mark(wait = 700) {
  const input = document.activeElement;
  const path = input?.dataset?.path;
  const mine = (marked += 1);
  const all = lengths(path);
  if (!all.length || !page.state.last?.picture || $('work').classList.contains('stale')) { clear(); return; }
  if (wait) await new Promise((done) => { setTimeout(done, wait); });
  await page.quiet();
  if (mine !== marked) return;
  const it = await page.figures(page.state.last.text, all);
  const shows = all.map((one) => it?.shows[one]).filter(Boolean);
  if (mine !== marked || !shows.length || it.picture !== page.state.last.picture.id) return;
  const here = shows.some((s) => s.here);
  const marks = shows.flatMap((s) => s.marks);
  const [wide, high] = it.size;
  const share = (n, of) => `${(n / of) * 100}%`;
  $('marks').replaceChildren(...marks.map(({ at: [a, b, c, d], own }) => {
    const box = h('i', { class: own ? 'own' : null });
    Object.assign(box.style, { left: share(a - 40, wide), top: share(b - 40, high), width: share(c - a + 80, wide), height: share(d - b + 80, high) });
    return box;
  }));
  const own = marks.filter((m) => m.own).map((m) => m.says);
  const says = !here ? 'not on this drawing' : marks.length ? `marked on the drawing: ${(own.length ? own : marks.map((m) => m.says)).slice(0, 3).join(', ')}` : 'drawn here, without a figure of its own';
  const note = input.closest('.row').querySelector('.where');
  document.querySelectorAll('.where').forEach((n) => { if (n !== note) n.textContent = ''; });
  if (note) note.textContent = ` ${says}`;
}
