//! What is held back, what is paid, and what is still due.

use rust_decimal::Decimal;
use tankwright_quantities::problem::Problem;

use super::Desk;
use super::codes::TOO_LARGE;
use super::exact::sum;
use super::report::Payment;
use crate::paid::paid;
use crate::payments::{Terms, terms_of};

/// Terms of the contract, payments of the account up to its day; nothing where a figure is too large, which is told.
pub(super) fn payment(desk: &mut Desk<'_>, adjusted: Decimal) -> Option<Payment> {
    let (terms, problems) = terms_of(desk.contract.estimate, desk.contract.job);
    desk.told.extend(problems);
    let (paid, problems) = paid(desk.now.job, &desk.contract.estimate.bill.currency);
    desk.told.extend(problems);
    let (mut receipts, mut later) = (Vec::new(), Vec::new());
    for r in paid.receipts {
        let into = if desk.is_after(r.date) { &mut later } else { &mut receipts };
        into.push((r.date.to_string(), r.amount, r.note));
    }
    let made = made(desk.digits(), adjusted, terms, receipts, &later);
    if made.is_none() {
        let what = "the payments are too large to be reckoned exactly";
        desk.told.push(Problem::error(TOO_LARGE, desk.now.job.place("paid"), what).label("look for a slip"));
    }
    made
}

/// Date, amount and words of payments.
type Receipts = Vec<(String, Decimal, String)>;

fn made(
    digits: u32,
    adjusted: Decimal,
    terms: Terms,
    receipts: Receipts,
    later: &Receipts,
) -> Option<Payment> {
    let all = |list: &Receipts| sum(list.iter().map(|r| r.1));
    let retention = terms.held(adjusted, adjusted, digits)?;
    let paid = all(&receipts)?;
    Some(Payment {
        percent: (!terms.retention.is_zero()).then_some(terms.retention),
        limit: terms.limit,
        retention,
        when_built: terms.released(retention, digits)?,
        days: terms.days,
        due: sum([adjusted, -retention, -paid])?,
        later: all(later)?,
        receipts,
        paid,
    })
}
