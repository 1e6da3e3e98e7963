//! Plans bar by bar: the largest piece that is left, then the rest of the bar as full as can be.

use crate::form::{ANY, Bar, Column, Cuts, Kind};
use crate::meter::Meter;

/// How the rest of a bar is filled.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Way {
    /// Largest first.
    Greedy,
    /// The fullest bar there is with the largest piece.
    Exact,
}

/// The most words of reach for one bar; beyond, bars are filled largest first.
const WORDS: usize = 1 << 20;

/// More kinds than this are not filled out of time: the relaxed problem never has so many.
const MANY: usize = 2000;

/// Cuts all that is needed; kinds stand in order of stages. `None` where the work runs out first or limited bars do not suffice.
pub(crate) fn fill(kinds: &[Kind], bars: &[Bar], way: Way, meter: &mut Meter<'_>) -> Option<Cuts> {
    let mut need: Vec<i64> = kinds.iter().map(|k| k.need).collect();
    let mut left: Vec<i64> = bars.iter().map(|b| b.high).collect();
    let mut cuts = Cuts::new();
    let mut first = 0;
    loop {
        if way == Way::Exact && kinds.len() > MANY && meter.over() {
            return None;
        }
        while need.get(first).is_some_and(|n| *n <= 0) {
            first += 1;
        }
        if first >= need.len() {
            return Some(cuts);
        }
        let mut best: Option<(Column, i64)> = None;
        for (b, bar) in bars.iter().enumerate() {
            if left[b] <= 0 || bar.room < kinds[first].size || bar.stage > kinds[first].stage {
                continue;
            }
            let way = if meter.over() { Way::Greedy } else { way };
            let parts = one(kinds, &need, first, bar.room, way, meter);
            let size: i64 = parts.iter().map(|&(k, n)| kinds[k].size * n).sum();
            // Least price for what is held, then the fullest.
            let better = best.as_ref().is_none_or(|(other, held)| {
                let now = (i128::from(bar.price) * i128::from(*held), bar.room - size);
                let then = bars[other.bar];
                now < (i128::from(then.price) * i128::from(size), then.room - held)
            });
            if better {
                best = Some((Column { bar: b, parts }, size));
            }
        }
        let (column, _) = best?;
        let often = column.parts.iter().map(|&(k, n)| need[k] / n).min().unwrap_or(1);
        let times = often.min(left[column.bar]).max(1);
        column.parts.iter().for_each(|&(k, n)| need[k] -= n * times);
        if left[column.bar] != ANY {
            left[column.bar] -= times;
        }
        cuts.push((column, times));
    }
}

/// One bar with at least one piece of kind `first`.
fn one(
    kinds: &[Kind],
    need: &[i64],
    first: usize,
    room: i64,
    way: Way,
    meter: &mut Meter<'_>,
) -> Vec<(usize, i64)> {
    let mut parts = vec![(first, 1)];
    let rest = room - kinds[first].size;
    let words = usize::try_from(rest / 64 + 1).unwrap_or(usize::MAX);
    let live: Vec<usize> = (first..kinds.len()).filter(|&k| need[k] > 0 && kinds[k].size <= rest).collect();
    if way == Way::Exact && words.saturating_mul(live.len() + 1) <= WORDS {
        fullest(kinds, need, first, rest, &live, &mut parts, meter);
    } else {
        let mut rest = rest;
        meter.add(kinds.len());
        for k in first..kinds.len() {
            let have = if k == first { need[k] - 1 } else { need[k] };
            let n = have.min(rest / kinds[k].size);
            if n > 0 {
                rest -= n * kinds[k].size;
                add(&mut parts, k, n);
            }
        }
    }
    parts
}

fn add(parts: &mut Vec<(usize, i64)>, kind: usize, number: i64) {
    match parts.iter_mut().find(|(k, _)| *k == kind) {
        Some((_, n)) => *n += number,
        None => parts.push((kind, number)),
    }
}

/// Sums that can be reached from kinds t.. on, as bits; then back from the highest, longest pieces first.
fn fullest(
    kinds: &[Kind],
    need: &[i64],
    first: usize,
    rest: i64,
    live: &[usize],
    parts: &mut Vec<(usize, i64)>,
    meter: &mut Meter<'_>,
) {
    let size = |k: usize| usize::try_from(kinds[k].size).unwrap_or(usize::MAX);
    let room = usize::try_from(rest).unwrap_or(0);
    let have = |k: usize| if k == first { need[k] - 1 } else { need[k] }.min(rest / kinds[k].size);
    let words = room / 64 + 1;
    let mut levels = vec![0_u64; words * (live.len() + 1)];
    levels[words * live.len()] = 1;
    for t in (0..live.len()).rev() {
        let (head, tail) = levels.split_at_mut(words * (t + 1));
        let level = &mut head[words * t..];
        level.copy_from_slice(&tail[..words]);
        let (mut copies, mut step) = (have(live[t]), 1);
        while copies > 0 {
            let now = step.min(copies);
            shift_or(level, size(live[t]) * usize::try_from(now).unwrap_or(0));
            meter.add(words);
            (copies, step) = (copies - now, step * 2);
        }
    }
    let bit = |t: usize, at: usize| levels[words * t + at / 64] >> (at % 64) & 1 == 1;
    let Some(mut at) = (0..=room).rev().find(|&c| bit(0, c)) else { return };
    for (t, &k) in live.iter().enumerate() {
        // As many of the long ones as reach: the short ones are the easier to place later.
        let mut n = have(k);
        while n > 0
            && !(size(k) * usize::try_from(n).unwrap_or(0) <= at && {
                bit(t + 1, at - size(k) * usize::try_from(n).unwrap_or(0))
            })
        {
            n -= 1;
        }
        if n > 0 {
            at -= size(k) * usize::try_from(n).unwrap_or(0);
            add(parts, k, n);
        }
    }
}

/// bits |= bits << by
fn shift_or(bits: &mut [u64], by: usize) {
    let (whole, part) = (by / 64, by % 64);
    for i in (whole..bits.len()).rev() {
        let low = bits[i - whole] << part;
        let carry = if part > 0 && i > whole { bits[i - whole - 1] >> (64 - part) } else { 0 };
        bits[i] |= low | carry;
    }
}
