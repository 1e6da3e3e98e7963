//! Papers that are more than one call: the files for the site, the workbook with its proof.

use std::panic::resume_unwind;

use tankwright_export::{book, check, evaluate, ics, text, xlsx};
use tankwright_quantities::estimate::{Balance, Estimate};
use tankwright_quantities::problem::Problem;

use crate::pictures;

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
    with_views(e, &[])
}

/// The same, plan and section on its Summary as pictures: these take longer than all the rest.
///
/// # Errors
/// As [`workbook`].
pub fn illustrated(e: &Estimate) -> Result<(Vec<u8>, Balance), NoBook> {
    with_views(e, &pictures::views(e))
}

fn with_views(e: &Estimate, views: &[pictures::View]) -> Result<(Vec<u8>, Balance), NoBook> {
    let seen = views.iter().map(pictures::View::seen).collect();
    std::thread::scope(|scope| {
        // Dots take longer than figures: they are made beside them.
        let dots: Vec<_> = views.iter().map(|view| scope.spawn(|| view.dots())).collect();
        let book = book::illustrated(e, seen).map_err(NoBook::Problems)?;
        let values = evaluate::evaluate(&book).map_err(NoBook::Problems)?;
        let balance = check::check(&book, e, &values);
        if !balance.holds() {
            return Err(NoBook::Balance(balance));
        }
        let dots: Vec<Result<_, _>> =
            dots.into_iter().map(|made| made.join().unwrap_or_else(|p| resume_unwind(p))).collect();
        let dots = dots.into_iter().collect::<Result<Vec<_>, _>>().map_err(|p| NoBook::Problems(vec![p]))?;
        let bytes = xlsx::illustrated(&book, &values, &dots).map_err(NoBook::Problems)?;
        Ok((bytes, balance))
    })
}
