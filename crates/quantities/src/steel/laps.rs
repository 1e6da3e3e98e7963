//! A bar longer than it is sold is made of pieces that lap.

use tankwright_geometry::{Judge, Len};

use super::shapes::{Shape, one_bend};
use crate::rates::BarSize;

/// More pieces than this is a lap that takes up nearly the whole bar.
const MOST: i64 = 100;

/// The pieces of a bar, equal ones counted.
pub(super) struct Pieces {
    /// Shapes and how many of each.
    pub(super) of: Vec<(Shape, u64)>,
    /// How many altogether.
    pub(super) number: i64,
}

/// Cuts a bar into pieces no longer than `piece`, each lapping the next; nothing where it cannot be done.
///
/// All but one are whole bars where the legs allow it; else the last two are equal.
pub(super) fn spliced(
    shape: &Shape,
    size: &BarSize,
    piece: &Len,
    lap: &Len,
    judge: &Judge,
) -> Option<Pieces> {
    let sum = shape.sum(size);
    let number = (2..=MOST).find(|k| judge.cmp(&(&sum + &lap.times(k - 1)), &piece.times(*k)).is_le())?;
    let total = &sum + &lap.times(number - 1);
    let last = &total - &piece.times(number - 1);
    let equal = (&total - &piece.times(number - 2)).half();
    let straight = |n: i64| (n > 0).then(|| (Shape::Straight { a: piece.clone() }, n.unsigned_abs()));
    let least = Len::fixed(size.projection);
    // The straight part of a piece with a leg of this length at its end.
    let bent = |whole: &Len, leg: &Len| {
        let a = &(whole - leg) + &one_bend(size);
        judge.cmp(&a, &least).is_ge().then(|| Shape::Corner { a, b: leg.clone() })
    };
    let of: Vec<(Shape, u64)> = match shape {
        Shape::Straight { .. } => {
            straight(number - 1).into_iter().chain([(Shape::Straight { a: last }, 1)]).collect()
        }
        Shape::Corner { b, .. } => match bent(&last, b) {
            Some(corner) => straight(number - 1).into_iter().chain([(corner, 1)]).collect(),
            None => {
                let corner = bent(&equal, b)?;
                straight(number - 2)
                    .into_iter()
                    .chain([(Shape::Straight { a: equal }, 1), (corner, 1)])
                    .collect()
            }
        },
        Shape::Ends { a, c, .. } => {
            let corners = match (bent(piece, a), bent(&last, c)) {
                (Some(first), Some(last)) => [first, last],
                _ => [bent(&equal, a)?, bent(&equal, c)?],
            };
            let [first, last] = corners;
            let corners = if first == last { vec![(first, 2)] } else { vec![(first, 1), (last, 1)] };
            straight(number - 2).into_iter().chain(corners).collect()
        }
        Shape::Link { .. } | Shape::Chair { .. } => return None,
    };
    Some(Pieces { of, number })
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use tankwright_geometry::Ratio;

    use super::*;
    use crate::rates::builtin;

    fn mm(n: i64) -> Len {
        Len::fixed(n * 10)
    }

    /// Codes, lengths in mm and numbers of the pieces.
    fn cut(shape: &Shape, stock: i64, lap: i64) -> Option<Vec<(&'static str, Ratio, u64)>> {
        let (data, _) = builtin();
        let size = data.bars.sizes.get(&12)?;
        let judge = Judge::new(false, BTreeSet::new());
        let pieces = spliced(shape, size, &mm(stock), &mm(lap), &judge)?;
        Some(pieces.of.iter().map(|(s, n)| (s.code(), s.sum(size).value() / Ratio::int(10), *n)).collect())
    }

    #[test]
    fn whole_bars_and_the_rest() {
        let straight = |a| Shape::Straight { a: mm(a) };
        // 24.8 m of 6 m bars, laps of 0.48: 24.8 + 4 x 0.48 = 26.72 = 4 x 6 + 2.72.
        assert_eq!(
            cut(&straight(24_800), 6_000, 480),
            Some(vec![("00", Ratio::int(6_000), 4), ("00", Ratio::int(24_800 + 4 * 480 - 4 * 6_000), 1)])
        );
        assert_eq!(cut(&straight(24_800), 6_000, 6_000), None);
    }

    #[test]
    fn legs_stay_at_the_ends() {
        let ends = Shape::Ends { a: mm(300), b: mm(8_000), c: mm(300) };
        // 300 + 8000 + 300 - 24 - 24 = 8552, and one lap of 480 = 9032 = 6000 + 3032.
        assert_eq!(
            cut(&ends, 6_000, 480),
            Some(vec![("11", Ratio::int(6_000), 1), ("11", Ratio::int(3_032), 1)])
        );
        // 300 + 5700 + 300 - 48 = 6252, + 480 = 6732: the rest, 732, still holds a leg of 300 and 456 of straight.
        let ends = Shape::Ends { a: mm(300), b: mm(5_700), c: mm(300) };
        assert_eq!(
            cut(&ends, 6_000, 480),
            Some(vec![("11", Ratio::int(6_000), 1), ("11", Ratio::int(732), 1)])
        );
        // With legs of 650 the rest would not: two equal pieces.
        let ends = Shape::Ends { a: mm(650), b: mm(5_000), c: mm(650) };
        assert_eq!(
            cut(&ends, 6_000, 480),
            Some(vec![("11", Ratio::int((650 * 2 + 5_000 - 48 + 480) / 2), 2)])
        );
    }
}
