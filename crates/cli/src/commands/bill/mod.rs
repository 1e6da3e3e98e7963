//! `tankwright bill`: the priced bill, how its rates are built up, or a form of it for others to price.

pub(crate) mod given;

use tankwright_account::returned::Form;
use tankwright_export::{evaluate, returned, xlsx};
use tankwright_quantities::estimate::{Caution, Estimate};
use tankwright_quantities::problem::{Problem, Severity};

use crate::commands::new::keep;
use crate::context::{Context, Outcome};
use crate::engine;
use crate::exit::Exit;
use crate::load::{Prices, estimate, with_all};
use given::Bill;

pub(super) fn run(args: &Bill, cx: &mut Context<'_>) -> Outcome {
    if let Some(file) = &args.to_price {
        return to_price(args, file, cx);
    }
    let e = estimate(cx, &args.job, Prices::Must, false)?;
    cx.say(&of_prices(&e));
    let format = args.format;
    cx.print(&if args.analysis { engine::analysis(&e, format) } else { engine::bill(&e, format) })
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
