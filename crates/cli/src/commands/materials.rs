//! `tankwright materials`: materials by stage.

use crate::args::Table;
use crate::context::{Context, Outcome};
use crate::engine;
use crate::load::{Prices, estimate};

pub(super) fn run(args: &Table, cx: &mut Context<'_>) -> Outcome {
    let e = estimate(cx, &args.job, Prices::Never, false)?;
    cx.print(&engine::materials(&e, args.format))
}
