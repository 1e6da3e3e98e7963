//! `tankwright orders`: what to order for each stage, or the card of one stage.

use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::problem::Problem;

use crate::args::Orders;
use crate::context::{Context, Outcome};
use crate::engine;
use crate::exit::Exit;
use crate::load::{Prices, estimate};

pub(super) fn run(args: &Orders, cx: &mut Context<'_>) -> Outcome {
    let e = estimate(cx, &args.job, Prices::May, false)?;
    let stage = args.stage.as_deref();
    match engine::orders(&e, stage, args.format) {
        Some(text) => cx.print(&text),
        None => cx.refuse(Exit::Usage, &[no_such_stage(&e, stage.unwrap_or_default())]),
    }
}

/// A stage that this job does not have.
pub(super) fn no_such_stage(e: &Estimate, id: &str) -> Problem {
    let hint = format!("its stages: {}", engine::stage_ids(e).join(", "));
    Problem::error("U007", None, format!("this job has no stage `{id}`")).hint(hint)
}
