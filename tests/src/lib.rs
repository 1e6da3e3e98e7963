//! What the tests share: random jobs, and one function per boundary.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use tankwright_quantities::decimal::rounded;
use tankwright_quantities::estimate::{Estimate, Failure};
use tankwright_quantities::flow::{self, Settings};
use tankwright_quantities::job::{self, Job};
use tankwright_quantities::problem::Problem;
use tankwright_quantities::rates::{self, Stock};
use tankwright_sizing::Inputs;
use tankwright_sizing::sized::Worked;

pub mod goods;
pub mod planted;
pub mod program;
pub mod random;

/// The built-in data.
#[must_use]
pub fn stock() -> Stock {
    rates::builtin().0
}

/// A job from its text.
///
/// # Errors
/// Every problem of the text.
pub fn read(text: &str, trail: bool) -> Result<Job, Vec<Problem>> {
    let (mut job, problems) = job::read("job.toml", text, &flow::job_tables());
    job.trail = trail;
    if problems.is_empty() { Ok(job) } else { Err(problems) }
}

/// Measures a job without pricing it, by a profile if one is named.
///
/// # Errors
/// As [`flow::estimate`].
pub fn measured(text: &str, profile: Option<&str>) -> Result<Estimate, Failure> {
    let job = read(text, false).map_err(Failure::Job)?;
    let settings = Settings { profile: profile.map(str::to_owned), date: None };
    flow::estimate(&job, &stock(), None, &settings)
}

/// A rule's steps by name, as plain decimals of at most nine places; or why it refuses.
///
/// # Errors
/// Everything that is wrong with the inputs, or the rule's reasons.
pub fn sized(rule: &str, given: &[(&str, &str)]) -> Result<BTreeMap<String, Decimal>, Vec<String>> {
    let inputs = Inputs::read(given.iter().copied());
    let inputs = inputs.map_err(|all| all.into_iter().map(|p| p.message).collect::<Vec<_>>())?;
    let (rules, _) = tankwright_sizing::builtin();
    let rule = rules.rules.get(rule).ok_or_else(|| vec![format!("no rule {rule}")])?;
    let sized = tankwright_sizing::size(rule, &inputs).map_err(|refused| refused.reasons)?;
    let number = |w: Worked| Some((w.step, rounded(w.value?.number, 9)?));
    Ok(sized.working.into_iter().filter_map(number).collect())
}

/// Sum of a work's quantities; nothing where the job does not have it.
#[must_use]
pub fn quantity(e: &Estimate, work: &str) -> Decimal {
    e.sheet.items.iter().filter(|i| i.work.id == work).map(|i| i.quantity).sum()
}

/// Sum of a work's net quantities, by `exact`.
#[must_use]
pub fn net(e: &Estimate, work: &str) -> Decimal {
    e.sheet.items.iter().filter(|i| i.work.id == work).map(|i| i.net).sum()
}
