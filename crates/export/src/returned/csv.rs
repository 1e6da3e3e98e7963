//! Returned copies as CSV: one row a fact, its kind in the first column.

use tankwright_account::returned::form::Sum;
use tankwright_account::returned::{Comparison, Copy, Side};
use tankwright_quantities::decimal;

use super::shared::{letter, rate};
use crate::csv::{figure, text as harmless};
use crate::json::plain;

const HEAD: [&str; 14] = [
    "row", "bidder", "name", "line", "ref", "text", "unit", "quantity", "rate", "printed", "amount", "state",
    "far", "says",
];

/// Rows `bidder` (printed: as printed, amount: corrected), `complete-highest` and `complete-average` (estimates), `bid`
/// (one for each row of the form and copy), the kinds of findings, `added`, `sum`, `text`, `unread-sheet`, and `ours`.
#[must_use]
pub fn csv(c: &Comparison) -> String {
    let mut out = ::csv::WriterBuilder::new().terminator(::csv::Terminator::CRLF).from_writer(Vec::new());
    let mut put = |cells: [String; 14]| {
        // Figures and ids are never touched; in an added row they are the bidder's own text.
        let own = matches!(cells[0].as_str(), "added" | "quantity" | "unit" | "words" | "stated");
        let free = |i: usize| matches!(i, 2 | 5 | 6 | 13) || own && matches!(i, 7..=10);
        let cells = cells.into_iter().enumerate();
        // Writing to memory does not fail.
        drop(out.write_record(cells.map(|(i, text)| if free(i) { harmless(&text) } else { figure(&text) })));
    };
    put(HEAD.map(str::to_owned));
    for (i, (copy, side)) in c.copies.iter().zip(&c.sides).enumerate() {
        totals(c, i, copy, side, &mut put);
        bids(c, i, copy, side, &mut put);
        facts(c, i, copy, &mut put);
    }
    if let Some(own) = &c.own {
        let mut cells = row("ours", String::new(), "");
        cells[10] = decimal::shown(own.total, c.form.currency.digits);
        put(cells);
        for (n, (form, across)) in c.form.rows.iter().zip(&c.rows).enumerate() {
            let mut cells = row("ours", String::new(), "");
            [cells[4], cells[5], cells[6]] = [form.reference.clone(), form.words.clone(), form.unit.clone()];
            cells[7] = form.quantity().map(plain).unwrap_or_default();
            cells[8] = across.own.map(|r| plain(rate(c, r))).unwrap_or_default();
            let amount = own.amounts.get(n).copied().unwrap_or_default();
            cells[10] = decimal::shown(amount, c.form.currency.digits);
            put(cells);
        }
    }
    out.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
}

fn row(kind: &str, bidder: String, name: &str) -> [String; 14] {
    let mut cells: [String; 14] = Default::default();
    [cells[0], cells[1], cells[2]] = [kind.to_owned(), bidder, name.to_owned()];
    cells
}

fn totals(c: &Comparison, i: usize, copy: &Copy, side: &Side, put: &mut dyn FnMut([String; 14])) {
    let money = |d| decimal::shown(d, c.form.currency.digits);
    let mut cells = row("bidder", letter(i), &copy.name);
    cells[5].clone_from(&copy.file);
    cells[9] = copy.sums.get(&Sum::Total).map(|(_, f)| plain(f.decimal())).unwrap_or_default();
    cells[10] = money(side.corrected.total);
    cells[13] = copy.fields.iter().map(|(id, text)| format!("{id}: {text}")).collect::<Vec<_>>().join("; ");
    put(cells);
    for (kind, reckoned) in ["complete-highest", "complete-average"].into_iter().zip(&side.complete) {
        let mut cells = row(kind, letter(i), &copy.name);
        cells[10] = money(reckoned.total);
        put(cells);
    }
}

fn bids(c: &Comparison, i: usize, copy: &Copy, side: &Side, put: &mut dyn FnMut([String; 14])) {
    for (n, (form, bid)) in c.form.rows.iter().zip(&copy.bids).enumerate() {
        let mut cells = row("bid", letter(i), &copy.name);
        cells[3] = bid.line.map(|l| l.to_string()).unwrap_or_default();
        [cells[4], cells[5], cells[6]] = [form.reference.clone(), form.words.clone(), form.unit.clone()];
        cells[7] = form.quantity().map(plain).unwrap_or_default();
        cells[8] = bid.rate.map(|f| plain(f.decimal())).unwrap_or_default();
        cells[9] = bid.printed.map(|f| plain(f.decimal())).unwrap_or_default();
        let amount = side.corrected.amounts.get(n).copied().unwrap_or_default();
        cells[10] = decimal::shown(amount, c.form.currency.digits);
        cells[11] = bid.state.id().to_owned();
        let far = c.far.iter().find(|f| f.row == n && f.copy == i);
        cells[12] = far.map_or("", |f| if f.high() { "high" } else { "low" }).to_owned();
        let said = [bid.words.as_str(), bid.remark.as_str()];
        cells[13] = said.into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join("; ");
        put(cells);
    }
}

fn facts(c: &Comparison, i: usize, copy: &Copy, put: &mut dyn FnMut([String; 14])) {
    let money = |d| decimal::shown(d, c.form.currency.digits);
    for f in &copy.findings {
        let mut cells = row(f.what, letter(i), &copy.name);
        [cells[3], cells[4]] = [f.line.to_string(), f.reference.clone()];
        [cells[9], cells[10]] = [f.printed.clone(), f.should_be.clone()];
        cells[13] = f.says.to_string();
        put(cells);
    }
    for a in &copy.added {
        let mut cells = row("added", letter(i), &copy.name);
        [cells[3], cells[5], cells[6]] = [a.line.to_string(), a.text.clone(), a.unit.clone()];
        [cells[7], cells[8]] = [a.quantity.clone(), a.rate.clone()];
        cells[10] = a.amount.map(money).unwrap_or_default();
        put(cells);
    }
    for (line, text, figure) in &copy.other_sums {
        let mut cells = row("sum", letter(i), &copy.name);
        [cells[3], cells[5], cells[9]] = [line.to_string(), text.clone(), plain(figure.decimal())];
        put(cells);
    }
    for (line, text) in &copy.words {
        let mut cells = row("text", letter(i), &copy.name);
        [cells[3], cells[5]] = [line.to_string(), text.clone()];
        put(cells);
    }
    for sheet in &copy.unread {
        let mut cells = row("unread-sheet", letter(i), &copy.name);
        cells[5].clone_from(sheet);
        put(cells);
    }
}
