//! `tankwright explain`: the working of one figure.

use tankwright_quantities::problem::Problem;

use crate::args::Explain;
use crate::context::{Context, Outcome};
use crate::engine;
use crate::exit::Exit;
use crate::load::{Prices, estimate};

pub(super) fn run(args: &Explain, cx: &mut Context<'_>) -> Outcome {
    let e = estimate(cx, &args.job, Prices::May, true)?;
    match engine::explain(&e, &args.id) {
        Ok(text) => cx.print(&text),
        Err(near) => {
            let problem =
                Problem::error("U002", None, format!("nothing in this job is called `{}`", args.id));
            let hint = match near.as_slice() {
                [] => "`tankwright takeoff` shows every id".to_owned(),
                near => format!("near it: {}", near.join(", ")),
            };
            cx.refuse(Exit::Usage, &[problem.hint(hint)])
        }
    }
}
