//! The mat of a round slab: bars both ways, each as long as the circle is there, cut where they meet a hole in the middle.
//!
//! Bars lie side by side over the circle less the concrete at its edge, at most their spacing apart, the outermost half
//! of that from its rim. A bar's length is that of the chord there: its share of the diameter hangs on the number of bars
//! alone, so that a workbook can follow the diameter while the number stays. Shares are rounded up to four places.

use tankwright_geometry::{Len, Ratio};

use super::bars::Bars;
use super::bench::{Bench, Order, Want};
use super::shapes::Shape;
use crate::sheet::Times;
use crate::stage::Stage;
use crate::words::Phrase;

/// Pieces of a cut bar shorter than this are left out, tenths of a millimetre.
const SHORTEST: i64 = 1_500;

/// Places of a chord's share of the diameter.
const PLACES: i128 = 10_000;

/// The bars of round slabs.
#[derive(Debug)]
pub struct Disc {
    /// Key of the mat, both ways alike.
    pub path: &'static str,
    /// Key of the bars beside the hole.
    pub trimmers: &'static str,
    /// Diameter of the slab, covers included.
    pub diameter: Len,
    /// A hole in the middle: along, across.
    pub hole: Option<[Len; 2]>,
    /// How many slabs.
    pub discs: Times,
    /// When it is fixed.
    pub stage: Stage,
}

impl Disc {
    /// Adds the bars.
    pub fn reinforce(&self, bench: &mut Bench<'_>) {
        let Some(bars) = bench.bars(self.path) else { return };
        let over = bench.inside(&self.diameter);
        let Some(n) = count(bench, &bars, &over) else { return };
        let apart = crate::decimal::rounded(over.value() / Ratio::int(10) / Ratio::from(n), 1);
        let apart = Phrase::with("bars-spacing", &[&apart.map_or_else(String::new, |d| d.to_string())]);
        for i in 0..(n + 1) / 2 {
            let chord = over.times(share(n.into(), i.into()));
            let from_middle = over.times(Ratio::of(i128::from(n - 1 - 2 * i), 2 * i128::from(n)));
            let pair = if 2 * i + 1 == n { 1 } else { 2 };
            let place = (i + 1).to_string();
            let Some([a, b]) = &self.hole else {
                let member = Phrase::with("bars-disc", &[&place]);
                self.add(bench, &bars, member, chord, 2 * pair, vec![apart.clone()]);
                continue;
            };
            for (words, along, across) in [
                (["bars-disc-along", "bars-disc-along-cut"], a, b),
                (["bars-disc-across", "bars-disc-across-cut"], b, a),
            ] {
                let edge = &across.half() + &bench.cover;
                if bench.site.judge.cmp(&from_middle, &edge).is_ge() {
                    let member = Phrase::with(words[0], &[&place]);
                    self.add(bench, &bars, member, chord.clone(), pair, vec![apart.clone()]);
                    continue;
                }
                let member = Phrase::with(words[1], &[&place]);
                let piece = &chord.half() - &(&along.half() + &bench.cover);
                self.cut(bench, &bars, member, piece, 2 * pair);
            }
        }
        self.beside(bench);
    }

    fn add(
        &self,
        bench: &mut Bench<'_>,
        bars: &Bars,
        member: Phrase,
        a: Len,
        members: usize,
        remarks: Vec<Phrase>,
    ) {
        let (shape, each) = (Shape::Straight { a }, self.discs.clone());
        bench.add(Want {
            order: Order::Cover,
            member,
            bars,
            shape,
            members,
            each,
            stage: self.stage,
            remarks,
        });
    }

    /// What is left of a bar on either side of the hole.
    fn cut(&self, bench: &mut Bench<'_>, bars: &Bars, member: Phrase, piece: Len, members: usize) {
        if bench.site.judge.cmp(&piece, &Len::fixed(SHORTEST)).is_ge() {
            return self.add(bench, bars, member, piece, members, Vec::new());
        }
        if bench.site.judge.positive(&piece) {
            let mm = bench.site.mm(&piece);
            bench.remark(Phrase::with("bars-left-out", &[&member.to_string(), &members.to_string(), &mm]));
        }
    }

    /// Bars beside each side of the hole, a lap longer at either end, never longer than the slab.
    fn beside(&self, bench: &mut Bench<'_>) {
        let Some(hole) = &self.hole else { return };
        let Some(bars) = bench.bars(self.trimmers) else {
            bench.remark(Phrase::new("bars-no-disc-trimmers"));
            return;
        };
        let Times::Input(_, discs) = self.discs else { return };
        // A factor of its own: how many slabs must stay.
        bench.site.judge.cmp(&bench.site.job.len("soak_pit.number"), &Len::fixed(discs));
        let (lap, slab) = (bench.lap(bars.kind.diameter).times(2), bench.inside(&self.diameter));
        for (side, word) in hole.iter().zip(["bars-disc-trimmer-along", "bars-disc-trimmer-across"]) {
            let a = bench.site.judge.min(&(side + &lap), &slab).clone();
            bench.add(Want {
                order: Order::Trimmers,
                member: Phrase::new(word),
                bars: &bars,
                shape: Shape::Straight { a },
                members: 2 * usize::try_from(discs).unwrap_or(0),
                each: bars.number.clone(),
                stage: self.stage,
                remarks: Vec::new(),
            });
        }
    }
}

/// How many bars lie over a length; nothing where there is no such length, which is refused.
fn count(bench: &Bench<'_>, bars: &Bars, over: &Len) -> Option<i64> {
    bench.spaces(bars, over)?;
    let n = -(-(over.value() / bars.spacing.value())).floor();
    let n = i64::try_from(n.numer()).ok()?.max(1);
    // Places and lengths hang on their number: it must stay.
    bench.site.judge.cmp(over, &bars.spacing.times(n));
    bench.site.judge.cmp(over, &bars.spacing.times(n - 1));
    Some(n)
}

/// The chord of bar `i` of `n` as a share of the diameter: the root of 1 - x2 at x = (2 i + 1 - n) / n, rounded up.
fn share(n: i128, i: i128) -> Ratio {
    let m = 2 * i + 1 - n;
    let square = (n * n - m * m) * PLACES * PLACES;
    let root = square.isqrt();
    let root = if root * root < square { root + 1 } else { root };
    Ratio::of((root + n - 1) / n, PLACES)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn chords_are_those_of_the_circle() {
        // One bar is the diameter; of two each lies a quarter from the rim: the root of 3/4.
        assert_eq!(share(1, 0), Ratio::ONE);
        assert_eq!([share(2, 0), share(2, 1)], [Ratio::of(8661, 10_000); 2]);
        // Of three the middle one is the diameter, the others lie 2/3 off: the root of 5/9 is 0.74535...
        assert_eq!([share(3, 0), share(3, 1)], [Ratio::of(7454, 10_000), Ratio::ONE]);
        // Never shorter than the chord, and at most one ten-thousandth longer.
        for n in 1..=60_i128 {
            for i in 0..n {
                let (share, m) = (share(n, i), 2 * i + 1 - n);
                let square = Ratio::of(n * n - m * m, n * n);
                let less = share - Ratio::of(1, 10_000);
                assert!(share * share >= square && less * less < square, "{n} {i}");
            }
        }
    }
}
