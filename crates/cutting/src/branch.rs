//! What to decide next.

use std::collections::BTreeMap;

use crate::relax::Relaxed;
use crate::simplex::ONE;
use crate::sub::{Choice, Sub};

/// Two choices that leave nothing out; the first is tried first. `None`: nothing is left to decide.
///
/// `turn` changes with every restart.
pub(crate) fn branch(sub: &Sub, relaxed: &Relaxed, turn: usize) -> Option<(Choice, Choice)> {
    let shown = || relaxed.columns.iter().zip(&relaxed.levels);
    let part = |level: i64| level.rem_euclid(ONE).min(ONE - level.rem_euclid(ONE)) > ONE / 2000;
    if sub.bars.iter().filter(|b| b.price > 0).count() > 1 {
        let mut counts = vec![0_i64; sub.bars.len()];
        shown().for_each(|(c, level)| counts[c.bar] = counts[c.bar].saturating_add(*level));
        let open = (0..counts.len()).filter(|&b| sub.bars[b].price > 0 && part(counts[b]));
        if let Some(b) = open.max_by_key(|&b| (sub.bars[b].price, b)) {
            let down = counts[b] / ONE;
            return Some((Choice::AtMost(b, down), Choice::AtLeast(b, down + 1)));
        }
    }
    let mut pairs: BTreeMap<(usize, usize), i64> = BTreeMap::new();
    let mut mixed: BTreeMap<(usize, usize), bool> = BTreeMap::new();
    for (column, &level) in shown() {
        for (i, &(a, n)) in column.parts.iter().enumerate() {
            let mut book = |b: usize| {
                let key = (a.min(b), a.max(b));
                let sum = pairs.entry(key).or_default();
                *sum = sum.saturating_add(level);
                *mixed.entry(key).or_default() |= part(level);
            };
            if n > 1 {
                book(a);
            }
            column.parts[i + 1..].iter().for_each(|&(b, _)| book(b));
        }
    }
    let room = sub.bars.iter().map(|b| b.room).max().unwrap_or(1);
    let weight = [15, 15, 40, 5][turn % 4];
    let score = |&((a, b), level): &((usize, usize), i64)| {
        let size = i128::from(sub.kinds[a].size + sub.kinds[b].size);
        i128::from(level.min(ONE)) + size * i128::from(ONE) * weight / 100 / i128::from(room)
    };
    let open = pairs.into_iter().filter(|(key, _)| mixed.get(key).copied().unwrap_or(false));
    let open = open.filter(|&((a, b), _)| a != b || sub.kinds[a].need > 1);
    let ((a, b), _) = open.max_by_key(|pair| (score(pair), std::cmp::Reverse(pair.0)))?;
    Some((Choice::Tie(a, b), Choice::Apart(a, b)))
}
