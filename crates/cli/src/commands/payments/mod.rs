//! `tankwright payments`: stage payments, the account at a date, money in and out.

pub(crate) mod given;
#[cfg(test)]
mod tests;

use tankwright_account::payments::Asked;
use tankwright_quantities::estimate::Failure;

use super::bill::of_prices;
use crate::context::{Context, Outcome};
use crate::engine;
use crate::exit::Exit;
use crate::load::{Prices, with_job};
use given::Payments;

pub(super) fn run(args: &Payments, cx: &mut Context<'_>) -> Outcome {
    let (job, e) = with_job(cx, &args.job, Prices::Must, false)?;
    let asked = Asked { done: args.done.clone(), ..args.at.clone().unwrap_or_default() };
    match engine::payments(&e, &job, &asked) {
        Ok(payments) => {
            cx.say(&of_prices(&e));
            cx.print(&engine::payments_paper(&e, &payments, args.cash, args.format))
        }
        Err(Failure::Balance(balances)) => cx.unbalanced(&balances),
        Err(Failure::Job(problems) | Failure::Rates(problems)) => {
            let of_line = problems.iter().all(|p| p.code.starts_with('U'));
            cx.refuse(if of_line { Exit::Usage } else { Exit::Job }, &problems)
        }
    }
}
