//! `tankwright cards`: one card a stage, to be printed for the foreman.

pub(crate) mod given;

use tankwright_export::text::stage_ids;
use tankwright_papers::cards;

use crate::context::{Context, Outcome};
use crate::exit::Exit;
use crate::load::{Prices, estimate};
use crate::printed::print_to;
use given::Cards;

pub(super) fn run(args: &Cards, cx: &mut Context<'_>) -> Outcome {
    let e = estimate(cx, &args.job, Prices::May, false)?;
    if let Some(id) = args.stage.as_deref().filter(|id| !stage_ids(&e).contains(id)) {
        let problem = super::orders::no_such_stage(&e, id);
        return cx.refuse(Exit::Usage, &[problem]);
    }
    print_to(cx, &args.out, &cards(&e, args.stage.as_deref(), "en"))
}
