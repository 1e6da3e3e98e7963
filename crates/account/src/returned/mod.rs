//! A bill that others price, and their priced copies side by side.
//!
//! [`Form::of`] makes the form of a job; nothing of ours that has a price is in it. [`read`] reads a returned copy
//! against the form, [`compare`] sets copies side by side.

mod again;
mod cells;
mod compare;
mod copy;
mod far;
#[cfg(test)]
mod fixture;
pub mod form;
mod matching;
mod notes;
mod rank;
mod stamp;
mod state;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;

use tankwright_crosscheck::read::{Entry, Kind};
use tankwright_crosscheck::rows::Row;
use tankwright_crosscheck::surely;
use tankwright_crosscheck::wording::Wording;
use tankwright_quantities::problem::{Place, Problem, Severity};
use tankwright_quantities::sheet::Sheet;

pub use compare::{Across, Comparison, Side, compare};
pub use copy::{Added, Bid, Copy, Finding};
pub use far::{FAR, Far, ratio};
pub use form::Form;
pub use matching::By;
pub use rank::{Filled, Reckoned};
pub use state::State;

/// Code and meaning in one line.
pub const CODES: &[(&str, &str)] = &[
    ("B001", "a returned copy with nothing in it"),
    ("B002", "a returned copy whose columns cannot be told"),
    ("B003", "a returned copy of which no row is a row of the job's bill"),
    ("B004", "a returned copy with more rows than any bill of a tank"),
    ("B005", "a caution: a returned copy that was made from another form"),
    ("B006", "the same returned copy named twice"),
];

/// A returned copy as rows.
#[derive(Clone, Copy, Debug)]
pub struct Given<'a> {
    /// Name of the file.
    pub file: &'a str,
    /// Its rows.
    pub rows: &'a [Row],
    /// Sheets of the file that are not looked at.
    pub unread: &'a [String],
}

/// Reads a copy against the form; `sheet`: the job's, by which rows without mark and reference are known.
///
/// # Errors
/// `B001` to `B004`, with the place in the file.
pub fn read(
    form: &Form,
    sheet: &Sheet,
    words: &Wording,
    given: Given<'_>,
) -> Result<(Copy, Vec<Problem>), Vec<Problem>> {
    let place = |line| Some(Place { file: given.file.to_owned(), span: 0..0, line });
    let refuse =
        |code, message: &str, hint: &str| Err(vec![Problem::error(code, place(1), message).hint(hint)]);
    if given.rows.iter().all(|r| r.cells.iter().all(String::is_empty)) {
        return refuse("B001", "this copy is empty", "is it the file that came back?");
    }
    let theirs = match tankwright_crosscheck::read::read(given.file, given.rows, words) {
        Ok(theirs) => theirs,
        Err(problems) if problems.iter().any(|p| p.code == "T003") => {
            return refuse("B004", "this copy has more than 20 000 rows", "is it the right file?");
        }
        Err(_) => Default::default(),
    };
    let Some(cells) = cells::read(given.rows, words) else {
        let hint = "one row must head the description, the quantity and the rate, as in the form";
        return refuse("B002", "the columns of this copy cannot be told", hint);
    };
    let entries: BTreeMap<usize, &Entry> = theirs.entries.iter().map(|e| (e.line, e)).collect();
    let lines: Vec<&Entry> = theirs.entries.iter().filter(|e| e.kind == Kind::Line).collect();
    let works = surely(&lines, words, sheet);
    let found = matching::matched(form, &cells.rows, &works);
    if !found.iter().flatten().any(|(t, _)| matches!(t, matching::Target::Row(_))) {
        let hint = "the form of this job is written by `tankwright bill JOB --to-price FILE`";
        return refuse("B003", "no row of this copy is a row of the job's bill", hint);
    }
    let reader = copy::Reader { form, words, sheet: &cells, found: &found, entries: &entries };
    let mut copy = reader.copy(given.file, given.unread);
    again::check(form, &mut copy);
    again::own_sums(&theirs.entries, &mut copy);
    let mut cautions = Vec::new();
    if copy.same_form == Some(false) {
        let problem = Problem::error("B005", None, format!("`{}` was made from another form", given.file));
        let hint = "has the job changed since, or is --profile missing? every row that differs is listed";
        cautions.push(Problem { severity: Severity::Caution, ..problem.hint(hint) });
    }
    Ok((copy, cautions))
}
