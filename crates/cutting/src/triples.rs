//! Cuts of the relaxed problem on three kinds: of b pieces together at most half of b bars, rounded down, hold two or
//! more (a bar that holds four counts twice). Every whole plan meets them; fractions often do not.

use std::collections::{BTreeMap, BTreeSet};

use crate::form::{Column, Form};
use crate::relax::Relaxed;
use crate::simplex::ONE;
use crate::sub::Sub;

/// Cuts added at a time.
const ADDED: usize = 30;

/// Three kinds of the form.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Triple {
    pub(crate) kinds: [usize; 3],
    /// Half of their pieces, rounded down.
    pub(crate) most: i64,
}

impl Triple {
    /// Pieces of the three kinds in a kind of a part of the search.
    pub(crate) fn of_kind(&self, sub: &Sub, kind: usize) -> i64 {
        sub.made_of(kind).iter().filter(|(own, _)| self.kinds.contains(own)).map(|(_, n)| n).sum()
    }

    /// What a column counts.
    pub(crate) fn of(&self, sub: &Sub, column: &Column) -> i64 {
        column.parts.iter().map(|&(k, n)| self.of_kind(sub, k) * n).sum::<i64>() / 2
    }
}

/// Cuts that a relaxed problem of the whole form does not meet, the worst first.
pub(crate) fn separate(form: &Form, relaxed: &Relaxed, known: &[Triple]) -> Vec<Triple> {
    let shown: Vec<(&Column, i64)> = relaxed.columns.iter().zip(relaxed.levels.iter().copied()).collect();
    let mut near: BTreeMap<usize, BTreeSet<usize>> = BTreeMap::new();
    let mut inside: BTreeMap<usize, BTreeMap<usize, i64>> = BTreeMap::new();
    for (c, (column, level)) in shown.iter().enumerate() {
        for &(a, n) in &column.parts {
            inside.entry(a).or_default().insert(c, n);
            // Whole bars break no cut by themselves, but may take part.
            if level.rem_euclid(ONE) != 0 {
                near.entry(a).or_default().extend(column.parts.iter().map(|p| p.0).filter(|b| *b != a));
            }
        }
    }
    let mut tried: BTreeSet<[usize; 3]> = known.iter().map(|t| t.kinds).collect();
    let mut found: Vec<(i64, Triple)> = Vec::new();
    for (&a, beside) in &near {
        for &b in beside.iter().filter(|b| **b > a) {
            let others = near.get(&b).into_iter().flatten().chain(beside);
            for &c in others.filter(|c| **c != a && **c != b) {
                let mut kinds = [a, b, c];
                kinds.sort_unstable();
                if !tried.insert(kinds) {
                    continue;
                }
                let most = kinds.iter().map(|&k| form.kinds[k].need).sum::<i64>() / 2;
                let mut held: BTreeMap<usize, i64> = BTreeMap::new();
                for (&column, n) in kinds.iter().filter_map(|k| inside.get(k)).flatten() {
                    *held.entry(column).or_default() += n;
                }
                let sum = held.iter().map(|(&c, n)| shown[c].1.saturating_mul(n / 2)).sum::<i64>();
                let over = sum - most.saturating_mul(ONE);
                if over > ONE / 20 {
                    found.push((over, Triple { kinds, most }));
                }
            }
        }
    }
    found.sort_by(|a, b| b.cmp(a));
    found.into_iter().take(ADDED).map(|f| f.1).collect()
}
