//! The paper of the cross-check: the finding in plain words, a table of the items, arithmetic, what is open.

use rust_decimal::Decimal;
use tankwright_crosscheck::Report;
use tankwright_crosscheck::report::{Compared, Explanation, Slip};
use tankwright_quantities::decimal;
use tankwright_quantities::estimate::Estimate;

use super::{ids, says};
use crate::format::{quantity, say, word};
use crate::money::money as of_money;
use crate::text::table::{Col, Page, Table};

/// Explanations shown of a row; JSON lists all.
const SHOWN: usize = 3;

/// The finding as a paper of at most 100 columns.
#[must_use]
pub fn text(e: &Estimate, r: &Report) -> String {
    let mut page = Page::default();
    crate::text::head(&mut page, e);
    page.line(0, 2, &say("paper-cross-head", &[&r.file]));
    finding(&mut page, e, r);
    rows(&mut page, e, r);
    arithmetic(&mut page, r);
    open(&mut page, e, r);
    page.done()
}

fn money(e: &Estimate, value: Decimal) -> String {
    format!("{} {}", e.bill.currency.code, of_money(value, &e.bill.currency))
}

/// One page in plain words.
fn finding(page: &mut Page, e: &Estimate, r: &Report) {
    page.heading(&word("paper-cross-finding").to_uppercase());
    let n = |count: usize| count.to_string();
    let agree = r.rows.iter().filter(|x| x.agrees).count();
    let differ: Vec<&Compared> = r.rows.iter().filter(|x| !x.agrees).collect();
    let explained = differ.iter().filter(|x| !x.explained.is_empty()).count();
    page.line(2, 2, &say("paper-cross-found-agree", &[&n(agree), &n(r.rows.len())]));
    if !differ.is_empty() {
        let args = [n(explained), n(differ.len() - explained)];
        page.line(2, 2, &say("paper-cross-found-explained", &args.each_ref().map(String::as_str)));
    }
    let worth: Vec<Decimal> = differ.iter().filter_map(|x| x.worth).collect();
    if !worth.is_empty() {
        let over: Decimal = worth.iter().filter(|w| w.is_sign_positive()).sum();
        let under: Decimal = worth.iter().filter(|w| w.is_sign_negative()).sum();
        let args = [money(e, over + under), money(e, over), money(e, -under)];
        page.line(2, 2, &say("paper-cross-found-worth", &args.each_ref().map(String::as_str)));
    }
    let slips = match r.arithmetic.len() {
        0 => word("paper-cross-found-clean").to_owned(),
        some => say("paper-cross-found-arithmetic", &[&n(some)]),
    };
    page.line(2, 2, &slips);
    if !r.unmatched.is_empty() {
        page.line(2, 2, &say("paper-cross-found-open", &[&n(r.unmatched.len())]));
    }
    if !r.missing.is_empty() {
        page.line(2, 2, &say("paper-cross-found-missing", &[&n(r.missing.len())]));
    }
    // What is worth most is said first.
    let mut by_worth = differ;
    by_worth.sort_by_key(|x| std::cmp::Reverse(x.worth.map(|w| w.abs())));
    by_worth.iter().for_each(|x| page.line(2, 4, &sentence(e, x)));
    if explained > 0 {
        page.line(2, 2, word("paper-cross-found-chance"));
    }
}

fn sentence(e: &Estimate, x: &Compared) -> String {
    let why = match x.explained.as_slice() {
        [] => word("paper-cross-found-unexplained").to_owned(),
        [one] => say("paper-cross-found-cause", &[&says(one)]),
        [one, two] => say("paper-cross-found-causes", &[&says(one), &says(two)]),
        [one, two, rest @ ..] => {
            say("paper-cross-found-many", &[&says(one), &says(two), &rest.len().to_string()])
        }
    };
    let key =
        if x.difference.is_sign_negative() { "paper-cross-found-under" } else { "paper-cross-found-over" };
    let amount = x.worth.map(|w| format!(" ({})", money(e, w.abs()))).unwrap_or_default();
    let by = quantity(x.difference.abs(), x.places);
    say(key, &[&lines(x), &x.text, &by, &format!("{}{amount}", x.unit), &why])
}

fn lines(x: &Compared) -> String {
    x.lines.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")
}

fn signed(value: Decimal, places: u32) -> String {
    let text = quantity(value, places);
    if value > Decimal::ZERO { format!("+{text}") } else { text }
}

fn rows(page: &mut Page, e: &Estimate, r: &Report) {
    if r.rows.is_empty() {
        return;
    }
    page.heading(&word("paper-cross-rows").to_uppercase());
    let mut table = Table::new(
        2,
        &[
            Col::Left(4),
            Col::Fill(24),
            Col::Right(8),
            Col::Right(8),
            Col::Right(8),
            Col::Left(4),
            Col::Right(8),
        ],
    );
    table.heads([
        "paper-cross-line",
        "paper-cross-item",
        "paper-cross-ours",
        "paper-cross-theirs",
        "paper-difference",
        "paper-unit",
        "paper-cross-worth",
    ]);
    for x in &r.rows {
        let spec = if x.spec.is_empty() { String::new() } else { format!("/{}", x.spec) };
        let worth = x.worth.map(|w| of_money(w, &e.bill.currency)).unwrap_or_default();
        table.row([
            lines(x),
            format!("{}{spec}", x.works.join(" + ")),
            quantity(x.ours, x.places),
            decimal::shown(x.theirs, x.places),
            if x.agrees { word("paper-cross-agree").to_owned() } else { signed(x.difference, x.places) },
            x.unit.clone(),
            if x.agrees { String::new() } else { worth },
        ]);
        why(&mut table, x);
    }
    page.table(&table);
}

fn why(table: &mut Table, x: &Compared) {
    let put = |table: &mut Table, text: &str| table.across_at(6, text);
    match (x.agrees, x.explained.is_empty()) {
        (true, true) => return,
        (false, true) => return put(table, &say("paper-cross-agree-not", &[&x.tried.to_string()])),
        _ => {}
    }
    for (i, e) in x.explained.iter().take(SHOWN).enumerate() {
        put(table, &because(i, e));
    }
    if x.explained.len() > SHOWN {
        put(table, &say("paper-cross-more", &[&(x.explained.len() - SHOWN).to_string()]));
    }
}

fn because(i: usize, e: &Explanation) -> String {
    say(if i == 0 { "paper-cross-because" } else { "paper-cross-or" }, &[&ids(e), &says(e)])
}

fn arithmetic(page: &mut Page, r: &Report) {
    if r.arithmetic.is_empty() {
        return;
    }
    page.heading(&word("paper-cross-arithmetic").to_uppercase());
    for s in &r.arithmetic {
        let args = [s.line.to_string(), s.should_be.to_string(), s.printed.to_string()];
        page.line(2, 4, &say(key(s), &args.each_ref().map(String::as_str)));
        page.line(4, 6, &s.text);
        s.explained.iter().enumerate().for_each(|(i, e)| page.line(6, 8, &because(i, e)));
    }
}

fn key(s: &Slip) -> &'static str {
    match s.what {
        "dimensions" => "paper-cross-slip-dimensions",
        "extension" => "paper-cross-slip-extension",
        "percentage" => "paper-cross-slip-percentage",
        "brought" => "paper-cross-slip-brought",
        _ => "paper-cross-slip-total",
    }
}

/// What is held against nothing, on both sides.
fn open(page: &mut Page, e: &Estimate, r: &Report) {
    if !r.unmatched.is_empty() {
        page.heading(&say("paper-cross-unmatched", &[&r.unmatched.len().to_string()]).to_uppercase());
    }
    for u in &r.unmatched {
        let amount = format!("{} {}", u.quantity, u.unit);
        page.line(2, 4, &say("paper-cross-unmatched-line", &[&u.line.to_string(), &u.text, amount.trim()]));
        let perhaps = u.perhaps.join(", ");
        let perhaps = if perhaps.is_empty() { perhaps } else { say("paper-cross-perhaps", &[&perhaps]) };
        let why = [u.why.to_string(), perhaps];
        page.line(6, 8, &why.iter().filter(|w| !w.is_empty()).cloned().collect::<Vec<_>>().join("; "));
    }
    if !r.missing.is_empty() {
        page.heading(&say("paper-cross-missing", &[&r.missing.len().to_string()]).to_uppercase());
        let mut table =
            Table::new(2, &[Col::Left(4), Col::Fill(30), Col::Right(8), Col::Left(4), Col::Right(8)]);
        for m in &r.missing {
            let amount = m.amount.map(|a| of_money(a, &e.bill.currency)).unwrap_or_default();
            let cells =
                [m.reference.clone(), m.says.to_string(), quantity(m.quantity, 2), m.unit.to_owned(), amount];
            table.row(cells);
        }
        page.table(&table);
    }
}
