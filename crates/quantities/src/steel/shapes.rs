//! Shapes of BS 8666:2005 with their external dimensions and the length formula of each.

use tankwright_geometry::{Len, Ratio};

use crate::rates::BarSize;

/// A bent or straight bar, all dimensions external.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Shape {
    /// 00: straight.
    Straight {
        /// Length.
        a: Len,
    },
    /// 11: one leg bent.
    Corner {
        /// Long leg.
        a: Len,
        /// Bent leg.
        b: Len,
    },
    /// 21: a leg at either end.
    Ends {
        /// First leg.
        a: Len,
        /// Between the legs.
        b: Len,
        /// Last leg.
        c: Len,
    },
    /// 51: a closed link, its two ends (C = D) lapped round one bar.
    Link {
        /// One side.
        a: Len,
        /// The other side.
        b: Len,
        /// Each end.
        c: Len,
    },
    /// 98: a chair, top bar, two uprights and two feet.
    Chair {
        /// Top.
        a: Len,
        /// Upright.
        b: Len,
        /// First foot.
        c: Len,
        /// Last foot.
        d: Len,
    },
}

/// So many halves of the bend radius and so many diameters, which the formulas take off.
fn bends(size: &BarSize, half_radii: i128, diameters: i64) -> Len {
    let d = Len::fixed(i64::from(size.diameter) * 10 * diameters);
    &Len::fixed(size.radius).times(Ratio::of(half_radii, 2)) + &d
}

/// What one bend takes off two legs: 0.5 r + d.
pub(super) fn one_bend(size: &BarSize) -> Len {
    bends(size, 1, 1)
}

/// The least overall size round two bends, 2 (r + d): less cannot be bent.
pub(super) fn least_round(size: &BarSize) -> Len {
    bends(size, 4, 2)
}

impl Shape {
    /// Shape code of BS 8666:2005. Codes changed their meaning between editions.
    #[must_use]
    pub const fn code(&self) -> &'static str {
        match self {
            Self::Straight { .. } => "00",
            Self::Corner { .. } => "11",
            Self::Ends { .. } => "21",
            Self::Link { .. } => "51",
            Self::Chair { .. } => "98",
        }
    }

    /// Dimensions by their letters.
    #[must_use]
    pub fn dims(&self) -> Vec<(char, Len)> {
        let all: Vec<&Len> = match self {
            Self::Straight { a } => vec![a],
            Self::Corner { a, b } => vec![a, b],
            Self::Ends { a, b, c } => vec![a, b, c],
            Self::Link { a, b, c } => vec![a, b, c, c],
            Self::Chair { a, b, c, d } => vec![a, b, c, d],
        };
        ('A'..).zip(all).map(|(letter, len)| (letter, len.clone())).collect()
    }

    /// Length by the formula of the shape, before it is rounded up.
    #[must_use]
    pub fn sum(&self, size: &BarSize) -> Len {
        match self {
            Self::Straight { a } => a.clone(),
            // A + (B) - 0.5r - d
            Self::Corner { a, b } => &(a + b) - &bends(size, 1, 1),
            // A + B + (C) - r - 2d
            Self::Ends { a, b, c } => &(&(a + b) + c) - &bends(size, 2, 2),
            // 2(A + B + (C)) - 2.5r - 5d
            Self::Link { a, b, c } => &(&(a + b) + c).times(2) - &bends(size, 5, 5),
            // A + 2B + C + (D) - 2r - 4d
            Self::Chair { a, b, c, d } => &(&(&(a + &b.times(2)) + c) + d) - &bends(size, 4, 4),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rates::builtin;

    /// The sum in tenths of a millimetre.
    fn sum(shape: &Shape, d: u32) -> Option<Ratio> {
        let (stock, _) = builtin();
        stock.bars.sizes.get(&d).map(|size| shape.sum(size).value())
    }

    fn mm(n: i64) -> Len {
        Len::fixed(n * 10)
    }

    fn tenths(mm: i128) -> Option<Ratio> {
        Some(Ratio::int(mm * 10))
    }

    #[test]
    fn published_lengths() {
        // Notes on quantities 4.3, computed checks.
        let corner = |a, b| Shape::Corner { a: mm(a), b: mm(b) };
        assert_eq!(sum(&corner(1500, 300), 10), tenths(1500 + 300 - 10 - 10)); // 1780
        assert_eq!(sum(&corner(1000, 400), 12), tenths(1000 + 400 - 12 - 12)); // 1376
        assert_eq!(sum(&corner(2000, 600), 20), tenths(2000 + 600 - 35 - 20)); // 2545
        let ends = Shape::Ends { a: mm(300), b: mm(1500), c: mm(300) };
        assert_eq!(sum(&ends, 10), tenths(300 + 1500 + 300 - 20 - 20)); // 2060
        let link = Shape::Link { a: mm(140), b: mm(140), c: mm(115) };
        assert_eq!(sum(&link, 8), tenths(2 * (140 + 140 + 115) - 40 - 40)); // 710
        let chair = Shape::Chair { a: mm(300), b: mm(100), c: mm(200), d: mm(200) };
        assert_eq!(sum(&chair, 10), tenths(300 + 2 * 100 + 200 + 200 - 40 - 40)); // 820
    }

    #[test]
    fn dims_have_letters() {
        let link = Shape::Link { a: mm(1), b: mm(2), c: mm(3) };
        let letters: String = link.dims().iter().map(|(c, _)| *c).collect();
        assert_eq!((link.code(), letters.as_str()), ("51", "ABCD"));
    }
}
