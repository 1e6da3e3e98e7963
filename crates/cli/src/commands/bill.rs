//! `tankwright bill`: the priced bill.

use tankwright_quantities::estimate::{Caution, Estimate};
use tankwright_quantities::problem::{Problem, Severity};

use crate::args::Table;
use crate::context::{Context, Outcome};
use crate::engine;
use crate::load::{Prices, estimate};

pub(super) fn run(args: &Table, cx: &mut Context<'_>) -> Outcome {
    let e = estimate(cx, &args.job, Prices::Must, false)?;
    cx.say(&of_prices(&e));
    cx.print(&engine::bill(&e, args.format))
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
