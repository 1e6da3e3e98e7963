//! Rows of a price list that build-ups need: what a list lacks, or a list of them still to be filled in.

use std::collections::BTreeSet;

use super::{Asked, Lacking, Outline, Terms, priced};
use crate::bill::{Bill, HEAD, code, rate_row};
use crate::rates::{PriceKind, PriceList};

/// What a list lacks to price an outline with its materials; the day is the job's.
#[must_use]
pub fn lacking(outline: &Outline, prices: &PriceList, date: &str) -> Vec<Lacking> {
    let terms = Terms { on_costs: Vec::new(), says: Vec::new(), day: 8.into(), day_source: String::new() };
    let asked = Asked { prices, terms: &terms, row: (&prices.currency, date), digits: 2 };
    priced(outline, true, asked).err().map(|(lacking, _)| lacking).unwrap_or_default()
}

/// A price list in CSV with the rows that the rates of a bill drawn up without prices are built up from, each once;
/// works without a build-up stand first. Rate and source are left empty.
#[must_use]
pub fn blank(bill: &Bill, date: &str) -> String {
    let currency = bill.currency.code.as_str();
    let none = PriceList {
        name: String::new(),
        currency: currency.to_owned(),
        rows: Vec::new(),
        cautions: Vec::new(),
    };
    let (mut works, mut seen) = (Vec::new(), BTreeSet::new());
    let mut rows: Vec<Lacking> = Vec::new();
    for row in bill.sections.iter().flat_map(|s| &s.rows) {
        match row.outline.as_deref().filter(|o| !o.mixed) {
            Some(outline) => rows.extend(lacking(outline, &none, date)),
            None => works.push((code(row), rate_row(row, currency, date))),
        }
    }
    let mut text = format!("{HEAD}\n");
    let mut put = |kind: PriceKind, code: String, row: &str| {
        if seen.insert((kind, code)) {
            text.push_str(row);
            text.push('\n');
        }
    };
    works.into_iter().for_each(|(code, row)| put(PriceKind::Work, code, &row));
    rows.sort_by_key(|r| r.kind);
    rows.into_iter().for_each(|r| put(r.kind, r.code, &r.row));
    text
}

#[cfg(test)]
mod tests {
    use super::super::tests::bill;
    use super::*;

    /// What has a build-up is asked for by its makings, and by them alone.
    #[test]
    fn a_blank_list_asks_for_works_only_where_they_are_not_built_up() {
        let text = blank(&bill(), "2026-11-25");
        let rows: Vec<Vec<&str>> = text.lines().map(|l| l.split(',').take(2).collect()).collect();
        let of = |kind: &str| -> Vec<&str> { rows.iter().filter(|r| r[0] == kind).map(|r| r[1]).collect() };
        // The fixture's wall is made of nothing; the water of the test hangs on the job.
        assert_eq!(of("work"), ["brickwork-wall/220", "water-test"]);
        assert!(of("labour").contains(&"labourer") && of("material").contains(&"cement"));
    }
}
