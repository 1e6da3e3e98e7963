//! What is held back, what is paid, and what is still due.

use rust_decimal::Decimal;
use tankwright_quantities::problem::Problem;

use super::Desk;
use super::codes::TOO_LARGE;
use super::exact::{share, sum};
use super::report::Payment;
use crate::paid::paid;

/// Terms of the contract, payments of the account.
pub(super) fn payment(desk: &mut Desk<'_>, adjusted: Decimal) -> Payment {
    let of = |key: &str| desk.of_contract().number(key, &mut Vec::new());
    let (percent, limit) = (of("payments.retention"), of("payments.retention_limit"));
    let (paid, problems) = paid(desk.now.job, &desk.contract.estimate.bill.currency);
    desk.told.extend(problems);
    let held = |p: Decimal| share(adjusted, p, desk.digits());
    let retention = match (percent.map(held), limit.map(held)) {
        (None, _) => Some(Decimal::ZERO),
        (Some(a), None) => a,
        (Some(a), Some(b)) => a.zip(b).map(|(a, b)| a.min(b)),
    };
    let sums = retention.zip(paid.total()).and_then(|(r, p)| Some((r, p, sum([adjusted, -r, -p])?)));
    let Some((retention, total, due)) = sums else {
        let what = "the payments are too large to be reckoned exactly";
        desk.told.push(Problem::error(TOO_LARGE, desk.now.job.place("paid"), what).label("look for a slip"));
        return Payment {
            percent,
            limit,
            retention: Decimal::ZERO,
            receipts: Vec::new(),
            paid: Decimal::ZERO,
            due: adjusted,
        };
    };
    let receipts = paid.receipts.iter().map(|r| (r.date.to_string(), r.amount, r.note.clone())).collect();
    Payment { percent, limit, retention, receipts, paid: total, due }
}
