//! The bill as a paper: rows by section, then everything that is added.

use tankwright_quantities::bill::BillRow;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::works::Unit;

use super::money;
use super::table::{Col, Page, Table};
use crate::format::{grouped, least_places, say, word};

/// The priced bill; without a price list the quantities alone.
#[must_use]
pub fn bill(e: &Estimate) -> String {
    let mut page = Page::default();
    super::head(&mut page, e);
    page.line(0, 2, &say("paper-bill-head", &[&e.profile.1]));
    page.blank();
    let mut table = rows();
    for s in &e.bill.sections {
        table.row(["", &super::section_title(s)]);
        let places = places(&s.rows);
        for row in &s.rows {
            table.row(cells(e, row, places));
        }
        let total = say("paper-section-total", &[&s.letter.to_string()]);
        table.row(["", &total, "", "", "", &money::amount(&e.bill, s.total)]);
        table.row([""]);
    }
    page.table(&table);
    let mut chain = Table::new(0, &[Col::Fill(78), Col::Right(20)]);
    money::chain(&mut chain, &e.bill);
    page.table(&chain);
    money::foot(&mut page, e);
    page.done()
}

/// An empty table of bill rows with its heads.
fn rows() -> Table {
    let cols = [Col::Left(4), Col::Fill(44), Col::Left(4), Col::Right(10), Col::Right(12), Col::Right(14)];
    let mut table = Table::new(0, &cols);
    table.row(
        ["paper-ref", "paper-description", "paper-unit", "paper-quantity-head", "paper-rate", "paper-amount"]
            .map(word),
    );
    table
}

/// Places that all measured rows of a section share, so that points stand under each other.
fn places(rows: &[BillRow]) -> u32 {
    let measured = rows.iter().filter(|r| least_places(r.unit) > 0);
    measured.map(|r| r.quantity.normalize().scale()).max().unwrap_or(0).max(2)
}

fn cells(e: &Estimate, row: &BillRow, places: u32) -> [String; 6] {
    let places =
        if matches!(row.unit, Unit::Nr | Unit::Item) { row.quantity.normalize().scale() } else { places };
    let mut text = row.wording.to_string();
    let (mut rate, mut amount) = (String::new(), String::new());
    if let Some((value, from)) = &row.rate {
        rate = money::rate(&e.bill, *value);
        amount = money::amount(&e.bill, row.amount);
        if from.less_specific {
            text = format!("{text} {}", say("paper-less-specific", &[&from.code]));
        }
    }
    [row.reference.clone(), text, row.unit.id().to_owned(), grouped(row.quantity, places), rate, amount]
}

#[cfg(test)]
mod tests {
    use crate::fixture;
    use crate::text::bill;

    #[test]
    fn a_priced_bill() {
        assert_eq!(bill(&fixture::estimate()), "");
    }
}
