//! A tank that is shown, as a job file: read again and estimated in full, it must say what the search said.

use tankwright_quantities::estimate::Failure;
use tankwright_quantities::flow;
use tankwright_quantities::job::Job;
use tankwright_sizing::{Drawn, Rule, job as of_job, size_drawn};

use crate::search::Data;
use crate::tally::Row;

/// Search and estimate disagree: a fault of the program.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Differs {
    /// Number of the candidate in the grid, from 1.
    pub number: u64,
    /// What the search says, what the estimate says.
    pub words: String,
}

/// Estimates a chosen tank in full, and judges it in words.
pub(crate) fn prove(job: &Job, data: Data<'_>, rule: &Rule, row: &Row) -> Result<(), Differs> {
    let differs = |words: String| Err(Differs { number: row.number + 1, words });
    let e = match flow::estimate(job, data.stock, Some(data.prices), data.settings) {
        Ok(e) => e,
        Err(Failure::Job(p) | Failure::Rates(p)) => {
            let words = p.first().map_or("", |p| p.message.as_str());
            return differs(format!("priced by the search, refused by the estimate: {words}"));
        }
        Err(Failure::Balance(_)) => return differs("a balance of the estimate does not close".to_owned()),
    };
    if e.bill.total != Some(row.total) {
        let total = e.bill.total.map(|t| t.to_string()).unwrap_or_default();
        return differs(format!("total {} in the search, {total} in the estimate", row.total));
    }
    if e.outer_plan != row.plan {
        return differs("outer plan of the search is not that of the estimate".to_owned());
    }
    let (inputs, _) = of_job::inputs(job, &e.capacity, &[]).unwrap_or_default();
    let verdict =
        size_drawn(rule, &inputs, Some(Drawn { job, capacity: &e.capacity })).ok().and_then(|s| s.verdict);
    match verdict {
        Some(v) if v.complies == Some(true) && v.provided == Some(row.litres) => Ok(()),
        Some(v) => differs(format!("complies in the search; the verdict: {}", v.reasons.join("; "))),
        None => differs("complies in the search; the rule gives no verdict".to_owned()),
    }
}
