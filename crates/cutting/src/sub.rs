//! A part of the search: kinds that may be several pieces tied together, and kinds that may not share a bar.

use crate::form::{Bar, Column, Cuts, Form, Kind};

/// What a branch decides.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Choice {
    /// Some bar holds both (two, where they are the same kind).
    Tie(usize, usize),
    /// No bar does (at most one, where they are the same kind).
    Apart(usize, usize),
    /// At least so many bars of a stock.
    AtLeast(usize, i64),
    /// At most so many.
    AtMost(usize, i64),
}

/// What is left to solve.
#[derive(Clone, Debug)]
pub(crate) struct Sub {
    pub(crate) kinds: Vec<Kind>,
    pub(crate) bars: Vec<Bar>,
    /// Kinds each kind may not meet in a bar.
    pub(crate) apart: Vec<Vec<usize>>,
    /// Whether a bar may hold only one of this kind.
    pub(crate) lonely: Vec<bool>,
    /// Whether anything may not meet.
    pub(crate) apart_any: bool,
    /// The form's kinds that each kind is made of.
    made_of: Vec<Vec<(usize, i64)>>,
}

impl Sub {
    /// The whole of a form.
    pub(crate) fn new(form: &Form) -> Self {
        let n = form.kinds.len();
        Self {
            kinds: form.kinds.clone(),
            bars: form.bars.clone(),
            apart: vec![Vec::new(); n],
            lonely: vec![false; n],
            apart_any: false,
            made_of: (0..n).map(|k| vec![(k, 1)]).collect(),
        }
    }

    /// Takes a decision.
    pub(crate) fn decide(&mut self, choice: Choice) {
        match choice {
            Choice::Tie(a, b) => self.tie(a, b),
            Choice::Apart(a, b) if a == b => self.lonely[a] = true,
            Choice::Apart(a, b) => self.part(a, b),
            Choice::AtLeast(bar, n) => self.bars[bar].low = self.bars[bar].low.max(n),
            Choice::AtMost(bar, n) => self.bars[bar].high = self.bars[bar].high.min(n),
        }
    }

    fn part(&mut self, a: usize, b: usize) {
        self.apart_any = true;
        if !self.apart[a].contains(&b) {
            self.apart[a].push(b);
            self.apart[b].push(a);
        }
    }

    fn tie(&mut self, a: usize, b: usize) {
        let new = self.kinds.len();
        self.kinds[a].need -= 1;
        self.kinds[b].need -= 1;
        let stage = self.kinds[a].stage.min(self.kinds[b].stage);
        self.kinds.push(Kind { size: self.kinds[a].size + self.kinds[b].size, need: 1, stage });
        let mut made = self.made_of[a].clone();
        for &(kind, n) in &self.made_of[b] {
            match made.iter_mut().find(|m| m.0 == kind) {
                Some(m) => m.1 += n,
                None => made.push((kind, n)),
            }
        }
        self.made_of.push(made);
        self.apart.push(Vec::new());
        self.lonely.push(false);
        // What may meet neither may not meet both; one of a kind alone is alone in a tie too.
        let mut others = self.apart[a].clone();
        others.extend(self.apart[b].iter().copied());
        for k in [a, b] {
            if self.lonely[k] {
                others.push(k);
            }
        }
        for other in others {
            self.part(new, other);
        }
    }

    /// The form's kinds that a kind is made of.
    pub(crate) fn made_of(&self, kind: usize) -> &[(usize, i64)] {
        &self.made_of[kind]
    }

    /// Whether a bar may be cut so.
    pub(crate) fn allows(&self, column: &Column) -> bool {
        let Some(bar) = self.bars.get(column.bar) else { return false };
        let sound = |&(k, n): &(usize, i64)| {
            let kind = self.kinds[k];
            n <= kind.need && kind.stage >= bar.stage && (n <= 1 || !self.lonely[k])
        };
        let size: i64 = column.parts.iter().map(|&(k, n)| self.kinds[k].size * n).sum();
        let meet = |a: usize, b: usize| self.apart_any && self.apart[a].contains(&b);
        let parts = &column.parts;
        !parts.is_empty()
            && bar.high > 0
            && size <= bar.room
            && parts.iter().all(sound)
            && (0..parts.len()).all(|i| parts[..i].iter().all(|p| !meet(p.0, parts[i].0)))
    }

    /// The same bar after a tie: with the tie in place of its two pieces.
    pub(crate) fn tied(column: &Column, a: usize, b: usize, new: usize) -> Option<Column> {
        let mut parts = column.parts.clone();
        for kind in [a, b] {
            parts.iter_mut().find(|p| p.0 == kind && p.1 > 0)?.1 -= 1;
        }
        parts.retain(|p| p.1 > 0);
        parts.push((new, 1));
        Some(Column { bar: column.bar, parts })
    }

    /// Columns in the form's own kinds.
    pub(crate) fn untie(&self, cuts: &Cuts) -> Cuts {
        let one = |column: &Column| {
            let mut parts: Vec<(usize, i64)> = Vec::new();
            for &(kind, n) in &column.parts {
                for &(own, m) in &self.made_of[kind] {
                    match parts.iter_mut().find(|p| p.0 == own) {
                        Some(p) => p.1 += n * m,
                        None => parts.push((own, n * m)),
                    }
                }
            }
            parts.sort_unstable();
            Column { bar: column.bar, parts }
        };
        cuts.iter().map(|(column, times)| (one(column), *times)).collect()
    }

    /// Kinds of the form that these leave.
    pub(crate) fn loose(&self, kinds: usize) -> Vec<i64> {
        let mut need = vec![0; kinds];
        for (kind, made) in self.kinds.iter().zip(&self.made_of) {
            made.iter().for_each(|&(own, n)| need[own] += n * kind.need);
        }
        need
    }
}
