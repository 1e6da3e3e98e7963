//! The command line of `returned`.

use clap::Args;
use tankwright_geometry::{Ratio, parse};

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

/// A plain number above 1.
fn ratio(text: &str) -> Result<Ratio, String> {
    let number = parse::decimal(text).filter(|n| *n > Ratio::ONE && *n <= Ratio::int(1000));
    number.ok_or_else(|| "a plain number above 1, up to 1000, as 1.5".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ratios() {
        assert_eq!(ratio("1.5"), Ok(Ratio::of(3, 2)));
        assert!(["1", "0.5", "-2", "many", "1001"].iter().all(|t| ratio(t).is_err()));
    }
}
