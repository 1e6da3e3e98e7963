//! The command line of `payments`.

use clap::Args;
use rust_decimal::Decimal;

use crate::args::{Format, JobArgs, date};

/// What `--help` says at its end.
pub(crate) const HELP: &str = "Examples:
  tankwright payments samples/rest-house/job.toml
  tankwright payments samples/rest-house/job.toml --at 2026-12-15
  tankwright payments samples/rest-house/job.toml --at 2026-12-15 --done dig=100,base=60
  tankwright payments samples/rest-house/job.toml --cash

Deposit and retention stand under [payments] of the job file, what was paid in [[paid]] entries, how far the work is in
[[valuation]] entries: `tankwright rules --keys` lists them.";

/// `payments`.
#[derive(Args, Debug)]
pub(crate) struct Payments {
    #[command(flatten)]
    pub(crate) job: JobArgs,
    /// The account at this day in place of the schedule: work done so far, less retention, less what was paid
    #[arg(long, value_name = "DATE", value_parser = date)]
    pub(crate) at: Option<String>,
    /// Per cent done of stages on that day; the others as at the last valuation of the job file
    #[arg(long, value_name = "STAGE=PERCENT,...", requires = "at", value_delimiter = ',', value_parser = done)]
    pub(crate) done: Vec<(String, Decimal)>,
    /// Money in and out by stage in place of the schedule: for who builds, not for the client
    #[arg(long, conflicts_with = "at")]
    pub(crate) cash: bool,
    /// How to print; JSON holds all three papers
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// `base=60`, `base=62.5`.
pub(crate) fn done(text: &str) -> Result<(String, Decimal), String> {
    let wrong = || "a stage with its per cent, as base=60".to_owned();
    let (stage, percent) = text.split_once('=').ok_or_else(wrong)?;
    let (stage, percent) = (stage.trim(), percent.trim().trim_end_matches('%').trim_end());
    let plain = percent.len() <= 9
        && percent.bytes().all(|b| b.is_ascii_digit() || b == b'.')
        && percent.bytes().any(|b| b.is_ascii_digit());
    let percent = percent.parse::<Decimal>().ok().filter(|p| plain && p.scale() <= 4);
    match percent {
        Some(percent) if !stage.is_empty() => Ok((stage.to_owned(), percent)),
        _ => Err(wrong()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_people_write_and_refuses_the_rest() {
        for (text, percent) in
            [("base=60", "60"), (" base = 62.5 % ", "62.5"), ("base=0", "0"), ("base=150", "150")]
        {
            assert_eq!(done(text), Ok(("base".to_owned(), percent.parse().unwrap_or_default())), "{text}");
        }
        for text in ["", "base", "base=", "=60", "base=-5", "base=1e3", "base=.", "base=60,5", "base=0.00001"]
        {
            assert!(done(text).is_err(), "{text}");
        }
    }
}
