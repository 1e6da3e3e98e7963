//! The working of one figure: from the price to the line of the job file.

mod find;
mod item;
mod sums;

use tankwright_quantities::estimate::Estimate;

use crate::text::table::Page;
use find::Found;

/// Explains a figure: an item, a work, `work/spec`, a bill row (`B2`), a section, an addition's title, `total`,
/// `measured`, `preliminaries`, `provisional`, `earth` or `capacity`. Trails show only in an estimate made with them.
///
/// # Errors
/// The nearest known ids, best first, where the id is not one of them.
pub fn explain(e: &Estimate, id: &str) -> Result<String, Vec<String>> {
    let found = find::find(e, id)?;
    let mut page = Page::default();
    match found {
        Found::Items(items) => items.into_iter().for_each(|i| item::item(&mut page, e, i)),
        Found::Rows(rows) => rows.into_iter().for_each(|r| item::row(&mut page, e, r)),
        Found::Section(s) => sums::section(&mut page, e, s),
        Found::Addition(a) => sums::addition(&mut page, e, a),
        Found::Side(rows, key) => sums::side(&mut page, e, rows, key),
        Found::Total => sums::total(&mut page, e),
        Found::Measured => sums::measured(&mut page, e),
        Found::Earth => sums::earth(&mut page, e),
        Found::Capacity => sums::capacity(&mut page, e),
    }
    Ok(page.done())
}

/// Every id that [`explain`] knows for this job, in the order of the papers.
#[must_use]
pub fn ids(e: &Estimate) -> Vec<String> {
    find::ids(e)
}

#[cfg(test)]
mod tests;
