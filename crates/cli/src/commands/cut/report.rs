//! What is printed of a plan, whatever the format.

use std::collections::BTreeMap;

use tankwright_cutting::plan::KEPT;
use tankwright_cutting::{Answer, Instance, Totals};

use super::given::PARTS;
use super::read::Row;

/// Bars of one length: bought, or offcuts from the store.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Source {
    pub(super) mm: i64,
    /// In parts of 10 000 of the unit of money.
    pub(super) price: Option<i64>,
    pub(super) limit: Option<u64>,
    pub(super) offcut: bool,
}

/// Pieces of one length in a pattern.
pub(super) struct Pieces {
    pub(super) mm: i64,
    /// In one bar.
    pub(super) number: u64,
    /// Marks with how many pieces of each, over all bars of the pattern.
    pub(super) marks: Vec<(String, u64)>,
}

/// A pattern.
pub(super) struct Pattern {
    pub(super) times: u64,
    /// Place in the sources.
    pub(super) source: usize,
    pub(super) pieces: Vec<Pieces>,
    pub(super) offcut: i64,
}

/// Lengths in mm of all bars: they add up, bar by bar.
#[derive(Default)]
pub(super) struct Sums {
    pub(super) stock: i128,
    pub(super) pieces: i128,
    pub(super) cuts: i128,
    pub(super) kept: i128,
    pub(super) waste: i128,
}

/// All of it.
pub(super) struct Report {
    pub(super) list: String,
    pub(super) kerf: i64,
    /// Prices decide; else the number of bars bought.
    pub(super) by_cost: bool,
    pub(super) sources: Vec<Source>,
    /// Bars used of each source.
    pub(super) used: Vec<u64>,
    pub(super) patterns: Vec<Pattern>,
    pub(super) number: u64,
    pub(super) totals: Totals,
    /// No plan buys fewer bars.
    pub(super) bars_bound: i128,
    /// Cost of the bars bought and what no plan costs less than, in parts; where prices are known.
    pub(super) cost: Option<(i128, i128)>,
    pub(super) proved: bool,
    pub(super) kept: Vec<(i64, u64)>,
    pub(super) sums: Sums,
}

impl Report {
    pub(super) fn new(
        list: &str,
        sources: Vec<Source>,
        by_cost: bool,
        rows: &[Row],
        instance: &Instance,
        answer: &Answer,
    ) -> Self {
        let mut marks = Marks::new(rows);
        let (mut kept, mut sums) = (BTreeMap::<i64, u64>::new(), Sums::default());
        let mut used = vec![0; sources.len()];
        let mut patterns = Vec::new();
        for pattern in &answer.plan.patterns {
            let mm = sources.get(pattern.stock).map_or(0, |s| s.mm);
            let offcut = pattern.offcut(mm, instance.kerf);
            let times = i128::from(pattern.times);
            let length: i128 = pattern.pieces.iter().map(|(l, n)| i128::from(*l) * i128::from(*n)).sum();
            sums.stock += i128::from(mm) * times;
            sums.pieces += length * times;
            sums.cuts += (i128::from(mm) - length - i128::from(offcut)) * times;
            if offcut >= KEPT {
                *kept.entry(offcut).or_default() += pattern.times;
                sums.kept += i128::from(offcut) * times;
            } else {
                sums.waste += i128::from(offcut) * times;
            }
            if let Some(n) = used.get_mut(pattern.stock) {
                *n += pattern.times;
            }
            let pieces = pattern.pieces.iter().map(|&(mm, number)| Pieces {
                mm,
                number,
                marks: marks.take(mm, number.saturating_mul(pattern.times)),
            });
            let pieces = pieces.collect();
            patterns.push(Pattern { times: pattern.times, source: pattern.stock, pieces, offcut });
        }
        let bars_bound = if by_cost { instance.fewest_bars() } else { answer.bound };
        let cost = if by_cost {
            Some((answer.totals.cost, answer.bound))
        } else {
            let price = sources.iter().find(|s| !s.offcut).and_then(|s| s.price).map(i128::from);
            price.map(|p| (answer.totals.cost * p, answer.bound * p))
        };
        Self {
            list: list.to_owned(),
            kerf: instance.kerf,
            by_cost,
            used,
            patterns,
            number: instance.pieces.iter().map(|p| p.count).sum(),
            totals: answer.totals,
            bars_bound,
            cost,
            proved: answer.proved_least(),
            kept: kept.into_iter().rev().collect(),
            sums,
            sources,
        }
    }

    /// The longest length that is bought.
    pub(super) fn stock_mm(&self) -> i64 {
        self.sources.iter().filter(|s| !s.offcut).map(|s| s.mm).max().unwrap_or(0)
    }
}

/// Marks of each length, handed out in the order of the list.
struct Marks(BTreeMap<i64, Vec<(String, u64)>>);

impl Marks {
    fn new(rows: &[Row]) -> Self {
        let mut all: BTreeMap<i64, Vec<(String, u64)>> = BTreeMap::new();
        // The last first, so that the next one is popped.
        for row in rows.iter().rev() {
            all.entry(row.mm).or_default().push((row.mark.clone(), row.count));
        }
        Self(all)
    }

    fn take(&mut self, mm: i64, mut number: u64) -> Vec<(String, u64)> {
        let mut taken: Vec<(String, u64)> = Vec::new();
        let Some(left) = self.0.get_mut(&mm) else { return taken };
        while number > 0 {
            let Some((mark, have)) = left.last_mut() else { break };
            let n = number.min(*have);
            match taken.last_mut().filter(|t| t.0 == *mark) {
                Some(t) => t.1 += n,
                None => taken.push((mark.clone(), n)),
            }
            (number, *have) = (number - n, *have - n);
            if *have == 0 {
                left.pop();
            }
        }
        taken
    }
}

/// Money as a decimal, without zeros that say nothing.
pub(super) fn money(parts: i128) -> String {
    let (whole, rest) = (parts / i128::from(PARTS), parts % i128::from(PARTS));
    if rest == 0 {
        return whole.to_string();
    }
    let places = format!("{rest:04}");
    format!("{whole}.{}", places.trim_end_matches('0'))
}
