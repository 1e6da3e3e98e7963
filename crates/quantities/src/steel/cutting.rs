//! Cutting plans of a schedule: the fewest bars of each kind, then bought as late as can be.

use std::collections::BTreeMap;

use tankwright_cutting::plan::KEPT;
use tankwright_cutting::{Effort, InStages, StagePiece, solve_in_stages};

use super::{BarKind, Cutting, Mark, Pattern};
use crate::stage::Stage;

/// Counted steps of each search, never a clock: the same plan on every machine.
const STEPS: u64 = 3_000_000;

/// A plan for each grade and diameter of the marks, in order.
///
/// A kind that cannot be cut from the stock is left out; the balance `bars` then does not close. `stock_mm` and
/// `kerf_mm` in whole millimetres.
#[must_use]
pub(super) fn plans(marks: &[Mark], stock_mm: i64, kerf_mm: i64) -> Vec<Cutting> {
    let mut kinds: BTreeMap<&BarKind, BTreeMap<(Stage, i64), u64>> = BTreeMap::new();
    for mark in marks {
        let pieces = kinds.entry(&mark.bar).or_default();
        *pieces.entry((mark.stage, mark.length_mm)).or_insert(0) += mark.count;
    }
    kinds.into_iter().filter_map(|(bar, pieces)| plan(bar, &pieces, stock_mm, kerf_mm)).collect()
}

fn plan(bar: &BarKind, pieces: &BTreeMap<(Stage, i64), u64>, stock_mm: i64, kerf_mm: i64) -> Option<Cutting> {
    let place = |stage: Stage| Stage::ALL.iter().position(|s| *s == stage).unwrap_or(0);
    let pieces = pieces.iter();
    let pieces =
        pieces.map(|((s, length), count)| StagePiece { length: *length, count: *count, stage: place(*s) });
    let list = InStages { pieces: pieces.collect(), stock: stock_mm, kerf: kerf_mm };
    let answer = solve_in_stages(&list, Effort::steps(STEPS)).ok()?;
    let stage = |n: usize| Stage::ALL.get(n).copied();
    let mut patterns = Vec::with_capacity(answer.bars.len());
    let mut kept: BTreeMap<i64, u64> = BTreeMap::new();
    for cut in &answer.bars {
        let mut of_bar = Vec::new();
        for (length, needs, n) in &cut.pieces {
            for _ in 0..*n {
                of_bar.push((*length, stage(*needs)?));
            }
        }
        let used: i64 = of_bar.iter().map(|(mm, _)| mm + kerf_mm).sum();
        let offcut_mm = (stock_mm - used).max(0);
        if offcut_mm >= KEPT {
            *kept.entry(offcut_mm).or_insert(0) += cut.times;
        }
        patterns.push(Pattern { stage: stage(cut.stage())?, times: cut.times, pieces: of_bar, offcut_mm });
    }
    let mut bought = Vec::new();
    for (n, bars) in answer.bought.iter().enumerate().filter(|(_, bars)| **bars > 0) {
        bought.push((stage(n)?, *bars));
    }
    Some(Cutting {
        bar: bar.clone(),
        stock_mm,
        kerf_mm,
        bars: answer.total(),
        bound: answer.bound,
        latest: answer.latest,
        patterns,
        bought,
        kept: kept.into_iter().rev().collect(),
    })
}
