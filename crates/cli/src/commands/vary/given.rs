//! `vary` on the command line.

use clap::Args;

use crate::args::{Format, JobArgs, Over, date, said};

/// Examples.
pub(crate) const HELP: &str = "Examples:\n  tankwright vary samples/workshop/job.toml samples/workshop/as-built.toml\n  \
    tankwright vary job.toml job.toml --built as-built.toml\n\n\
    CONTRACT is the job file that the price was agreed on, NOW the same job as built, or CONTRACT itself: its\n\
    [[variation]] entries say what changed, when, why and who instructed it.";

/// `vary`.
#[derive(Args, Debug)]
pub(crate) struct Vary {
    /// Job file that the price was agreed on
    #[arg(value_parser = said)]
    pub(crate) contract: String,
    /// Job file as built, with [[variation]], [[remeasured]], [[daywork]], [[paid]]; it may be the same
    #[arg(value_parser = said)]
    pub(crate) now: String,
    /// Price list of the contract in place of its job file's: a name, or a path to a CSV or XLSX file
    #[arg(long, value_name = "NAME_OR_PATH", value_parser = said)]
    pub(crate) rates: Option<String>,
    /// Measurement profile of the contract in place of its job file's
    #[arg(long, value_name = "NAME", value_parser = said)]
    pub(crate) profile: Option<String>,
    /// Day of the account in place of NOW's: year-month-day
    #[arg(long, value_parser = date)]
    pub(crate) date: Option<String>,
    /// Write NOW to this file with every `set` of its variations in place, and the variations as remarks: the job as
    /// built, for orders and drawings
    #[arg(long, value_name = "FILE", value_parser = said)]
    pub(crate) built: Option<String>,
    /// Replace that file if it exists
    #[arg(long, requires = "built")]
    pub(crate) force: bool,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

impl Vary {
    /// The contract as other verbs name a job.
    pub(super) fn job(&self) -> JobArgs {
        let (rates, profile) = (self.rates.clone(), self.profile.clone());
        JobArgs { job: self.contract.clone(), over: Over { rates, profile, date: None } }
    }
}
