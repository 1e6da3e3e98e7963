//! What a job asks of a price list, in the words of its own bill: a list that has these words needs no codes.

use crate::bill::{Bill, code};
use crate::build_up::blank;
use crate::placed::rows;
use crate::rates::PriceKind;

/// A row that a job asks for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asked {
    /// Work, material, labour or plant.
    pub kind: PriceKind,
    /// `concrete-base/1:2:4`.
    pub code: String,
    /// As the bill, or a blank list, writes it.
    pub description: String,
    /// Unit.
    pub unit: String,
}

/// Rows of a bill that was drawn up without prices, and of what its rates are built up from.
#[must_use]
pub fn asked(bill: &Bill) -> Vec<Asked> {
    let works = bill.sections.iter().flat_map(|s| &s.rows).map(|row| Asked {
        kind: PriceKind::Work,
        code: code(row),
        description: row.wording.to_string(),
        unit: row.unit.id().to_owned(),
    });
    let mut all: Vec<Asked> = works.collect();
    for row in rows(&blank(bill, "")).iter().skip(1) {
        let cell = |n: usize| row.cells.get(n).unwrap_or_default().to_owned();
        let Some(kind) = PriceKind::ALL.into_iter().find(|k| k.id() == cell(0)) else { continue };
        let row = Asked { kind, code: cell(1), description: cell(2), unit: cell(3) };
        if !all.contains(&row) {
            all.push(row);
        }
    }
    all
}
