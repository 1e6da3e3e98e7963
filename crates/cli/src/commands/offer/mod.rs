//! `tankwright offer`: the paper for the client.

pub(crate) mod given;

use tankwright_run::{Appendices, print_offer};

use crate::context::{Context, Outcome};
use crate::firm::firm;
use crate::load::{Found, Prices, with_job};
use crate::printed::{not_printed, write};
use given::Offer;

pub(super) fn run(args: &Offer, cx: &mut Context<'_>) -> Outcome {
    let (job, e) = with_job(cx, &args.job, Prices::Must, false)?;
    let mut found = Found::default();
    let firm = firm(cx, &job, &mut found);
    if let Some(exit) = found.exit {
        return cx.refuse(exit, &found.problems);
    }
    match print_offer(&e, &job, Appendices { bill: args.bill, drawings: args.drawings }, firm) {
        Ok(bytes) => write(cx, &args.out, bytes),
        Err(why) => not_printed(cx, &why),
    }
}
