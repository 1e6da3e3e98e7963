//! `tankwright takeoff`: dimension sheets, decisions, balances.

use crate::args::Table;
use crate::context::{Context, Outcome};
use crate::engine;
use crate::load::{Prices, estimate};

pub(super) fn run(args: &Table, cx: &mut Context<'_>) -> Outcome {
    let e = estimate(cx, &args.job, Prices::May, true)?;
    cx.print(&engine::takeoff(&e, args.format))
}
