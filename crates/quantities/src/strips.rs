//! A pit with a falling bottom, cut into strips along the tank and slices of depth.

use tankwright_geometry::{Amount, Len, Ratio, nearest};

use crate::ledger::{Book, Spec, count};
use crate::sheet::Times;
use crate::site::{Site, Span};
use crate::stage::Stage;
use crate::words::Phrase;

/// One strip: `times x run x depth`, to be multiplied by a breadth.
#[derive(Debug)]
pub struct Strip {
    /// Word key.
    pub note: &'static str,
    /// Multipliers.
    pub times: Vec<Times>,
    /// Along the tank.
    pub run: Len,
    /// Mean depth within the slice, or the height of a wedge.
    pub depth: Len,
}

/// A slice of depth below ground: from, and to (`None`: down to the bottom).
#[derive(Clone, Debug)]
pub struct Slice {
    /// Upper end.
    pub from: Len,
    /// Lower end.
    pub to: Option<Len>,
}

impl Slice {
    /// The whole depth.
    #[must_use]
    pub const fn whole() -> Self {
        Self { from: Len::ZERO, to: None }
    }
}

/// The slices of the profile's depth bands, with their names: `0-1.5`, `1.5-3.0`, `4.5-`; one nameless for no bands.
#[must_use]
pub fn bands(site: &Site<'_>) -> Vec<(String, Slice)> {
    let ends = &site.profile.bands.0;
    let metres = |tenths: i64| match nearest(tenths.into(), 1_000) {
        Some(n) if tenths > 0 => format!("{}.{}", n / 10, n % 10),
        _ => "0".to_owned(),
    };
    let mut from = 0;
    let mut slices = Vec::new();
    for end in ends {
        slices.push((format!("{}-{}", metres(from), metres(*end)), from, Some(*end)));
        from = *end;
    }
    let name = if ends.is_empty() { String::new() } else { format!("{}-", metres(from)) };
    slices.push((name, from, None));
    slices
        .into_iter()
        .map(|(name, from, to)| (name, Slice { from: Len::fixed(from), to: to.map(Len::fixed) }))
        .collect()
}

/// Strips of a pit over `x` (which reaches beyond the clear length on both sides), `below_floor` deeper than the floor.
#[must_use]
pub fn strips(site: &Site<'_>, x: &Span, below_floor: &Len, slice: &Slice) -> Vec<Strip> {
    let judge = site.judge;
    let outlet = below_floor - &site.floor.outlet;
    let inlet = &outlet + &site.floor.fall;
    let whole = &x[1] - &x[0];
    let strip = |note, run: Len, depth: Len| Strip { note, times: vec![count(1)], run, depth };
    if let Some(to) = slice.to.as_ref().filter(|to| judge.cmp(to, &outlet).is_le()) {
        return vec![strip("whole-plan", whole, to - &slice.from)];
    }
    // From here on the slice reaches below the highest part of the bottom.
    let level = |depth: &Len| {
        let low = slice.to.as_ref().map_or(depth, |to| judge.min(to, depth));
        let part = low - &slice.from;
        judge.positive(&part).then_some(part)
    };
    if site.floor.fall.is_zero() {
        return level(&outlet).map(|d| strip("whole-plan", whole, d)).into_iter().collect();
    }
    let mut strips = Vec::new();
    if let Some(depth) = level(&inlet) {
        strips.push(strip("strip-inlet", -&x[0], depth));
    }
    strips.extend(slope(site, &inlet, &outlet, slice));
    if let Some(depth) = level(&outlet) {
        strips.push(strip("strip-outlet", &x[1] - &site.length, depth));
    }
    strips
}

/// The part over the clear length, whose bottom falls from `outlet` to `inlet` depth.
fn slope(site: &Site<'_>, inlet: &Len, outlet: &Len, slice: &Slice) -> Vec<Strip> {
    let judge = site.judge;
    let mut strips = Vec::new();
    // What lies below a level: a wedge over the run where the bottom is deeper.
    let wedge = |level: &Len, sign: i128| {
        let deep = inlet - level;
        let run = Len::share(&site.length, &deep, &site.floor.fall);
        let note = if sign > 0 { "strip-wedge" } else { "strip-wedge-below" };
        let times = vec![count(i64::try_from(sign).unwrap_or(1)), Times::Fraction(Ratio::of(1, 2))];
        judge.positive(&deep).then_some(Strip { note, times, run, depth: deep })
    };
    if judge.cmp(&slice.from, outlet).is_le() {
        let mean = (inlet + outlet).half();
        let run = site.length.clone();
        strips.push(Strip { note: "strip-slope", times: vec![count(1)], run, depth: &mean - &slice.from });
    } else {
        strips.extend(wedge(&slice.from, 1));
    }
    if let Some(to) = &slice.to {
        strips.extend(wedge(to, -1));
    }
    strips
}

/// A ring of equal breadth round a plan, in a slice of depth: both long sides with their corners, then the two ends.
pub fn ring_lines(
    book: &mut Book<'_>,
    site: &Site<'_>,
    to: (&Spec, Stage),
    plan: &[Span; 2],
    breadth: &Len,
    below_floor: &Len,
    slice: &Slice,
) {
    let (spec, stage) = to;
    let [x, y] = plan;
    let grown = [&x[0] - breadth, &x[1] + breadth];
    for s in strips(site, &grown, below_floor, slice) {
        let mut times = s.times;
        if let Some(Times::Count(n)) = times.first_mut() {
            *n *= 2;
        }
        let note = Phrase::with("long-sides", &[crate::words::look_up(s.note)]);
        book.line(spec, stage, note, &times, &[&s.run, breadth, &s.depth]);
    }
    let run = &y[1] - &y[0];
    let outlet = below_floor - &site.floor.outlet;
    for (key, depth) in [("side-inlet", &outlet + &site.floor.fall), ("side-outlet", outlet)] {
        let low = slice.to.as_ref().map_or(&depth, |to| site.judge.min(to, &depth));
        book.line(spec, stage, Phrase::new(key), &[count(1)], &[&run, breadth, &(low - &slice.from)]);
    }
}

/// Second formula: the volume over one unit of breadth that lies below a depth, from the profile of the bottom.
#[must_use]
pub fn deeper(site: &Site<'_>, x: &Span, below_floor: &Len, depth: &Len) -> Amount {
    let outlet = below_floor - &site.floor.outlet;
    let inlet = &outlet + &site.floor.fall;
    let over = |d: &Len| if site.less(depth, d) { (d - depth).amount() } else { Amount::ZERO };
    let (length, [inlet, outlet]) = (site.length.amount(), [over(&inlet), over(&outlet)]);
    let middle = if site.floor.fall.is_zero() {
        &outlet * &length
    } else {
        // Integral of max(0, d - depth) over a straight line: difference of squares over twice the slope.
        (&inlet * &inlet - &outlet * &outlet) * &length / site.floor.fall.times(2).amount()
    };
    (-&x[0]).amount() * inlet + middle + (&x[1] - &site.length).amount() * outlet
}

/// Second formula for a slice: what is deeper than its upper end less what is deeper than its lower.
#[must_use]
pub fn sliced(slice: &Slice, deeper: impl Fn(&Len) -> Amount) -> Amount {
    let whole = deeper(&slice.from);
    slice.to.as_ref().map_or(whole.clone(), |to| whole - deeper(to))
}
