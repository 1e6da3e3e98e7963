//! Figures that are sums of others: totals, additions, earth, capacity.

use rust_decimal::Decimal;
use tankwright_quantities::bill::{AddedOn, Addition, BillSection, SideRow};
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::sheet::Item;
use tankwright_quantities::works::Earth;
use tankwright_quantities::works::voids::CLEAR_SPACE;

use super::item;
use crate::format::{least_places, quantity, say, word};
use crate::text::table::{Col, Page, Table};
use crate::text::{capacity_line, earth_line, money, section_title};

fn amounts() -> Table {
    Table::new(2, &[Col::Fill(50), Col::Right(16), Col::Left(0)])
}

/// A section: its rows.
pub(super) fn section(page: &mut Page, e: &Estimate, s: &BillSection) {
    page.heading(&format!("{}   {}", section_title(s), money::amount(&e.bill, s.total)));
    let mut table = amounts();
    for row in &s.rows {
        let n = quantity(row.quantity, least_places(row.unit));
        let code = super::find::code(row);
        let text = match &row.rate {
            Some((rate, _)) => {
                format!("{}  {code}  {n} {} x {}", row.reference, row.unit.id(), money::rate(&e.bill, *rate))
            }
            None => format!("{}  {code}  {n} {}", row.reference, row.unit.id()),
        };
        table.row([text, money::amount(&e.bill, row.amount)]);
    }
    page.table(&table);
}

/// The measured works: their sections.
pub(super) fn measured(page: &mut Page, e: &Estimate) {
    page.heading(&format!("{}   {}", word("paper-measured"), money::amount(&e.bill, e.bill.measured)));
    let mut table = amounts();
    for s in &e.bill.sections {
        table.row([section_title(s), money::amount(&e.bill, s.total), s.section.id().to_owned()]);
    }
    page.table(&table);
}

/// Preliminaries or provisional items.
pub(super) fn side(page: &mut Page, e: &Estimate, rows: &[SideRow], key: &'static str) {
    page.heading(&format!("{}   {}", word(key), money::amount(&e.bill, Some(money::side_total(rows)))));
    let mut table = amounts();
    for r in rows {
        table.row([r.title.clone(), money::amount(&e.bill, Some(r.amount)), money::worked(&e.bill, r)]);
    }
    page.table(&table);
    if !e.bill.not_priced.is_empty() && key == "paper-preliminaries" {
        page.line(2, 4, &say("paper-not-priced", &[&e.bill.not_priced.join("; ")]));
    }
}

/// An addition: its percentage, and what that was taken on, as a sum.
pub(super) fn addition(page: &mut Page, e: &Estimate, a: &Addition) {
    page.heading(&match a.percent {
        Some(p) => say(
            "paper-addition",
            &[
                &quantity(p, 0),
                &money::amount(&e.bill, Some(a.base)),
                &money::amount(&e.bill, Some(a.amount)),
                &a.title,
            ],
        ),
        None => format!("{}   {}", a.title, money::amount(&e.bill, Some(a.amount))),
    });
    if a.percent.is_none() {
        return;
    }
    let on = money::taken_on(&e.bill, a);
    page.line(2, 4, &say("paper-taken-on", &[&money::amount(&e.bill, Some(a.base)), &on]));
    let (bill, mut table) = (&e.bill, amounts());
    table.row([word("paper-measured").to_owned(), money::amount(bill, bill.measured)]);
    let before = bill.additions.iter().take_while(|b| !std::ptr::eq(*b, a));
    match &a.on {
        AddedOn::Running => {
            sides(&mut table, e);
            before.for_each(|b| table.row([b.title.clone(), money::amount(bill, Some(b.amount))]));
        }
        AddedOn::Titles(at) => {
            for b in at.iter().filter_map(|i| bill.additions.get(*i)) {
                table.row([b.title.clone(), money::amount(bill, Some(b.amount))]);
            }
        }
        AddedOn::Measured | AddedOn::Amount => {}
    }
    page.table(&table);
}

fn sides(table: &mut Table, e: &Estimate) {
    let both = [(&e.bill.preliminaries, "paper-preliminaries"), (&e.bill.provisional, "paper-provisional")];
    for (rows, key) in both.into_iter().filter(|(rows, _)| !rows.is_empty()) {
        table.row([word(key).to_owned(), money::amount(&e.bill, Some(money::side_total(rows)))]);
    }
}

/// The grand total, every part with the id that explains it.
pub(super) fn total(page: &mut Page, e: &Estimate) {
    let bill = &e.bill;
    page.heading(&format!("{}   {}", word("paper-total"), money::total(bill)));
    let mut table = amounts();
    for s in &bill.sections {
        table.row([section_title(s), money::amount(bill, s.total), s.section.id().to_owned()]);
    }
    table.row([word("paper-measured").to_owned(), money::amount(bill, bill.measured)]);
    sides(&mut table, e);
    for a in &bill.additions {
        let text = match a.percent {
            Some(_) => format!("{}, {}", money::addition_title(a), money::taken_on(bill, a)),
            None => a.title.clone(),
        };
        table.row([text, money::amount(bill, Some(a.amount))]);
    }
    table.row([word("paper-total").to_owned(), money::total(bill)]);
    page.table(&table);
    money::foot(page, e);
}

/// The four numbers of the earth with the items that make them.
pub(super) fn earth(page: &mut Page, e: &Estimate) {
    page.heading(&earth_line(e));
    let mut table = Table::new(2, &[Col::Left(0), Col::Right(12), Col::Fill(0)]);
    let mut part = |key: &str, total: Decimal, of: &dyn Fn(&Item) -> bool| {
        table.row([word(key).to_owned(), item::cubic(total)]);
        for i in e.sheet.items.iter().filter(|i| of(i)) {
            let unbilled = if i.unbilled { word("paper-unbilled").trim() } else { "" };
            table.row([format!("\u{a0}\u{a0}{}", i.id), item::cubic(i.quantity), unbilled.to_owned()]);
        }
    };
    part("paper-earth-billed", e.earth.dug_net, &|i| i.work.earth == Earth::Dug);
    part("paper-earth-dug", e.earth.dug_actual, &|_| false);
    part("paper-earth-back", e.earth.put_back, &|i| i.work.earth == Earth::PutBack);
    part("paper-earth-carted", e.earth.carted_bank, &|i| i.work.earth == Earth::Away);
    part("paper-earth-carted-loose", e.earth.carted_loose, &|_| false);
    page.table(&table);
    page.line(2, 4, word("paper-earth-why"));
}

/// What the tank holds, with the clear space it is reckoned from.
pub(super) fn capacity(page: &mut Page, e: &Estimate) {
    page.heading(&capacity_line(e));
    page.line(2, 4, word("paper-capacity-why"));
    for i in e.sheet.voids.iter().filter(|i| *i.work == CLEAR_SPACE) {
        item::item(page, e, i);
    }
}
