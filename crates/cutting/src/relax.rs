//! The relaxed problem: bars may be cut a fraction of a time. Columns are priced as they are needed.

use std::collections::BTreeSet;

use crate::bound::{Cut, Cuts};
use crate::form::{ANY, Column};
use crate::meter::Meter;
use crate::pricing::{Pricer, coarse, fitting};
use crate::simplex::{End, ONE, Simplex};
use crate::sub::Sub;
use crate::triples::Triple;

/// The most rows: the inverse takes eight bytes for each pair.
const ROWS: usize = 1200;
/// Rounds of pricing.
const ROUNDS: usize = 2000;

/// How a relaxed problem ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum State {
    /// The bound in integers is not below what is enough.
    Cut,
    /// It may hold a better plan.
    Open,
    /// Not known: too large, out of work, or numbers that cannot be trusted.
    Lost,
}

/// A relaxed problem, solved.
pub(crate) struct Relaxed {
    pub(crate) state: State,
    /// Columns that are cut, then those that were close.
    pub(crate) columns: Vec<Column>,
    /// How often the first columns are cut, in parts of [`ONE`].
    pub(crate) levels: Vec<i64>,
    /// No plan of this part costs less.
    pub(crate) least: i128,
}

/// Rows of the programme: kinds that are needed, then limits of bars.
struct Rows {
    of_kind: Vec<usize>,
    high: Vec<usize>,
    low: Vec<usize>,
    /// Cuts on three kinds: the first row.
    triples: usize,
    all: Vec<(i64, bool)>,
}

const NONE: usize = usize::MAX;

impl Rows {
    fn new(sub: &Sub, triples: &[Triple]) -> Self {
        let mut all = Vec::new();
        let mut row = |wanted: bool, right: i64, at_least: bool| {
            if wanted {
                all.push((right, at_least));
                all.len() - 1
            } else {
                NONE
            }
        };
        let of_kind = sub.kinds.iter().map(|k| row(k.need > 0, k.need, true)).collect();
        let high = sub.bars.iter().map(|b| row(b.high != ANY, b.high, false)).collect();
        let low = sub.bars.iter().map(|b| row(b.low > 0, b.low, true)).collect();
        let first = all.len();
        all.extend(triples.iter().map(|t| (t.most, false)));
        Self { of_kind, high, low, triples: first, all }
    }

    fn entries(&self, sub: &Sub, triples: &[Triple], column: &Column) -> Vec<(usize, i64)> {
        let mut entries: Vec<_> = column.parts.iter().map(|&(k, n)| (self.of_kind[k], n)).collect();
        entries.extend([self.high[column.bar], self.low[column.bar]].map(|r| (r, 1)));
        entries.retain(|e| e.0 != NONE);
        let counts = triples.iter().enumerate().map(|(i, t)| (self.triples + i, t.of(sub, column)));
        entries.extend(counts.filter(|e| e.1 > 0));
        entries
    }
}

/// Columns of one kind each, so that everything can be covered.
fn plain(sub: &Sub) -> Vec<Column> {
    let all = sub.bars.len() * sub.kinds.len() <= 4000;
    let mut columns = Vec::new();
    for (b, bar) in sub.bars.iter().enumerate() {
        if bar.high != ANY && !all {
            continue;
        }
        for (k, kind) in sub.kinds.iter().enumerate().filter(|(_, k)| k.stage >= bar.stage) {
            let one = if sub.lonely[k] { 1 } else { ANY };
            let n = (bar.room / kind.size).min(kind.need).min(one);
            if n > 0 {
                columns.push(Column { bar: b, parts: vec![(k, n)] });
            }
        }
    }
    columns
}

/// Solves the relaxed problem. It ends early where the bound reaches `enough`, or (`early`) where it cannot any more.
pub(crate) fn relax(
    (sub, triples): (&Sub, &[Triple]),
    start: &[Column],
    enough: i128,
    early: bool,
    cuts: &mut Cuts,
    spare: &mut Vec<u32>,
    meter: &mut Meter<'_>,
) -> Relaxed {
    let rows = Rows::new(sub, triples);
    let least = cuts.least_together(&sub.bars, enough, meter);
    let ended = |state, least| Relaxed { state, columns: Vec::new(), levels: Vec::new(), least };
    if least >= enough {
        return ended(State::Cut, least);
    }
    if rows.all.is_empty() {
        return ended(State::Open, least);
    }
    if rows.all.len() > ROWS || coarse(sub).is_none() {
        return ended(State::Lost, least);
    }
    let scale = sub.bars.iter().map(|b| b.price).max().unwrap_or(1).max(1);
    let mut run =
        Run { sub, triples, rows, scale, columns: Vec::new(), known: BTreeSet::new(), least, near: None };
    let penalty = scale.saturating_add(scale / 5).saturating_add(1);
    let mut lp = Simplex::new(&run.rows.all, penalty, scale);
    for column in start.iter().filter(|c| sub.allows(c)).cloned() {
        run.add(&mut lp, column);
    }
    let first = run.columns.len();
    plain(sub).into_iter().for_each(|c| run.add(&mut lp, c));
    lp.warm(first, meter);
    let state = run.rounds(&mut lp, enough, early, cuts, spare, meter);
    if state == State::Cut {
        return ended(state, run.least);
    }
    let (columns, levels) = run.close(&lp);
    Relaxed { state, columns, levels, least: run.least }
}

struct Run<'a> {
    sub: &'a Sub,
    triples: &'a [Triple],
    rows: Rows,
    scale: i64,
    columns: Vec<Column>,
    known: BTreeSet<Column>,
    least: i128,
    /// The worths of the best bound so far.
    near: Option<Vec<i64>>,
}

impl Run<'_> {
    fn add(&mut self, lp: &mut Simplex, column: Column) {
        if self.known.insert(column.clone()) {
            lp.add(
                &self.rows.entries(self.sub, self.triples, &column),
                self.sub.bars[column.bar].price,
                self.scale,
            );
            self.columns.push(column);
        }
    }

    fn rounds(
        &mut self,
        lp: &mut Simplex,
        enough: i128,
        early: bool,
        cuts: &mut Cuts,
        spare: &mut Vec<u32>,
        meter: &mut Meter<'_>,
    ) -> State {
        let one = i128::from(ONE);
        let single = self.sub.bars.iter().filter(|b| b.price > 0).count() == 1;
        let (mut dearer, mut best) = (0, 0);
        for _ in 0..ROUNDS {
            if lp.run(meter) == End::Lost {
                return State::Lost;
            }
            let value = lp.value(self.scale);
            if single && !lp.uncovered() {
                // The relaxed problem only falls: from here on the bound can reach no more.
                let price = i128::from(self.scale);
                if early && value <= (enough - price) * one {
                    return State::Open;
                }
                // But for the jitter of the right sides.
                let jitter = one * i128::try_from(self.rows.all.len() + 20).unwrap_or(0) / 4_000_000;
                if value <= self.least * one + jitter {
                    return State::Open;
                }
            }
            let exact = lp.worths(None);
            let smooth = self.near.as_deref().map(|near| lp.worths(Some(near)));
            let count = self.columns.len();
            for worths in smooth.into_iter().chain([exact]) {
                let bound = self.price(lp, &worths, cuts, spare, meter);
                if bound >= best {
                    best = bound;
                    self.near = Some(worths);
                    self.least = self.least.max(cuts.least_together(&self.sub.bars, enough, meter));
                    if self.least >= enough {
                        return State::Cut;
                    }
                }
                if self.columns.len() > count || meter.over() {
                    break;
                }
            }
            if self.columns.len() == count {
                if dearer < 4 && lp.uncovered() {
                    lp.dearer();
                    dearer += 1;
                    continue;
                }
                return if meter.over() { State::Lost } else { State::Open };
            }
        }
        State::Lost
    }

    /// Prices one set of worths; its cut is kept, its columns are added.
    fn price(
        &mut self,
        lp: &mut Simplex,
        worths: &[i64],
        cuts: &mut Cuts,
        spare: &mut Vec<u32>,
        meter: &mut Meter<'_>,
    ) -> i128 {
        let sub = self.sub;
        let of = |row: usize| worths.get(row).copied().unwrap_or(0);
        let kinds: Vec<i64> = self.rows.of_kind.iter().map(|&r| of(r)).collect();
        let (whole, halved) = fitting(sub, &kinds);
        let asked: Vec<u64> = sub
            .bars
            .iter()
            .enumerate()
            .map(|(b, bar)| {
                let price = (i128::from(bar.price) * i128::from(ONE) - 1) / i128::from(self.scale) + 1;
                let asked = price.max(0) + i128::from(of(self.rows.high[b]) - of(self.rows.low[b]));
                u64::try_from(((asked.max(1) - 1) >> halved) + 1).unwrap_or(u64::MAX)
            })
            .collect();
        let fines: Vec<u64> = (0..self.triples.len())
            .map(|i| u64::try_from(of(self.rows.triples + i) >> halved).unwrap_or(0))
            .collect();
        let mut pricer = Pricer::new(sub, &whole, std::mem::take(spare), meter);
        pricer.fine(self.triples, &fines);
        let priced = pricer.price(&asked, meter);
        *spare = pricer.spare();
        let worth: i128 =
            sub.kinds.iter().zip(&whole).map(|(k, w)| i128::from(k.need.max(0)) * i128::from(*w)).sum();
        let fined: i128 =
            self.triples.iter().zip(&fines).map(|(t, f)| i128::from(t.most) * i128::from(*f)).sum();
        // A cut of less than nothing says nothing.
        let worth = (worth - fined).max(0);
        let cut = Cut { worth, most: priced.most.iter().map(|m| i128::from(*m)).collect() };
        let mut alone = Cuts::default();
        alone.add(cut.clone());
        cuts.add(cut);
        priced.columns.into_iter().for_each(|c| self.add(lp, c));
        alone.least(&sub.bars)
    }

    fn close(&mut self, lp: &Simplex) -> (Vec<Column>, Vec<i64>) {
        let support = lp.levels();
        let idle = lp.idle();
        let keep = 4 * self.rows.all.len() + 50;
        let chosen: BTreeSet<usize> = support.iter().map(|s| s.0).collect();
        let is_idle: BTreeSet<usize> = idle.iter().copied().collect();
        let zero = (0..self.columns.len()).filter(|c| !chosen.contains(c) && !is_idle.contains(c));
        let near = idle.iter().rev().copied().take(keep);
        let order = support.iter().map(|s| s.0).chain(zero).chain(near);
        let columns = order.map(|c| self.columns[c].clone()).collect();
        (columns, support.into_iter().map(|s| s.1).collect())
    }
}
