//! `bill` on the command line.

use std::path::Path;

use clap::Args;

use crate::args::{Format, JobArgs};

/// Examples, under the help.
pub(crate) const HELP: &str = "Examples:\n  tankwright bill job.toml --rates prices.csv --date 2026-12-01\n  \
    tankwright bill samples/built-rates/job.toml --analysis\n  tankwright bill job.toml --to-price form.xlsx";

/// `bill`.
#[derive(Args, Debug)]
pub(crate) struct Bill {
    #[command(flatten)]
    pub(crate) job: JobArgs,
    /// How each rate is built up that the price list does not give: quantities, rates, on-costs, "say"
    #[arg(long, conflicts_with = "to_price")]
    pub(crate) analysis: bool,
    /// Writes the bill without any rate, for others to price: FILE.xlsx or FILE.csv; `-` prints CSV
    #[arg(long, value_name = "FILE", value_parser = form, conflicts_with_all = ["rates", "format"])]
    pub(crate) to_price: Option<String>,
    /// Replace the file if it exists
    #[arg(long, requires = "to_price")]
    pub(crate) force: bool,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// The name of a form.
fn form(text: &str) -> Result<String, String> {
    let ending = Path::new(text).extension().and_then(|e| e.to_str()).unwrap_or_default().to_lowercase();
    let fits = text == "-" || matches!(ending.as_str(), "xlsx" | "csv");
    if fits { Ok(text.to_owned()) } else { Err("a form ends in .xlsx or .csv".to_owned()) }
}
