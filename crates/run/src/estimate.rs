//! From a job's text to an estimate: what is looked at before and after the flow.

use tankwright_cheapest as search;
use tankwright_quantities::estimate::{Caution, Estimate, Failure};
use tankwright_quantities::flow::{self, Settings};
use tankwright_quantities::job::{self, Job};
use tankwright_quantities::materials;
use tankwright_quantities::problem::Problem;
use tankwright_quantities::rates::{PriceList, Stock};
use tankwright_quantities::words::Phrase;
use tankwright_sizing::Rules;

/// The data of a run.
#[derive(Clone, Debug)]
pub struct Data {
    /// Profiles, soils, units, recipes ...
    pub stock: Stock,
    /// Sizing rules.
    pub rules: Rules,
    /// Where the user's own data come from, in words.
    pub whence: String,
}

/// An estimate, and what was wrong with prices where they could not be used.
#[derive(Debug)]
pub struct Made {
    /// The estimate, without prices where there is a refusal.
    pub estimate: Estimate,
    /// Why the price list is not used.
    pub unpriced: Vec<Problem>,
}

/// The job file as read; `trail` keeps the working that workbooks and explanations show.
#[must_use]
pub fn read_job(name: &str, text: &str, trail: bool) -> (Job, Vec<Problem>) {
    let (mut job, problems) = job::read(name, text, &flow::job_tables());
    job.trail = trail;
    (job, problems)
}

/// What is wrong with what a job asks of the sizing rules.
#[must_use]
pub fn check_sizing(job: &Job, rules: &Rules) -> Vec<Problem> {
    tankwright_sizing::job::check(job, rules)
}

/// What is wrong with what a job says of the search for the cheapest tank.
#[must_use]
pub fn check_search(job: &Job, stock: &Stock) -> Vec<Problem> {
    // Units of its own that are wrong are told by the flow.
    let own = materials::with_own_units(job, stock);
    search::check(job, own.as_deref().unwrap_or(stock))
}

/// The flow, without prices where the list does not do for this job and prices are no must.
///
/// # Errors
/// As the flow.
pub fn estimate(
    job: &Job,
    stock: &Stock,
    prices: Option<&PriceList>,
    settings: &Settings,
    must: bool,
) -> Result<Made, Failure> {
    match flow::estimate(job, stock, prices, settings) {
        Ok(estimate) => Ok(Made { estimate, unpriced: Vec::new() }),
        Err(Failure::Rates(unpriced)) if !must => {
            let estimate = flow::estimate(job, stock, None, settings)?;
            Ok(Made { estimate, unpriced })
        }
        Err(failure) => Err(failure),
    }
}

/// What the sizing rule of the job says of the tank, onto the papers.
pub fn say_sizing(e: &mut Estimate, job: &Job, rules: &Rules) {
    if let Some((sizing, cautions)) = tankwright_sizing::says(rules, job, &e.capacity) {
        e.sizing = Some(sizing);
        e.cautions.extend(cautions);
    }
}

/// Papers name what the user's own data replaced, and where these come from.
pub fn own_data(e: &mut Estimate, stock: &Stock, whence: &str) {
    e.cautions.extend(stock.overridden.iter().map(|what| {
        let says = Phrase { key: "plain", args: vec![format!("own data: {what}")] };
        Caution::new("C090", says, whence)
    }));
}
