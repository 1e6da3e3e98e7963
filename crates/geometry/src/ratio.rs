//! Exact fractions of two `i128`. An overflow gives [`Ratio::UNKNOWN`], which spreads and is never printed.

use std::cmp::Ordering;
use std::ops::{Add, Div, Mul, Neg, Sub};

/// A reduced fraction; the denominator is positive, or 0 for "unknown".
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Ratio {
    n: i128,
    d: i128,
}

/// By halving: no division at all. Both may be 0.
const fn gcd_64(mut a: u64, mut b: u64) -> u64 {
    if a == 0 || b == 0 {
        return a | b;
    }
    let twos = (a | b).trailing_zeros();
    a >>= a.trailing_zeros();
    while b != 0 {
        b >>= b.trailing_zeros();
        (a, b) = if a > b { (b, a - b) } else { (a, b - a) };
    }
    a << twos
}

const fn gcd(a: i128, b: i128) -> i128 {
    let (mut a, mut b) = (a.unsigned_abs(), b.unsigned_abs());
    // Division of 128 bits is slow: leave it as soon as both fit in 64.
    while b != 0 {
        if a <= u64::MAX as u128 && b <= u64::MAX as u128 {
            return gcd_64(a as u64, b as u64) as i128;
        }
        (a, b) = (b, a % b);
    }
    a as i128
}

/// `n / g` where `g` divides it and is positive. Division of 128 bits is slow: mostly there is nothing in common, or both
/// fit in 64.
const fn over(n: i128, g: i128) -> i128 {
    if g == 1 {
        return n;
    }
    if n == n as i64 as i128 && g == g as i64 as i128 { (n as i64 / g as i64) as i128 } else { n / g }
}

/// The whole number nearest to `n / d` (`d` positive), halves away from zero; `None` where it cannot be held.
#[must_use]
pub fn nearest(n: i128, d: i128) -> Option<i128> {
    // Division of 128 bits is slow: most figures fit in 64.
    if let (Ok(n), Ok(d)) = (i64::try_from(n), i64::try_from(d))
        && d > 0
    {
        let (whole, rest) = (n / d, n % d);
        let up = rest.unsigned_abs() >= d.unsigned_abs() - rest.unsigned_abs();
        return Some(i128::from(whole) + if up { i128::from(n.signum()) } else { 0 });
    }
    let d = u128::try_from(d).ok().filter(|d| *d > 0)?;
    let (whole, rest) = (n.unsigned_abs() / d, n.unsigned_abs() % d);
    let whole = whole.checked_add(u128::from(rest >= d - rest))?;
    i128::try_from(whole).ok().map(|w| n.signum() * w)
}

impl Ratio {
    /// Nothing.
    pub const ZERO: Self = Self { n: 0, d: 1 };
    /// One.
    pub const ONE: Self = Self { n: 1, d: 1 };
    /// What an overflow or a division by zero leaves behind.
    pub const UNKNOWN: Self = Self { n: 0, d: 0 };

    /// A whole number.
    #[must_use]
    pub const fn int(n: i128) -> Self {
        Self { n, d: 1 }
    }

    /// `n / d`, reduced; unknown when `d` is 0.
    #[must_use]
    pub const fn of(n: i128, d: i128) -> Self {
        if d == 0 || n == i128::MIN || d == i128::MIN {
            return Self::UNKNOWN;
        }
        if d == 1 {
            return Self { n, d };
        }
        let g = gcd(n, d);
        let sign = if d < 0 { -1 } else { 1 };
        Self { n: sign * over(n, g), d: sign * over(d, g) }
    }

    /// Numerator of the reduced fraction.
    #[must_use]
    pub const fn numer(self) -> i128 {
        self.n
    }

    /// Denominator of the reduced fraction, positive; 0 when unknown.
    #[must_use]
    pub const fn denom(self) -> i128 {
        self.d
    }

    /// False after an overflow or a division by zero.
    #[must_use]
    pub const fn is_known(self) -> bool {
        self.d != 0
    }

    /// True for exactly nothing.
    #[must_use]
    pub const fn is_zero(self) -> bool {
        self.n == 0 && self.d != 0
    }

    /// -1, 0 or 1.
    #[must_use]
    pub const fn signum(self) -> i128 {
        self.n.signum()
    }

    /// The largest whole number not above.
    #[must_use]
    pub fn floor(self) -> Self {
        if self.d == 0 { self } else { Self::int(self.n.div_euclid(self.d)) }
    }

    /// Nearest multiple of `step`, halves away from zero: the one rounding of the program.
    ///
    /// ```
    /// # use tankwright_geometry::Ratio;
    /// assert_eq!(Ratio::of(5, 2).round_half_away(Ratio::ONE), Ratio::int(3));
    /// assert_eq!(Ratio::of(-5, 2).round_half_away(Ratio::ONE), Ratio::int(-3));
    /// ```
    #[must_use]
    pub fn round_half_away(self, step: Self) -> Self {
        let q = self / step;
        if q.d == 0 {
            return Self::UNKNOWN;
        }
        if q.d == 1 {
            return self;
        }
        nearest(q.n, q.d).map_or(Self::UNKNOWN, |whole| Self::int(whole) * step)
    }

    /// Absolute value.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self { n: self.n.abs(), d: self.d }
    }
}

impl Default for Ratio {
    fn default() -> Self {
        Self::ZERO
    }
}

impl From<i64> for Ratio {
    fn from(n: i64) -> Self {
        Self::int(n.into())
    }
}

impl Neg for Ratio {
    type Output = Self;
    fn neg(self) -> Self {
        Self { n: -self.n, d: self.d }
    }
}

impl Add for Ratio {
    type Output = Self;
    fn add(self, o: Self) -> Self {
        if self.d == o.d {
            if self.d == 1 {
                return self.n.checked_add(o.n).map_or(Self::UNKNOWN, Self::int);
            }
            return self.n.checked_add(o.n).map_or(Self::UNKNOWN, |n| Self::of(n, self.d));
        }
        if self.d == 0 || o.d == 0 {
            return Self::UNKNOWN;
        }
        let g = gcd(self.d, o.d);
        let sum = || {
            let left = self.n.checked_mul(over(o.d, g))?;
            let right = o.n.checked_mul(over(self.d, g))?;
            Some(Self::of(left.checked_add(right)?, self.d.checked_mul(over(o.d, g))?))
        };
        sum().unwrap_or(Self::UNKNOWN)
    }
}

impl Sub for Ratio {
    type Output = Self;
    fn sub(self, o: Self) -> Self {
        self + -o
    }
}

impl Mul for Ratio {
    type Output = Self;
    fn mul(self, o: Self) -> Self {
        if self.d == 1 && o.d == 1 {
            // Two numbers of 64 bits: their product fits.
            if let (Ok(a), Ok(b)) = (i64::try_from(self.n), i64::try_from(o.n)) {
                return Self::int(i128::from(a) * i128::from(b));
            }
            return self.n.checked_mul(o.n).map_or(Self::UNKNOWN, Self::int);
        }
        if self.d == 0 || o.d == 0 {
            return Self::UNKNOWN;
        }
        let (g, h) = (gcd(self.n, o.d).max(1), gcd(o.n, self.d).max(1));
        let product = || {
            let n = over(self.n, g).checked_mul(over(o.n, h))?;
            let d = over(self.d, h).checked_mul(over(o.d, g))?;
            Some(Self { n, d: if n == 0 { 1 } else { d } })
        };
        product().unwrap_or(Self::UNKNOWN)
    }
}

impl Div for Ratio {
    type Output = Self;
    fn div(self, o: Self) -> Self {
        if o.n == 0 || o.d == 0 {
            return Self::UNKNOWN;
        }
        self * Self { n: o.n.signum() * o.d, d: o.n.abs() }
    }
}

impl PartialOrd for Ratio {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Ratio {
    /// Exact for any size: whole parts first, then the remainders turned upside down. Unknown equals all.
    fn cmp(&self, o: &Self) -> Ordering {
        if self.d == 0 || o.d == 0 {
            return self.d.cmp(&o.d);
        }
        if self.d == o.d {
            return self.n.cmp(&o.n);
        }
        let (mut a, mut b) = (*self, *o);
        loop {
            let (qa, qb) = (a.n.div_euclid(a.d), b.n.div_euclid(b.d));
            if qa != qb {
                return qa.cmp(&qb);
            }
            let (ra, rb) = (a.n.rem_euclid(a.d), b.n.rem_euclid(b.d));
            if ra == 0 || rb == 0 {
                return ra.cmp(&rb);
            }
            // 1/(ra/da) against 1/(rb/db): the order turns round.
            (a, b) = (Self { n: b.d, d: rb }, Self { n: a.d, d: ra });
        }
    }
}

impl std::iter::Sum for Ratio {
    fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
        iter.fold(Self::ZERO, |a, b| a + b)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn overflow_is_unknown_and_spreads() {
        let big = Ratio::int(i128::MAX);
        assert!(!(big * Ratio::int(2)).is_known());
        assert!(!(big + Ratio::ONE + Ratio::ZERO).is_known());
        assert!(!(Ratio::ONE / Ratio::ZERO).is_known());
    }

    #[test]
    fn order_is_exact_where_cross_products_overflow() {
        let (a, b) = (Ratio::of(i128::MAX - 1, i128::MAX - 2), Ratio::of(i128::MAX, i128::MAX - 1));
        assert_eq!(a.cmp(&b), Ordering::Greater);
        assert!(Ratio::of(-1, 3) < Ratio::of(-1, 4));
        assert_eq!(Ratio::of(2, 6).cmp(&Ratio::of(1, 3)), Ordering::Equal);
    }

    #[test]
    fn the_nearest_whole_number_in_any_size() {
        let big = i128::from(i64::MAX) * 4;
        for (n, d, whole) in [(7, 2, 4), (-7, 2, -4), (7, 3, 2), (8, 3, 3), (-8, 3, -3), (1, 2, 1), (6, 2, 3)]
        {
            assert_eq!(nearest(n, d), Some(whole), "{n} / {d}");
            assert_eq!(nearest(n * big, d * big), Some(whole), "{n} / {d}, large");
        }
        assert_eq!((nearest(0, 5), nearest(1, 0), nearest(3, -2)), (Some(0), None, None));
        assert_eq!(nearest(i128::MAX, 1), Some(i128::MAX));
    }

    #[test]
    fn common_factors_by_halving() {
        for (a, b, common) in [(0, 0, 0), (0, 6, 6), (6, 0, 6), (12, 18, 6), (17, 5, 1), (64, 48, 16)] {
            assert_eq!(gcd_64(a, b), common, "{a}, {b}");
        }
        assert_eq!(gcd_64(u64::MAX, u64::MAX - 1), 1);
        assert_eq!(gcd_64(u64::MAX, u64::MAX / 3), u64::MAX / 3);
    }

    #[test]
    fn common_factors_go_out_in_any_size() {
        let big = i128::from(i64::MAX) * 6;
        for (n, g) in [(12, 4), (-12, 4), (7, 1), (0, 5), (big, 3), (-big, 6), (big * 9, big), (i128::MIN, 2)]
        {
            assert_eq!(over(n, g), n / g, "{n} / {g}");
        }
        assert_eq!(over(i64::MIN.into(), 1), i64::MIN.into());
        assert_eq!(Ratio::of(big, -big * 2), Ratio::of(-1, 2));
        assert_eq!(Ratio::of(big, 5) * Ratio::of(10, big), Ratio::int(2));
    }

    #[test]
    fn halves_go_away_from_zero() {
        let step = Ratio::of(1, 100);
        assert_eq!(Ratio::of(12345, 1000).round_half_away(step), Ratio::of(1235, 100));
        assert_eq!(Ratio::of(-12345, 1000).round_half_away(step), Ratio::of(-1235, 100));
        assert_eq!(Ratio::of(12344, 1000).round_half_away(step), Ratio::of(1234, 100));
    }
    /// Pairs small, of 64 bits and a little over, always the same ones.
    fn pairs() -> Vec<[i128; 4]> {
        let mut seed = 20_261_130_u64;
        let mut next = |bits: u32| {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            i128::from(seed >> (64 - bits)) - (1_i128 << (bits - 1))
        };
        let mut pairs = Vec::new();
        for bits in [3, 4, 5, 8, 20, 31, 40, 62] {
            for _ in 0..200 {
                // Products of two such numbers fit, of the longest by a hair.
                let all = [next(bits), next(bits), next(bits), next(bits)];
                pairs.push(all.map(|n| if bits < 62 { n } else { n / 2 }));
            }
        }
        pairs.retain(|[_, d, _, f]| *d != 0 && *f != 0);
        pairs
    }

    #[test]
    fn operators_are_those_of_school() {
        assert!(pairs().len() > 1000);
        for [n, d, m, f] in pairs() {
            let (a, b) = (Ratio::of(n, d), Ratio::of(m, f));
            let of = |n: i128, d: i128| {
                // By Euclid, the plain way.
                let (mut x, mut y) = (n.abs(), d.abs());
                while y != 0 {
                    (x, y) = (y, x % y);
                }
                let sign = d.signum();
                if d == 0 { (0, 0) } else { (sign * n / x, d.abs() / x) }
            };
            let parts = |r: Ratio| (r.numer(), r.denom());
            assert_eq!(parts(a), of(n, d), "{n} / {d}");
            assert_eq!(parts(a + b), of(n * f + m * d, d * f), "{n}/{d} + {m}/{f}");
            assert_eq!([a, b, b].into_iter().sum::<Ratio>(), a + b + b);
            assert_eq!(parts(a - b), of(n * f - m * d, d * f), "{n}/{d} - {m}/{f}");
            assert_eq!(parts(a * b), of(n * m, d * f), "{n}/{d} x {m}/{f}");
            assert_eq!(parts(a / b), of(n * f, d * m), "{n}/{d} : {m}/{f}");
            assert_eq!(parts(-a), of(-n, d));
            assert_eq!(parts(a.abs()), of(n.abs(), d.abs()));
            let turned = d.signum() * f.signum();
            assert_eq!(a.cmp(&b), (n * f * turned).cmp(&(m * d * turned)), "{n}/{d} and {m}/{f}");
            assert_eq!(parts(a.floor()), (a.numer().div_euclid(a.denom()), 1));
            assert_eq!(i128::from(n == 0), i128::from(a.is_zero()));
            assert_eq!(a.signum(), n.signum() * d.signum());
            let step = b.abs();
            if !step.is_zero() {
                // A multiple of the step, at most half a step off, and farther from nothing where that is a tie.
                let to = a.round_half_away(step);
                let (off, half) = ((to - a).abs(), step / Ratio::int(2));
                assert!(
                    !to.is_known() || ((to / step).denom() == 1 && off <= half),
                    "{n}/{d} by {m}/{f}: {to:?}"
                );
                assert!(off != half || to.abs() > a.abs(), "{n}/{d} by {m}/{f}: {to:?}");
            }
        }
    }

    #[test]
    fn what_is_not_known_stays_so() {
        let (no, one) = (Ratio::UNKNOWN, Ratio::ONE);
        let third = Ratio::of(1, 3);
        for unknown in
            [no + one, one + no, no + third, third - no, no * one, third * no, no / one, one / no, no.floor()]
        {
            assert!(!unknown.is_known(), "{unknown:?}");
        }
        assert!(!one.round_half_away(Ratio::ZERO).is_known() && !no.round_half_away(one).is_known());
        assert!(!no.is_zero() && !Ratio::of(1, 0).is_known());
        assert!(!Ratio::of(i128::MIN, 3).is_known() && !Ratio::of(3, i128::MIN).is_known());
        assert_eq!(
            (no.cmp(&one), one.cmp(&no), no.cmp(&no)),
            (Ordering::Less, Ordering::Greater, Ordering::Equal)
        );
        let large = Ratio::int(1 << 100);
        assert_eq!(large + large, Ratio::int(1 << 101));
        assert_eq!(large * Ratio::int(8), Ratio::int(1 << 103));
        assert!(
            !(large * large).is_known()
                && !(Ratio::of(1, 1 << 100) + Ratio::of(1, 3_i128.pow(60))).is_known()
        );
        assert!(!(Ratio::of(1, 1 << 100) * Ratio::of(1, 3_i128.pow(60))).is_known());
        assert!(!(Ratio::of(i128::MAX, 2) + Ratio::of(i128::MAX, 2)).is_known());
    }
}
