//! The take-off: dimension sheets, voids, decisions, balances, levels.

use tankwright_quantities::estimate::Estimate;

use super::table::{Col, Page, Table};
use super::{setting_out, sheet};
use crate::format::{say, value, word};

/// Every item with every line, and the proof that it is right.
#[must_use]
pub fn takeoff(e: &Estimate) -> String {
    let mut page = Page::default();
    super::head(&mut page, e);
    page.line(0, 2, &say("paper-takeoff-head", &[&e.profile.1]));
    for phrase in &e.scope {
        page.line(0, 2, &phrase.to_string());
    }
    let mut last = None;
    for item in &e.sheet.items {
        if last != Some(item.work.section) {
            last = Some(item.work.section);
            page.heading(&word(&format!("section-{}", item.work.section.id())).to_uppercase());
        }
        sheet::item(&mut page, e, item);
    }
    if !e.sheet.voids.is_empty() {
        page.heading(&word("paper-voids").to_uppercase());
        e.sheet.voids.iter().for_each(|item| sheet::item(&mut page, e, item));
    }
    proof(&mut page, e);
    page.blank();
    setting_out::marks(&mut page, e);
    page.blank();
    page.line(0, 4, &super::earth_line(e));
    page.line(0, 4, &super::capacity_line(e));
    page.blank();
    super::cautions(&mut page, e);
    defaults(&mut page, e);
    page.done()
}

/// Decisions item by item, then the balances.
fn proof(page: &mut Page, e: &Estimate) {
    let count: usize = e.sheet.items.iter().chain(&e.sheet.voids).map(|i| i.decisions.len()).sum();
    let table = sheet::proof(e.sheet.items.iter().chain(&e.sheet.voids));
    if !table.is_empty() {
        page.heading(&say("paper-proof", &[&count.to_string()]));
        page.table(&table);
    }
    if e.balances.is_empty() {
        return;
    }
    page.heading(&super::balances_line(e));
    let mut table = Table::new(
        2,
        &[
            Col::Left(0),
            Col::Right(12),
            Col::Right(12),
            Col::Right(10),
            Col::Left(0),
            Col::Left(0),
            Col::Fill(0),
        ],
    );
    table.row(["paper-balance", "paper-left", "paper-right", "paper-difference"].map(word));
    for b in &e.balances {
        let holds = word(if b.holds() { "paper-closes" } else { "paper-open" });
        let (left, right) = (value(b.left, 2, 6), value(b.right, 2, 6));
        let says = std::iter::once(b.says.to_string())
            .chain(b.breaks.iter().cloned())
            .collect::<Vec<_>>()
            .join("; ");
        table.row([b.name, &left, &right, &value(b.left - b.right, 0, 6), b.unit, holds, &says]);
    }
    page.table(&table);
}

/// Every default used, with its source.
fn defaults(page: &mut Page, e: &Estimate) {
    if e.defaults.is_empty() {
        return;
    }
    page.heading(&say("paper-defaults-head", &[&e.defaults.len().to_string()]));
    let mut table = Table::new(2, &[Col::Left(0), Col::Left(0), Col::Fill(0)]);
    for d in &e.defaults {
        table.row([super::default_name(&d.path), d.value.clone(), d.source.clone()]);
    }
    page.table(&table);
}

#[cfg(test)]
mod tests {
    use crate::fixture;
    use crate::text::takeoff;

    #[test]
    fn dimension_sheets() {
        assert_eq!(takeoff(&fixture::estimate()), "");
    }
}
