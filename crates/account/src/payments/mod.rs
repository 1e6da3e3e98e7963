//! Stage payments from the priced bill: deposit, stages, retention; the account at a date; money in and out.

mod asked;
mod cash;
mod codes;
mod schedule;
mod spread;
mod terms;
#[cfg(test)]
mod tests;
mod valuation;

pub use asked::{Asked, done};
pub use cash::{Cash, CashRow, Goods};
pub use codes::CODES;
pub use schedule::{Deposit, Kind, Payment, Schedule, Seen};
pub use spread::{Spread, Worth, measured, spread, stages};
pub(crate) use terms::terms as terms_of;
pub use terms::{DepositTerm, Terms};
pub use valuation::{Looked, Valuation, Valued};

use std::borrow::Cow;

use tankwright_quantities::estimate::{Balance, Caution, Estimate, Failure};
use tankwright_quantities::job::Job;
use tankwright_quantities::problem::{Problem, in_order};

use crate::paid::{Paid, paid};

/// The payments of a job.
#[derive(Clone, Debug)]
pub struct Payments<'a> {
    /// Does the client buy the materials?
    pub client_buys: bool,
    /// Deposit and retention.
    pub terms: Terms,
    /// The bill by stages.
    pub spread: Spread,
    /// The payments.
    pub schedule: Schedule,
    /// Money in and out of who builds; none where the client buys, or where goods have no rate.
    pub cash: Option<Cash>,
    /// Goods by stage, with their cost.
    pub goods: Vec<Goods<'a>>,
    /// What was paid.
    pub paid: Paid,
    /// The account at the day asked for.
    pub valuation: Option<Valuation>,
    /// Cautions.
    pub cautions: Vec<Caution>,
    /// Balances, all of which close.
    pub balances: Vec<Balance>,
}

/// The payments of a priced job.
///
/// # Errors
/// [`Failure::Job`] with every problem of `[payments]`, `[[paid]]`, `[[valuation]]` and the command line;
/// [`Failure::Balance`] where the parts are not the bill, which is a defect.
pub fn payments<'a>(e: &'a Estimate, job: &Job, asked: &Asked) -> Result<Payments<'a>, Failure> {
    let (terms, mut problems) = terms::terms(e, job);
    let (paid, of_paid) = paid(job, &e.bill.currency);
    problems.extend(of_paid);
    let spread = spread(e, job).ok_or_else(too_large)?;
    let asked = asked.settled(e, job, &spread).unwrap_or_else(|told| {
        problems.push(*told);
        Cow::default()
    });
    let looked = valuation::looked(e, job, &spread, &asked).unwrap_or_else(|told| {
        problems.extend(told);
        Vec::new()
    });
    let schedule = match schedule::schedule(e, job, &terms, &spread).ok_or_else(too_large)? {
        Ok(schedule) => schedule,
        Err(problem) => {
            problems.push(problem);
            Schedule::default()
        }
    };
    if !problems.is_empty() {
        in_order(&mut problems);
        return Err(Failure::Job(problems));
    }
    let balances = vec![spread::balance(e, &spread), schedule::balance(e, &schedule)];
    if balances.iter().any(|b| !b.holds()) {
        return Err(Failure::Balance(balances));
    }
    let client_buys = job.text("job.supply") == "labour-only";
    let mut cautions = schedule::cautions(e, &schedule);
    // A bill of labour that holds materials is not one.
    cautions.extend(e.cautions.iter().filter(|c| c.code == "C041").cloned());
    let valuation = match asked.at {
        Some(at) => {
            let of = (&terms, &spread, &schedule);
            let valued = valuation::valuation(e, of, &looked, &paid, at).ok_or_else(too_large)?;
            Some(Valuation { up_to: asked.up_to, ..valued })
        }
        None => None,
    };
    let cash = if client_buys { None } else { cash::cash(e, &schedule) };
    let goods = cash::goods(e);
    Ok(Payments { client_buys, terms, spread, schedule, cash, goods, paid, valuation, cautions, balances })
}

fn too_large() -> Failure {
    let problem = Problem::error("R047", None, "the amounts grow beyond what can be reckoned exactly");
    Failure::Job(vec![problem.hint("look for a slip in the rates or in the job's amounts")])
}
