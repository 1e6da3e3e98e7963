//! The bar that holds the most worth: exact, in whole numbers.
//!
//! A table tells the most that kinds t.. on can bring in a room, conflicts left aside. A search over the kinds,
//! pruned by the table, takes conflicts exactly; where it is cut short the table's figure still is a bound. A table
//! that would be too large is kept in steps of 2, 4, 8 ...: room and lengths rounded down, so that it still is one.

use crate::form::Column;
use crate::meter::Meter;
use crate::sub::Sub;
use crate::triples::Triple;

/// The most cells of a table: four bytes each.
const CELLS: usize = 24_000_000;
/// More than this are kept in steps, where lengths allow it: that is faster.
const WANTED: usize = 6_000_000;
/// Steps of one exact search.
const STEPS: usize = 100_000;
/// Columns handed back.
const ADDED: usize = 12;

/// What pricing finds.
pub(crate) struct Priced {
    /// The most one bar of each stock holds, or more.
    pub(crate) most: Vec<u64>,
    /// Bars worth more than was asked.
    pub(crate) columns: Vec<Column>,
}

/// Prices one set of worths.
pub(crate) struct Pricer<'a> {
    sub: &'a Sub,
    /// Kinds with worth, in order of stages, longest first.
    order: Vec<usize>,
    worth: Vec<u64>,
    width: usize,
    /// The table is in steps of two to this power.
    coarse: u32,
    table: Vec<u32>,
    /// How many kinds in hand forbid this one.
    barred: Vec<u32>,
    hand: Vec<(usize, i64)>,
    /// For each kind the fines it takes part in, with its pieces; for each fine what it costs and pieces in hand.
    fined: Vec<Vec<(usize, i64)>>,
    fines: Vec<(i64, i64)>,
    /// Worth less fines: it may be below zero on the way.
    best: i64,
    found: Option<Vec<(usize, i64)>>,
    steps: usize,
    limit: usize,
    cut_short: bool,
}

fn u(n: i64) -> usize {
    usize::try_from(n).unwrap_or(0)
}

impl<'a> Pricer<'a> {
    /// Sets up the table. `worth` is one figure per kind; the worth of a full bar fits 31 bits, see [`fitting`].
    pub(crate) fn new(sub: &'a Sub, worth: &[u64], spare: Vec<u32>, meter: &mut Meter<'_>) -> Self {
        let room = sub.bars.iter().map(|b| b.room).max().unwrap_or(0);
        let mut order: Vec<usize> =
            (0..sub.kinds.len()).filter(|&k| sub.kinds[k].need > 0 && worth[k] > 0).collect();
        order.sort_by_key(|&k| (sub.kinds[k].stage, std::cmp::Reverse(sub.kinds[k].size), k));
        let coarse = coarse(sub).unwrap_or(0);
        let width = (u(room) >> coarse) + 1;
        let mut table = spare;
        // Every level but the last is written before it is read.
        table.resize((width * (order.len() + 1)).max(table.len()), 0);
        table[width * order.len()..width * (order.len() + 1)].fill(0);
        let mut pricer = Self {
            sub,
            order,
            worth: worth.to_vec(),
            width,
            coarse,
            table,
            barred: vec![0; sub.kinds.len()],
            hand: Vec::new(),
            fined: Vec::new(),
            fines: Vec::new(),
            best: 0,
            found: None,
            steps: 0,
            limit: STEPS,
            cut_short: false,
        };
        pricer.tabulate(u(room), meter);
        pricer
    }

    /// What two pieces of three kinds in one bar cost.
    pub(crate) fn fine(&mut self, triples: &[Triple], fines: &[u64]) {
        let live = || triples.iter().zip(fines).filter(|f| *f.1 > 0);
        self.fines = live().map(|f| (i64::try_from(*f.1).unwrap_or(i64::MAX), 0)).collect();
        if self.fines.is_empty() {
            return;
        }
        self.fined = (0..self.sub.kinds.len())
            .map(|k| {
                let of = live().enumerate().map(|(i, (triple, _))| (i, triple.of_kind(self.sub, k)));
                of.filter(|f| f.1 > 0).collect()
            })
            .collect();
    }

    /// What more pieces of a kind are fined.
    fn more(&self, kind: usize, number: i64) -> i64 {
        let Some(fined) = self.fined.get(kind) else { return 0 };
        let one = |&(i, pieces): &(usize, i64)| {
            let (fine, held) = self.fines[i];
            let times = (held + pieces * number) / 2 - held / 2;
            fine * times
        };
        fined.iter().map(one).sum()
    }

    /// The table's memory, to be used again.
    pub(crate) fn spare(self) -> Vec<u32> {
        self.table
    }

    fn most(&self, kind: usize, room: usize) -> i64 {
        let size = u(self.sub.kinds[kind].size).max(1);
        let fit = i64::try_from(room / size).unwrap_or(0);
        let one = if self.sub.lonely[kind] { 1 } else { i64::MAX };
        self.sub.kinds[kind].need.min(fit).min(one)
    }

    fn tabulate(&mut self, room: usize, meter: &mut Meter<'_>) {
        let width = self.width;
        for t in (0..self.order.len()).rev() {
            let kind = self.order[t];
            let size = u(self.sub.kinds[kind].size) >> self.coarse;
            let mut copies = self.most(kind, room);
            let (head, tail) = self.table.split_at_mut(width * (t + 1));
            let level = &mut head[width * t..];
            let worth = u32::try_from(self.worth[kind]).unwrap_or(0);
            if u(copies) == (width - 1) / size.max(1) && copies > 2 {
                // As many as fit: no need to count them.
                raise_on(level, &tail[..width], size, worth);
                meter.add(width / 2);
                continue;
            }
            if copies == 0 {
                level.copy_from_slice(&tail[..width]);
            }
            let mut step = 1;
            while copies > 0 {
                let now = step.min(copies);
                let by = size * u(now);
                let gain = worth.saturating_mul(u32::try_from(now).unwrap_or(0));
                if step == 1 {
                    raise(level, &tail[..width], by, gain);
                } else {
                    raise_again(level, by, gain);
                }
                meter.add(width / 2);
                (copies, step) = (copies - now, step * 2);
            }
        }
    }

    fn upper(&self, t: usize, room: usize) -> u64 {
        self.cell(t, room).into()
    }

    fn cell(&self, t: usize, room: usize) -> u32 {
        self.table[self.width * t + (room >> self.coarse)]
    }

    /// The most of every stock, and columns worth more than `asked` of their stock.
    pub(crate) fn price(&mut self, asked: &[u64], meter: &mut Meter<'_>) -> Priced {
        let mut most = Vec::new();
        let mut columns: Vec<(u64, Column)> = Vec::new();
        for (b, bar) in self.sub.bars.iter().enumerate() {
            let room = u(bar.room);
            // Kinds of earlier stages do not go on this bar: the table begins behind them.
            let from = self.order.partition_point(|&k| self.sub.kinds[k].stage < bar.stage);
            let top = self.upper(from, room);
            if top <= asked[b] {
                most.push(top);
                continue;
            }
            // With conflicts, a figure just below what is asked bounds the bar as well as its own most.
            let near = self.sub.apart_any || self.coarse > 0 || !self.fines.is_empty();
            self.start(if near { asked[b] - (asked[b] >> 16) } else { 0 }, STEPS);
            self.dig(from, room, 0);
            meter.add(self.steps * 4);
            let best = u64::try_from(self.best).unwrap_or(0);
            most.push(if self.cut_short { top } else { best });
            if let Some(parts) = self.found.take().filter(|_| best > asked[b]) {
                columns.push((best, column(b, parts)));
            }
            self.variety(b, (from, room), asked[b], &mut columns, meter);
        }
        columns.sort_by(|a, b| b.0.cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
        columns.dedup();
        columns.truncate(ADDED);
        Priced { most, columns: columns.into_iter().map(|c| c.1).collect() }
    }

    /// Good columns of other kinds: the best with kind t as the longest.
    fn variety(
        &mut self,
        b: usize,
        (from, room): (usize, usize),
        asked: u64,
        columns: &mut Vec<(u64, Column)>,
        meter: &mut Meter<'_>,
    ) {
        let mut leads: Vec<(u64, usize, i64)> = Vec::new();
        for (t, &kind) in self.order.iter().enumerate().skip(from) {
            let size = u(self.sub.kinds[kind].size);
            let value = |n: i64| {
                let left = room - size * u(n);
                self.worth[kind] * u64::try_from(n).unwrap_or(0) + self.upper(t + 1, left)
            };
            if let Some(n) = (1..=self.most(kind, room)).max_by_key(|&n| value(n)) {
                leads.push((value(n), t, n));
            }
        }
        leads.sort_by(|a, b| b.cmp(a));
        for (value, t, n) in leads.into_iter().take(ADDED) {
            if value <= asked {
                break;
            }
            self.start(asked, 300);
            let kind = self.order[t];
            let own = self.worth_of(kind) * n - self.more(kind, n);
            self.hold(kind, n);
            self.dig(t + 1, room - u(self.sub.kinds[kind].size) * u(n), own);
            self.drop_last();
            meter.add(self.steps * 4);
            if let Some(parts) = self.found.take() {
                columns.push((u64::try_from(self.best).unwrap_or(0), column(b, parts)));
            }
        }
    }

    fn worth_of(&self, kind: usize) -> i64 {
        i64::try_from(self.worth[kind]).unwrap_or(i64::MAX)
    }

    fn start(&mut self, best: u64, steps: usize) {
        self.best = i64::try_from(best).unwrap_or(i64::MAX);
        self.found = None;
        self.steps = 0;
        self.limit = steps;
        self.cut_short = false;
    }

    fn hold(&mut self, kind: usize, number: i64) {
        self.hand.push((kind, number));
        for &(i, pieces) in self.fined.get(kind).into_iter().flatten() {
            self.fines[i].1 += pieces * number;
        }
        for &other in &self.sub.apart[kind] {
            self.barred[other] += 1;
        }
    }

    fn drop_last(&mut self) {
        if let Some((kind, number)) = self.hand.pop() {
            for &(i, pieces) in self.fined.get(kind).into_iter().flatten() {
                self.fines[i].1 -= pieces * number;
            }
            for &other in &self.sub.apart[kind] {
                self.barred[other] -= 1;
            }
        }
    }

    /// Goes on with kinds t.. on; the best first, as the table says.
    fn dig(&mut self, mut t: usize, room: usize, value: i64) {
        loop {
            if value + i64::from(self.cell(t, room)) <= self.best {
                return;
            }
            let Some(&kind) = self.order.get(t) else {
                self.best = value;
                self.found = Some(self.hand.clone());
                return;
            };
            if self.barred[kind] > 0 || u(self.sub.kinds[kind].size) > room {
                t += 1;
            } else {
                break;
            }
        }
        self.steps += 1;
        if self.steps > self.limit {
            self.cut_short = true;
            return;
        }
        let kind = self.order[t];
        let size = u(self.sub.kinds[kind].size);
        let worth = self.worth_of(kind);
        let most = self.most(kind, room);
        let top = i64::from(self.cell(t, room));
        let of = |n: i64| worth * n;
        for exact in [true, false] {
            for n in (0..=most).rev() {
                let left = room - size * u(n);
                if (of(n) + i64::from(self.cell(t + 1, left)) == top) != exact {
                    continue;
                }
                let now = value + of(n) - if n > 0 { self.more(kind, n) } else { 0 };
                if n > 0 {
                    self.hold(kind, n);
                }
                self.dig(t + 1, left, now);
                if n > 0 {
                    self.drop_last();
                }
                if self.cut_short {
                    return;
                }
            }
        }
    }
}

fn column(bar: usize, mut parts: Vec<(usize, i64)>) -> Column {
    parts.sort_unstable();
    Column { bar, parts }
}

/// The greater of two figures below 2^31: compared with a sign, which processors do faster.
#[expect(clippy::cast_possible_wrap, clippy::cast_sign_loss, reason = "both are below 2^31, see fitting")]
const fn greater(a: u32, b: u32) -> u32 {
    let (a, b) = (a as i32, b as i32);
    (if a > b { a } else { b }) as u32
}

/// level[c] = max(from[c], from[c - by] + gain)
fn raise(level: &mut [u32], from: &[u32], by: usize, gain: u32) {
    let by = by.min(level.len());
    let (low, high) = level.split_at_mut(by);
    low.copy_from_slice(&from[..by]);
    let pairs = from[by..].iter().zip(from);
    high.iter_mut().zip(pairs).for_each(|(to, (without, before))| *to = greater(*without, before + gain));
}

/// level[c] = max(level[c], level[c - by] + gain), from the old figures: block by block from the top.
fn raise_again(level: &mut [u32], by: usize, gain: u32) {
    let mut end = level.len();
    while by > 0 && end > by {
        let start = by.max(end - by);
        let (low, high) = level.split_at_mut(start);
        let from = &low[start - by..end - by];
        high.iter_mut().zip(from).for_each(|(to, before)| *to = greater(*to, before + gain));
        end = start;
    }
}

/// level[c] = max(from[c], level[c - by] + gain): block by block from the bottom.
fn raise_on(level: &mut [u32], from: &[u32], by: usize, gain: u32) {
    let mut start = by.min(level.len());
    level[..start].copy_from_slice(&from[..start]);
    while by > 0 && start < level.len() {
        let (low, high) = level.split_at_mut(start);
        let pairs = low[start - by..].iter().zip(&from[start..]);
        high.iter_mut().zip(pairs).for_each(|(to, (before, without))| *to = greater(*without, before + gain));
        start += by;
    }
}

/// Steps of the table, as a power of two, so that it is not too large; `None` where they would be too coarse.
pub(crate) fn coarse(sub: &Sub) -> Option<u32> {
    let room = sub.bars.iter().map(|b| u(b.room)).max().unwrap_or(0);
    let over = |coarse: u32, cells| (sub.kinds.len() + 1).saturating_mul((room >> coarse) + 1) > cells;
    // Lengths rounded down lose an eighth at most: what a bar holds by the table still fits 31 bits.
    let short = sub.kinds.iter().filter(|k| k.need > 0).map(|k| k.size).min().unwrap_or(i64::MAX);
    let coarse = (0..24).take_while(|&c| c == 0 || (over(c - 1, WANTED) && short >> c >= 8)).last()?;
    (!over(coarse, CELLS)).then_some(coarse)
}

/// Worths halved until a full bar's fit 30 bits.
pub(crate) fn fitting(sub: &Sub, worths: &[i64]) -> (Vec<u64>, u32) {
    let room = sub.bars.iter().map(|b| i128::from(b.room)).max().unwrap_or(0);
    let mut halved = 0;
    loop {
        let over = sub.kinds.iter().zip(worths).any(|(k, w)| {
            // The worth of a bar is at most its room times the best worth per length.
            k.need > 0 && i128::from(*w >> halved) * room >= i128::from(k.size) << 30
        });
        if !over {
            return (worths.iter().map(|w| u64::try_from(*w >> halved).unwrap_or(0)).collect(), halved);
        }
        halved += 1;
    }
}
