//! Plans from a relaxed problem: rounding, and dives that fix one column after another.

use crate::bound;
use crate::fill::{Way, fill};
use crate::form::{ANY, Column, Cuts, Form, Kind};
use crate::meter::Meter;
use crate::relax::{Relaxed, State, relax};
use crate::simplex::ONE;
use crate::sub::Sub;

/// Takes a column as often as it still fits what is needed, at most `times`.
fn fix(sub: &mut Sub, column: &Column, times: i64, fixed: &mut Cuts) -> bool {
    let room = column.parts.iter().map(|&(k, n)| sub.kinds[k].need / n).min().unwrap_or(0);
    let bar = &mut sub.bars[column.bar];
    let times = times.min(room).min(bar.high);
    if times <= 0 {
        return false;
    }
    if bar.high != ANY {
        bar.high -= times;
    }
    bar.low = (bar.low - times).max(0);
    column.parts.iter().for_each(|&(k, n)| sub.kinds[k].need -= n * times);
    fixed.push((column.clone(), times));
    true
}

/// What is fixed, and the rest filled bar by bar, in the form's kinds.
fn finish(form: &Form, sub: &Sub, fixed: &Cuts, meter: &mut Meter<'_>) -> Option<Cuts> {
    let mut plan = sub.untie(fixed);
    let loose = sub.loose(form.kinds.len());
    let kinds: Vec<Kind> = form.kinds.iter().zip(loose).map(|(k, need)| Kind { need, ..*k }).collect();
    let mut bars = form.bars.clone();
    for (bar, now) in bars.iter_mut().zip(&sub.bars) {
        bar.high = if bar.high == ANY { ANY } else { now.high };
    }
    plan.extend(fill(&kinds, &bars, Way::Exact, meter)?);
    Some(plan)
}

/// Rounds at several levels.
pub(crate) fn round(form: &Form, sub: &Sub, relaxed: &Relaxed, meter: &mut Meter<'_>) -> Vec<Cuts> {
    let mut plans = Vec::new();
    // Whole numbers already are a plan, even where they cut a piece too many: that is trimmed later.
    let near = |level: &i64| (level + ONE / 2) / ONE;
    if relaxed.levels.iter().all(|level| (level - near(level) * ONE).abs() < ONE / 1000) {
        let whole = relaxed.columns.iter().cloned().zip(relaxed.levels.iter().map(near)).collect();
        plans.push(sub.untie(&whole));
    }
    let mut order: Vec<usize> = (0..relaxed.levels.len()).collect();
    order.sort_by_key(|&c| (std::cmp::Reverse(relaxed.levels[c]), c));
    for percent in [60, 90, 75, 50, 35] {
        if meter.over() && !plans.is_empty() {
            break;
        }
        let (mut rest, mut fixed) = (sub.clone(), Cuts::new());
        for &c in &order {
            let times = (relaxed.levels[c] + ONE - ONE / 100 * percent) / ONE;
            fix(&mut rest, &relaxed.columns[c], times, &mut fixed);
        }
        plans.extend(finish(form, &rest, &fixed, meter));
    }
    plans
}

/// A dive; at the step `skip.0` the column in place `skip.1` is taken in place of the best one.
pub(crate) fn dive(
    form: &Form,
    sub: &Sub,
    relaxed: &Relaxed,
    best: i128,
    skip: (usize, usize),
    spare: &mut Vec<u32>,
    meter: &mut Meter<'_>,
) -> Option<Cuts> {
    let (mut rest, mut fixed) = (sub.clone(), Cuts::new());
    let (mut columns, mut levels) = (relaxed.columns.clone(), relaxed.levels.clone());
    for step in 0.. {
        for (column, level) in columns.iter().zip(&levels) {
            fix(&mut rest, column, (level + ONE / 1024) / ONE, &mut fixed);
        }
        if rest.kinds.iter().all(|k| k.need == 0) || meter.over() {
            break;
        }
        // The highest fraction, a full bar before others.
        let mut ranked: Vec<(i64, usize)> = Vec::new();
        for (c, (column, level)) in columns.iter().zip(&levels).enumerate() {
            if rest.allows(column) {
                let size: i64 = column.parts.iter().map(|&(k, n)| rest.kinds[k].size * n).sum();
                let full = i128::from(size) * i128::from(ONE) / 50 / i128::from(rest.bars[column.bar].room);
                ranked.push((level % ONE + i64::try_from(full).unwrap_or(0), c));
            }
        }
        ranked.sort_by_key(|&(rank, c)| (std::cmp::Reverse(rank), c));
        let place = if step == skip.0 { skip.1 } else { 0 };
        let Some(&(_, c)) = ranked.get(place).or(ranked.last()) else { break };
        fix(&mut rest, &columns[c].clone(), 1, &mut fixed);
        if rest.kinds.iter().all(|k| k.need == 0) {
            break;
        }
        let enough = best - form.cost(&fixed);
        let mut cuts = bound::Cuts::default();
        let next = relax((&rest, &[]), &columns, enough, true, &mut cuts, spare, meter);
        if next.state != State::Open {
            if next.state == State::Cut {
                return None;
            }
            break;
        }
        (columns, levels) = (next.columns, next.levels);
    }
    finish(form, &rest, &fixed, meter)
}
