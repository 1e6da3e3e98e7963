//! Lists too large for the exact search: a part of the plan at a time is solved anew, and its bars are saved.
//!
//! The bars with the most left over and some others at random make a small list of its own; where it needs fewer
//! bars, so does the whole.

use crate::form::{Column, Cuts, Form, Kind};
use crate::meter::Meter;
use crate::search;

/// Pieces in a part, at about.
const PIECES: i64 = 120;
/// The most, where little is left over of each bar.
const MOST: i64 = 300;
/// Steps of a part of so many pieces; of twice as many, four times as many.
const STEPS: u64 = 20_000_000;

/// Tries to save a bar of a plan, one stock in any number. `None`: so many parts in vain.
pub(crate) fn improve(
    form: &Form,
    plan: &Cuts,
    vain: usize,
    seed: &mut u64,
    meter: &mut Meter<'_>,
) -> Option<Cuts> {
    let bar = form.single()?;
    let size = |column: &Column| column.parts.iter().map(|&(k, n)| form.kinds[k].size * n).sum::<i64>();
    let mut emptiest: Vec<usize> = (0..plan.len()).collect();
    emptiest.sort_by_key(|&c| (size(&plan[c].0), c));
    for round in 0..vain {
        if meter.over() {
            return None;
        }
        let mut times: Vec<i64> = plan.iter().map(|c| c.1).collect();
        let mut part = Part { pieces: vec![0; form.kinds.len()], number: 0, bars: 0, left: 0 };
        let mut take = |c: usize, part: &mut Part| {
            if times[c] > 0 {
                times[c] -= 1;
                part.bars += 1;
                part.left += bar.room - size(&plan[c].0);
                for &(k, n) in &plan[c].0.parts {
                    part.pieces[k] += n;
                    part.number += n;
                }
            }
        };
        // As many of the emptiest as have a bar's room left over together, later rounds one more.
        let mut at = 0;
        let mut more = 1 + round / 10;
        while at < emptiest.len() && part.number < MOST && (part.left < bar.room || more > 0) {
            let c = emptiest[at];
            if part.left >= bar.room {
                more -= 1;
            }
            let before = part.bars;
            take(c, &mut part);
            if part.bars == before {
                at += 1;
            }
        }
        if part.left < bar.room {
            return None;
        }
        for _ in 0..4 * PIECES {
            if part.number >= PIECES {
                break;
            }
            *seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            let c = usize::try_from(*seed >> 33).unwrap_or(0) % plan.len();
            take(c, &mut part);
        }
        if let Some(found) = solve(form, &part, meter) {
            let mut better: Cuts = plan.iter().zip(times).map(|(c, n)| (c.0.clone(), n)).collect();
            better.retain(|c| c.1 > 0);
            better.extend(found);
            return Some(better);
        }
    }
    None
}

/// Some bars of a plan.
struct Part {
    pieces: Vec<i64>,
    number: i64,
    bars: i64,
    left: i64,
}

/// The part in fewer bars, if it is found.
fn solve(form: &Form, part: &Part, meter: &mut Meter<'_>) -> Option<Cuts> {
    let kinds: Vec<usize> = (0..part.pieces.len()).filter(|&k| part.pieces[k] > 0).collect();
    let small = kinds.iter().map(|&k| Kind { need: part.pieces[k], ..form.kinds[k] }).collect();
    let small = Form::of(small, form.bars.clone());
    let times = u64::try_from(part.number * part.number / (PIECES * PIECES)).unwrap_or(1).max(1);
    let mut own = meter.part(STEPS * times);
    let found = search::search(&small, Vec::new(), None, &mut own);
    meter.take(&own);
    let plan = found?.plan;
    let bars: i64 = plan.iter().map(|c| c.1).sum();
    let whole = |column: Column| Column {
        bar: column.bar,
        parts: column.parts.into_iter().map(|(k, n)| (kinds[k], n)).collect(),
    };
    (bars < part.bars).then(|| plan.into_iter().map(|(c, n)| (whole(c), n)).collect())
}
