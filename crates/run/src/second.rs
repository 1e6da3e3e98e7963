//! Lists that others wrote, as rows: a second take-off, a priced copy of the bill; from a text or a spreadsheet file.

use std::collections::BTreeSet;

use tankwright_crosscheck::rows::{Row, looks_like_a_list, of_csv, of_sheet};
use tankwright_crosscheck::wording::Wording;
use tankwright_quantities::problem::Problem;

use crate::sheets::{self, SheetText, Wanted};

/// What a sheet is looked for as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// A take-off or a bill.
    TakeOff,
    /// A priced copy of a form of ours: the form's own sheet before any other that looks like a bill.
    Copy,
}

impl Shape {
    fn looks(self, text: &str, rows: &[Row], words: &Wording) -> u8 {
        match self {
            Self::Copy if text.contains("tw:form/") => 3,
            Self::Copy | Self::TakeOff => looks_like_a_list(rows, words),
        }
    }

    const fn what(self) -> &'static str {
        match self {
            Self::TakeOff => "a take-off or a bill",
            Self::Copy => "a priced copy of the form",
        }
    }
}

/// The rows of a spreadsheet file, with the sheet they stand on.
///
/// # Errors
/// A file that cannot be read, or has no such sheet: codes R070 to R073, R092.
pub fn rows(
    file: &str,
    bytes: &[u8],
    sheet: Option<&str>,
    (words, shape): (&Wording, Shape),
) -> Result<(SheetText, Vec<Row>), Problem> {
    let none = BTreeSet::new();
    let looks = |text: &str| shape.looks(text, &of_sheet(text, &none, words), words);
    let needs = "one row must head a column each for the description and the quantity";
    let wanted = Wanted { looks: &looks, what: shape.what(), needs };
    let sheet = sheets::open(file, bytes, sheet, &wanted)?;
    let rows = of_sheet(&sheet.text, &sheet.numbers, words);
    Ok((sheet, rows))
}

/// The rows of a text.
#[must_use]
pub fn text_rows(text: &str) -> Vec<Row> {
    of_csv(text)
}

/// A problem of a take-off knows its line; messages quote bytes.
#[must_use]
pub fn placed(mut problem: Problem, text: Option<&str>) -> Problem {
    if let (Some(place), Some(text)) = (&mut problem.place, text) {
        let before = text.split_inclusive('\n').take(place.line.saturating_sub(1));
        let from: usize = before.map(str::len).sum();
        let line = text.get(from..).and_then(|rest| rest.lines().next()).unwrap_or_default();
        place.span = from..from + line.len();
    }
    problem
}
