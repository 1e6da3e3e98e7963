//! The grid of candidates: what changes what is built (structures), then depth, width and lengths, in this order.
//!
//! Neighbours differ in lengths only, so that whoever prices them can keep what stays.

use tankwright_geometry::Ratio;

/// What is built, and of what; lengths are tenths of a millimetre.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Structure {
    /// How many chambers.
    pub chambers: usize,
    /// Masonry unit of the walls.
    pub unit: String,
    /// Thickness of the walls.
    pub wall: i64,
    /// Thickness of partitions.
    pub partition: i64,
    /// An open pit?
    pub open: bool,
    /// Room round an open pit.
    pub working_space: i64,
    /// Thickness of the cover.
    pub cover: i64,
    /// With a span beam?
    pub beam: bool,
    /// The job file with all this in it.
    pub text: String,
}

/// The grid.
#[derive(Clone, Debug, Default)]
pub struct Grid {
    /// What is built.
    pub structures: Vec<Structure>,
    /// `tank.height`.
    pub depths: Vec<i64>,
    /// Widths.
    pub widths: Vec<i64>,
    /// Lengths of all chambers, by their number less one.
    pub lengths: [Vec<Vec<i64>>; 4],
}

/// One candidate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Candidate<'g> {
    /// Which structure.
    pub structure: usize,
    /// `tank.height`.
    pub depth: i64,
    /// Width.
    pub width: i64,
    /// Lengths of the chambers.
    pub lengths: &'g [i64],
}

impl Grid {
    fn of(&self, s: &Structure) -> &[Vec<i64>] {
        s.chambers.checked_sub(1).and_then(|i| self.lengths.get(i)).map_or(&[], Vec::as_slice)
    }

    /// Candidates of a structure.
    fn each(&self, s: &Structure) -> u64 {
        let count = |n: usize| u64::try_from(n).unwrap_or(u64::MAX);
        count(self.of(s).len())
            .saturating_mul(count(self.widths.len()))
            .saturating_mul(count(self.depths.len()))
    }

    /// How many candidates there are.
    #[must_use]
    pub fn count(&self) -> u64 {
        self.structures.iter().fold(0, |sum, s| sum.saturating_add(self.each(s)))
    }

    /// A candidate by its number, from 0.
    #[must_use]
    pub fn candidate(&self, number: u64) -> Option<Candidate<'_>> {
        let mut rest = number;
        let (structure, s) = self.structures.iter().enumerate().find(|(_, s)| {
            let each = self.each(s);
            let here = rest < each;
            rest -= if here { 0 } else { each };
            here
        })?;
        let mut digit = |len: usize| {
            let base = u64::try_from(len).ok()?;
            let at = rest.checked_rem(base)?;
            rest /= base;
            usize::try_from(at).ok()
        };
        let all = self.of(s);
        let lengths = all.get(digit(all.len())?)?;
        let width = *self.widths.get(digit(self.widths.len())?)?;
        let depth = *self.depths.get(digit(self.depths.len())?)?;
        Some(Candidate { structure, depth, width, lengths })
    }
}

/// Chambers are whole multiples of this, where they follow from shares or from the first: 10 mm.
const WHOLE: i64 = 100;
/// A clear length that a job file takes.
const LEAST: i64 = 1_000;

/// Chambers of these total lengths by shares: each to the nearest 10 mm, the last takes what is left.
#[must_use]
pub(crate) fn by_shares(totals: &[i64], shares: &[Ratio]) -> Vec<Vec<i64>> {
    let all: Ratio = shares.iter().copied().sum();
    let split = |total: &i64| {
        let own = |s: &Ratio| (Ratio::from(*total) * *s / all).round_half_away(Ratio::from(WHOLE));
        let front = shares.len().checked_sub(1).and_then(|n| shares.get(..n))?;
        let front = front.iter().map(|s| i64::try_from(own(s).numer()).ok()).collect::<Option<Vec<_>>>()?;
        closed(front, *total)
    };
    totals.iter().filter_map(split).collect()
}

/// Chambers of these total lengths and first lengths: the others are equal, to 10 mm, the last takes what is left.
#[must_use]
pub(crate) fn by_first(totals: &[i64], firsts: &[i64], chambers: usize) -> Vec<Vec<i64>> {
    if chambers == 1 {
        return totals.iter().filter_map(|t| closed(Vec::new(), *t)).collect();
    }
    let others = i64::try_from(chambers).unwrap_or(2) - 1;
    let split = |total: i64, first: i64| {
        let each = (total - first) / others / WHOLE * WHOLE;
        let mut front = vec![first];
        front.extend(std::iter::repeat_n(each, chambers - 2));
        closed(front, total)
    };
    totals.iter().flat_map(|t| firsts.iter().filter_map(move |f| split(*t, *f))).collect()
}

fn closed(mut front: Vec<i64>, total: i64) -> Option<Vec<i64>> {
    front.push(total - front.iter().sum::<i64>());
    front.iter().all(|l| *l >= LEAST).then_some(front)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn chambers_follow_shares_and_add_up() {
        let two = [Ratio::int(2), Ratio::ONE];
        assert_eq!(by_shares(&[30_000, 25_000, 2_000], &two), [vec![20_000, 10_000], vec![16_700, 8_300]]);
        assert_eq!(by_shares(&[30_000], &[Ratio::ONE]), [[30_000]]);
    }

    #[test]
    fn chambers_follow_the_first_and_the_rest_is_equal() {
        assert_eq!(by_first(&[30_000], &[20_000, 29_500], 2), [[20_000, 10_000]]);
        assert_eq!(by_first(&[30_050], &[10_000], 3), [[10_000, 10_000, 10_050]]);
        assert_eq!(by_first(&[30_000], &[10_000], 1), [[30_000]]);
    }

    #[test]
    fn every_number_is_another_candidate_and_lengths_change_first() {
        let s = |chambers| Structure {
            chambers,
            unit: String::new(),
            wall: 0,
            partition: 0,
            open: false,
            working_space: 0,
            cover: 0,
            beam: false,
            text: String::new(),
        };
        let grid = Grid {
            structures: vec![s(1), s(2)],
            depths: vec![1, 2],
            widths: vec![1, 2, 3],
            lengths: [vec![vec![5], vec![6]], vec![vec![3, 2]], Vec::new(), Vec::new()],
        };
        assert_eq!(grid.count(), 2 * 2 * 3 + 2 * 3);
        let all: Vec<_> = (0..grid.count()).filter_map(|n| grid.candidate(n)).collect();
        assert_eq!(all.len(), 18);
        assert!(all.windows(2).all(|w| w[0] != w[1]) && grid.candidate(18).is_none());
        assert_eq!(
            (all[0].lengths, all[1].lengths, all[2].width, all[12].structure),
            (&[5][..], &[6][..], 2, 1)
        );
    }
}
