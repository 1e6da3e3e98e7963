//! From exact fractions to decimals: the places where a figure is rounded, and nowhere else.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

/// Rounds half away from zero to `places` and turns into a decimal; `None` when unknown or too large.
#[must_use]
pub fn rounded(value: Ratio, places: u32) -> Option<Decimal> {
    let scale = 10_i128.checked_pow(places)?;
    let whole = if value.is_known() && scale % value.denom() == 0 {
        // It has no more places than these: most figures.
        value.numer().checked_mul(scale / value.denom())?
    } else {
        let whole = value.round_half_away(Ratio::of(1, scale)) * Ratio::int(scale);
        (whole.is_known() && whole.denom() == 1).then(|| whole.numer())?
    };
    Decimal::try_from_i128_with_scale(whole, places).ok().map(|d| d.normalize())
}

/// The exact fraction of a decimal.
#[must_use]
pub fn ratio(value: Decimal) -> Ratio {
    10_i128.checked_pow(value.scale()).map_or(Ratio::UNKNOWN, |s| Ratio::of(value.mantissa(), s))
}

/// A decimal rounded half away from zero. The decimal crate's own `round_dp` goes to even: not used.
#[must_use]
pub fn round(value: Decimal, places: u32) -> Decimal {
    value.round_dp_with_strategy(places, rust_decimal::RoundingStrategy::MidpointAwayFromZero)
}

/// An exact product, or `None` where the library would have rounded silently.
#[must_use]
pub fn product(a: Decimal, b: Decimal) -> Option<Decimal> {
    let (a, b) = (a.normalize(), b.normalize());
    let p = a.checked_mul(b)?;
    (p.is_zero() || p.scale() >= a.scale() + b.scale()).then_some(p)
}

/// A decimal with exactly `places` places, for papers.
#[must_use]
pub fn shown(value: Decimal, places: u32) -> String {
    let mut value = round(value, places);
    value.rescale(places);
    value.to_string()
}

/// A fraction as a decimal where one holds it, else as `a/b`.
#[must_use]
pub fn plain(value: Ratio) -> String {
    if let (Ok(whole), 1) = (i64::try_from(value.numer()), value.denom()) {
        return whole.to_string();
    }
    let exact = (0..=24).find_map(|p| rounded(value, p).filter(|d| ratio(*d) == value));
    exact.map_or_else(|| format!("{}/{}", value.numer(), value.denom()), |d| d.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ties_go_away_from_zero() {
        assert_eq!(rounded(Ratio::of(3025, 1000), 2).unwrap_or_default().to_string(), "3.03");
        assert_eq!(shown(Decimal::new(3025, 3), 2), "3.03");
        assert_eq!(shown(Decimal::new(-25, 1), 0), "-3");
    }

    #[test]
    fn a_product_that_would_lose_digits_is_refused() {
        let long = Decimal::new(1_234_567_890_123_456_789, 18);
        assert!(product(long, long).is_none());
        assert_eq!(product(Decimal::new(1, 2), Decimal::new(1, 3)), Some(Decimal::new(1, 5)));
        assert_eq!(product(Decimal::new(15, 1), Decimal::new(20, 1)), Some(Decimal::from(3)));
    }

    #[test]
    fn plain_prints_fractions_that_no_decimal_holds() {
        assert_eq!(plain(Ratio::of(1, 8)), "0.125");
        assert_eq!(plain(Ratio::of(690, 311)), "690/311");
    }
}
