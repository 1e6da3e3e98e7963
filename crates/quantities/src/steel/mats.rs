//! Mats of bars in slabs: two directions, cut where they meet a hole.

use std::collections::BTreeMap;

use tankwright_geometry::{Axis, Len, Ratio};

use super::bars::Bars;
use super::bench::{Bench, Lines, Order, Want};
use super::shapes::Shape;
use crate::sheet::Times;
use crate::site::Span;
use crate::space::{tenths, whole};
use crate::stage::Stage;
use crate::words::Phrase;

/// Pieces of a cut bar shorter than this are left out, tenths of a millimetre.
const SHORTEST: i64 = 1_500;

/// A mat in one direction.
#[derive(Debug)]
pub struct Mat {
    /// Key of the bars.
    pub path: &'static str,
    /// Words: whole bars, bars cut at a hole (with the hole's number).
    pub words: [&'static str; 2],
    /// Which way the bars run.
    pub axis: Axis,
    /// Extent of the slab along the bars, covers included.
    pub run: Span,
    /// Extent of the slab across the bars, covers included.
    pub across: Span,
    /// Holes: extent along the bars, extent across them; in the order of the job file.
    pub holes: Vec<[Span; 2]>,
    /// How many layers.
    pub layers: usize,
    /// Place in the schedule.
    pub order: Order,
    /// When it is fixed.
    pub stage: Stage,
}

impl Mat {
    /// Adds the bars.
    pub fn reinforce(&self, bench: &mut Bench<'_>) {
        let Some(bars) = bench.bars(self.path) else { return };
        let c = bench.cover.clone();
        let run = [&self.run[0] + &c, &self.run[1] - &c];
        let first = &self.across[0] + &c;
        let over = &(&self.across[1] - &c) - &first;
        let Some((spaces, spacing)) = bench.spaces(&bars, &over) else { return };
        let whole = Shape::Straight { a: &run[1] - &run[0] };
        let member = Phrase::new(self.words[0]);
        let Times::Spaces { value: n, .. } = spaces else { return };
        let places = Places { first: first.clone(), over: over.clone(), n };
        if self.holes.is_empty() {
            let all: Vec<usize> = (0..usize::try_from(n).unwrap_or(0)).collect();
            let lines = || places.lines(self.axis, &all, &run);
            self.add(bench, &bars, member, whole, spaces, vec![spacing], &lines);
            return;
        }
        // Which bars are cut hangs on their number and places: both must stay.
        bench.site.judge.cmp(&over, &bars.spacing.times(n - 1));
        bench.site.judge.cmp(&over, &bars.spacing.times(n - 2));
        let hits: Vec<(usize, usize)> =
            self.holes.iter().map(|h| hit(bench, &h[1], &first, &over, n)).collect();
        for (holes, group) in groups(&hits, n) {
            if holes.is_empty() {
                let each = Times::Count(i64::try_from(group.len()).unwrap_or(i64::MAX));
                let lines = || places.lines(self.axis, &group, &run);
                self.add(bench, &bars, member.clone(), whole.clone(), each, vec![spacing.clone()], &lines);
            } else {
                self.cut(bench, &bars, &run, &holes, (&places, &group));
            }
        }
    }

    fn add(
        &self,
        bench: &mut Bench<'_>,
        bars: &Bars,
        member: Phrase,
        shape: Shape,
        each: Times,
        remarks: Vec<Phrase>,
        lines: &dyn Fn() -> Lines,
    ) {
        let (order, members, stage) = (self.order, self.layers, self.stage);
        bench.lay(Want { order, member, bars, shape, members, each, stage, remarks }, lines);
    }

    /// Bars that meet these holes: what is left of them before, between and after.
    fn cut(
        &self,
        bench: &mut Bench<'_>,
        bars: &Bars,
        run: &Span,
        holes: &[usize],
        (places, group): (&Places, &[usize]),
    ) {
        let count = i64::try_from(group.len()).unwrap_or(i64::MAX);
        let (site, c) = (bench.site, bench.cover.clone());
        let names = holes.iter().map(|h| (h + 1).to_string()).collect::<Vec<_>>().join(", ");
        let number = count.to_string();
        let says = || match (self.layers, count) {
            (1, 1) => Phrase::with("bars-cut-one", &[&number, &names]),
            (1, _) => Phrase::with("bars-cut", &[&number, &names]),
            _ => Phrase::with("bars-cut-layers", &[&number, &names]),
        };
        let member = Phrase::with(self.words[1], &[&names]);
        let mut at: Vec<&Span> =
            holes.iter().filter_map(|h| self.holes.get(*h)).map(|[along, _]| along).collect();
        at.sort_by_key(|s| s[0].value());
        let mut pieces = Vec::new();
        let mut from = run[0].clone();
        for hole in at {
            pieces.push([from.clone(), &hole[0] - &c]);
            from = site.judge.max(&from, &(&hole[1] + &c)).clone();
        }
        pieces.push([from, run[1].clone()]);
        let mut short = BTreeMap::new();
        for ends in pieces {
            let piece = &ends[1] - &ends[0];
            if site.judge.cmp(&piece, &Len::fixed(SHORTEST)).is_ge() {
                let shape = Shape::Straight { a: piece };
                let lines = || places.lines(self.axis, group, &ends);
                self.add(bench, bars, member.clone(), shape, Times::Count(count), vec![says()], &lines);
            } else if site.judge.positive(&piece) {
                *short.entry(piece.value()).or_insert(0) += count.unsigned_abs() * self.layers as u64;
            }
        }
        for (tenths, n) in short {
            let mm = crate::decimal::plain(tenths / Ratio::int(10));
            bench.remark(Phrase::with("bars-left-out", &[&member.to_string(), &n.to_string(), &mm]));
        }
    }
}

/// Where the bars of a mat lie across it.
struct Places {
    first: Len,
    over: Len,
    n: i64,
}

impl Places {
    /// Some of the bars, from end to end, on plan.
    fn lines(&self, axis: Axis, bars: &[usize], run: &Span) -> Lines {
        let [a, b] = [tenths(&run[0]), tenths(&run[1])];
        let spaces = (self.n - 1).max(1);
        let line = |bar: &usize| {
            let n = i64::try_from(*bar).unwrap_or(0);
            let at = whole(self.first.value() + self.over.value() * Ratio::of(n.into(), spaces.into()));
            if axis == Axis::Y { [[at, a], [at, b]] } else { [[a, at], [b, at]] }
        };
        bars.iter().map(line).collect()
    }
}

/// First and next-to-last of the bars whose line lies in a hole grown by the cover; equal where there is none.
fn hit(bench: &Bench<'_>, hole: &Span, first: &Len, over: &Len, n: i64) -> (usize, usize) {
    let judge = bench.site.judge;
    let line = |i: i64| first + &over.times(Ratio::of(i.into(), (n - 1).max(1).into()));
    let (low, high) = (&hole[0] - &bench.cover, &hole[1] + &bench.cover);
    let before = |edge: &Len, on: bool| {
        // Bars before the edge: on the edge counts as before where it is the near one.
        let spaces = (edge.value() - first.value()) / over.value() * Ratio::from(n - 1);
        let whole = spaces.floor();
        let reached = i64::try_from(whole.numer()).unwrap_or(0);
        let count = if whole == spaces && !on { reached } else { reached + 1 };
        let count = count.clamp(0, n);
        // The two bars beside the edge must stay on their sides of it.
        for i in [count - 1, count] {
            if (0..n).contains(&i) {
                judge.cmp(&line(i), edge);
            }
        }
        usize::try_from(count).unwrap_or(0)
    };
    let from = before(&low, true);
    (from, before(&high, false).max(from))
}

/// Bars by the holes they meet: whole ones first, then as the holes come.
fn groups(hits: &[(usize, usize)], n: i64) -> Vec<(Vec<usize>, Vec<usize>)> {
    let mut found: Vec<(Vec<usize>, Vec<usize>)> = Vec::new();
    for bar in 0..usize::try_from(n).unwrap_or(0) {
        let met: Vec<usize> = hits
            .iter()
            .enumerate()
            .filter(|(_, (from, to))| (*from..*to).contains(&bar))
            .map(|(i, _)| i)
            .collect();
        match found.iter_mut().find(|(holes, _)| *holes == met) {
            Some((_, bars)) => bars.push(bar),
            None => found.push((met, vec![bar])),
        }
    }
    found.sort();
    found
}
