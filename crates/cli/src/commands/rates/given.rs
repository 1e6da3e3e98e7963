//! `rates` on the command line.

use clap::{Args, ValueEnum};
use rust_decimal::Decimal;
use tankwright_quantities::rates::{Column, head_key};

use crate::args::{Format, date, said};

/// `rates`. What an argument requires is written as a conflict too: of a group, the parser lets it pass.
#[derive(Args, Debug)]
#[command(group = clap::ArgGroup::new("doing").multiple(false))]
pub(crate) struct Rates {
    /// Price lists to check: built-in names or your own, paths to CSV or XLSX files (prices.xlsx#Sheet). None: the
    /// lists that are known by name
    #[arg(group = "doing", value_name = "CHECK", value_parser = said)]
    pub(crate) check: Vec<String>,
    /// Writes every row this job needs, without rates, as a price list
    #[arg(long, group = "doing", value_name = "JOB", value_parser = said)]
    pub(crate) blank: Option<String>,
    /// With --blank: materials, labour and plant that its rates are built up from, in place of works; works that
    /// have no build-up stay
    #[arg(long, requires = "blank", conflicts_with_all = ["check", "export"])]
    pub(crate) build_ups: bool,
    /// Writes the built-in data into this folder
    #[arg(long, group = "doing", value_name = "DIR", value_parser = said)]
    pub(crate) export: Option<String>,
    /// Replace files that exist
    #[arg(long, requires = "export", conflicts_with_all = ["check", "blank"])]
    pub(crate) force: bool,
    /// What this job misses in the lists; with --compare, its price under both
    #[arg(long = "for", value_name = "JOB", requires = "check", conflicts_with_all = ["blank", "export"], value_parser = said)]
    pub(crate) for_job: Option<String>,
    /// Two lists side by side: both rates, the difference, per cent
    #[arg(long, requires = "check", conflicts_with_all = ["blank", "export"])]
    pub(crate) compare: bool,
    /// Rates more than so many months before the date are old
    #[arg(long, value_name = "MONTHS", default_value_t = 3, value_parser = clap::value_parser!(u32).range(1..=600))]
    pub(crate) older: u32,
    /// Rates of two lists that differ more than so many times are far from each other
    #[arg(long, value_name = "TIMES", default_value = "2", value_parser = times)]
    pub(crate) ratio: Decimal,
    /// A map from the list's words to our codes: read where it is there, else written to be filled in
    #[arg(long, value_name = "FILE", requires = "check", conflicts_with_all = ["compare", "blank", "export"], value_parser = said)]
    pub(crate) map: Option<String>,
    /// Prints the list in our own form, everything worked out
    #[arg(long, requires = "check", conflicts_with_all = ["compare", "map", "for_job", "blank", "export"])]
    pub(crate) plain: bool,
    /// Currency of a list that names none
    #[arg(long, value_name = "CODE", requires = "check", conflicts_with_all = ["blank", "export"], value_parser = currency)]
    pub(crate) currency: Option<String>,
    /// Source of a list that names none
    #[arg(long, value_name = "WORDS", requires = "check", conflicts_with_all = ["blank", "export"], value_parser = said)]
    pub(crate) source: Option<String>,
    /// Day of a list that names none
    #[arg(long, value_name = "DATE", requires = "check", conflicts_with_all = ["blank", "export"], value_parser = date)]
    pub(crate) of: Option<String>,
    /// Per cent of tax that is in the rates of a list that says nothing of it
    #[arg(long, value_name = "PERCENT", requires = "check", conflicts_with_all = ["blank", "export"], value_parser = percent)]
    pub(crate) tax: Option<Decimal>,
    /// Decimal mark of a list that does not show it
    #[arg(long, value_enum, requires = "check", conflicts_with_all = ["blank", "export"])]
    pub(crate) decimal: Option<DecimalMark>,
    /// What a head of a list is: kind, code, description, unit, rate, currency, date, source, tax, per, or - for a column
    /// that is not to be read; may be given again for another head
    #[arg(long = "column", value_name = "HEAD=COLUMN", requires = "check", conflicts_with_all = ["blank", "export"], value_parser = head)]
    pub(crate) columns: Vec<(String, Option<Column>)>,
    /// Measurement profile in place of the job file's (with --blank or --for)
    #[arg(long, value_name = "NAME", value_parser = said)]
    pub(crate) profile: Option<String>,
    /// Date in place of the job file's; without a job, the day against which rates are old
    #[arg(long, value_parser = date)]
    pub(crate) date: Option<String>,
    /// How to print the list of lists
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// A decimal mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum DecimalMark {
    /// 1,234.50
    Point,
    /// 1.234,50
    Comma,
}

/// A currency.
fn currency(text: &str) -> Result<String, String> {
    let good = text.len() == 3 && text.bytes().all(|b| b.is_ascii_uppercase());
    if good {
        Ok(text.to_owned())
    } else {
        Err("a currency is three capital letters, as UGX (ISO 4217)".to_owned())
    }
}

/// A head and the column it is.
fn head(text: &str) -> Result<(String, Option<Column>), String> {
    let told = text.rsplit_once('=').map(|(head, column)| (head_key(head), column.trim()));
    let known = |column: &str| match column {
        "-" => Some(None),
        name => Column::ALL.into_iter().find(|c| c.name() == name).map(Some),
    };
    let read = told.and_then(|(head, column)| Some((head, known(column)?)));
    read.filter(|(head, _)| !head.is_empty()).ok_or_else(|| {
        let names = Column::ALL.map(Column::name).join(", ");
        format!("a head of the list and the column it is, as \"Net price=rate\": {names}, or -")
    })
}

/// A plain number of few digits.
fn number(text: &str) -> Option<Decimal> {
    let (whole, part) = text.split_once('.').unwrap_or((text, "0"));
    let digits = |t: &str| (1..=6).contains(&t.len()) && t.bytes().all(|b| b.is_ascii_digit());
    if digits(whole) && digits(part) { Decimal::from_str_exact(text).ok() } else { None }
}

/// How many times: more than 1.
fn times(text: &str) -> Result<Decimal, String> {
    let many = number(text).filter(|n| *n > Decimal::ONE);
    many.ok_or_else(|| "a number above 1, as 2 or 1.5".to_owned())
}

/// Per cent of a tax.
fn percent(text: &str) -> Result<Decimal, String> {
    let good = |n: &Decimal| *n >= Decimal::ONE && *n <= Decimal::ONE_HUNDRED;
    let percent = number(text.trim_end_matches('%').trim_end()).filter(good);
    percent.ok_or_else(|| "per cent from 1 to 100, as 18".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn heads_and_their_columns() {
        assert_eq!(head("Net  Price=rate"), Ok(("net price".to_owned(), Some(Column::Rate))));
        assert_eq!(head("a=b=-"), Ok(("a=b".to_owned(), None)));
        for text in ["", "=rate", "Bei", "Bei=price", "Bei="] {
            assert!(head(text).is_err(), "{text}");
        }
    }

    #[test]
    fn limits_per_cents_and_currencies() {
        assert_eq!(times("1.5"), Ok(Decimal::new(15, 1)));
        assert_eq!(percent("7.5 %"), Ok(Decimal::new(75, 1)));
        assert_eq!(currency("KES"), Ok("KES".to_owned()));
        for text in ["1", "0.5", "-2", "", "2,0", "two"] {
            assert!(times(text).is_err(), "{text}");
        }
        for text in ["0.18", "0", "101", "-18", "", "%"] {
            assert!(percent(text).is_err(), "{text}");
        }
        assert!(currency("kes").is_err() && currency("KESH").is_err());
    }
}
