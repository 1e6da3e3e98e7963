//! The command line of `payments`.

use clap::Args;
use rust_decimal::Decimal;
use tankwright_account::payments::{Asked, done};

use crate::args::{Format, JobArgs};

/// What `--help` says at its end.
pub(crate) const HELP: &str = "Examples:
  tankwright payments samples/rest-house/job.toml
  tankwright payments samples/rest-house/job.toml --at 2026-12-15
  tankwright payments samples/rest-house/job.toml --at 2026-12-15 --done dig=100,base=60
  tankwright payments samples/rest-house/job.toml --at walls-lower
  tankwright payments samples/rest-house/job.toml --cash

Deposit and retention stand under [payments] of the job file, what was paid in [[paid]] entries, how far the work is in
[[valuation]] entries: `tankwright rules --keys` lists them.";

/// `payments`.
#[derive(Args, Debug)]
pub(crate) struct Payments {
    #[command(flatten)]
    pub(crate) job: JobArgs,
    /// The account at this day in place of the schedule: work done so far, less retention, less what was paid; or when
    /// this stage, as base, and all before it are done
    #[arg(long, value_name = "DATE_OR_STAGE", value_parser = at)]
    pub(crate) at: Option<Asked>,
    /// Per cent done of stages then; the others as at the last valuation of the job file
    #[arg(long, value_name = "STAGE=PERCENT,...", requires = "at", value_delimiter = ',', value_parser = done)]
    pub(crate) done: Vec<(String, Decimal)>,
    /// Money in and out by stage in place of the schedule: for who builds, not for the client
    #[arg(long, conflicts_with = "at")]
    pub(crate) cash: bool,
    /// How to print; JSON holds all three papers
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// A day or a stage.
fn at(text: &str) -> Result<Asked, String> {
    Asked::default().at(text)
}
