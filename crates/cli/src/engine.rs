//! The few calls into the rest of the program, in one place.

use tankwright_cheapest as search;
use tankwright_export::{
    against, book, cheapest, check, crosscheck, csv, evaluate, explain, ics, json, size, text, xlsx,
};
use tankwright_quantities::bill;
use tankwright_quantities::estimate::{Balance, Estimate, Failure};
use tankwright_quantities::flow::{self, Settings};
use tankwright_quantities::job::{self, Field, Job};
use tankwright_quantities::materials;
use tankwright_quantities::problem::Problem;
use tankwright_quantities::rates::{self, PriceList, Stock};
use tankwright_quantities::store::{self, StoreAccount};
use tankwright_sizing::Rules;

use crate::args::Format;

/// The job file as read; `trail` keeps the working that workbooks and explanations show.
pub(crate) fn read_job(name: &str, text: &str, trail: bool) -> (Job, Vec<Problem>) {
    let (mut job, problems) = job::read(name, text, &flow::job_tables());
    job.trail = trail;
    (job, problems)
}

/// Every table of fields.
pub(crate) fn tables() -> Vec<&'static [Field]> {
    flow::job_tables()
}

/// The built-in data.
pub(crate) fn stock() -> (Stock, Vec<Problem>) {
    rates::builtin()
}

/// The flow.
pub(crate) fn estimate(
    job: &Job,
    stock: &Stock,
    prices: Option<&PriceList>,
    settings: &Settings,
) -> Result<Estimate, Failure> {
    flow::estimate(job, stock, prices, settings)
}

/// The rows a job needs, as a price list without rates.
pub(crate) fn blank_rates(e: &Estimate) -> String {
    bill::blank_rates(&e.bill, &e.bill.currency.code, &e.date)
}

/// The take-off as a paper.
pub(crate) fn takeoff(e: &Estimate, format: Format) -> String {
    match format {
        Format::Text => text::takeoff(e),
        Format::Json => json::takeoff(e),
        Format::Csv => csv::takeoff(e),
    }
}

/// One job under two profiles.
pub(crate) fn against(first: &Estimate, second: &Estimate, format: Format) -> String {
    match format {
        Format::Text => against::text(first, second),
        Format::Json => against::json(first, second),
        Format::Csv => against::csv(first, second),
    }
}

/// The bill as a paper.
pub(crate) fn bill(e: &Estimate, format: Format) -> String {
    match format {
        Format::Text => text::bill(e),
        Format::Json => json::bill(e),
        Format::Csv => csv::bill(e),
    }
}

/// What is wrong with what a job asks of the sizing rules.
pub(crate) fn check_sizing(job: &Job, rules: &Rules) -> Vec<Problem> {
    tankwright_sizing::job::check(job, rules)
}

/// What is wrong with what a job says of the search for the cheapest tank.
pub(crate) fn check_search(job: &Job, stock: &Stock) -> Vec<Problem> {
    // Units of its own that are wrong are told by the flow.
    let own = materials::with_own_units(job, stock);
    search::check(job, own.as_deref().unwrap_or(stock))
}

/// The cheapest tanks as a paper.
pub(crate) fn cheapest(r: &search::Report, seconds: &str, format: Format) -> String {
    match format {
        Format::Text => cheapest::text(r),
        Format::Json => cheapest::json(r, seconds),
        Format::Csv => cheapest::csv(r),
    }
}

/// What the sizing rule of the job says of the tank, onto the papers.
pub(crate) fn say_sizing(e: &mut Estimate, job: &Job, rules: &Rules) {
    if let Some((sizing, cautions)) = tankwright_sizing::says(rules, job, &e.capacity) {
        e.sizing = Some(sizing);
        e.cautions.extend(cautions);
    }
}

/// Sizing as a paper.
pub(crate) fn size(r: &tankwright_sizing::Report, format: Format) -> String {
    match format {
        Format::Text => size::text(r),
        Format::Json => size::json(r),
        Format::Csv => size::csv(r),
    }
}

/// The materials as a paper.
pub(crate) fn materials(e: &Estimate, format: Format) -> String {
    match format {
        Format::Text => text::materials(e),
        Format::Json => json::materials(e),
        Format::Csv => csv::materials(e),
    }
}

/// Bar schedule and cutting plan as a paper.
pub(crate) fn bars(e: &Estimate, format: Format) -> String {
    match format {
        Format::Text => text::bars(e),
        Format::Json => json::bars(e),
        Format::Csv => csv::bars(e),
    }
}

/// The orders as a paper; of one stage its card, where the job has that stage.
pub(crate) fn orders(e: &Estimate, stage: Option<&str>, format: Format) -> Option<String> {
    if stage.is_some_and(|id| !stage_ids(e).contains(&id)) {
        return None;
    }
    match (format, stage) {
        (Format::Text, None) => Some(text::orders(e)),
        (Format::Text, Some(id)) => text::stage_card(e, id),
        (Format::Json, _) => Some(json::orders(e, stage)),
        (Format::Csv, _) => Some(csv::orders(e, stage)),
    }
}

/// Ids of the job's stages.
pub(crate) fn stage_ids(e: &Estimate) -> Vec<&'static str> {
    text::stage_ids(e)
}

/// Files for the site, by path in the folder of the job: stage cards, messages, calendar.
pub(crate) fn site_files(e: &Estimate) -> Vec<(String, String)> {
    let card = |id: &str| Some((format!("orders/{id}.txt"), text::stage_card(e, id)?));
    let mut files: Vec<_> = stage_ids(e).into_iter().filter_map(card).collect();
    files.extend(text::messages(e).into_iter().map(|m| (format!("orders/{}.txt", m.name), m.text)));
    files.extend(ics::calendar(e).map(|text| ("calendar.ics".to_owned(), text)));
    files
}

/// The account of the store.
pub(crate) fn store(e: &Estimate, file: &str, text: &str) -> Result<StoreAccount, Vec<Problem>> {
    store::account_of(text, file, &e.orders, &e.materials, &e.programme)
}

/// The account as a paper.
pub(crate) fn store_paper(e: &Estimate, account: &StoreAccount, format: Format) -> String {
    match format {
        Format::Text => text::store(e, account),
        Format::Json => json::store(e, account),
        Format::Csv => csv::store(account),
    }
}

/// The cross-check as a paper.
pub(crate) fn crosscheck(e: &Estimate, r: &tankwright_crosscheck::Report, format: Format) -> String {
    match format {
        Format::Text => crosscheck::text(e, r),
        Format::Json => crosscheck::json(e, r),
        Format::Csv => crosscheck::csv(e, r),
    }
}

/// A folder with its number of files, for the screen.
pub(crate) fn folder_of(name: &str, files: usize) -> String {
    text::folder_of(name, files)
}

/// The one screen.
pub(crate) fn screen(e: &Estimate, files: &[String]) -> String {
    text::screen(e, files)
}

/// The working of one figure, or the nearest ids.
pub(crate) fn explain(e: &Estimate, id: &str) -> Result<String, Vec<String>> {
    explain::explain(e, id)
}

/// Why there is no workbook.
pub(crate) enum NoBook {
    /// Something cannot be written.
    Problems(Vec<Problem>),
    /// A formula and the estimate disagree.
    Balance(Balance),
}

/// The workbook, with the balance `workbook` that proves it.
pub(crate) fn workbook(e: &Estimate) -> Result<(Vec<u8>, Balance), NoBook> {
    let book = book::workbook(e).map_err(NoBook::Problems)?;
    let values = evaluate::evaluate(&book).map_err(NoBook::Problems)?;
    let balance = check::check(&book, e, &values);
    if !balance.holds() {
        return Err(NoBook::Balance(balance));
    }
    let bytes = xlsx::write(&book, &values).map_err(NoBook::Problems)?;
    Ok((bytes, balance))
}
