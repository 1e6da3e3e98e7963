//! The working of one figure: from the price to the line of the job file.

mod find;
mod goods;
mod item;
mod sums;

use tankwright_quantities::estimate::Estimate;

use crate::text::table::Page;
use find::{Found, Goods};

/// Explains a figure: an item, a work, `work/spec`, a bill row (`B2`), a section, an addition's title, `total`,
/// `measured`, `preliminaries`, `provisional`, `earth` or `capacity`; a material (`cement`), its orders
/// (`orders/cement`), a mark of the bar schedule (`mark/3`). A name that work and material share shows both. Trails show only in an estimate made with them.
///
/// # Errors
/// The nearest known ids, best first, where the id is not one of them.
pub fn explain(e: &Estimate, id: &str) -> Result<String, Vec<String>> {
    let mut page = Page::default();
    let goods = find::goods(e, id);
    match find::find(e, id) {
        Ok(found) => put(&mut page, e, found),
        Err(near) if goods.is_none() => return Err(near),
        Err(_) => {}
    }
    match goods {
        Some(Goods::Material(m)) => goods::material(&mut page, e, m),
        Some(Goods::Order(t)) => goods::order(&mut page, e, t),
        Some(Goods::Mark(m)) => goods::mark(&mut page, e, m),
        None => {}
    }
    Ok(page.done())
}

fn put(page: &mut Page, e: &Estimate, found: Found<'_>) {
    match found {
        Found::Items(items) => items.into_iter().for_each(|i| item::item(page, e, i)),
        Found::Rows(rows) => rows.into_iter().for_each(|r| item::row(page, e, r)),
        Found::Section(s) => sums::section(page, e, s),
        Found::Addition(a) => sums::addition(page, e, a),
        Found::Side(rows, key) => sums::side(page, e, rows, key),
        Found::Total => sums::total(page, e),
        Found::Measured => sums::measured(page, e),
        Found::Earth => sums::earth(page, e),
        Found::Capacity => sums::capacity(page, e),
    }
}

/// Every id that [`explain`] knows for this job, in the order of the papers.
#[must_use]
pub fn ids(e: &Estimate) -> Vec<String> {
    find::ids(e)
}

#[cfg(test)]
mod tests;
