//! One-dimensional cutting: the fewest bars, or the cheapest, and a proof.
//!
//! A list of pieces is cut from bars of one length or of several with prices; offcuts in the store are bars of price
//! 0 in a limited number. The answer is a plan and a lower bound in whole numbers; a plan is said to be least only
//! where the two meet. Nothing is returned that [`check()`] has not counted anew. No files, no clock: the work is
//! bounded by counted steps, and the caller may hand in a reason to stop. Memory is bounded by the size of the
//! tables (about 100 MB at the very most; a few MB for lists as builders write them).

mod bound;
mod branch;
pub mod check;
mod dive;
mod fill;
mod form;
mod improve;
pub mod instance;
#[cfg(test)]
mod lists;
mod meter;
pub mod plan;
mod pricing;
mod reduce;
mod relax;
mod search;
mod simplex;
pub mod stages;
mod sub;
#[cfg(test)]
mod tests;
mod triples;

pub use check::check;
pub use instance::{Instance, Piece, Refused, Stock};
pub use meter::Effort;
pub use plan::{Answer, Pattern, Plan, Totals};
pub use stages::{InStages, StageAnswer, StageBar, StagePiece, solve_in_stages};

use fill::{Way, fill};
use form::Form;
use meter::Meter;

/// Why there is no answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Failure {
    /// The list or the stock is refused.
    Refused(Refused),
    /// A fault of this crate: its own plan does not pass the check.
    Fault(Option<check::Fault>),
}

/// Finds a plan of least cost, or the best there is within the effort, and a bound.
///
/// # Errors
/// See [`Failure`].
pub fn solve(instance: &Instance, effort: Effort<'_>) -> Result<Answer, Failure> {
    instance.validate().map_err(Failure::Refused)?;
    let mut meter = Meter::new(effort);
    let form = Form::new(instance);
    let mut core = Form::new(instance);
    let taken = match core.single() {
        Some(bar) => reduce::reduce(&mut core.kinds, bar),
        None => form::Cuts::new(),
    };
    let apart = core.cost(&taken);
    let found = search::search(&core, Vec::new(), None, &mut meter);
    let mut bound = 0;
    if let Some(found) = found {
        bound = (apart + found.bound) * i128::from(form.unit);
        let mut all = taken;
        all.extend(found.plan);
        let plan = form.plan(&form.trim(&all));
        if let Ok(totals) = check(instance, &plan) {
            if totals.cost >= bound {
                return Ok(Answer { plan, totals, bound, spent: meter.over() });
            }
            // A bound above a plan that stands is a fault: it is not used.
            bound = 0;
        }
    }
    let simple = fill(&form.kinds, &form.bars, Way::Greedy, &mut meter);
    let plan = form.plan(&form.trim(&simple.ok_or(Failure::Fault(None))?));
    let totals = check(instance, &plan).map_err(|fault| Failure::Fault(Some(fault)))?;
    Ok(Answer { plan, totals, bound: bound.min(totals.cost), spent: meter.over() })
}
