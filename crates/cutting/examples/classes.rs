//! Published classes of bin-packing and cutting-stock lists, made anew by their published rules: how many are proved,
//! the longest time and the most memory. `cargo run --release -p tankwright-cutting --example classes [PART OF A NAME]`
//!
//! The rules, with where they stand: OR-Library `binpackinfo` (seen, as told by others): classes u and t of
//! Falkenauer 1996. Recalled, not seen: Scholl, Klein, Juergens 1997 (three sets); Schwerin, Waescher 1997;
//! Schoenfield 2002 (hard); Delorme, Iori, Martello 2016 (random); Gau, Waescher 1995 (cutting stock with demands);
//! Belov, Scheithauer 2002 (several stock lengths, price = length). The published lists themselves are not here.

#![expect(clippy::print_stdout, reason = "an example prints what it measures")]

#[path = "../src/lists.rs"]
#[expect(dead_code, reason = "shared with tests")]
mod lists;

use std::time::{Duration, Instant};

use lists::{Dice, uniform};
use tankwright_cutting::{Effort, Instance, Piece, Stock, solve};

type List = Vec<(i64, u64)>;

fn list(pieces: List, stocks: &[(i64, i64)]) -> Instance {
    let pieces = pieces.into_iter().map(|(length, count)| Piece { length, count }).collect();
    let stocks = stocks.iter().map(|&(length, price)| Stock { length, price, limit: None }).collect();
    Instance { pieces, stocks, kerf: 0 }
}

struct Run {
    only: String,
    dice: Dice,
    proved: usize,
    all: usize,
}

impl Run {
    fn set(&mut self, name: &str, number: usize, mut make: impl FnMut(&mut Dice) -> Instance) {
        if !name.contains(&self.only) {
            return;
        }
        let (mut proved, mut worst, mut sum) = (0, Duration::ZERO, Duration::ZERO);
        let mut open = String::new();
        for i in 0..number {
            let instance = make(&mut self.dice);
            let begin = Instant::now();
            let answer = solve(&instance, Effort::steps(20_000_000_000));
            let took = begin.elapsed();
            (worst, sum) = (worst.max(took), sum + took);
            match answer {
                Ok(a) if a.proved_least() => proved += 1,
                Ok(a) => open += &format!(" {i}: {} to {};", a.bound, a.totals.cost),
                Err(e) => open += &format!(" {i}: {e:?};"),
            }
        }
        (self.proved, self.all) = (self.proved + proved, self.all + number);
        println!("{name}: {proved} of {number} proved, worst {worst:.1?}, all {sum:.1?}{open}");
    }
}

/// Falkenauer's triplets: exact thirds of bars of 1000, one large piece and two small ones.
fn triplets(dice: &mut Dice, bars: usize) -> List {
    let mut pieces = List::new();
    for _ in 0..bars {
        let a = dice.roll(380, 490);
        let b = dice.roll(250, (1000 - a) / 2);
        pieces.extend([(a, 1), (b, 1), (1000 - a - b, 1)]);
    }
    pieces
}

/// Gau and Waescher: m lengths up to a share of the bar, a demand a length on average.
fn demands(dice: &mut Dice, kinds: usize, low: i64, high: i64, average: i64) -> List {
    let lengths = uniform(dice, kinds, low, high);
    let weights: Vec<i64> = lengths.iter().map(|_| dice.roll(1, 1000)).collect();
    let all: i64 = weights.iter().sum();
    let total = average * i64::try_from(kinds).unwrap_or(1);
    let share = |w: i64| u64::try_from((w * total / all).max(1)).unwrap_or(1);
    lengths.into_iter().zip(weights).map(|((l, _), w)| (l, share(w))).collect()
}

fn main() {
    let only = std::env::args().nth(1).unwrap_or_default();
    let mut run = Run { only, dice: Dice(20_261_126), proved: 0, all: 0 };
    for pieces in [120, 250, 500, 1000] {
        run.set(&format!("falkenauer u{pieces}"), 20, |d| list(uniform(d, pieces, 20, 100), &[(150, 1)]));
    }
    for pieces in [60, 120, 249, 501] {
        run.set(&format!("falkenauer t{pieces}"), 20, |d| list(triplets(d, pieces / 3), &[(1000, 1)]));
    }
    for pieces in [50, 100, 200, 500] {
        for (bar, low) in
            [(100, 1), (100, 20), (100, 30), (120, 1), (120, 20), (120, 30), (150, 1), (150, 20), (150, 30)]
        {
            run.set(&format!("scholl 1, {pieces} pieces {low} to 100 in {bar}"), 5, |d| {
                list(uniform(d, pieces, low, 100), &[(bar, 1)])
            });
        }
        for share in [3, 5, 7, 9] {
            for spread in [20, 50, 90] {
                let (low, high) = (1000 * (100 - spread) / 100 / share, 1000 * (100 + spread) / 100 / share);
                run.set(&format!("scholl 2, {pieces} pieces {low} to {high} in 1000"), 3, |d| {
                    list(uniform(d, pieces, low, high), &[(1000, 1)])
                });
            }
        }
    }
    run.set("scholl 3, 200 pieces 20000 to 35000 in 100000", 10, |d| {
        list(uniform(d, 200, 20_000, 35_000), &[(100_000, 1)])
    });
    for pieces in [100, 120] {
        run.set(&format!("schwerin, {pieces} pieces 150 to 200 in 1000"), 100, |d| {
            list(uniform(d, pieces, 150, 200), &[(1000, 1)])
        });
    }
    for pieces in [160, 180, 200] {
        run.set(&format!("hard, {pieces} pieces 1 to 800 in 1000"), 300, |d| {
            list(uniform(d, pieces, 1, 800), &[(1000, 1)])
        });
    }
    for pieces in [50, 100, 200, 300, 400, 500, 750, 1000] {
        for bar in [50, 100, 200, 500, 1000] {
            for (low, high) in [(1, 7), (1, 8), (2, 7), (2, 8)] {
                run.set(&format!("delorme, {pieces} pieces {low}0 to {high}0 percent of {bar}"), 3, |d| {
                    list(uniform(d, pieces, bar * low / 10, bar * high / 10), &[(bar, 1)])
                });
            }
        }
    }
    for kinds in [10, 20, 30, 40, 50, 100] {
        for (low, high) in
            [(1, 2500), (1, 5000), (1, 7500), (1, 10_000), (500, 2500), (500, 5000), (1500, 5000)]
        {
            for average in [10, 100] {
                run.set(&format!("gau, {kinds} lengths {low} to {high} of 10000, {average} each"), 3, |d| {
                    list(demands(d, kinds, low, high, average), &[(10_000, 1)])
                });
            }
        }
    }
    // Own: a list that needs a bar more than its relaxed problem says (44 x 2, 33 x 3, 12 x 6 in 132), every length
    // times 19, among triplets that fill bars wholly.
    for bars in [5, 10, 20, 40, 65] {
        run.set(&format!("gap, {bars} triplets of 2508 and a list with a gap"), 5, |d| {
            let mut pieces = vec![(836, 2), (627, 3), (228, 6)];
            for _ in 0..bars {
                let a = d.roll(850, 1250);
                let b = d.roll(300, (2508 - a) / 2);
                pieces.extend([(a, 1), (b, 1), (2508 - a - b, 1)]);
            }
            list(pieces, &[(2508, 1)])
        });
    }
    for kinds in [125, 250, 500] {
        for (low, high) in [(1, 250_000), (100_000, 500_000), (1, 750_000)] {
            run.set(&format!("long, {kinds} lengths {low} to {high} of 1000000"), 3, |d| {
                list(demands(d, kinds, low, high, 10), &[(1_000_000, 1)])
            });
        }
    }
    for (kinds, stocks) in [(20, 2), (40, 2), (40, 4), (20, 8), (60, 4)] {
        run.set(&format!("belov, {kinds} lengths, {stocks} stocks, price by length"), 10, |d| {
            let mut bars = vec![(10_000, 10_000)];
            for _ in 1..stocks {
                let bar = d.roll(5_000, 10_000);
                bars.push((bar, bar));
            }
            let pieces = (0..kinds).map(|_| (d.roll(1, 7_500), u64::try_from(d.roll(1, 100)).unwrap_or(1)));
            list(pieces.collect(), &bars)
        });
    }
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let peak = status.lines().find(|l| l.starts_with("VmHWM")).unwrap_or("peak memory not known");
    println!("{} of {} proved; {peak}", run.proved, run.all);
}
