//! What a search keeps of the candidates it has seen. Tallies of parts of a grid, put together in any order, are the
//! tally of the whole.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

/// A candidate that was priced.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Row {
    /// The offered total.
    pub total: Decimal,
    /// Outer plan, m2.
    pub plan: Ratio,
    /// Its number in the grid, from 0.
    pub number: u64,
    /// Litres that count for the rule, exact.
    pub litres: Ratio,
}

impl Row {
    /// Lower total, smaller plan, lower number: the stated order.
    fn key(&self) -> (Decimal, Ratio, u64) {
        (self.total, self.plan, self.number)
    }
}

/// How often something was met, and its words at the candidate of the lowest number.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Count {
    /// How many candidates.
    pub times: u64,
    /// The first of them.
    pub first: u64,
    /// What was said of that one.
    pub words: String,
}

/// What is kept.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// How many comply within every limit, and have a price.
    pub priced: u64,
    /// The best, in order.
    pub best: Vec<Row>,
    /// Those that no other beats in both total and plan, cheapest first.
    pub frontier: Vec<Row>,
    /// Refused, by code.
    pub refused: BTreeMap<&'static str, Count>,
    /// Do not comply, by the first thing that they miss.
    pub missed: BTreeMap<String, u64>,
    /// The best of those that miss one limit alone, by little: by the limit's name.
    pub looser: BTreeMap<String, Row>,
    /// The best of each structure, by its place.
    pub by_structure: BTreeMap<usize, Row>,
}

impl Tally {
    /// A candidate within every limit.
    pub(crate) fn take(&mut self, row: Row, structure: usize, top: usize) {
        self.priced += 1;
        self.keep(row, top);
        best_of(&mut self.by_structure, structure, row);
    }

    fn keep(&mut self, row: Row, top: usize) {
        let at = self.best.partition_point(|r| r.key() < row.key());
        if at < top {
            self.best.insert(at, row);
            self.best.truncate(top);
        }
        let at = self.frontier.partition_point(|r| r.key() < row.key());
        let beaten = at.checked_sub(1).and_then(|i| self.frontier.get(i)).is_some_and(|r| r.plan <= row.plan);
        if !beaten {
            let worse = self.frontier.iter().skip(at).take_while(|r| r.plan >= row.plan).count();
            self.frontier.splice(at..at + worse, [row]);
        }
    }

    /// A candidate that misses one limit by little.
    pub(crate) fn almost(&mut self, limit: &str, row: Row) {
        best_of(&mut self.looser, limit.to_owned(), row);
    }

    /// A candidate that misses something.
    pub(crate) fn miss(&mut self, what: &str) {
        *self.missed.entry(what.to_owned()).or_default() += 1;
    }

    /// A candidate that cannot be built or priced.
    pub(crate) fn refuse(&mut self, code: &'static str, number: u64, words: &str) {
        let new = Count { times: 1, first: number, words: words.to_owned() };
        add(&mut self.refused, code, new);
    }

    /// The tally of both.
    pub(crate) fn join(&mut self, other: Self, top: usize) {
        self.priced += other.priced;
        other.best.into_iter().chain(other.frontier).for_each(|row| {
            if !self.best.contains(&row) {
                self.keep(row, top);
            }
        });
        other.refused.into_iter().for_each(|(code, count)| add(&mut self.refused, code, count));
        for (what, times) in other.missed {
            *self.missed.entry(what).or_default() += times;
        }
        other.looser.into_iter().for_each(|(limit, row)| best_of(&mut self.looser, limit, row));
        other.by_structure.into_iter().for_each(|(s, row)| best_of(&mut self.by_structure, s, row));
    }
}

fn best_of<K: Ord>(all: &mut BTreeMap<K, Row>, key: K, row: Row) {
    let kept = all.entry(key).or_insert(row);
    if row.key() < kept.key() {
        *kept = row;
    }
}

fn add(all: &mut BTreeMap<&'static str, Count>, code: &'static str, new: Count) {
    match all.get_mut(code) {
        None => drop(all.insert(code, new)),
        Some(kept) => {
            let times = kept.times + new.times;
            if new.first < kept.first {
                *kept = new;
            }
            kept.times = times;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(total: i64, plan: i64, number: u64) -> Row {
        Row { total: total.into(), plan: plan.into(), number, litres: Ratio::ZERO }
    }

    fn numbers(rows: &[Row]) -> Vec<u64> {
        rows.iter().map(|r| r.number).collect()
    }

    /// Totals, plans and numbers with many ties.
    fn rows() -> Vec<Row> {
        (0..60).map(|i: i64| row(i * 7 % 5, i * 11 % 6, u64::try_from(i).unwrap_or(0))).collect()
    }

    #[test]
    fn ties_go_to_the_smaller_plan_then_the_lower_number() {
        let mut t = Tally::default();
        [row(2, 9, 0), row(1, 8, 3), row(1, 8, 2), row(1, 7, 9)].into_iter().for_each(|r| t.take(r, 0, 3));
        assert_eq!(numbers(&t.best), [9, 2, 3]);
        assert_eq!((t.priced, t.by_structure.get(&0).map(|r| r.number)), (4, Some(9)));
    }

    #[test]
    fn the_frontier_holds_what_no_other_beats() {
        let mut t = Tally::default();
        rows().into_iter().for_each(|r| t.take(r, 0, 4));
        let beaten = |r: &Row| rows().iter().any(|o| o.key() < r.key() && o.plan <= r.plan);
        let mut want: Vec<Row> = rows().into_iter().filter(|r| !beaten(r)).collect();
        want.sort_by_key(Row::key);
        assert_eq!(t.frontier, want);
    }

    #[test]
    fn parts_in_any_order_make_the_same_whole() {
        let mut whole = Tally::default();
        rows().into_iter().for_each(|r| whole.take(r, 1, 4));
        whole.refuse("J043", 5, "five");
        whole.refuse("J043", 7, "seven");
        let part = |k: u64| {
            let mut t = Tally::default();
            rows().into_iter().filter(|r| r.number % 3 == k).for_each(|r| t.take(r, 1, 4));
            match k {
                0 => t.refuse("J043", 7, "seven"),
                1 => t.refuse("J043", 5, "five"),
                _ => {}
            }
            t
        };
        for order in [[0, 1, 2], [2, 0, 1], [1, 2, 0]] {
            let mut sum = Tally::default();
            order.into_iter().for_each(|k| sum.join(part(k), 4));
            assert_eq!(sum, whole);
        }
    }
}
