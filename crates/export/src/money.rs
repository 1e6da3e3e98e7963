//! Money as people read it: the currency's digits, in thousands or in lakh and crore as the job says.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;
use tankwright_quantities::decimal;
use tankwright_quantities::languages::figure;
use tankwright_quantities::money::{Currency, Grouping};

use crate::format::{NO_BREAK, value_as};

/// A plain number in groups: `12 345 678.50`, or with lakh and crore `1,23,45,678.50`.
pub(crate) fn group_as(plain: &str, grouping: Grouping) -> String {
    let (sign, digits) = plain.strip_prefix('-').map_or(("", plain), |d| ("-", d));
    let whole = digits.find('.').unwrap_or(digits.len());
    let mut text = sign.to_owned();
    for (i, c) in digits.chars().enumerate() {
        let left = whole.saturating_sub(i);
        let mark = match grouping {
            Grouping::Thousands if left % 3 == 0 => Some(NO_BREAK),
            Grouping::LakhCrore if left == 3 || (left > 3 && left % 2 == 1) => Some(','),
            _ => None,
        };
        text.extend(mark.filter(|_| i > 0 && left > 0));
        text.push(c);
    }
    figure(text)
}

/// An amount of money in the currency's own digits, grouped as the job says.
#[must_use]
pub fn money(value: Decimal, currency: &Currency) -> String {
    group_as(&decimal::shown(value, currency.digits), currency.grouping)
}

/// An amount with so many places, grouped as the currency says.
#[must_use]
pub fn money_to(value: Decimal, currency: &Currency, places: u32) -> String {
    group_as(&decimal::shown(value, places), currency.grouping)
}

/// A rate: all its places, at least the currency's.
#[must_use]
pub fn rate(value: Decimal, currency: &Currency) -> String {
    let places = value.normalize().scale().max(currency.digits);
    group_as(&decimal::shown(value, places), currency.grouping)
}

/// The same of money: at least the currency's digits, grouped as the job says.
#[must_use]
pub fn money_value(value: Ratio, currency: &Currency, most: u32) -> String {
    value_as(value, currency.digits, most, currency.grouping)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lakh_and_crore_where_the_job_says_so() {
        let rupees = Currency { digits: 2, grouping: Grouping::LakhCrore, ..Currency::default() };
        for (paise, want) in [
            (99_999, "999.99"),
            (100_000, "1,000.00"),
            (10_000_000, "1,00,000.00"),
            (123_456_750, "12,34,567.50"),
            (-12_345_678_905, "-12,34,56,789.05"),
        ] {
            assert_eq!(money(Decimal::new(paise, 2), &rupees), want);
        }
        assert_eq!(rate(Decimal::new(1_234_567_125, 3), &rupees), "12,34,567.125");
        assert_eq!(money_value(Ratio::of(1_000_000, 3), &rupees, 4), "3,33,333.3333...");
        let shillings = Currency { digits: 2, ..Currency::default() };
        assert_eq!(money(Decimal::new(123_456_750, 2), &shillings), "1\u{a0}234\u{a0}567.50");
    }
}
