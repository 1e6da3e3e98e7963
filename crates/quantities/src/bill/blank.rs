//! The price list still to be filled in: every row a job needs, with an empty rate.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use rust_decimal::Decimal;

use super::{Bill, BillRow};
use crate::materials::Material;
use crate::orders::Pack;

/// The columns of a price list.
pub(crate) const HEAD: &str = "kind,code,description,unit,rate,currency,date,source";

/// A price list in CSV with every row the bill needs; rate and source are left empty.
///
/// It reads as a price list as it stands; a rate that is filled in asks for a source beside it.
#[must_use]
pub fn blank_rates(bill: &Bill, currency: &str, date: &str) -> String {
    let mut text = format!("{HEAD}\n");
    let mut seen = BTreeSet::new();
    for row in bill.sections.iter().flat_map(|s| &s.rows) {
        // One rate prices all rows of a code and unit, whatever their words.
        if seen.insert((code(row), row.unit)) {
            let _ = writeln!(text, "{}", rate_row(row, currency, date));
        }
    }
    text
}

/// The row of a price list that a bill row needs, rate and source empty, without a line end.
#[must_use]
pub fn rate_row(row: &BillRow, currency: &str, date: &str) -> String {
    let words = row.wording.to_string();
    ["work", &code(row), &words, row.unit.id(), "", currency, date, ""].map(cell).join(",")
}

/// The row of a price list that a material needs, rate and source empty: by its pack, or by its own unit where that is
/// what it is sold in.
pub(crate) fn material_row(material: &Material, pack: &Pack, currency: &str, date: &str) -> String {
    let [word, _] = &pack.words;
    // A lot is our own step for goods that come by the load: nobody sells it.
    let own = pack.size == Decimal::ONE || word == "lot";
    let (words, unit) = if own {
        (material.title.clone(), &material.unit)
    } else {
        (format!("{}, {}", material.title, pack.title), word)
    };
    ["material", &material.id, &words, unit, "", currency, date, ""].map(cell).join(",")
}

/// `work/spec`, or the work alone.
#[must_use]
pub fn code(row: &BillRow) -> String {
    if row.spec.is_empty() { row.work.id.to_owned() } else { format!("{}/{}", row.work.id, row.spec) }
}

/// A cell of a CSV file. Text that a spreadsheet would take for a formula gets a blank before it: the reader of
/// price lists drops it again, where an apostrophe would stay in the text for good.
pub(crate) fn cell(text: &str) -> String {
    let flat: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    let flat = flat.trim();
    let safe = if flat.starts_with(['=', '+', '-', '@']) { format!(" {flat}") } else { flat.to_owned() };
    if safe.contains([',', '"']) || safe.starts_with(' ') {
        format!("\"{}\"", safe.replace('"', "\"\""))
    } else {
        safe
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bill::draw_up;
    use crate::bill::fixture::{item, job, sheet, stock};
    use crate::rates::{Lookup, read_prices};
    use crate::sheet::Sheet;
    use crate::stage::Stage;
    use crate::words::Phrase;
    use crate::works::masonry::BRICKWORK_WALL;

    #[test]
    fn every_row_stands_there_and_reads_as_a_price_list() -> Result<(), String> {
        let bill = draw_up(&sheet(), &job(&[]), &stock());
        let text = blank_rates(&bill, "UGX", "2026-11-25");
        let list = read_prices("blank.csv", &text).map_err(|p| format!("{p:?}"))?;
        assert_eq!((list.currency.as_str(), list.rows.len()), ("UGX", 6));
        for row in bill.sections.iter().flat_map(|s| &s.rows) {
            assert!(matches!(list.find(row.work.id, &row.spec, row.unit.id()), Lookup::Empty { .. }));
        }
        let filled = text.replace(",,UGX,2026-11-25,", ",12500,UGX,2026-11-25,shop");
        let list = read_prices("filled.csv", &filled).map_err(|p| format!("{p:?}"))?;
        assert!(list.rows.iter().all(|r| r.rate.is_some()));
        Ok(())
    }

    #[test]
    fn text_that_looks_like_a_formula_is_disarmed_and_comes_back_whole() -> Result<(), String> {
        for words in ["=1+1", "+cmd", "-5", "@sum(a)", "a, \"b\"", "=x, \"y\"", "two\nlines"] {
            let mut wall = item(&BRICKWORK_WALL, "220", Stage::WallsLower, "1");
            wall.wording = Phrase::with("plain", &[words]);
            let sheet = Sheet { items: vec![wall], voids: Vec::new() };
            let text = blank_rates(&draw_up(&sheet, &job(&[]), &stock()), "UGX", "2026-11-25");
            let second = text.lines().nth(1).unwrap_or_default();
            assert!(!second.contains(",=") && !second.contains("\"=") && !second.contains(",@"), "{second}");
            let list = read_prices("t.csv", &text).map_err(|p| format!("{p:?}"))?;
            assert_eq!(list.rows.first().map(|r| r.description.clone()), Some(words.replace('\n', " ")));
        }
        Ok(())
    }

    #[test]
    fn two_rows_that_differ_in_words_alone_need_one_rate() {
        let wall = || item(&BRICKWORK_WALL, "220", Stage::WallsLower, "1");
        let mut other = wall();
        other.wording = Phrase::new("plain");
        let sheet = Sheet { items: vec![wall(), other], voids: Vec::new() };
        let bill = draw_up(&sheet, &job(&[]), &stock());
        assert_eq!(blank_rates(&bill, "UGX", "2026-11-25").lines().count(), 1 + 1);
    }
}
