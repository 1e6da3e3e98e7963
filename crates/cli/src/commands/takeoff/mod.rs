//! `tankwright takeoff`: dimension sheets, decisions, balances; or the same job under two profiles.

pub(crate) mod given;

use given::Takeoff;
use tankwright_quantities::estimate::Failure;
use tankwright_quantities::flow::Settings;

use crate::context::{Context, Outcome};
use crate::engine;
use crate::exit::Exit;
use crate::load::{Loaded, Prices, estimate, profile_unknown, with_all};

pub(super) fn run(args: &Takeoff, cx: &mut Context<'_>) -> Outcome {
    let Some(name) = &args.against else {
        let e = estimate(cx, &args.job, Prices::May, true)?;
        return cx.print(&engine::takeoff(&e, args.format));
    };
    let Loaded { job, estimate: first, stock, settings, .. } = with_all(cx, &args.job, Prices::Never, false)?;
    if let Some(problem) = profile_unknown(&stock, name) {
        return cx.refuse(Exit::Usage, &[problem]);
    }
    let settings = Settings { profile: Some(name.clone()), ..settings };
    match engine::estimate(&job, &stock, None, &settings) {
        Ok(second) => cx.print(&engine::against(&first, &second, args.format)),
        Err(Failure::Balance(balances)) => cx.unbalanced(&balances),
        Err(Failure::Job(problems) | Failure::Rates(problems)) => cx.refuse(Exit::Job, &problems),
    }
}
