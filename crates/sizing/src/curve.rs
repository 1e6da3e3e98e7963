//! The four curve shapes: the only sums that are not exact fractions. In decimals, no floats.

use rust_decimal::{Decimal, MathematicalOps};
use tankwright_geometry::Ratio;
use tankwright_quantities::decimal::{ratio, rounded};

use crate::rule::Shape;

/// A curve's value is kept to so many places: its dust must not turn 2400 l into 2401.
pub(crate) const PLACES: u32 = 12;

/// The curve at x; `None` outside of where it has a value that can be reckoned.
#[must_use]
pub(crate) fn at(shape: Shape, [a, b, c]: [Ratio; 3], x: Ratio) -> Option<Ratio> {
    let [a, b, c, x] = [decimal(a)?, decimal(b)?, decimal(c)?, decimal(x)?];
    let above = |d: Decimal| (d > Decimal::ZERO).then_some(d);
    let y = match shape {
        Shape::Log10 => a.checked_add(b.checked_mul(above(x)?.checked_log10()?)?)?,
        Shape::Power => a.checked_mul(power(above(x)?, b)?)?,
        Shape::Exponent => a.checked_mul(power(above(b)?, c.checked_sub(x)?)?)?,
        Shape::Root => a.checked_div(above(x)?.sqrt()?)?,
    };
    let y = rounded(ratio(y), PLACES).map(ratio)?;
    y.is_known().then_some(y)
}

/// As many places as fit.
fn decimal(value: Ratio) -> Option<Decimal> {
    [20, 16, 12, 8, 4, 0].into_iter().find_map(|places| rounded(value, places))
}

/// The whole part of the exponent multiplied out, the rest by the exponential series taken to its end: the
/// library's own power of a fraction stops the series early.
fn power(base: Decimal, exponent: Decimal) -> Option<Decimal> {
    let whole = exponent.floor();
    let n = i64::try_from(whole).ok().filter(|n| n.abs() <= 200)?;
    let rest = base.checked_ln()?.checked_mul(exponent.checked_sub(whole)?)?;
    let rest = rest.checked_exp_with_tolerance(Decimal::new(1, 26))?;
    base.checked_powi(n)?.checked_mul(rest)
}

#[cfg(test)]
mod tests {
    use super::*;
    use tankwright_quantities::decimal::plain;

    fn shown(shape: Shape, abc: [&str; 3], x: &str) -> String {
        let n = |t: &str| t.parse::<Decimal>().map_or(Ratio::UNKNOWN, ratio);
        at(shape, abc.map(n), n(x)).map_or_else(String::new, plain)
    }

    #[test]
    fn known_values() {
        // 1.5 - 0.3 log10 1.44; 1853 / 25^1.25; 30 x 1.035^13; by 50 digits elsewhere.
        assert_eq!(shown(Shape::Log10, ["1.5", "-0.3", "0"], "1.44"), "1.452491252371");
        assert_eq!(shown(Shape::Power, ["1853", "-1.25", "0"], "25"), "33.147471698457");
        assert_eq!(shown(Shape::Exponent, ["30", "1.035", "35"], "22"), "46.918681810605");
        assert_eq!(shown(Shape::Exponent, ["30", "1.035", "35"], "22.3"), "46.436951042074");
        assert_eq!(shown(Shape::Exponent, ["30", "1.035", "35"], "35"), "30");
        assert_eq!(shown(Shape::Root, ["204", "0", "0"], "25"), "40.8");
    }

    #[test]
    fn no_value_no_panic() {
        for x in ["0", "-1"] {
            assert_eq!(shown(Shape::Log10, ["1", "1", "0"], x), "");
            assert_eq!(shown(Shape::Root, ["1", "0", "0"], x), "");
        }
        assert_eq!(shown(Shape::Exponent, ["30", "1.035", "35"], "100000"), "");
        assert_eq!(shown(Shape::Power, ["1", "90", "0"], "1000000"), "");
    }
}
