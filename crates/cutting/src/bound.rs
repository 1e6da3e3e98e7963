//! Lower bounds, all in integers.
//!
//! A cut says: worths of pieces are such that a bar of stock s holds at most `most[s]`; then the bars of a plan hold
//! at least the worth of all pieces. Any worths do, so that a bound never rests on how they were found.

use crate::form::{ANY, Bar, Kind};
use crate::meter::Meter;

/// No plan at all.
pub(crate) const NEVER: i128 = i128::MAX;
/// The most cuts kept.
const KEPT: usize = 48;
/// The most counts tried where several stocks have prices.
const TRIED: usize = 4_000;

/// Bars with counts n hold the pieces only if the sum of n x most is at least `worth`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Cut {
    /// Worth of all pieces.
    pub(crate) worth: i128,
    /// The most worth one bar of each stock can hold, or more.
    pub(crate) most: Vec<i128>,
}

/// The cuts of a node and those above it.
#[derive(Clone, Debug, Default)]
pub(crate) struct Cuts {
    all: Vec<Cut>,
    /// The first ones are never thrown out.
    pinned: usize,
}

impl Cuts {
    pub(crate) fn new(pinned: Vec<Cut>) -> Self {
        Self { pinned: pinned.len(), all: pinned }
    }

    pub(crate) fn add(&mut self, cut: Cut) {
        if self.all.contains(&cut) {
            return;
        }
        if self.all.len() >= KEPT + self.pinned {
            self.all.remove(self.pinned);
        }
        self.all.push(cut);
    }

    /// The least price of bars that meet every cut; never more than the least plan costs.
    pub(crate) fn least(&self, bars: &[Bar]) -> i128 {
        self.all.iter().map(|c| alone(c, bars)).max().unwrap_or_else(|| floor(bars))
    }

    /// As [`Self::least`], with all cuts at once where several stocks have prices.
    pub(crate) fn least_together(&self, bars: &[Bar], enough: i128, meter: &mut Meter<'_>) -> i128 {
        let simple = self.least(bars);
        let priced: Vec<usize> = (0..bars.len()).filter(|&b| bars[b].price > 0).collect();
        if simple >= enough || priced.len() < 2 || self.all.is_empty() {
            return simple;
        }
        let demands: Vec<i128> = self.all.iter().map(|c| c.worth - free(c, bars)).collect();
        let mut search = Counts::new(&self.all, bars, &priced, enough);
        search.try_all(0, 0, &demands);
        meter.add(search.tried * self.all.len() * 100);
        if search.tried > TRIED { simple } else { simple.max(search.best) }
    }
}

fn up(a: i128, b: i128) -> i128 {
    if a <= 0 { 0 } else { (a - 1) / b + 1 }
}

fn floor(bars: &[Bar]) -> i128 {
    bars.iter().map(|b| i128::from(b.price) * i128::from(b.low)).sum()
}

/// Worth that free bars can take.
fn free(cut: &Cut, bars: &[Bar]) -> i128 {
    let of = bars.iter().zip(&cut.most).filter(|(b, _)| b.price == 0);
    of.map(|(b, most)| most.saturating_mul(i128::from(b.high))).fold(0, i128::saturating_add)
}

/// The bound of one cut: the stock that holds the most worth for its price takes all.
fn alone(cut: &Cut, bars: &[Bar]) -> i128 {
    let demand = cut.worth.saturating_sub(free(cut, bars));
    if demand <= 0 {
        return floor(bars);
    }
    let priced = || bars.iter().zip(&cut.most).filter(|(b, most)| b.price > 0 && **most > 0);
    if priced().count() == 1 {
        let Some((bar, most)) = priced().next() else { return NEVER };
        let number = up(demand, *most).max(i128::from(bar.low));
        return if number > i128::from(bar.high) { NEVER } else { number * i128::from(bar.price) };
    }
    // demand <= sum n x most <= sum n x price x (the best most / price).
    let prices = priced().map(|(b, most)| demand.checked_mul(i128::from(b.price)).map(|d| up(d, *most)));
    let least = prices.flatten().min();
    least.unwrap_or(if priced().count() == 0 { NEVER } else { 0 }).max(floor(bars))
}

/// Tries counts of priced stocks.
struct Counts<'a> {
    cuts: &'a [Cut],
    bars: &'a [Bar],
    priced: &'a [usize],
    /// For each cut the places of the priced stocks that meet it, the most worth for its price first.
    order: Vec<Vec<usize>>,
    best: i128,
    tried: usize,
}

impl<'a> Counts<'a> {
    fn new(cuts: &'a [Cut], bars: &'a [Bar], priced: &'a [usize], best: i128) -> Self {
        let order = cuts.iter().map(|cut| {
            let mut order: Vec<usize> = (0..priced.len()).filter(|&i| cut.most[priced[i]] > 0).collect();
            let (most, price) =
                (|i: usize| cut.most[priced[i]], |i: usize| i128::from(bars[priced[i]].price));
            order.sort_by(|&a, &b| price(a).saturating_mul(most(b)).cmp(&price(b).saturating_mul(most(a))));
            order
        });
        Self { cuts, bars, priced, order: order.collect(), best, tried: 0 }
    }

    /// What stocks from place `at` on cost at least, to meet every cut: convex in what is left, rounded up once.
    /// `None`: beyond what is counted.
    fn rest(&self, at: usize, left: &[i128]) -> Option<i128> {
        let one = |((cut, order), left): ((&Cut, &Vec<usize>), &i128)| {
            let (mut left, mut cost) = (*left, 0_i128);
            for &i in order.iter().filter(|&&i| i >= at) {
                if left <= 0 {
                    return Some(cost);
                }
                let bar = self.bars[self.priced[i]];
                let (most, price) = (cut.most[self.priced[i]], i128::from(bar.price));
                let high = if bar.high == ANY { NEVER } else { i128::from(bar.high) };
                if left / most < high {
                    // A part of a bar, and what it costs rounded up.
                    return cost.checked_add(up(left.checked_mul(price)?, most));
                }
                left -= most.checked_mul(high)?;
                cost = cost.checked_add(price.checked_mul(high)?)?;
            }
            Some(if left > 0 { NEVER } else { cost })
        };
        let mut most = 0;
        for cost in self.cuts.iter().zip(&self.order).zip(left).map(one) {
            most = most.max(cost?);
        }
        Some(most)
    }

    /// The number of the stock at place `at` below which no count is cheaper than the best.
    fn begin(&self, at: usize, cost: i128, left: &[i128]) -> i128 {
        let b = self.priced[at];
        let price = i128::from(self.bars[b].price);
        let mut begin = i128::from(self.bars[b].low);
        for ((cut, order), left) in self.cuts.iter().zip(&self.order).zip(left) {
            let Some(&then) = order.iter().find(|&&i| i > at) else {
                if *left > 0 && cut.most[b] > 0 {
                    begin = begin.max(up(*left, cut.most[b]));
                }
                continue;
            };
            let (most, other) = (cut.most[self.priced[then]], i128::from(self.bars[self.priced[then]].price));
            // (cost + price n) most + (left - n x own) other < best x most, for n.
            let terms = || {
                let gain = cut.most[b].checked_mul(other)?.checked_sub(price.checked_mul(most)?)?;
                let gap = left.checked_mul(other)?.checked_sub((self.best - 1 - cost).checked_mul(most)?)?;
                (gain > 0).then(|| up(gap, gain))
            };
            begin = begin.max(terms().unwrap_or(0));
        }
        begin
    }

    fn try_all(&mut self, at: usize, cost: i128, left: &[i128]) {
        let Some(&b) = self.priced.get(at) else { return };
        let bar = self.bars[b];
        let price = i128::from(bar.price);
        // As many of this stock as meet every cut alone.
        let mut most = i128::from(bar.low);
        for (cut, left) in self.cuts.iter().zip(left) {
            let alone = match cut.most[b] {
                0 if *left > 0 => NEVER,
                0 => 0,
                m => up(*left, m),
            };
            most = most.max(alone);
        }
        self.tried += 1;
        if at + 1 == self.priced.len() {
            if most <= i128::from(bar.high) {
                self.best = self.best.min(cost.saturating_add(price.saturating_mul(most)));
            }
            return;
        }
        let most = most.min(if bar.high == ANY { NEVER } else { i128::from(bar.high) });
        let mut number = self.begin(at, cost, left);
        let mut next: Vec<i128> = left.to_vec();
        let mut before = NEVER;
        while number <= most && self.tried <= TRIED {
            let now = cost.saturating_add(price.saturating_mul(number));
            for ((slot, left), cut) in next.iter_mut().zip(left).zip(self.cuts) {
                *slot = left.saturating_sub(number.saturating_mul(cut.most[b]));
            }
            let Some(rest) = self.rest(at + 1, &next) else {
                self.tried = TRIED + 1;
                return;
            };
            let all = now.saturating_add(rest);
            if all < self.best {
                self.try_all(at + 1, now, &next);
            } else if now >= self.best || all > before {
                // It first falls, then rises.
                return;
            }
            before = all;
            self.tried += 1;
            number += 1;
        }
    }
}

/// The cut of lengths themselves.
pub(crate) fn by_length(kinds: &[Kind], bars: &[Bar]) -> Cut {
    let worth = kinds.iter().map(|k| i128::from(k.size) * i128::from(k.need)).sum();
    Cut { worth, most: bars.iter().map(|b| i128::from(b.room)).collect() }
}

/// The best cut of large pieces, one stock: pieces over room - a count one, those of half and less count by length
/// in what the middle ones leave (for every a).
pub(crate) fn by_large(kinds: &[Kind], room: i64) -> i128 {
    let mut sums = vec![(0_i128, 0_i128)];
    for k in kinds {
        let (n, len) = sums.last().copied().unwrap_or_default();
        sums.push((n + i128::from(k.need), len + i128::from(k.need) * i128::from(k.size)));
    }
    // Kinds stand longest first: sums[i] is of the first i.
    let over = |limit: i64| sums[kinds.partition_point(|k| k.size > limit)];
    let half = over(room / 2);
    let mut best = 0;
    for a in kinds.iter().map(|k| k.size).filter(|s| *s <= room / 2).chain([1]) {
        let large = over(room - a);
        let small = over(a - 1);
        let middle = (half.0 - large.0, half.1 - large.1);
        let room_left = middle.0 * i128::from(room) - middle.1;
        let rest = small.1 - half.1;
        best = best.max(half.0 + up(rest - room_left, i128::from(room)));
    }
    best
}
