//! The list as the search sees it: lengths with their cut, equal ones together, longest first.

use crate::instance::Instance;
use crate::plan::{Pattern, Plan};

/// Stands for "any number".
pub(crate) const ANY: i64 = i64::MAX;

/// Pieces of one length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Kind {
    /// Length and one cut, over the common divisor.
    pub(crate) size: i64,
    /// How many are to be cut.
    pub(crate) need: i64,
    /// The stage that wants them; 0 where there are no stages.
    pub(crate) stage: usize,
}

/// Bars of one stock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Bar {
    /// Length and one cut, over the common divisor.
    pub(crate) room: i64,
    /// Price over the common divisor of prices.
    pub(crate) price: i64,
    /// At least so many.
    pub(crate) low: i64,
    /// At most so many, or [`ANY`].
    pub(crate) high: i64,
    /// Holds pieces of this stage and later ones only.
    pub(crate) stage: usize,
}

/// One bar cut one way: stock, and kind with number, kinds rising, numbers above 0.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Column {
    pub(crate) bar: usize,
    pub(crate) parts: Vec<(usize, i64)>,
}

/// Columns and how often each is cut.
pub(crate) type Cuts = Vec<(Column, i64)>;

/// The whole list.
pub(crate) struct Form {
    pub(crate) kinds: Vec<Kind>,
    pub(crate) bars: Vec<Bar>,
    /// Length of each kind.
    lengths: Vec<i64>,
    /// Place of each bar in the instance.
    stocks: Vec<usize>,
    /// Common divisor of prices.
    pub(crate) unit: i64,
}

pub(crate) fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

impl Form {
    /// From a sound instance.
    pub(crate) fn new(instance: &Instance) -> Self {
        let mut pieces: Vec<_> = instance.pieces.iter().map(|p| (p.length, p.count)).collect();
        pieces.sort_unstable_by(|a, b| b.cmp(a));
        let (mut lengths, mut kinds) = (Vec::new(), Vec::<Kind>::new());
        for (length, count) in pieces {
            let count = i64::try_from(count).unwrap_or(i64::MAX);
            match kinds.last_mut() {
                Some(kind) if lengths.last() == Some(&length) => kind.need = kind.need.saturating_add(count),
                _ => {
                    lengths.push(length);
                    kinds.push(Kind { size: length + instance.kerf, need: count, stage: 0 });
                }
            }
        }
        let divisor = kinds.iter().fold(0, |d, k| gcd(d, k.size)).max(1);
        kinds.iter_mut().for_each(|k| k.size /= divisor);
        let shortest = kinds.last().map_or(0, |k| k.size);
        let mut found: Vec<(usize, Bar)> = Vec::new();
        for (i, stock) in instance.stocks.iter().enumerate() {
            let high = stock.limit.map_or(ANY, |n| i64::try_from(n).unwrap_or(ANY - 1));
            let room = (stock.length + instance.kerf) / divisor;
            if room >= shortest && high > 0 {
                found.push((i, Bar { room, price: stock.price, low: 0, high, stage: 0 }));
            }
        }
        // A stock that another one, longer, no dearer and in any number, always replaces.
        let beaten = |i: usize, bar: &Bar| {
            found.iter().any(|(j, o)| {
                let no_worse = o.high == ANY && o.room >= bar.room && o.price <= bar.price;
                *j != i && no_worse && (*o != *bar || *j < i)
            })
        };
        let mut kept: Vec<_> = found.iter().filter(|(i, b)| !beaten(*i, b)).copied().collect();
        kept.sort_by_key(|(i, b)| (std::cmp::Reverse(b.room), b.price, *i));
        let unit = kept.iter().fold(0, |d, (_, b)| gcd(d, b.price)).max(1);
        kept.iter_mut().for_each(|(_, b)| b.price /= unit);
        let (stocks, bars) = kept.into_iter().unzip();
        Self { kinds, bars, lengths, stocks, unit }
    }

    /// Kinds and bars as they are, one stock a bar: for lists in stages.
    pub(crate) fn of(kinds: Vec<Kind>, bars: Vec<Bar>) -> Self {
        let (lengths, stocks) = (kinds.iter().map(|k| k.size).collect(), (0..bars.len()).collect());
        Self { kinds, bars, lengths, stocks, unit: 1 }
    }

    /// The one stock, where there is only one and any number of it.
    pub(crate) fn single(&self) -> Option<Bar> {
        match self.bars.as_slice() {
            [bar] if bar.high == ANY => Some(*bar),
            _ => None,
        }
    }

    /// What columns cost, in units of price.
    pub(crate) fn cost(&self, cuts: &Cuts) -> i128 {
        let price = |bar: usize| self.bars.get(bar).map_or(0, |b| i128::from(b.price));
        cuts.iter().map(|(column, times)| price(column.bar) * i128::from(*times)).sum()
    }

    /// Columns that cut at least what is needed, less what is too much, on the cheapest bars that hold them.
    pub(crate) fn trim(&self, cuts: &Cuts) -> Cuts {
        let mut need: Vec<i64> = self.kinds.iter().map(|k| k.need).collect();
        let mut kept: Cuts = Vec::new();
        for (column, times) in cuts {
            let mut times = *times;
            while times > 0 {
                let parts: Vec<_> =
                    column.parts.iter().map(|&(k, n)| (k, n.min(need[k]))).filter(|p| p.1 > 0).collect();
                if parts.is_empty() {
                    break;
                }
                let most = parts.iter().map(|&(k, n)| need[k] / n).min().unwrap_or(1).clamp(1, times);
                parts.iter().for_each(|&(k, n)| need[k] -= n * most);
                kept.push((Column { bar: column.bar, parts }, most));
                times -= most;
            }
        }
        let mut left: Vec<i64> = self.bars.iter().map(|b| b.high).collect();
        for (column, times) in &kept {
            left[column.bar] = left[column.bar].saturating_sub(*times);
        }
        let mut order: Vec<usize> = (0..self.bars.len()).collect();
        order.sort_by_key(|&b| (self.bars[b].price, self.bars[b].room));
        for (column, times) in &mut kept {
            let size: i64 = column.parts.iter().map(|&(k, n)| self.kinds[k].size * n).sum();
            let now = self.bars[column.bar];
            let first = column.parts.iter().map(|&(k, _)| self.kinds[k].stage).min().unwrap_or(0);
            let better = order.iter().copied().find(|&b| {
                let bar = self.bars[b];
                bar.stage <= first
                    && (bar.price, bar.room) < (now.price, now.room)
                    && bar.room >= size
                    && left[b] >= *times
            });
            if let Some(b) = better {
                left[column.bar] = left[column.bar].saturating_add(*times);
                left[b] = left[b].saturating_sub(*times);
                column.bar = b;
            }
        }
        kept
    }

    /// The plan in the caller's lengths.
    pub(crate) fn plan(&self, cuts: &Cuts) -> Plan {
        let mut patterns: Vec<Pattern> = Vec::with_capacity(cuts.len());
        for (column, times) in cuts {
            let number = |n: i64| u64::try_from(n).unwrap_or(0);
            let mut pieces: Vec<_> =
                column.parts.iter().map(|&(k, n)| (self.lengths[k], number(n))).collect();
            pieces.sort_unstable_by(|a, b| b.cmp(a));
            patterns.push(Pattern { stock: self.stocks[column.bar], pieces, times: number(*times) });
        }
        patterns.sort_by(|a, b| a.stock.cmp(&b.stock).then_with(|| b.pieces.cmp(&a.pieces)));
        patterns.dedup_by(|later, kept| {
            let same = (later.stock, &later.pieces) == (kept.stock, &kept.pieces);
            if same {
                kept.times += later.times;
            }
            same
        });
        Plan { patterns }
    }
}
