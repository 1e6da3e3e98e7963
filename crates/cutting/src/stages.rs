//! Bars of one length bought stage by stage. Aims, in this order: the fewest bars altogether; of such plans one that
//! buys the fewest bars for the first stage; of those the fewest for the second; and so on.
//!
//! A bar is bought for its earliest piece; what is left of it waits for later pieces. One stage after another, the
//! list is solved with a stock for each stage up to here, a bit dearer for this one, and one for all that is later.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

use crate::bound::Cut;
use crate::check::check_in_stages;
use crate::form::{ANY, Bar, Column, Cuts, Form, Kind, gcd};
use crate::instance::{Instance, Piece, Stock};
use crate::meter::{Effort, Meter};
use crate::{Failure, search, solve};

/// Pieces of one length for one stage.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StagePiece {
    /// Length, whole units (mm).
    pub length: i64,
    /// How many.
    pub count: u64,
    /// The stage that needs them; the first is 0.
    pub stage: usize,
}

/// A list in stages, and the one length that is bought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InStages {
    /// What is to be cut.
    pub pieces: Vec<StagePiece>,
    /// Length of a bar.
    pub stock: i64,
    /// Width of a cut, as in [`Instance`].
    pub kerf: i64,
}

/// One way to cut a bar.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct StageBar {
    /// Length, stage and number of the pieces: longest first, of equal ones the earliest first.
    pub pieces: Vec<(i64, usize, u64)>,
    /// How many bars are cut this way.
    pub times: u64,
}

impl StageBar {
    /// The stage for which it is bought: that of its earliest piece.
    #[must_use]
    pub fn stage(&self) -> usize {
        self.pieces.iter().map(|p| p.1).min().unwrap_or(0)
    }
}

/// A plan in stages, checked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StageAnswer {
    /// The bars, in order of the stages that buy them, no two alike.
    pub bars: Vec<StageBar>,
    /// Bars bought for each stage, from the check.
    pub bought: Vec<u64>,
    /// No plan has fewer bars.
    pub bound: u64,
    /// Whether it is proved that no plan with as few bars buys fewer for the first stage that differs.
    pub latest: bool,
}

impl StageAnswer {
    /// Bars altogether.
    #[must_use]
    pub fn total(&self) -> u64 {
        self.bought.iter().sum()
    }

    /// Whether no plan has fewer bars.
    #[must_use]
    pub fn proved_least(&self) -> bool {
        self.total() == self.bound
    }
}

/// The most stages.
pub const MOST_STAGES: usize = 64;
/// Beyond so many bars a plan is put in stages as it is, and not searched for a later one.
const MOST_BARS: u64 = 100_000;

/// Bars that are cut alike: what stands in stages already, and pieces not yet given to one.
#[derive(Clone, Debug)]
struct Group {
    held: Vec<(i64, usize, u64)>,
    free: Vec<(i64, u64)>,
    times: u64,
}

/// Finds a plan. `effort` is that of the search for the fewest bars; `late` that of each of the two searches for
/// each stage but the last.
///
/// # Errors
/// As [`solve`]; more than [`MOST_STAGES`] stages are refused as too many stocks.
pub fn solve_in_stages(
    list: &InStages,
    effort: Effort<'_>,
    late: Effort<'_>,
) -> Result<StageAnswer, Failure> {
    if list.pieces.iter().any(|p| p.stage >= MOST_STAGES) {
        return Err(Failure::Refused(crate::Refused::Stocks));
    }
    let whole = solve(&upto(list, usize::MAX), effort)?;
    let bound = u64::try_from(whole.bound).unwrap_or(0);
    let mut stages: Vec<usize> = list.pieces.iter().map(|p| p.stage).collect();
    stages.sort_unstable();
    stages.dedup();
    let groups = whole.plan.patterns.iter();
    let groups = groups.map(|p| Group { held: Vec::new(), free: p.pieces.clone(), times: p.times }).collect();
    let divisor = list.pieces.iter().fold(0, |d, p| gcd(d, p.length + list.kerf)).max(1);
    let mut work = Work { list, divisor, stages, groups, known: Vec::new(), bought: Vec::new(), late };
    work.known.push((usize::MAX, whole.bound));
    let mut latest = whole.proved_least();
    for place in 0..work.stages.len() {
        if place + 1 < work.stages.len() {
            latest &= work.settle(place, whole.totals.bought)?;
        } else {
            // It buys what is left of a total that stands.
            work.give(place);
        }
    }
    let mut bars = work.groups.into_iter().map(Group::bar).collect::<Vec<_>>();
    bars.sort_by(|a, b| a.stage().cmp(&b.stage()).then_with(|| b.pieces.cmp(&a.pieces)));
    bars.dedup_by(|later, kept| {
        let same = later.pieces == kept.pieces;
        kept.times += if same { later.times } else { 0 };
        same
    });
    let bought = check_in_stages(list, &bars).map_err(|fault| Failure::Fault(Some(fault)))?;
    let answer = StageAnswer { bars, bought, bound, latest };
    if answer.total() <= whole.totals.bought { Ok(answer) } else { Err(Failure::Fault(None)) }
}

/// The pieces of all stages up to this one, as a plain list.
fn upto(list: &InStages, stage: usize) -> Instance {
    let pieces = list.pieces.iter().filter(|p| p.stage <= stage);
    Instance {
        pieces: pieces.map(|p| Piece { length: p.length, count: p.count }).collect(),
        stocks: vec![Stock { length: list.stock, price: 1, limit: None }],
        kerf: list.kerf,
    }
}

impl Group {
    fn bar(mut self) -> StageBar {
        self.held.sort_by(|a, b| b.0.cmp(&a.0).then(a.1.cmp(&b.1)));
        StageBar { pieces: self.held, times: self.times }
    }

    /// How much length of these pieces it could give from what is free.
    fn could(&self, need: &BTreeMap<i64, u64>) -> i128 {
        let one = |(l, n): &(i64, u64)| {
            let n = need.get(l).copied().unwrap_or(0).min(*n);
            i128::from(*l) * i128::from(n)
        };
        self.free.iter().map(one).sum()
    }

    /// Gives what it can to a stage. Bars beyond those that can all give the same stay as they are and come back.
    fn give(&mut self, stage: usize, need: &mut BTreeMap<i64, u64>) -> Option<Self> {
        let wanted = |l: i64, need: &BTreeMap<i64, u64>| need.get(&l).copied().unwrap_or(0);
        let often = self.free.iter().map(|&(l, n)| (wanted(l, need), n)).filter(|(w, n)| *w > 0 && *n > 0);
        let often = often.map(|(w, n)| (w / n).max(1)).min()?;
        let rest = (often < self.times).then(|| Self { times: self.times - often, ..self.clone() });
        self.times = self.times.min(often);
        for (l, n) in &mut self.free {
            let taken = wanted(*l, need).min(*n);
            if taken > 0 {
                *n -= taken;
                self.held.push((*l, stage, taken));
                need.entry(*l).and_modify(|w| *w = w.saturating_sub(taken.saturating_mul(self.times)));
            }
        }
        self.free.retain(|f| f.1 > 0);
        rest
    }
}

struct Work<'a> {
    list: &'a InStages,
    /// Of all lengths, each with one cut: the search sees them over it.
    divisor: i64,
    /// Stages that need pieces, in order.
    stages: Vec<usize>,
    groups: Vec<Group>,
    /// Stages up to this one need so many bars at least.
    known: Vec<(usize, i128)>,
    /// Bars bought for the stages so far.
    bought: Vec<u64>,
    late: Effort<'a>,
}

impl Work<'_> {
    /// Pieces of the stage are taken where bars are open, then where they are most of a bar. Bars opened.
    fn give(&mut self, place: usize) -> u64 {
        let stage = self.stages[place];
        let mut need: BTreeMap<i64, u64> = BTreeMap::new();
        for piece in self.list.pieces.iter().filter(|p| p.stage == stage) {
            *need.entry(piece.length).or_default() += piece.count;
        }
        let rank = |g: &Group, i: usize, need: &_| (!g.held.is_empty(), g.could(need), Reverse(i));
        let ranked = self.groups.iter().enumerate().map(|(i, g)| rank(g, i, &need));
        let mut ranked: BinaryHeap<_> = ranked.collect();
        let mut opened = 0;
        while let Some((open, length, Reverse(i))) = ranked.pop() {
            // What a group could give only falls.
            let now = self.groups[i].could(&need);
            if now < length {
                ranked.push((open, now, Reverse(i)));
            } else if now > 0 {
                let rest = self.groups[i].give(stage, &mut need);
                opened += if open { 0 } else { self.groups[i].times };
                if let Some(rest) = rest {
                    ranked.push(rank(&rest, self.groups.len(), &need));
                    self.groups.push(rest);
                }
            }
        }
        opened
    }

    /// Finds as few bars for a stage as it can, the total and the stages before left as they are. True where proved.
    fn settle(&mut self, place: usize, total: u64) -> Result<bool, Failure> {
        let earlier: u64 = self.bought.iter().sum();
        let stage = self.stages[place];
        let alone = solve(&upto(self.list, stage), self.late)?;
        self.known.push((stage, alone.bound));
        let least = alone.bound - i128::from(earlier);
        let opened = self.give(place);
        if i128::from(opened) <= least || total > MOST_BARS {
            self.bought.push(opened);
            return Ok(i128::from(opened) <= least);
        }
        let (form, known, start) = self.form(place, total);
        let mut meter = Meter::new(self.late);
        let found = search::search(&form, known, Some(start), &mut meter).ok_or(Failure::Fault(None))?;
        let cost = form.cost(&found.plan);
        self.read(&form, &found.plan, place);
        // Counted anew: where a number was not proved, it may have fallen meanwhile.
        let opens = |stage: usize| {
            let first = |g: &&Group| g.held.iter().map(|h| h.1).min() == Some(stage);
            self.groups.iter().filter(first).map(|g| g.times).sum()
        };
        self.bought = self.stages[..=place].iter().map(|&s| opens(s)).collect();
        Ok(cost <= found.bound)
    }

    /// A length with one cut, over the divisor: whole for a piece, rounded down for a bar, which is room enough.
    fn size(&self, length: i64) -> i64 {
        (length + self.list.kerf) / self.divisor
    }

    /// The list as the search sees it: stages up to this place, then all later ones together.
    fn form(&self, place: usize, total: u64) -> (Form, Vec<Cut>, Cuts) {
        let class = |stage: usize| self.stages[..=place].binary_search(&stage).unwrap_or(place + 1);
        let mut needs: BTreeMap<(usize, Reverse<i64>), u64> = BTreeMap::new();
        for p in &self.list.pieces {
            *needs.entry((class(p.stage), Reverse(p.length))).or_default() += p.count;
        }
        let whole = |n: u64| i64::try_from(n).unwrap_or(i64::MAX);
        let kinds: Vec<Kind> = needs
            .iter()
            .map(|(&(stage, length), &n)| Kind { size: self.size(length.0), need: whole(n), stage })
            .collect();
        // One more bar always costs more than any number of bars for this stage saves.
        let price = whole(total) + 1;
        let bar = |stage: usize| {
            let high = if stage < place { whole(self.bought[stage]) } else { ANY };
            let room = self.size(self.list.stock);
            Bar { room, price: price + i64::from(stage == place), low: 0, high, stage }
        };
        let bars: Vec<Bar> = (0..=place + 1).map(bar).filter(|b| b.high > 0).collect();
        let known = self.known.iter().map(|&(stage, worth)| {
            let upto = if stage == usize::MAX { usize::MAX } else { class(stage) };
            Cut { worth, most: bars.iter().map(|b| i128::from(b.stage <= upto)).collect() }
        });
        let known = known.collect();
        let kind = |stage: usize, length: i64| {
            kinds.iter().position(|k| k.stage == stage && k.size == self.size(length)).unwrap_or(0)
        };
        let start = self.groups.iter().map(|g| {
            let held = g.held.iter().map(|&(l, s, n)| (kind(class(s), l), whole(n)));
            let mut parts: Vec<_> =
                held.chain(g.free.iter().map(|&(l, n)| (kind(place + 1, l), whole(n)))).collect();
            parts.sort_unstable();
            let first = parts.iter().map(|p| kinds[p.0].stage).min().unwrap_or(place + 1);
            let bar = bars.iter().position(|b| b.stage == first).unwrap_or(0);
            (Column { bar, parts }, whole(g.times))
        });
        let start = start.collect();
        (Form::of(kinds, bars), known, start)
    }

    /// A plan of the search as groups.
    fn read(&mut self, form: &Form, plan: &Cuts, place: usize) {
        let group = |(column, times): &(Column, i64)| {
            let count = |n: i64| u64::try_from(n).unwrap_or(0);
            let mut group = Group { held: Vec::new(), free: Vec::new(), times: count(*times) };
            for &(k, n) in &column.parts {
                let kind = form.kinds[k];
                let length = kind.size * self.divisor - self.list.kerf;
                if kind.stage > place {
                    group.free.push((length, count(n)));
                } else {
                    group.held.push((length, self.stages[kind.stage], count(n)));
                }
            }
            group
        };
        self.groups = plan.iter().map(group).collect();
    }
}

#[cfg(test)]
#[path = "stages_tests.rs"]
mod tests;
