//! `tankwright bill`: the priced bill, or how its rates are built up.

pub(crate) mod given;

use tankwright_quantities::estimate::{Caution, Estimate};
use tankwright_quantities::problem::{Problem, Severity};

use crate::context::{Context, Outcome};
use crate::engine;
use crate::load::{Prices, estimate};
use given::Bill;

pub(super) fn run(args: &Bill, cx: &mut Context<'_>) -> Outcome {
    let e = estimate(cx, &args.table.job, Prices::Must, false)?;
    cx.say(&of_prices(&e));
    let format = args.table.format;
    cx.print(&if args.analysis { engine::analysis(&e, format) } else { engine::bill(&e, format) })
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
