//! How fast, and how often proved: `cargo run --release -p tankwright-cutting --example speed`.

#![expect(clippy::print_stdout, reason = "an example prints what it measures")]

#[path = "../src/lists.rs"]
mod lists;

use std::time::{Duration, Instant};

use lists::{Dice, realistic, triplets, uniform};
use tankwright_cutting::{Effort, InStages, Instance, Piece, StagePiece, Stock, solve, solve_in_stages};

fn list(pieces: &[(i64, u64)], stocks: &[(i64, i64, Option<u64>)], kerf: i64) -> Instance {
    let pieces = pieces.iter().map(|&(length, count)| Piece { length, count }).collect();
    let stocks = stocks.iter().map(|&(length, price, limit)| Stock { length, price, limit }).collect();
    Instance { pieces, stocks, kerf }
}

fn set(name: &str, number: usize, mut make: impl FnMut(usize) -> Instance) {
    let (mut proved, mut worst, mut all) = (0, Duration::ZERO, Duration::ZERO);
    let mut open = Vec::new();
    for i in 0..number {
        let instance = make(i);
        let begin = Instant::now();
        let answer = solve(&instance, Effort::steps(10_000_000_000));
        let took = begin.elapsed();
        (worst, all) = (worst.max(took), all + took);
        match answer {
            Ok(a) if a.proved_least() => proved += 1,
            Ok(a) => open.push(format!("{i}: {} to {}", a.bound, a.totals.cost)),
            Err(e) => open.push(format!("{i}: {e:?}")),
        }
    }
    println!("{name}: {proved} of {number} proved, worst {worst:.1?}, all {all:.1?} {}", open.join("; "));
}

/// Jobs in stages: how many are proved least, how many latest as well.
fn in_stages(name: &str, steps: u64, dice: &mut Dice, make: &dyn Fn(&mut Dice) -> Vec<(i64, u64)>) {
    let (mut least, mut latest, mut times) = (0, 0, Vec::new());
    for _ in 0..200 {
        let stages = dice.roll(2, 5);
        let pieces = make(dice).into_iter().map(|(length, count)| StagePiece {
            length: length / 25 * 25,
            count,
            stage: usize::try_from(dice.roll(0, stages - 1)).unwrap_or(0),
        });
        let list = InStages { pieces: pieces.collect(), stock: 12_000, kerf: 3 };
        let begin = Instant::now();
        let answer = solve_in_stages(&list, Effort::steps(200_000_000), Effort::steps(steps));
        times.push(begin.elapsed());
        if let Ok(a) = answer {
            least += usize::from(a.proved_least());
            latest += usize::from(a.latest);
        }
    }
    times.sort_unstable();
    let (half, most, worst) = (times[100], times[180], times[199]);
    println!(
        "{name}, {steps} steps: of 200 {least} least, {latest} latest; half within {half:.2?}, nine in ten {most:.2?}, worst {worst:.1?}"
    );
}

fn main() {
    let only = std::env::args().nth(1).unwrap_or_default();
    let mut dice = Dice(20_261_125);
    let mut want = |name: &str, number: usize, make: &mut dyn FnMut(&mut Dice, usize) -> Instance| {
        if name.contains(&only) {
            set(name, number, |i| make(&mut dice, i));
        }
    };
    let kerf = |i: usize| [0, 3, 5][i % 3];
    want("realistic, one stock", 300, &mut |d, i| list(&realistic(d), &[(12_000, 1, None)], kerf(i)));
    want("realistic, two stocks with prices", 200, &mut |d, i| {
        list(&realistic(d), &[(12_000, 1900, None), (6_000, 1000, None)], kerf(i))
    });
    want("realistic, odd prices", 100, &mut |d, i| {
        list(&realistic(d), &[(12_000, 18_731, None), (9_000, 14_207, None)], kerf(i))
    });
    want("realistic, three stocks", 50, &mut |d, i| {
        let stocks = [(12_000, 1900, None), (9_000, 1450, None), (6_000, 1000, None)];
        list(&realistic(d), &stocks, kerf(i))
    });
    want("realistic, offcuts", 150, &mut |d, i| {
        let mut stocks = vec![(12_000, 1, None)];
        for _ in 0..d.roll(1, 6) {
            stocks.push((d.roll(600, 7_000), 0, Some(u64::try_from(d.roll(1, 4)).unwrap_or(1))));
        }
        list(&realistic(d), &stocks, kerf(i))
    });
    for steps in [5_000_000, 20_000_000, 100_000_000] {
        if "stages".contains(&only) {
            in_stages("stages, realistic", steps, &mut Dice(31), &|d| realistic(d));
            in_stages("stages, few", steps, &mut Dice(32), &|d| {
                let kinds = d.roll(3, 7);
                (0..kinds).map(|_| (d.roll(300, 6000), u64::try_from(d.roll(2, 30)).unwrap_or(1))).collect()
            });
        }
    }
    for bars in [20, 40, 83, 167] {
        let name = format!("triplets, {bars} bars of 1000");
        want(&name, 10, &mut |d, _| list(&triplets(d, bars, 1000), &[(1000, 1, None)], 0));
    }
    for pieces in [120, 250, 500, 1000] {
        let name = format!("uniform 20 to 100 in 150, {pieces} pieces");
        want(&name, 10, &mut |d, _| list(&uniform(d, pieces, 20, 100), &[(150, 1, None)], 0));
    }
    for (pieces, low, high) in [(100, 1, 1000), (100, 200, 800), (200, 100, 700), (200, 150, 500)] {
        let name = format!("wide {low} to {high} in 1000, {pieces} pieces");
        want(&name, 10, &mut |d, _| list(&uniform(d, pieces, low, high), &[(1000, 1, None)], 0));
    }
    for pieces in [160, 200] {
        let name = format!("hard, 1 to 800 of 1000, {pieces} pieces");
        want(&name, 20, &mut |d, _| list(&uniform(d, pieces, 1, 800), &[(1000, 1, None)], 0));
    }
    want("few in a bar of 100000, 200 pieces", 10, &mut |d, _| {
        list(&uniform(d, 200, 20_000, 35_000), &[(100_000, 1, None)], 0)
    });
    want("narrow, 150 to 200 in 1000, 120 pieces", 50, &mut |d, _| {
        list(&uniform(d, 120, 150, 200), &[(1000, 1, None)], 0)
    });
    want("third of a bar, 500 pieces", 20, &mut |d, _| {
        list(&uniform(d, 500, 266, 400), &[(1000, 1, None)], 0)
    });
    want("fifth of a bar, 500 pieces", 20, &mut |d, _| {
        list(&uniform(d, 500, 100, 300), &[(1000, 1, None)], 0)
    });
    want("many, 1 to 800 of 1000", 1000, &mut |d, _| {
        let pieces = d.roll(160, 200);
        list(&uniform(d, usize::try_from(pieces).unwrap_or(0), 1, 800), &[(1000, 1, None)], 0)
    });
    want("wide, bar 10000", 10, &mut |d, _| list(&uniform(d, 100, 500, 5000), &[(10_000, 1, None)], 0));
}
