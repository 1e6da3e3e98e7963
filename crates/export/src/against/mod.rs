//! What `takeoff --against` prints: one job under two profiles, side by side.

mod csv;
mod json;
mod text;

pub use csv::csv;
pub use json::json;
pub use text::text;

use tankwright_quantities::against::{Row, Rule, against};
use tankwright_quantities::estimate::Estimate;

/// The id of the profile that a rule is of.
fn profile_of<'a>(rule: &Rule, first: &'a Estimate, second: &'a Estimate) -> &'a str {
    if rule.of_against { &second.profile.0 } else { &first.profile.0 }
}

/// The rows of two estimates of one job.
fn rows(first: &Estimate, second: &Estimate) -> Vec<Row> {
    against(&first.sheet, &second.sheet)
}
