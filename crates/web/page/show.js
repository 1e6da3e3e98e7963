// Tables and lists of the page. Everything is built as text, never as markup.

/** An element: h('td', {class: 'n'}, 'text', child). */
export function h(tag, attributes, ...children) {
  const it = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes || {})) {
    if (name.startsWith('on')) it.addEventListener(name.slice(2), value);
    else if (value === true) it.setAttribute(name, '');
    else if (value !== false && value !== null && value !== undefined) it.setAttribute(name, value);
  }
  it.append(...children.filter((c) => c !== null && c !== undefined));
  return it;
}

/** Digits of a decimal in threes; a real minus sign. */
export function group(text) {
  if (text === null || text === undefined) return '\u2013';
  const [whole, rest] = String(text).replace('-', '\u2212').split('.');
  const set = whole.replace(/\B(?=(\d{3})+(?!\d))/g, '\u2009');
  return rest === undefined ? set : `${set}.${rest}`;
}

/** Are amounts of money grouped in lakh and crore, as the job says? */
let twos = false;
export const numbers = (said) => { twos = said === 'lakh-crore'; };

/** Digits of an amount of money, grouped as on the papers of the job. */
export function money(text) {
  if (!twos || text === null || text === undefined) return group(text);
  const [whole, rest] = String(text).replace('-', '\u2212').split('.');
  const set = whole.replace(/(\d)(?=(\d\d)+\d$)/g, '$1,');
  return rest === undefined ? set : `${set}.${rest}`;
}

/** A quantity with two places at least where it is measured, as on paper. */
export function quantity(text, u) {
  if (text === null || text === undefined || !['m3', 'm2', 'm', 'kg'].includes(u)) return group(text);
  const [whole, rest = ''] = String(text).split('.');
  return group(`${whole}.${rest.padEnd(2, '0')}`);
}

const units = { m3: 'm\u00b3', m2: 'm\u00b2' };
export const unit = (u) => units[u] || u;

/** A table; cells are texts or nodes, and a leading '#' in a heading puts its column at the right. */
export function table(caption, heads, rows) {
  const right = heads.map((t) => t.startsWith('#'));
  const head = h('tr', {}, ...heads.map((t, i) =>
    h('th', { scope: 'col', class: right[i] ? 'n' : null }, t.replace('#', ''))));
  const body = rows.map((row) => {
    if (row.head) return h('tr', { class: 'head' }, h('th', { scope: 'rowgroup', colspan: heads.length - 1 }, row.head), h('td', { class: 'n' }, row.sum || ''));
    const cells = row.cells || row;
    return h('tr', { class: row.class || null }, ...cells.map((c, i) => {
      if (row.class && i === 0) return h('th', { scope: 'row' }, c);
      return h('td', { class: [right[i] ? 'n' : '', row.marks?.[i] || ''].join(' ').trim() || null }, c);
    }));
  });
  return h('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': caption }, h('table', {}, h('caption', {}, caption),
    h('thead', {}, head), h('tbody', {}, ...body)));
}

export function bill(it, asks) {
  const rows = [];
  for (const s of it.sections) {
    rows.push({ head: asks(`${s.letter}  ${s.title}`, s.letter), sum: '' });
    for (const r of s.rows) {
      rows.push([asks(r.ref, r.ref), r.description, quantity(r.quantity, r.unit), unit(r.unit), money(r.rate), money(r.amount)]);
    }
    rows.push({ class: 'subtotal', cells: ['', s.title, '', '', '', money(s.total)] });
  }
  rows.push({ class: 'subtotal', cells: ['', asks('Measured works', 'measured'), '', '', '', money(it.measured_total)] });
  for (const side of [...(it.preliminaries || []), ...(it.provisional || [])]) {
    rows.push(['', side.title, side.quantity ? quantity(side.quantity, side.unit) : '', unit(side.unit || ''), side.rate ? money(side.rate) : '', money(side.amount)]);
  }
  for (const a of it.additions) {
    rows.push(['', asks(a.percent ? `${a.title} ${a.percent} %` : a.title, a.title), '', '', '', money(a.amount)]);
  }
  if (it.total !== null) rows.push({ class: 'grand', cells: ['', asks(`Total ${it.currency}`, 'total'), '', '', '', money(it.total)] });
  const list = [table('Bill', ['Ref', 'Description', '#Quantity', 'Unit', '#Rate', `#${it.currency}`], rows)];
  if (it.total_in_words) list.push(h('p', { class: 'soft' }, it.total_in_words));
  if (it.price_list) list.push(h('p', { class: 'soft' }, `Prices: ${it.price_list.name}`));
  if (it.not_priced?.length) list.push(h('p', {}, h('b', {}, 'Not priced: '), it.not_priced.join(', ')));
  return list;
}

export function orders(it, asks) {
  const rows = [];
  for (const s of it.stages) {
    if (!s.lines.length) continue;
    rows.push({ head: s.title, sum: '' });
    // What only lies in the store stands under "What is in the store".
    for (const l of s.lines.filter((l) => l.packs || Number(l.used) || Number(l.present))) {
      rows.push([l.title, `${l.packs}`, l.pack_title, quantity(l.used, l.unit), unit(l.unit), quantity(l.closing, l.unit), money(l.cost)]);
    }
  }
  const totals = it.totals.map((t) => [asks(t.title || t.material, `orders/${t.material}`), `${t.packs}`, t.pack_title || t.pack, quantity(t.used, t.unit), unit(t.unit), money(t.cost)]);
  return [table('What to order, stage by stage', ['Material', '#Packs', 'Pack', '#Used', 'Unit', '#Left in store', '#Cost'], rows),
    table('In all', ['Material', '#Packs', 'Pack', '#Used', 'Unit', '#Cost'], totals)];
}

export function materials(it, asks) {
  const rows = it.rows.map((r) => [asks(r.title || r.material, r.material), r.stage, quantity(r.net, r.unit), quantity(r.over_break, r.unit), `${r.waste_percent} %`, quantity(r.gross, r.unit), unit(r.unit)]);
  return [table('Materials by stage', ['Material', 'Stage', '#Net', '#Over-break', '#Waste', '#Gross', 'Unit'], rows)];
}

export function bars(it, asks) {
  const marks = it.marks.map((m) => [asks(m.mark, `mark/${m.mark}`), m.member, `${m.grade}${m.diameter}`, m.shape, `${m.count}`, `${group(m.length_mm)}`,
    Object.entries(m.dims).map(([k, v]) => `${k} ${v}`).join(', ')]);
  const cuts = it.cutting.flatMap((c) => c.patterns.map((p) => [`${c.grade}${c.diameter}`, `${p.times}`, p.pieces_mm.map(group).join(' + '), group(p.offcut_mm)]));
  const buy = it.cutting.map((c) => [`${c.grade}${c.diameter}`, `${c.bars}`, group(c.stock_mm), c.proved_least ? 'proved least' : `at least ${c.bound}`]);
  if (!marks.length) return [h('p', {}, 'This job gives no bars: they are under [steel] in the job text.')];
  return [table('Bars to buy', ['Bar', '#Bars', '#Length mm', ''], buy),
    table('Bar schedule', ['Mark', 'Member', 'Bar', 'Shape', '#Number', '#Length mm', 'Bending mm'], marks),
    table('Cutting plan', ['Bar', '#Bars', 'Pieces mm', '#Offcut mm'], cuts)];
}

export function compared(it) {
  const sign = (d) => (d.startsWith('+') ? 'more' : d.startsWith('\u2212') ? 'less' : '');
  const rows = it.rows.map((r) => ({ cells: [r.what, unit(r.unit), r.a, r.b, r.difference], marks: ['', '', '', '', /^[A-Z]{3}$/.test(r.unit) ? sign(r.difference) : ''] }));
  const changed = it.changed.map((c) => [c.path, c.a || '\u2013', c.b || '\u2013']);
  return [rows.length ? table('A and the design now', ['', 'Unit', '#A', '#Now', '#Difference'], rows) : null,
    changed.length ? table('What is written differently', ['Value', 'A', 'Now'], changed) : h('p', {}, 'Nothing is changed yet.')].filter(Boolean);
}

export function cheapest(it, take) {
  const price = (t) => money(t.total);
  const two = (t) => quantity(t, 'm');
  const rows = it.best.map((t, i) => [`${i + 1}`, price(t), t.chambers.map(two).join(' + '), two(t.width), two(t.height), two(t.plan_area), group(t.provided_l),
    h('button', { type: 'button', onclick: () => take(t) , 'aria-label': `Take tank ${i + 1}` }, 'Take')]);
  rows.push({ class: 'subtotal', cells: ['', price(it.drawn), it.drawn.chambers.map(two).join(' + '), two(it.drawn.width), two(it.drawn.height), two(it.drawn.plan_area), group(it.drawn.provided_l), 'as drawn'] });
  const said = `${group(it.candidates)} candidates in ${it.seconds} s: ${group(it.candidates_priced)} comply, `
    + `${group(it.candidates_not_complying)} do not, ${group(it.candidates_refused)} cannot be built or priced.`;
  const none = it.best.length ? null : h('p', {}, 'No tank within these limits complies.');
  return [h('p', {}, said), none, table(`The cheapest by ${it.rule}`, ['', `#${it.currency}`, 'Chambers m', '#Width', '#Height', '#Plan m\u00b2', '#Litres', 'To draw'], rows)].filter(Boolean);
}
