//! Bars beside the sides of holes in slabs, and chairs that hold an upper layer up.

use tankwright_geometry::Len;

use super::bench::{Bench, Order, Want};
use super::shapes::Shape;
use crate::site::Span;
use crate::space::tenths;
use crate::stage::Stage;
use crate::words::Phrase;

/// Top and feet of a chair, tenths of a millimetre: common practice, no source.
const CHAIR: [i64; 2] = [3_000, 2_000];

/// Bars beside every side of the holes of a slab.
#[derive(Debug)]
pub struct Trimmers {
    /// Key of the bars.
    pub path: &'static str,
    /// Words: beside the sides along the slab, beside those across it, each with the hole's number.
    pub words: [&'static str; 2],
    /// Extents of the slab along and across, covers included.
    pub slab: [Span; 2],
    /// Extents of the holes along and across.
    pub holes: Vec<[Span; 2]>,
    /// How many layers.
    pub layers: usize,
    /// When they are fixed.
    pub stage: Stage,
}

impl Trimmers {
    /// Each a lap longer than its side at either end, as far as the slab goes.
    pub fn reinforce(&self, bench: &mut Bench<'_>) {
        let Some(bars) = bench.bars(self.path) else { return };
        let (judge, lap) = (bench.site.judge, bench.lap(bars.kind.diameter));
        for (i, hole) in self.holes.iter().enumerate() {
            for (axis, ((side, slab), words)) in hole.iter().zip(&self.slab).zip(self.words).enumerate() {
                let (low, high) = (&slab[0] + &bench.cover, &slab[1] - &bench.cover);
                let (from, to) = (&side[0] - &lap, &side[1] + &lap);
                let (from, to) = (judge.max(&from, &low).clone(), judge.min(&to, &high).clone());
                let a = &to - &from;
                // Beside the side by the concrete over bars, the outermost of them.
                let (cover, other) = (tenths(&bench.cover), &hole[1 - axis]);
                let lines = || {
                    let at = [tenths(&other[0]) - cover, tenths(&other[1]) + cover];
                    let ends = [tenths(&from), tenths(&to)];
                    let place = |run: i64, at: i64| if axis == 0 { [run, at] } else { [at, run] };
                    at.map(|at| ends.map(|run| place(run, at))).to_vec()
                };
                let want = Want {
                    order: Order::Trimmers,
                    member: Phrase::with(words, &[&(i + 1).to_string()]),
                    bars: &bars,
                    shape: Shape::Straight { a },
                    members: 2 * self.layers,
                    each: bars.number.clone(),
                    stage: self.stage,
                    remarks: Vec::new(),
                };
                bench.lay(want, lines);
            }
        }
    }
}

/// Chairs between the two layers of a slab of this thickness, over bars of these diameters in each layer.
pub fn chairs(
    bench: &mut Bench<'_>,
    path: &str,
    word: &'static str,
    thickness: &Len,
    mats: [&str; 2],
    stage: Stage,
) {
    let Some(bars) = bench.bars(path) else {
        bench.remark(Phrase::new("bars-no-chairs"));
        return;
    };
    let thick: i64 = mats.iter().filter_map(|m| bench.bars(m)).map(|b| i64::from(b.kind.diameter)).sum();
    let [top, foot] = CHAIR.map(Len::fixed);
    let b = &bench.inside(thickness) - &Len::fixed(2 * 10 * thick);
    bench.add(Want {
        order: Order::Chairs,
        member: Phrase::new(word),
        bars: &bars,
        shape: Shape::Chair { a: top, b, c: foot.clone(), d: foot },
        members: 1,
        each: bars.number.clone(),
        stage,
        remarks: Vec::new(),
    });
}
