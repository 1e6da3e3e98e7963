//! Returned copies side by side, as a paper: who is lowest, every rate, what is far, then each copy by itself.

use rust_decimal::Decimal;
use tankwright_account::returned::form::{Asks, FormRow, Sum};
use tankwright_account::returned::{Comparison, State};
use tankwright_geometry::Ratio;
use tankwright_quantities::amount_words::amount_words;
use tankwright_quantities::decimal;
use tankwright_quantities::estimate::Estimate;

use super::shared::{letter, rate, times};
use super::text_copy;
use crate::format::{quantity, say, word};
use crate::text::table::{Col, Page, Table};

/// Copies that stand beside each other in one table.
const BESIDE: usize = 4;

/// The comparison as a paper of at most 100 columns.
#[must_use]
pub fn text(e: &Estimate, c: &Comparison) -> String {
    let mut page = Page::default();
    crate::text::head(&mut page, e);
    page.line(0, 2, &say("paper-returned-head", &[&c.copies.len().to_string()]));
    bidders(&mut page, c);
    finding(&mut page, c);
    let all: Vec<usize> = (0..c.copies.len()).collect();
    page.heading(&word("paper-returned-rows").to_uppercase());
    page.line(0, 2, word("paper-returned-marks"));
    for some in all.chunks(BESIDE) {
        rows(&mut page, c, some);
    }
    far(&mut page, c);
    for (i, (copy, side)) in c.copies.iter().zip(&c.sides).enumerate() {
        text_copy::copy(&mut page, c, i, copy, side);
    }
    page.heading(&word("paper-returned-rules").to_uppercase());
    let ratio = times(c.ratio);
    for (key, args) in [
        ("paper-returned-rule-rate", vec![]),
        ("paper-returned-rule-form", vec![]),
        ("paper-returned-rule-open", vec![]),
        ("paper-returned-rule-fill", vec![]),
        ("paper-returned-rule-far", vec![ratio.as_str()]),
    ] {
        page.line(2, 4, &say(key, &args));
    }
    page.done()
}

pub(super) fn money(c: &Comparison, amount: Decimal) -> String {
    crate::money::money(amount, &c.form.currency)
}

fn bidders(page: &mut Page, c: &Comparison) {
    page.heading(&word("paper-returned-bidders").to_uppercase());
    let cols = [
        Col::Left(1),
        Col::Fill(20),
        Col::Right(12),
        Col::Right(12),
        Col::Right(5),
        Col::Right(12),
        Col::Right(5),
    ];
    let mut table = Table::new(2, &cols);
    table.row([
        "",
        word("paper-returned-bidder"),
        word("paper-returned-printed"),
        word("paper-returned-corrected"),
        word("paper-returned-place"),
        word("paper-returned-complete"),
        word("paper-returned-place"),
    ]);
    for (i, (copy, side)) in c.copies.iter().zip(&c.sides).enumerate() {
        let printed =
            copy.sums.get(&Sum::Total).map(|(_, f)| crate::money::rate(f.decimal(), &c.form.currency));
        let place = |rank: Option<usize>| rank.map_or_else(|| "-".to_owned(), |rank| rank.to_string());
        let complete = if side.filled.is_empty() { String::new() } else { money(c, side.complete[0].total) };
        table.row([
            letter(i),
            copy.name.clone(),
            printed.unwrap_or_else(|| word("paper-returned-none").to_owned()),
            money(c, side.corrected.total),
            place(side.rank),
            complete,
            place(side.rank_complete),
        ]);
        let of = |id| copy.field(id);
        let said = [
            ("date", "paper-returned-dated"),
            ("valid", "paper-returned-valid"),
            ("tax", "paper-returned-tax"),
        ];
        let mut says: Vec<String> =
            said.iter().filter(|(id, _)| !of(id).is_empty()).map(|(id, key)| say(key, &[of(id)])).collect();
        says.push(copy.file.clone());
        table.across_at(3, &says.join("; "));
        let words = amount_words(side.corrected.total, &c.form.currency);
        table.across_at(3, &say("paper-returned-in-words", &[&words]));
    }
    if let Some(own) = &c.own {
        table.row(["", word("paper-returned-ours"), "", &money(c, own.total)]);
    }
    page.table(&table);
}

/// What it comes to, in plain words.
fn finding(page: &mut Page, c: &Comparison) {
    page.heading(&word("paper-returned-finding").to_uppercase());
    let (mut order, nothing): (Vec<usize>, Vec<usize>) =
        (0..c.sides.len()).partition(|i| c.sides.get(*i).is_some_and(|s| s.rank.is_some()));
    let total = |i: usize| c.sides.get(i).map(|s| s.corrected.total).unwrap_or_default();
    order.sort_by_key(|i| total(*i));
    let name = |i: usize| format!("{} ({})", c.copies.get(i).map_or("", |c| c.name.as_str()), letter(i));
    let code = &c.form.currency.code;
    if let [first, second, ..] = order[..] {
        let (low, over) = (total(first), total(second) - total(first));
        let percent = Ratio::int(100) * decimal::ratio(over) / decimal::ratio(low);
        let percent = decimal::rounded(percent, 1).map_or_else(|| "-".to_owned(), |d| decimal::shown(d, 1));
        let [low, over] = [low, over].map(|d| money(c, d));
        page.line(
            2,
            4,
            &say("paper-returned-lowest", &[code, &low, code, &over, &percent, &name(first), &name(second)]),
        );
    }
    for i in nothing {
        page.line(2, 4, &say("paper-returned-nothing", &[&name(i)]));
    }
    let moved = c.sides.iter().any(|s| s.rank != s.rank_complete);
    if moved {
        page.line(2, 4, word("paper-returned-moved"));
    }
    let mut tax: Vec<String> = c.copies.iter().map(|c| c.field("tax").trim().to_lowercase()).collect();
    tax.dedup();
    if tax.len() > 1 || tax.iter().all(String::is_empty) {
        page.line(2, 4, word("paper-returned-tax-differs"));
    }
    for (i, (copy, side)) in c.copies.iter().zip(&c.sides).enumerate() {
        let is = |what: &[&str]| copy.findings.iter().filter(|f| what.contains(&f.what)).count().to_string();
        let slips = is(&["extension", "total", "base", "percentage"]);
        let changed = is(&["quantity", "unit", "words", "stated", "negative"]);
        let far = c.far.iter().filter(|f| f.copy == i).count().to_string();
        let [open, added] = [side.filled.len(), copy.added.len()].map(|n| n.to_string());
        page.line(2, 4, &say("paper-returned-counts", &[&slips, &changed, &open, &added, &far, &name(i)]));
    }
}

/// A table of some copies beside each other: rates, and the amounts that count under them.
fn rows(page: &mut Page, c: &Comparison, some: &[usize]) {
    let mut cols = vec![Col::Left(3), Col::Fill(18), Col::Right(7), Col::Left(4)];
    cols.extend(some.iter().map(|_| Col::Right(9)));
    if c.own.is_some() {
        cols.push(Col::Right(9));
    }
    let mut table = Table::new(0, &cols);
    let mut head = vec![word("paper-ref").to_owned(), word("paper-description").to_owned()];
    head.extend([word("paper-quantity-head"), word("paper-unit")].map(str::to_owned));
    head.extend(some.iter().map(|i| letter(*i)));
    if c.own.is_some() {
        head.push(word("paper-returned-ours").to_owned());
    }
    table.row(head);
    for section in &c.form.sections {
        table.row(["".to_owned(), format!("{} {}", section.letter, section.title)]);
        for n in c.form.rows_of(section.letter) {
            let Some(row) = c.form.rows.get(n) else { continue };
            let [rates, amounts] = cells(c, n, row, some);
            table.row(rates);
            table.row(amounts);
        }
        if section.letter == tankwright_account::returned::form::ADDITIONS {
            continue;
        }
        let total = |r: &tankwright_account::returned::Reckoned| {
            let found = r.sections.iter().find(|(l, _)| *l == section.letter);
            found.map(|(_, d)| money(c, *d)).unwrap_or_default()
        };
        let title = say("paper-section-total", &[&section.letter.to_string()]);
        let mut cells = vec![String::new(), title, String::new(), String::new()];
        cells.extend(some.iter().filter_map(|i| c.sides.get(*i)).map(|s| total(&s.corrected)));
        cells.extend(c.own.as_ref().map(total));
        table.row(cells);
        table.row([""]);
    }
    let mut cells =
        vec![String::new(), word("paper-returned-total").to_owned(), String::new(), String::new()];
    cells.extend(some.iter().filter_map(|i| c.sides.get(*i)).map(|s| money(c, s.corrected.total)));
    cells.extend(c.own.as_ref().map(|r| money(c, r.total)));
    table.row(cells);
    page.table(&table);
    page.blank();
}

/// The rates of a row, and its amounts.
fn cells(c: &Comparison, n: usize, row: &FormRow, some: &[usize]) -> [Vec<String>; 2] {
    let percent = matches!(row.asks, Asks::Percent(_));
    let shown = |r: Ratio| {
        let value = rate(c, r);
        if percent {
            format!("{}\u{a0}%", quantity(value, 0))
        } else {
            crate::money::rate(value, &c.form.currency)
        }
    };
    let least = if matches!(row.unit.as_str(), "nr" | "item") { 0 } else { 2 };
    let count = row.quantity().map(|q| quantity(q, least)).unwrap_or_default();
    let mut rates = vec![row.reference.clone(), row.words.clone(), count, row.unit.clone()];
    let mut amounts = vec![String::new(); 4];
    let across = c.rows.get(n);
    for i in some {
        let state = c.copies.get(*i).and_then(|copy| copy.bids.get(n)).map(|b| b.state);
        let figure = across.and_then(|a| a.rates.get(*i).copied().flatten());
        let mark = mark(c, n, *i, figure);
        rates.push(match (state, figure) {
            _ if row.stated.is_some() => figure.map(shown).unwrap_or_default(),
            (Some(State::Priced | State::Zero), Some(r)) => format!("{mark}{}", shown(r)),
            (Some(State::Lump), Some(r)) => format!("{mark}({})", shown(r)),
            (Some(state), _) => text_copy::state(state).to_owned(),
            _ => String::new(),
        });
        let amount = c.sides.get(*i).and_then(|s| s.corrected.amounts.get(n)).copied().unwrap_or_default();
        amounts.push(if amount.is_zero() { String::new() } else { money(c, amount) });
    }
    if let Some(own) = &c.own {
        rates.push(across.and_then(|a| a.own).map(shown).unwrap_or_default());
        let amount = own.amounts.get(n).copied().unwrap_or_default();
        amounts.push(money(c, amount));
    }
    [rates, amounts]
}

/// Signs before a rate: far from the others, lowest, highest.
fn mark(c: &Comparison, row: usize, copy: usize, figure: Option<Ratio>) -> String {
    let far = c.far.iter().any(|f| f.row == row && f.copy == copy);
    let range = c.rows.get(row).and_then(|r| r.range).filter(|[low, high]| low != high);
    // Of two, one is always the highest.
    let two = c.rows.get(row).is_some_and(|r| r.rates.iter().flatten().count() < 3);
    let side = match (range, figure) {
        (Some([low, _]), Some(f)) if f == low => "v",
        (Some([_, high]), Some(f)) if f == high && !two => "^",
        _ => "",
    };
    let mark = format!("{}{side}", if far { "!" } else { "" });
    if mark.is_empty() { mark } else { format!("{mark}\u{a0}") }
}

fn far(page: &mut Page, c: &Comparison) {
    page.heading(&say("paper-returned-far", &[&c.far.len().to_string()]).to_uppercase());
    for f in &c.far {
        let Some(row) = c.form.rows.get(f.row) else { continue };
        let [mine, median] = [f.rate, f.median].map(|r| crate::money::rate(rate(c, r), &c.form.currency));
        let key = if f.high() { "paper-returned-high" } else { "paper-returned-low" };
        let args = [&letter(f.copy), &row.reference, &mine, &median, &f.of.to_string(), &row.words];
        page.line(2, 4, &say(key, &args.map(String::as_str)));
    }
}
