//! The few calls into the rest of the program, in one place.

use std::sync::{Arc, LazyLock};

use tankwright_account::payments::{self as account, Asked, Payments};
use tankwright_cheapest as search;
use tankwright_export::{
    against, analysis, cheapest, crosscheck, csv, explain, json, payments, schema, size, text, vary,
};
use tankwright_quantities::bill;
use tankwright_quantities::estimate::{Estimate, Failure};
use tankwright_quantities::flow::{self, Settings};
use tankwright_quantities::job::{Field, Job};
use tankwright_quantities::problem::Problem;
use tankwright_quantities::rates::{self, PriceList, Stock};
use tankwright_quantities::store::{self, StoreAccount};
pub(crate) use tankwright_run::{
    NoBook, check_search, check_sizing, own_data, read_job, say_sizing, site_files, stage_ids, workbook,
};

use crate::args::Format;

/// Every table of fields.
pub(crate) fn tables() -> Vec<&'static [Field]> {
    flow::job_tables()
}

/// The JSON Schema of the job file.
pub(crate) fn schema() -> String {
    schema::schema(&tables())
}

/// The built-in data, read once in a process, however many runs it makes.
pub(crate) fn stock() -> (Arc<Stock>, Vec<Problem>) {
    static READ: LazyLock<(Arc<Stock>, Vec<Problem>)> = LazyLock::new(|| {
        let (stock, problems) = rates::builtin();
        (Arc::new(stock), problems)
    });
    READ.clone()
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

/// The rows a job needs, as a price list without rates; or those that its rates are built up from.
pub(crate) fn blank_rates(e: &Estimate, build_ups: bool) -> String {
    if build_ups {
        return tankwright_quantities::build_up::blank(&e.bill, &e.date);
    }
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

/// The rates built up, as a paper.
pub(crate) fn analysis(e: &Estimate, format: Format) -> String {
    match format {
        Format::Text => analysis::text(e),
        Format::Json => analysis::json(e),
        Format::Csv => analysis::csv(e),
    }
}

/// The cheapest tanks as a paper.
pub(crate) fn cheapest(r: &search::Report, seconds: &str, format: Format) -> String {
    match format {
        Format::Text => cheapest::text(r),
        Format::Json => cheapest::json(r, seconds),
        Format::Csv => cheapest::csv(r),
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

/// What is wrong with what a priced job says of payments.
pub(crate) fn check_payments(e: &Estimate, job: &Job) -> Vec<Problem> {
    let says = ["payments", "paid", "valuation", "preliminaries"].iter().any(|part| job.given(part));
    match account::payments(e, job, &Asked::default()) {
        Err(Failure::Job(problems)) if says && e.bill.total.is_some() => problems,
        _ => Vec::new(),
    }
}

/// The payments of a priced job.
pub(crate) fn payments<'a>(e: &'a Estimate, job: &Job, asked: &Asked) -> Result<Payments<'a>, Failure> {
    account::payments(e, job, asked)
}

/// The payments as a paper: the schedule, the account where a day was asked for, or money in and out.
pub(crate) fn payments_paper(e: &Estimate, p: &Payments<'_>, cash: bool, format: Format) -> String {
    match format {
        Format::Text if cash => payments::cash(e, p),
        Format::Text if p.valuation.is_some() => payments::account(e, p),
        Format::Text => payments::text(e, p),
        Format::Json => payments::json(e, p),
        Format::Csv => payments::csv(e, p),
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

/// The account of variations as a paper.
pub(crate) fn vary(a: &tankwright_account::vary::Account, format: Format) -> String {
    match format {
        Format::Text => vary::text(a),
        Format::Json => vary::json(a),
        Format::Csv => vary::csv(a),
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
