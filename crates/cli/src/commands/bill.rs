//! `tankwright bill`: the priced bill, or a form of it for others to price.

use std::path::Path;

use clap::Args;
use tankwright_account::returned::Form;
use tankwright_export::{evaluate, returned, xlsx};
use tankwright_quantities::estimate::{Caution, Estimate};
use tankwright_quantities::problem::{Problem, Severity};

use crate::args::{Format, JobArgs};
use crate::commands::new::keep;
use crate::context::{Context, Outcome};
use crate::engine;
use crate::exit::Exit;
use crate::load::{Prices, estimate, with_all};

/// Examples, under the help.
pub(crate) const HELP: &str = "Examples:\n  tankwright bill job.toml --rates prices.csv --date 2026-12-01\n  \
    tankwright bill job.toml --to-price form.xlsx";

/// `bill`.
#[derive(Args, Debug)]
pub(crate) struct Bill {
    #[command(flatten)]
    pub(crate) job: JobArgs,
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

pub(super) fn run(args: &Bill, cx: &mut Context<'_>) -> Outcome {
    if let Some(file) = &args.to_price {
        return to_price(args, file, cx);
    }
    let e = estimate(cx, &args.job, Prices::Must, false)?;
    cx.say(&of_prices(&e));
    cx.print(&engine::bill(&e, args.format))
}

/// The form of the bill, without looking at any price.
fn to_price(args: &Bill, file: &str, cx: &mut Context<'_>) -> Outcome {
    let all = with_all(cx, &args.job, Prices::Never, false)?;
    let form = match Form::of(&all.estimate, &all.job, &all.stock) {
        Ok(form) => form,
        Err(problems) => return cx.refuse(Exit::Job, &problems),
    };
    let bytes = if file.to_lowercase().ends_with(".xlsx") {
        let book = returned::form_book(&form);
        match evaluate::evaluate(&book).and_then(|values| xlsx::write(&book, &values)) {
            Ok(bytes) => bytes,
            Err(problems) => return cx.refuse(Exit::Fault, &problems),
        }
    } else {
        returned::form_csv(&form).into_bytes()
    };
    let rows = form.rows.iter().filter(|r| r.stated.is_none()).count();
    let note =
        format!("{file} is written: {rows} rows to be priced; copies that come back: tankwright returned\n");
    keep(cx, file, args.force, bytes, &note)
}

/// Cautions about prices: beside the bill, not on it, for it may go to a client as it is.
pub(super) fn of_prices(e: &Estimate) -> Vec<Problem> {
    let of_price = |c: &&Caution| c.code.starts_with('R');
    let told = |c: &Caution| {
        let problem = Problem::error(c.code, c.place.clone(), c.says.to_string());
        Problem { severity: Severity::Caution, ..problem }.hint(c.source.clone())
    };
    e.cautions.iter().filter(of_price).map(told).collect()
}
