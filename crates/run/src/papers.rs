//! Papers that are more than one call: the files for the site, the workbook with its proof.

use tankwright_export::{book, check, evaluate, ics, text, xlsx};
use tankwright_quantities::estimate::{Balance, Estimate};
use tankwright_quantities::problem::Problem;

/// Ids of the job's stages.
#[must_use]
pub fn stage_ids(e: &Estimate) -> Vec<&'static str> {
    text::stage_ids(e)
}

/// Files for the site, by path in the folder of the job: stage cards, messages, calendar.
#[must_use]
pub fn site_files(e: &Estimate) -> Vec<(String, String)> {
    let card = |id: &str| Some((format!("orders/{id}.txt"), text::stage_card(e, id)?));
    let mut files: Vec<_> = stage_ids(e).into_iter().filter_map(card).collect();
    files.extend(text::messages(e).into_iter().map(|m| (format!("orders/{}.txt", m.name), m.text)));
    files.extend(ics::calendar(e).map(|text| ("calendar.ics".to_owned(), text)));
    files
}

/// Why there is no workbook.
#[derive(Debug)]
pub enum NoBook {
    /// Something cannot be written.
    Problems(Vec<Problem>),
    /// A formula and the estimate disagree.
    Balance(Balance),
}

/// The workbook, with the balance `workbook` that proves it. The job must have been read with its trail.
///
/// # Errors
/// A fault of the program: what cannot be written, or a balance that does not close.
pub fn workbook(e: &Estimate) -> Result<(Vec<u8>, Balance), NoBook> {
    let book = book::workbook(e).map_err(NoBook::Problems)?;
    let values = evaluate::evaluate(&book).map_err(NoBook::Problems)?;
    let balance = check::check(&book, e, &values);
    if !balance.holds() {
        return Err(NoBook::Balance(balance));
    }
    let bytes = xlsx::write(&book, &values).map_err(NoBook::Problems)?;
    Ok((bytes, balance))
}
