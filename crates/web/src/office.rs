//! Papers of the page that ask for more than the estimate: payments, rates built up, sizing, the form for others to price.

use tankwright_account::payments::{self, Asked, Payments};
use tankwright_account::returned::Form;
use tankwright_export::{analysis, evaluate, payments as paid, returned, size, xlsx};
use tankwright_quantities::estimate::{Estimate, Failure};
use tankwright_quantities::flow::Settings;
use tankwright_quantities::job::Job;
use tankwright_quantities::problem::Problem;
use tankwright_quantities::words::look_up;
use tankwright_run as run;
use tankwright_sizing::{Drawn, Report, job as of_job, report_of};

use crate::answer::unbalanced;
use crate::desk::Given;
use crate::papers::{Listed, listed};

type Text = fn(&Estimate) -> String;
type Paid = fn(&Estimate, &Payments<'_>) -> String;
type Sized = fn(&Report) -> String;

const ANALYSIS: [(&str, Text); 3] =
    [("analysis.txt", analysis::text), ("analysis.csv", analysis::csv), ("analysis.json", analysis::json)];
const PAID: [(&str, Paid); 3] =
    [("payments.txt", paid::text), ("payments.csv", paid::csv), ("payments.json", paid::json)];
const SIZED: [(&str, Sized); 3] =
    [("size.txt", size::text), ("size.csv", size::csv), ("size.json", size::json)];
const FORM: [&str; 2] = ["to-price.xlsx", "to-price.csv"];

/// What can be taken.
pub(crate) fn list(e: &Estimate) -> Vec<Listed> {
    let ids = |all: [&'static str; 3], word: &str| -> Vec<Listed> {
        all.into_iter().map(|id| listed(id, look_up(word).to_owned())).collect()
    };
    let mut all = Vec::new();
    if e.bill.total.is_some() {
        all.extend(ids(ANALYSIS.map(|p| p.0), "web-paper-analysis"));
        all.extend(ids(PAID.map(|p| p.0), "web-paper-payments"));
    }
    all.extend(ids(SIZED.map(|p| p.0), "web-paper-size"));
    all.extend(FORM.map(|id| listed(id, look_up("web-paper-to-price").to_owned())));
    all
}

/// Makes one of them, as the commands do.
pub(crate) fn make(
    id: &str,
    e: &Estimate,
    job: &Job,
    given: &Given,
) -> Option<Result<Vec<u8>, Vec<Problem>>> {
    if let Some((_, paper)) = ANALYSIS.iter().find(|(name, _)| *name == id) {
        return Some(Ok(paper(e).into_bytes()));
    }
    if let Some((_, paper)) = PAID.iter().find(|(name, _)| *name == id) {
        e.bill.total?;
        let paid = payments::payments(e, job, &Asked::default());
        return Some(paid.map(|p| paper(e, &p).into_bytes()).map_err(refused));
    }
    if let Some((_, paper)) = SIZED.iter().find(|(name, _)| *name == id) {
        return Some(sized(e, job, given).map(|report| paper(&report).into_bytes()));
    }
    FORM.contains(&id).then(|| form(id, job, given))
}

fn refused(failure: Failure) -> Vec<Problem> {
    match failure {
        Failure::Job(problems) | Failure::Rates(problems) => problems,
        Failure::Balance(balances) => vec![unbalanced(&balances)],
    }
}

/// Does the drawn tank comply, by the rule of its job; checked without a rule too.
fn sized(e: &Estimate, job: &Job, given: &Given) -> Result<Report, Vec<Problem>> {
    let (inputs, notes) = of_job::inputs(job, &e.capacity, &[])?;
    let drawn = Drawn { job, capacity: &e.capacity };
    let rule = of_job::rule(job).unwrap_or_default();
    let done = report_of(&given.data.rules, rule, &inputs, Some(drawn)).map_err(|p| vec![*p])?;
    let (checks, told) = (e.checks.clone(), e.cautions_of_size().cloned().collect());
    Ok(Report { notes, checks, told, ..done })
}

/// The bill without any price, for others to fill in.
fn form(id: &str, job: &Job, given: &Given) -> Result<Vec<u8>, Vec<Problem>> {
    let stock = &given.data.stock;
    let settings = Settings { build_ups: true, ..Settings::default() };
    let made = run::estimate(job, stock, None, &settings, false).map_err(refused)?;
    let form = Form::of(&made.estimate, job, stock)?;
    if id.ends_with(".csv") {
        return Ok(returned::form_csv(&form).into_bytes());
    }
    let book = returned::form_book(&form);
    evaluate::evaluate(&book).and_then(|values| xlsx::write(&book, &values))
}
