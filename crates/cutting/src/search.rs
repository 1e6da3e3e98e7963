//! Branch and price: the tree, its restarts, and the best plan so far.

use std::rc::Rc;

use crate::bound::{self, by_large, by_length};
use crate::branch::branch;
use crate::dive::{dive, round};
use crate::fill::{Way, fill};
use crate::form::{Column, Cuts, Form};
use crate::improve::improve;
use crate::meter::Meter;
use crate::relax::{State, relax};
use crate::sub::{Choice, Sub};
use crate::triples::{Triple, separate};

/// Nodes of the first trees; the last one has no such end.
const NODES: [usize; 3] = [200, 400, 800];
/// More kinds than this: the root takes long, and a plan is mended before.
const LARGE: usize = 200;
/// The tree that is the first with cuts on three kinds.
const CUT: usize = 1;
/// Rounds of them.
const ROUNDS: usize = 25;

/// What the search hands back: costs in units of price.
pub(crate) struct Found {
    pub(crate) plan: Cuts,
    pub(crate) bound: i128,
}

struct Node {
    choices: Rc<Chain>,
    columns: Rc<Vec<Column>>,
    cuts: bound::Cuts,
}

/// Choices from a node up to the root.
enum Chain {
    Root,
    Then(Choice, Rc<Chain>),
}

struct Search<'a, 'm> {
    form: &'a Form,
    best: i128,
    plan: Cuts,
    least: i128,
    spare: Vec<u32>,
    triples: Rc<Vec<Triple>>,
    meter: &'a mut Meter<'m>,
}

/// Solves a form. `None` where not even a first plan is found.
///
/// `known`: cuts that every plan is known to meet. `start`: a plan that is known.
pub(crate) fn search(
    form: &Form,
    known: Vec<bound::Cut>,
    start: Option<Cuts>,
    meter: &mut Meter<'_>,
) -> Option<Found> {
    let first = match start {
        Some(plan) => plan,
        None => fill(&form.kinds, &form.bars, Way::Greedy, meter)?,
    };
    let plan = form.trim(&first);
    let best = form.cost(&plan);
    let mut cuts = bound::Cuts::new(known);
    cuts.add(by_length(&form.kinds, &form.bars));
    let mut least = cuts.least_together(&form.bars, best, meter);
    if let Some(bar) = form.single() {
        least = least.max(by_large(&form.kinds, bar.room) * i128::from(bar.price));
    }
    let mut search = Search { form, best, plan, least, spare: Vec::new(), triples: Rc::default(), meter };
    if !search.done()
        && let Some(plan) = fill(&form.kinds, &form.bars, Way::Exact, search.meter)
    {
        search.offer(&plan);
    }
    if !search.done() {
        search.grow(&cuts);
    }
    Some(Found { plan: search.plan, bound: search.least.min(search.best) })
}

impl Search<'_, '_> {
    fn done(&self) -> bool {
        self.best <= self.least || self.meter.over()
    }

    /// Keeps a plan if it is cheaper and whole.
    fn offer(&mut self, cuts: &Cuts) {
        let plan = self.form.trim(cuts);
        let cost = self.form.cost(&plan);
        if cost < self.best && self.whole(&plan) {
            (self.best, self.plan) = (cost, plan);
        }
    }

    fn whole(&self, plan: &Cuts) -> bool {
        let mut need: Vec<i64> = self.form.kinds.iter().map(|k| k.need).collect();
        let mut left: Vec<i64> = self.form.bars.iter().map(|b| b.high).collect();
        let mut sound = true;
        for (column, times) in plan {
            let size: i64 = column.parts.iter().map(|&(k, n)| self.form.kinds[k].size * n).sum();
            let bar = self.form.bars[column.bar];
            sound &= size <= bar.room;
            sound &= column.parts.iter().all(|&(k, _)| self.form.kinds[k].stage >= bar.stage);
            column.parts.iter().for_each(|&(k, n)| need[k] -= n * times);
            left[column.bar] -= times;
        }
        sound && need.iter().all(|n| *n == 0) && left.iter().all(|n| *n >= 0)
    }

    /// Saves bars part by part, until so many parts were in vain.
    fn mend(&mut self, vain: usize) {
        let mut seed = 1;
        while !self.done()
            && let Some(plan) = improve(self.form, &self.plan, vain, &mut seed, self.meter)
        {
            let before = self.best;
            self.offer(&plan);
            if self.best == before {
                return;
            }
        }
    }

    /// The root, then trees with restarts.
    fn grow(&mut self, cuts: &bound::Cuts) {
        let sub = Sub::new(self.form);
        let mut cuts = cuts.clone();
        if self.form.kinds.len() > LARGE {
            self.mend(10);
        }
        if self.done() {
            return;
        }
        let start: Vec<Column> = self.plan.iter().map(|c| c.0.clone()).collect();
        // No plan at the root is worse than the bound alone can say: it is solved to its end.
        let root = relax((&sub, &[]), &start, self.best, false, &mut cuts, &mut self.spare, self.meter);
        self.least = self.least.max(root.least.min(self.best));
        if self.best <= self.least {
            return;
        }
        // Also where the work ran out: the columns so far may round to a better plan.
        if !root.levels.is_empty() {
            for plan in round(self.form, &sub, &root, self.meter) {
                self.offer(&plan);
            }
        }
        if root.state != State::Open {
            self.mend(40);
            return;
        }
        for skip in [(0, 0), (0, 1), (1, 1), (0, 2)] {
            if self.done() {
                return;
            }
            let plan = dive(self.form, &sub, &root, self.best, skip, &mut self.spare, self.meter);
            plan.iter().for_each(|p| self.offer(p));
        }
        let mut columns = Rc::new(root.columns);
        for (turn, nodes) in NODES.into_iter().chain([usize::MAX]).enumerate() {
            if self.done() {
                return;
            }
            if turn == CUT {
                columns = self.cut(&sub, columns, &mut cuts);
            }
            let top = Node { choices: Rc::new(Chain::Root), columns: columns.clone(), cuts: cuts.clone() };
            if self.tree(top, turn, nodes) {
                // Nothing cheaper is anywhere.
                self.least = self.best;
            }
        }
    }

    /// Cuts on three kinds, found at the root and kept in the trees from here on. The columns that are priced with them.
    fn cut(&mut self, sub: &Sub, columns: Rc<Vec<Column>>, cuts: &mut bound::Cuts) -> Rc<Vec<Column>> {
        let mut columns = columns;
        for _ in 0..ROUNDS {
            let triples = self.triples.clone();
            let (spare, meter) = (&mut self.spare, &mut *self.meter);
            let root = relax((sub, &triples), &columns, self.best, false, cuts, spare, meter);
            self.least = self.least.max(root.least.min(self.best));
            if root.state != State::Open {
                break;
            }
            for plan in round(self.form, sub, &root, self.meter) {
                self.offer(&plan);
            }
            let new = separate(self.form, &root, &triples);
            columns = Rc::new(root.columns);
            if new.is_empty() || self.done() {
                break;
            }
            self.triples = Rc::new(triples.iter().copied().chain(new).collect());
        }
        columns
    }

    /// Walks a tree. True where it was walked to its end without a gap.
    fn tree(&mut self, top: Node, turn: usize, nodes: usize) -> bool {
        let mut open = vec![top];
        let triples = self.triples.clone();
        let (mut seen, mut whole) = (0, true);
        while let Some(mut node) = open.pop() {
            if seen >= nodes || self.done() {
                return false;
            }
            seen += 1;
            let mut sub = Sub::new(self.form);
            decide(&mut sub, &node.choices);
            let early = self.form.bars.iter().filter(|b| b.price > 0).count() == 1;
            let mut relaxed;
            loop {
                let before = self.best;
                relaxed = relax(
                    (&sub, &triples),
                    &node.columns,
                    self.best,
                    early,
                    &mut node.cuts,
                    &mut self.spare,
                    self.meter,
                );
                if relaxed.state != State::Open {
                    break;
                }
                for plan in round(self.form, &sub, &relaxed, self.meter) {
                    self.offer(&plan);
                }
                if seen % 10 == 5 && !self.done() {
                    let skip = (seen / 10 % 3, 1);
                    let plan = dive(self.form, &sub, &relaxed, self.best, skip, &mut self.spare, self.meter);
                    plan.iter().for_each(|p| self.offer(p));
                }
                if self.best == before || self.done() {
                    break;
                }
            }
            match relaxed.state {
                State::Cut => continue,
                State::Lost => {
                    whole = false;
                    continue;
                }
                State::Open => {}
            }
            let Some((first, second)) = branch(&sub, &relaxed, turn) else {
                whole = false;
                continue;
            };
            let columns = Rc::new(relaxed.columns);
            let later = Node {
                choices: Rc::new(Chain::Then(second, node.choices.clone())),
                columns: columns.clone(),
                cuts: node.cuts.clone(),
            };
            open.push(later);
            let columns = match first {
                Choice::Tie(a, b) => {
                    let new = sub.kinds.len();
                    let with = |c: &Column| Sub::tied(c, a, b, new);
                    let tied: Vec<Column> = columns.iter().filter_map(with).collect();
                    Rc::new(columns.iter().cloned().chain(tied).collect())
                }
                _ => columns,
            };
            let choices = Rc::new(Chain::Then(first, node.choices.clone()));
            open.push(Node { choices, columns, cuts: node.cuts });
        }
        whole
    }
}

fn decide(sub: &mut Sub, chain: &Rc<Chain>) {
    let mut choices = Vec::new();
    let mut at = chain;
    while let Chain::Then(choice, above) = at.as_ref() {
        choices.push(*choice);
        at = above;
    }
    choices.into_iter().rev().for_each(|choice| sub.decide(choice));
}
