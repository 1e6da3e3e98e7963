//! The command line of `returned`.

use clap::Args;
use tankwright_account::returned::ratio;
use tankwright_geometry::Ratio;

use crate::args::{Format, JobArgs, said};

/// Examples, under the help.
pub(crate) const HELP: &str = "Examples:\n  tankwright bill job.toml --to-price form.xlsx\n  \
    tankwright returned job.toml kato.xlsx nile.xlsx\n  \
    tankwright returned job.toml \"kato.xlsx#Bill to price\" nile.csv --format csv\n\n\
    The form is written by `bill JOB --to-price FILE`. A copy that lost the form's marks is known by its\n\
    references and words. Say --profile again where the form was written with it.";

/// `returned`.
#[derive(Args, Debug)]
pub(crate) struct Returned {
    #[command(flatten)]
    pub(crate) job: JobArgs,
    /// Priced copies, XLSX (kato.xlsx#Sheet) or CSV
    #[arg(required = true, value_name = "COPY", value_parser = said)]
    pub(crate) copies: Vec<String>,
    /// How many times the middle of the other rates is far, and the part of it that is
    #[arg(long, value_name = "N", default_value = "1.5", value_parser = ratio)]
    pub(crate) ratio: Ratio,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}
