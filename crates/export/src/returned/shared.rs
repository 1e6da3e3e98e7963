//! What the papers of `returned` share: figures of rates, names of copies.

use rust_decimal::Decimal;
use tankwright_account::returned::Comparison;
use tankwright_geometry::Ratio;
use tankwright_quantities::decimal;

/// Places to which a rate is shown that does not end: of a mean, or of an amount divided by its quantity.
const MORE: u32 = 4;

/// A rate as a decimal: all its places where it ends, else some more than money has.
pub(super) fn rate(c: &Comparison, rate: Ratio) -> Decimal {
    let digits = c.form.currency.digits;
    let exact = (digits..=12).find_map(|p| decimal::rounded(rate, p).filter(|d| decimal::ratio(*d) == rate));
    exact.or_else(|| decimal::rounded(rate, digits + MORE)).unwrap_or_default()
}

/// The letter of a copy in tables: A, B ... Z, then numbers.
pub(super) fn letter(copy: usize) -> String {
    u8::try_from(copy)
        .ok()
        .filter(|n| *n < 26)
        .map_or_else(|| (copy + 1).to_string(), |n| char::from(b'A' + n).to_string())
}

/// How many times, in as few places as it needs.
pub(super) fn times(ratio: Ratio) -> String {
    decimal::plain(ratio)
}
