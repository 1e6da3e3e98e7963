//! Drawing up the bill: which items stand in which row, in which order, under which reference.

use tankwright_geometry::Ratio;

use super::{Bill, BillRow, BillSection};
use crate::decimal;
use crate::job::Job;
use crate::money::{Currency, Grouping};
use crate::rates::Stock;
use crate::sheet::{Item, Sheet};
use crate::works::{Section, Unit};

/// Is the item billed at all?
pub(super) fn is_billed(item: &Item) -> bool {
    !item.unbilled && !item.quantity.is_zero()
}

/// Places of a bill row's quantity: three, kg two, numbers and items none.
#[must_use]
pub const fn row_places(unit: Unit) -> u32 {
    match unit {
        Unit::M3 | Unit::M2 | Unit::M => 3,
        Unit::Kg => 2,
        Unit::Nr | Unit::Item => 0,
    }
}

/// The unpriced bill: sections in order, lettered where they have rows, rows in the order of the sheet.
///
/// Preliminaries, provisional items and additions are money, and come with the prices.
#[must_use]
pub fn draw_up(sheet: &Sheet, job: &Job, stock: &Stock) -> Bill {
    let mut sections: Vec<BillSection> = Vec::new();
    for section in Section::ALL {
        let Ok(nth) = u8::try_from(sections.len()) else { break };
        let letter = char::from(b'A' + nth);
        let rows = rows(sheet, section, letter);
        if !rows.is_empty() {
            sections.push(BillSection { section, letter, rows, total: None });
        }
    }
    let code = job.text("job.currency");
    let currency = stock.currencies.get(code).map(|(c, _)| c.clone());
    let unknown = || Currency { code: code.to_owned(), ..Currency::default() };
    let grouping = Grouping::said(job.text("job.numbers"));
    Bill {
        currency: Currency { grouping, ..currency.unwrap_or_else(unknown) },
        sections,
        measured: None,
        preliminaries: Vec::new(),
        not_priced: Vec::new(),
        provisional: Vec::new(),
        additions: Vec::new(),
        say: None,
        total: None,
        total_in_words: String::new(),
        price_list: None,
        client_buys: None,
    }
}

fn rows(sheet: &Sheet, section: Section, letter: char) -> Vec<BillRow> {
    let mut groups: Vec<Vec<&Item>> = Vec::new();
    for item in sheet.items.iter().filter(|i| i.work.section == section && is_billed(i)) {
        match groups.iter_mut().find(|g| g.first().is_some_and(|first| together(first, item))) {
            Some(group) => group.push(item),
            None => groups.push(vec![item]),
        }
    }
    let row = |(i, group): (usize, &Vec<&Item>)| {
        let first = group.first()?;
        let sum: Ratio = group.iter().map(|i| decimal::ratio(i.quantity)).sum();
        Some(BillRow {
            reference: format!("{letter}{}", i + 1),
            work: first.work,
            spec: first.spec.clone(),
            wording: first.wording.clone(),
            unit: first.unit,
            // A sum that cannot be held leaves the row out, and the balance of the bill then fails.
            quantity: decimal::rounded(sum, row_places(first.unit))?,
            items: group.iter().map(|i| i.id.clone()).collect(),
            rate: None,
            amount: None,
            labour: None,
            outline: None,
            build_up: None,
        })
    };
    groups.iter().enumerate().filter_map(row).collect()
}

fn together(a: &Item, b: &Item) -> bool {
    a.work == b.work && a.spec == b.spec && a.unit == b.unit && a.wording == b.wording
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bill::fixture::{item, job, sheet, stock};
    use crate::stage::Stage;
    use crate::words::Phrase;
    use crate::works::{concrete, earthwork, finishes, masonry, pipework};

    #[test]
    fn rows_join_stages_and_keep_specifications_apart() {
        let bill = draw_up(&sheet(), &job(&[]), &stock());
        let seen: Vec<_> = bill
            .sections
            .iter()
            .flat_map(|s| &s.rows)
            .map(|r| {
                (r.reference.as_str(), r.work.id, r.spec.as_str(), r.quantity.to_string(), r.items.len())
            })
            .collect();
        let want = [
            ("A1", "excavation-pit", "0-1.5", "13.71".to_owned(), 1),
            ("A2", "excavation-pit", "1.5-3.0", "3.2".to_owned(), 1),
            ("B1", "concrete-base", "1:2:4", "1.52".to_owned(), 1),
            // 3.125 + 2.0004 = 5.1254, kept to three places
            ("C1", "brickwork-wall", "220", "5.125".to_owned(), 2),
            ("D1", "water-test", "", "1".to_owned(), 1),
            ("E1", "pipe-tee", "110", "2".to_owned(), 1),
        ];
        assert_eq!(seen, want);
        let letters: Vec<_> = bill.sections.iter().map(|s| (s.letter, s.section)).collect();
        use Section::{Concrete, Earthworks, Finishes, Masonry, Pipework};
        assert_eq!(
            letters,
            [('A', Earthworks), ('B', Concrete), ('C', Masonry), ('D', Finishes), ('E', Pipework)]
        );
        assert!(bill.total.is_none() && bill.sections.iter().all(|s| s.total.is_none()));
    }

    #[test]
    fn other_words_or_another_unit_make_another_row() {
        let wall = |q: &str| item(&masonry::BRICKWORK_WALL, "220", Stage::WallsLower, q);
        let mut other_words = wall("2");
        other_words.wording = Phrase::new("plain");
        let mut other_unit = wall("3");
        other_unit.unit = Unit::M2;
        let sheet = Sheet { items: vec![wall("1"), other_words, other_unit, wall("4")], voids: Vec::new() };
        let bill = draw_up(&sheet, &job(&[]), &stock());
        let quantities: Vec<_> =
            bill.sections.iter().flat_map(|s| &s.rows).map(|r| r.quantity.to_string()).collect();
        assert_eq!(quantities, ["5", "2", "3"]); // 1 + 4
    }

    #[test]
    fn nothing_unbilled_and_nothing_of_zero_is_a_row() {
        let mut left_out = item(&finishes::SCREED, "", Stage::Plaster, "4.5");
        left_out.unbilled = true;
        let none = item(&earthwork::BACKFILL, "", Stage::Finish, "0");
        let sheet = Sheet { items: vec![left_out, none], voids: Vec::new() };
        assert!(draw_up(&sheet, &job(&[]), &stock()).sections.is_empty());
    }

    #[test]
    fn a_half_of_the_last_place_goes_away_from_zero() {
        let sheet = Sheet {
            items: vec![
                item(&concrete::CONCRETE_BASE, "1:2:4", Stage::Base, "1.0005"),
                item(&pipework::PIPE_TEE, "110", Stage::WallsUpper, "2.5"),
            ],
            voids: Vec::new(),
        };
        let bill = draw_up(&sheet, &job(&[]), &stock());
        let quantities: Vec<_> =
            bill.sections.iter().flat_map(|s| &s.rows).map(|r| r.quantity.to_string()).collect();
        assert_eq!(quantities, ["1.001", "3"]);
    }

    #[test]
    fn a_currency_nobody_knows_keeps_its_code() {
        let bill = draw_up(&sheet(), &job(&[("job.currency", "XYZ")]), &stock());
        assert_eq!((bill.currency.code.as_str(), bill.currency.digits), ("XYZ", 0));
    }
}
