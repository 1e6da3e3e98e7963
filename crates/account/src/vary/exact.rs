//! Sums and products of money that lose no digit.

use rust_decimal::Decimal;
use tankwright_quantities::decimal;

/// Places of a line of a build-up.
pub(super) const FINE: u32 = 4;

/// Quantity x rate, rounded to some places; `None` where it cannot be held exactly.
pub(super) fn times(quantity: Decimal, rate: Decimal, places: u32) -> Option<Decimal> {
    Some(decimal::round(decimal::product(quantity, rate)?, places)).filter(|p| p.abs() <= most())
}

/// Nothing of a contract comes near this; beyond it a decimal would begin to lose places.
fn most() -> Decimal {
    Decimal::from(1_000_000_000_000_000_000_i64)
}

/// Per cent of an amount, rounded to some places.
pub(super) fn share(amount: Decimal, percent: Decimal, places: u32) -> Option<Decimal> {
    times(amount, decimal::product(percent, Decimal::new(1, 2))?, places)
}

/// The sum; `None` where it cannot be held exactly.
pub(super) fn sum(amounts: impl IntoIterator<Item = Decimal>) -> Option<Decimal> {
    let sum = amounts.into_iter().try_fold(Decimal::ZERO, |sum, a| sum.checked_add(a));
    sum.filter(|sum| sum.abs() <= most())
}
