//! How big: named sizing rules and soakage methods as data, one evaluator, all workings as plain data.
//!
//! Pure: texts and values in, values and problems out. No files, clock or floats. No rule has code: read
//! `rates/rules/bs-6297-1983.toml` first, then [`size()`], then `run.rs`, the evaluator.

mod cautions;
pub mod checks;
mod codes;
mod curve;
pub mod distances;
pub mod drains;
pub mod inputs;
pub mod job;
pub mod known;
pub mod levels;
pub mod percolation;
pub mod pits;
mod propose;
mod read;
pub mod report;
pub mod rule;
mod run;
pub mod says;
mod shape;
mod size;
pub mod sized;
pub mod soak_away;
pub mod step;
mod take;
#[cfg(test)]
#[expect(clippy::panic, reason = "a test stops where it fails")]
mod tests;
pub mod unit;
pub mod verdict;

pub use codes::CODES;
pub use inputs::Inputs;
pub use read::{Rules, builtin, builtin_rule, read_rules};
pub use report::{Report, report, report_of};
pub use rule::Rule;
pub use says::says;
pub use shape::Finding;
pub use size::{size, size_drawn};
pub use sized::{Refused, Sized};
pub use verdict::{Asks, Drawn, Miss, Verdict};
