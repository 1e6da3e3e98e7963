//! The analyses as plain text.

use std::collections::BTreeSet;

use rust_decimal::Decimal;
use tankwright_quantities::bill::{Bill, BillRow};
use tankwright_quantities::build_up::{Cost, Group, Worked, WorkedLine, WorkedOnCost, audit};
use tankwright_quantities::estimate::Estimate;

use super::{code, group_word, rows};
use crate::format::{quantity, say, word};
use crate::money::money_to;
use crate::text::table::{Col, Page, Table};
use crate::text::{head, money};

/// Every built rate of the bill as a hand analysis; which rows a price list prices directly.
#[must_use]
pub fn text(e: &Estimate) -> String {
    let mut page = Page::default();
    head(&mut page, e);
    page.line(0, 2, word("build-up-head"));
    let built = rows(e);
    for (row, worked) in &built {
        page.blank();
        one(&mut page, &e.bill, row, worked);
    }
    let all = || e.bill.sections.iter().flat_map(|s| &s.rows);
    let direct: Vec<&str> = all().filter(|r| r.build_up.is_none()).map(|r| r.reference.as_str()).collect();
    page.blank();
    match (built.is_empty(), direct.is_empty()) {
        (true, _) => page.line(0, 2, word("build-up-none")),
        (false, true) => {}
        (false, false) => page.line(0, 2, &say("build-up-direct", &[&direct.join(", ")])),
    }
    page.done()
}

/// The analysis of one row.
pub(crate) fn one(page: &mut Page, bill: &Bill, row: &BillRow, worked: &Worked) {
    let (per, unit) = (quantity(worked.per, 0), worked.unit.as_str());
    page.heading(&format!("{}   {}   {}", row.reference, code(row), row.wording));
    page.line(2, 4, &say("build-up-for", &[&per, unit, &worked.build_up.0, &worked.build_up.1]));
    let cols = [Col::Fill(40), Col::Right(10), Col::Left(0), Col::Right(11), Col::Right(13)];
    let mut table = Table::new(2, &cols);
    let places = worked.places();
    let shown = |d: Decimal| money_to(d, &bill.currency, places);
    for group in Group::ALL {
        let Some(sum) = worked.sum(group) else { continue };
        table.row([group_word(group)]);
        for line in worked.lines.iter().filter(|l| l.line.group == group) {
            table.row(cells(bill, worked, line));
        }
        let title = say("build-up-sum", &[group_word(group)]);
        table.row([title.as_str(), "", "", "", &shown(sum)]);
    }
    if row.labour.is_some() || worked.sum(Group::Materials).is_none() && bill.client_buys.is_some() {
        table.row([word("build-up-client")]);
    }
    table.row([word("build-up-cost"), "", "", "", &shown(worked.cost)]);
    for done in &worked.on_costs {
        table.row([
            on_cost(bill, worked, done),
            String::new(),
            String::new(),
            String::new(),
            shown(done.amount),
        ]);
    }
    if !worked.on_costs.is_empty() {
        table.row([say("build-up-total", &[&per, unit]).as_str(), "", "", "", &shown(worked.total)]);
    }
    let rate = |d: Decimal| money::rate(bill, d);
    table.row([say("build-up-each", &[unit]).as_str(), "", "", "", &rate(worked.each)]);
    for (step, said) in &worked.says {
        let title = say("build-up-say", &[step.way.id(), &quantity(step.to, 0)]);
        table.row([title.as_str(), "", "", "", &rate(*said)]);
    }
    page.table(&table);
    foot(page, bill, worked);
}

fn cells(bill: &Bill, worked: &Worked, done: &WorkedLine) -> [String; 5] {
    let line = &done.line;
    let amount = money_to(done.amount, &bill.currency, worked.places());
    let said = line.say.map(|s| say("build-up-said", &[s.way.id(), &quantity(s.to, 0)]));
    let (working, n, unit, rate) = match &line.cost {
        Cost::Priced { working, unit, rate, .. } => {
            let places = rate.normalize().scale().max(2);
            (
                working.clone(),
                quantity(done.quantity, 2),
                unit.clone(),
                money_to(*rate, &bill.currency, places),
            )
        }
        Cost::Percent(percent, on) => {
            let on = if on.is_empty() { word("build-up-on-all").to_owned() } else { on.join(", ") };
            let base = money_to(done.quantity, &bill.currency, worked.places());
            (say("build-up-on", &[&on, &base]), quantity(*percent, 0), "%".to_owned(), String::new())
        }
    };
    let notes: Vec<String> = [working].into_iter().chain(said).filter(|t| !t.is_empty()).collect();
    let notes = if notes.is_empty() { String::new() } else { format!(" ({})", notes.join("; ")) };
    [format!("\u{a0}\u{a0}{}{notes}", line.title), n, unit, rate, amount]
}

/// `Profit 10 %, on all before it`.
fn on_cost(bill: &Bill, worked: &Worked, done: &WorkedOnCost) -> String {
    let percent = quantity(done.on_cost.percent, 0);
    let title = say("paper-percent", &[&percent, &done.on_cost.title]);
    let gross = if done.on_cost.gross_up { word("build-up-gross-up") } else { "" };
    format!("\u{a0}\u{a0}{title}, {}{gross}", taken_on(bill, worked, done))
}

/// What an on-cost is taken on, in words with the sum.
pub(crate) fn taken_on(bill: &Bill, worked: &Worked, done: &WorkedOnCost) -> String {
    say("build-up-on", &[&taken_words(done), &money_to(done.base, &bill.currency, worked.places())])
}

/// What an on-cost is taken on, in words.
pub(crate) fn taken_words(done: &WorkedOnCost) -> String {
    let on = &done.on_cost.on;
    if on.is_empty() { word("build-up-on-all").to_owned() } else { on.join(", ") }
}

/// What on-costs leave out, the day, who says how much is needed, which prices.
fn foot(page: &mut Page, bill: &Bill, worked: &Worked) {
    let shown = |d: Decimal| money_to(d, &bill.currency, worked.places());
    for left in audit(worked) {
        let Some(done) = worked.on_costs.get(left.on_cost) else { continue };
        let groups = left.groups.iter().map(|(g, sum)| format!("{} {}", group_word(*g), shown(*sum)));
        let earlier = left.earlier.iter().filter_map(|i| worked.on_costs.get(*i));
        let earlier = earlier.map(|o| format!("{} {}", o.on_cost.title, shown(o.amount)));
        let all: Vec<String> = groups.chain(earlier).collect();
        let more = shown(left.more);
        page.line(4, 6, &say("build-up-left-out", &[&done.on_cost.title, &all.join(", "), &more]));
    }
    if let Some((hours, source)) = &worked.day {
        page.line(4, 6, &say("build-up-day", &[&quantity(*hours, 0), source]));
    }
    let mut seen = BTreeSet::new();
    for line in &worked.lines {
        if seen.insert((line.line.group, line.line.source.as_str())) {
            page.line(4, 6, &say("build-up-source", &[group_word(line.line.group), &line.line.source]));
        }
    }
    let prices = worked.lines.iter().filter_map(|l| match &l.line.cost {
        Cost::Priced { from: Some(from), .. } => Some((l.line.code.as_str(), from.line)),
        _ => None,
    });
    let (mut codes, mut list) = (Vec::new(), "");
    for (code, line) in prices {
        let text = format!("{code}:{line}");
        if !codes.contains(&text) {
            codes.push(text);
        }
    }
    if let Some(Cost::Priced { from: Some(from), .. }) =
        worked.lines.iter().map(|l| &l.line.cost).find(|c| matches!(c, Cost::Priced { from: Some(_), .. }))
    {
        list = &from.list;
    }
    if !codes.is_empty() {
        page.line(4, 6, &say("build-up-prices", &[list, &codes.join(", ")]));
    }
}
