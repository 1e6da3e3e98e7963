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
    bill_page(e).done()
}

/// The parts of that paper.
#[must_use]
pub fn bill_page(e: &Estimate) -> Page {
    let mut page = Page::default();
    super::head(&mut page, e);
    page.line(0, 2, &say("paper-bill-head", &[&e.profile.1]));
    super::method(&mut page, e);
    super::beside(&mut page, e);
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
    money::client_buys(&mut page, &e.bill);
    page
}

/// An empty table of bill rows with its heads.
fn rows() -> Table {
    let cols = [Col::Left(4), Col::Fill(44), Col::Left(4), Col::Right(10), Col::Right(12), Col::Right(14)];
    let mut table = Table::new(0, &cols);
    table.heads([
        "paper-ref",
        "paper-description",
        "paper-unit",
        "paper-quantity-head",
        "paper-rate",
        "paper-amount",
    ]);
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
    if row.build_up.is_some() {
        text = format!("{text} {}", word("build-up-mark"));
    }
    if let Some(says) = row.labour.as_ref().and_then(|l| money::labour_rate(&e.bill, l)) {
        text = format!("{text} {says}");
    }
    [row.reference.clone(), text, row.unit.id().to_owned(), grouped(row.quantity, places), rate, amount]
}

#[cfg(test)]
mod tests {
    use crate::handmade;
    use crate::text::bill;

    #[test]
    fn a_priced_bill() {
        let expected = r#"Rest house, hill road                                                 2026-11-25   east-africa   UGX
bill of quantities, measured by East African practice
the dig: 13.71 m3 billed; 14.11 m3 are dug, 0.00 m3 put back, 13.71 m3 taken away (17.14 loose, 3
  loads of 6 m3)
cement to buy for all work: 12 x 50 kg bag
a bill measures finished work by the rules of its method: order from the orders, not from it

ref   description                                     unit    quantity          rate          amount
      A Earthworks
A1    Excavate pit, not deeper than 3.0 m             m3         13.71        12 000         164 520
      total of A                                                                             164 520

      E Masonry
E1    Brick walls, 220 mm thick, in mortar 1:4        m2         10.25        46 500         476 625
      (priced by the plain code brickwork-wall)
      total of E                                                                             476 625

measured works                                                                               641 145
  preliminary: Setting out                                                                   450 000
  provisional: Rock, extra over, 1 m3 x 85 000                                                85 000
  Contingency 5 %                                                                             58 807
  Value added tax 18 %                                                                       125 991
  Rounding of the offer                                                                           57
total                                                                                  UGX 1 361 000
one million three hundred and sixty-one thousand shillings
the offered total is rounded up to a multiple of 1 000
prices of demo-ugx, dated 2026-10-01 to 2026-11-01
not priced, and not in the total: water; watchman
"#;
        assert_eq!(bill(&handmade::estimate()), expected);
    }
}
