//! The trade: from a job file's text to a proved take-off and a priced bill, as plain data.
//!
//! Pure: text and values in, values and problems out. No files, clock, colours or floats.
//! Read [`flow::estimate`] first; it is the whole flow on one screen.

pub mod against;
pub mod amount_words;
pub mod balances;
pub mod band;
pub mod beside;
pub mod bill;
pub mod build_up;
pub mod candidate;
pub mod capacity;
pub mod cautions;
pub mod checks;
pub mod codes;
pub mod decimal;
mod earth;
pub mod elements;
pub mod estimate;
mod figure;
pub mod fingerprint;
pub mod flow;
mod formed;
pub mod halves;
pub mod job;
pub mod languages;
pub mod ledger;
pub mod levels;
pub mod made;
pub mod materials;
pub mod model;
pub mod money;
pub mod named;
mod open_space;
pub mod orders;
pub mod placed;
mod plan;
pub mod pricing;
pub mod problem;
pub mod programme;
pub mod rates;
mod report;
pub mod setting_out;
pub mod sheet;
pub mod site;
pub mod sketch;
pub mod source;
pub mod space;
pub mod stage;
pub mod steel;
pub mod store;
pub mod strips;
pub mod words;
pub mod works;
