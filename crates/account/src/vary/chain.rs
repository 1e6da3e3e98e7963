//! What the contract adds to the works, over other works: per cent follows by the same chain, fixed amounts and the
//! rounding of the offer stay as agreed.

use rust_decimal::Decimal;
use tankwright_quantities::bill::{AddedOn, Bill};

use super::exact::{share, sum};
use super::report::OnCost;

/// Additions over measured works and what stands beside them, and the total; `None` where a figure is too large.
pub(super) fn chain(
    bill: &Bill,
    measured: Decimal,
    beside: Decimal,
    leave_out: &[String],
) -> Option<(Vec<OnCost>, Decimal)> {
    let mut running = sum([measured, beside])?;
    let mut done: Vec<OnCost> = Vec::new();
    for (i, a) in bill.additions.iter().enumerate() {
        let rounding = bill.say.is_some() && i + 1 == bill.additions.len();
        let left_out = !rounding && leave_out.contains(&a.title);
        let now = match (a.percent, &a.on) {
            _ if left_out => Decimal::ZERO,
            (None, _) | (_, AddedOn::Amount) => a.amount,
            (Some(p), AddedOn::Running) => share(running, p, bill.currency.digits)?,
            (Some(p), AddedOn::Measured) => share(measured, p, bill.currency.digits)?,
            (Some(p), AddedOn::Titles(at)) => {
                let earlier = at.iter().filter_map(|j| done.get(*j)).map(|d| d.now);
                share(sum(earlier.chain([measured]))?, p, bill.currency.digits)?
            }
        };
        running = sum([running, now])?;
        done.push(OnCost {
            title: a.title.clone(),
            percent: a.percent,
            contract: a.amount,
            now,
            left_out,
            rounding,
        });
    }
    Some((done, running))
}
