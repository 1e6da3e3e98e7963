//! The whole solver: against every partition, against optima known by construction, and against bad lists.

#![expect(clippy::panic, reason = "tests")]

use crate::check::Fault;
use crate::instance::{MOST_COUNT, MOST_LENGTH, MOST_PRICE};
use crate::lists::{Dice, realistic, triplets, uniform};
use crate::{Answer, Effort, Failure, Instance, Pattern, Piece, Refused, Stock, check, solve};

type Stocks<'a> = &'a [(i64, i64, Option<u64>)];

fn list(pieces: &[(i64, u64)], stocks: Stocks<'_>, kerf: i64) -> Instance {
    let pieces = pieces.iter().map(|&(length, count)| Piece { length, count }).collect();
    let stocks = stocks.iter().map(|&(length, price, limit)| Stock { length, price, limit }).collect();
    Instance { pieces, stocks, kerf }
}

fn solved(instance: &Instance, steps: u64) -> Answer {
    match solve(instance, Effort::steps(steps)) {
        Ok(answer) => {
            assert_eq!(check(instance, &answer.plan), Ok(answer.totals), "{instance:?}");
            assert!(answer.bound <= answer.totals.cost, "{instance:?}");
            answer
        }
        Err(e) => panic!("{e:?} on {instance:?}"),
    }
}

const ENOUGH: u64 = 2_000_000_000;

/// The least cost over every partition of a few pieces.
fn every_partition(instance: &Instance) -> i64 {
    let pieces: Vec<i64> =
        instance.pieces.iter().flat_map(|p| (0..p.count).map(|_| p.length + instance.kerf)).collect();
    let mut left: Vec<u64> = instance.stocks.iter().map(|s| s.limit.unwrap_or(99)).collect();
    fn go(pieces: &[i64], rest: usize, instance: &Instance, left: &mut Vec<u64>) -> i64 {
        if rest == 0 {
            return 0;
        }
        let first = rest & rest.wrapping_neg();
        let others = rest & !first;
        let (mut best, mut with) = (i64::MAX / 2, others);
        loop {
            let bar = first | with;
            let size: i64 = (0..pieces.len()).filter(|i| bar >> i & 1 == 1).map(|i| pieces[i]).sum();
            for (i, stock) in instance.stocks.iter().enumerate() {
                if left[i] > 0 && size <= stock.length + instance.kerf {
                    left[i] -= 1;
                    best = best.min(stock.price + go(pieces, rest & !bar, instance, left));
                    left[i] += 1;
                }
            }
            if with == 0 {
                return best;
            }
            with = (with - 1) & others;
        }
    }
    go(&pieces, (1 << pieces.len()) - 1, instance, &mut left)
}

fn small(dice: &mut Dice, most: i64) -> Vec<(i64, u64)> {
    let pieces = dice.roll(1, most);
    let (low, high) = [(1, 20), (5, 12), (2, 7), (6, 20)][usize::try_from(dice.roll(0, 3)).unwrap_or(0)];
    (0..pieces).map(|_| (dice.roll(low, high), 1)).collect()
}

#[test]
fn equals_every_partition() {
    let mut dice = Dice(1);
    for round in 0..3_000 {
        let pieces = small(&mut dice, 8);
        let kerf = dice.roll(0, 2);
        let stocks = match round % 4 {
            0 => vec![(20, 1, None)],
            1 => vec![(20, dice.roll(1, 30), None), (dice.roll(1, 25), dice.roll(1, 30), None)],
            2 => {
                let mut stocks = vec![(20, 1, None)];
                (0..dice.roll(1, 2)).for_each(|_| stocks.push((dice.roll(1, 24), 0, Some(1))));
                stocks
            }
            _ => vec![
                (20, dice.roll(5, 9), None),
                (13, dice.roll(1, 9), Some(1)),
                (dice.roll(3, 20), 0, Some(1)),
            ],
        };
        let most = if stocks.len() > 2 { 7 } else { 8 };
        let instance = list(&pieces[..pieces.len().min(most)], &stocks, kerf);
        let answer = solved(&instance, ENOUGH);
        assert!(answer.proved_least(), "{instance:?}");
        assert_eq!(answer.totals.cost, i128::from(every_partition(&instance)), "{instance:?}");
    }
}

#[test]
fn triplets_reach_the_number_they_were_cut_from() {
    let mut dice = Dice(7);
    for bars in [5_usize, 10, 20, 20, 40] {
        let instance = list(&triplets(&mut dice, bars, 1000), &[(1000, 1, None)], 0);
        let answer = solved(&instance, 20_000_000_000);
        assert!(answer.proved_least());
        assert_eq!(answer.totals.bought, u64::try_from(bars).unwrap_or(0));
    }
}

#[test]
fn lists_as_builders_have_them_are_all_proved() {
    let mut dice = Dice(20_261_125);
    for i in 0..200_usize {
        let pieces = realistic(&mut dice);
        let kerf = [0, 3, 5][i % 3];
        let one: Stocks<'_> = &[(12_000, 1, None)];
        let two: Stocks<'_> = &[(12_000, 1900, None), (6_000, 1000, None)];
        let offcuts: Stocks<'_> = &[(12_000, 1, None), (2_400, 0, Some(3)), (5_100, 0, Some(1))];
        for stocks in [one, two, offcuts].into_iter().take(if i < 40 { 3 } else { 1 }) {
            let instance = list(&pieces, stocks, kerf);
            assert!(solved(&instance, ENOUGH).proved_least(), "{instance:?}");
        }
    }
}

#[test]
fn even_lengths_are_proved() {
    let mut dice = Dice(120);
    for _ in 0..10 {
        let instance = list(&uniform(&mut dice, 120, 20, 100), &[(150, 1, None)], 0);
        assert!(solved(&instance, ENOUGH).proved_least(), "{instance:?}");
    }
}

#[test]
fn a_wider_cut_never_needs_fewer_bars_and_order_does_not_matter() {
    let mut dice = Dice(3);
    for _ in 0..25 {
        let mut pieces = realistic(&mut dice);
        let bars = |pieces: &[(i64, u64)], kerf: i64| {
            solved(&list(pieces, &[(12_000, 1, None)], kerf), ENOUGH).totals.bought
        };
        let counts: Vec<u64> = [0, 1, 3, 5, 20, 200].map(|kerf| bars(&pieces, kerf)).to_vec();
        assert!(counts.is_sorted(), "{pieces:?} {counts:?}");
        let before = solved(&list(&pieces, &[(12_000, 1, None)], 3), ENOUGH);
        pieces.reverse();
        pieces.rotate_left(3);
        // A row parted in two is the same list.
        if let Some(row) = pieces.iter_mut().find(|p| p.1 > 1) {
            row.1 -= 1;
            let length = row.0;
            pieces.push((length, 1));
        }
        assert_eq!(solved(&list(&pieces, &[(12_000, 1, None)], 3), ENOUGH), before);
    }
}

#[test]
fn the_last_cut_is_free_and_the_first_is_not() {
    // 4 x 2500 + 3 cuts of 3 = 10009; 4 x 2500 + 3 x 3 > 10008.
    for (stock, bars) in [(10_009, 1), (10_008, 2)] {
        assert_eq!(solved(&list(&[(2_500, 4)], &[(stock, 1, None)], 3), ENOUGH).totals.bought, bars);
    }
}

#[test]
fn offcuts_come_before_bars() {
    // 2400 + 3600 fill two offcuts; what is left, 7000, needs the only bar.
    let stocks = [(12_000, 1, None), (2_400, 0, Some(1)), (3_600, 0, Some(1))];
    let answer = solved(&list(&[(2_400, 1), (3_600, 1), (7_000, 1)], &stocks, 0), ENOUGH);
    assert_eq!((answer.totals.bought, answer.totals.cost, answer.bound), (1, 1, 1));
    let answer = solved(&list(&[(2_400, 1), (3_600, 1)], &stocks, 0), ENOUGH);
    assert_eq!((answer.totals.bought, answer.totals.free, answer.bound), (0, 2, 0));
}

#[test]
fn a_plan_that_was_touched_does_not_pass() {
    let stocks: Stocks<'_> = &[(12_000, 5, None), (2_400, 0, Some(1))];
    let instance = list(&[(5_000, 3), (2_000, 2), (900, 4)], stocks, 3);
    let good = solved(&instance, ENOUGH).plan;
    let fault = |change: &dyn Fn(&mut Vec<Pattern>)| {
        let mut plan = good.clone();
        change(&mut plan.patterns);
        check(&instance, &plan).err()
    };
    assert_eq!(fault(&|_| ()), None);
    assert_eq!(fault(&|p| p[0].stock = 2), Some(Fault::NoStock(0)));
    assert_eq!(fault(&|p| p[0].times = 0), Some(Fault::Empty(0)));
    assert_eq!(fault(&|p| p[0].pieces[0].1 = 0), Some(Fault::Empty(0)));
    assert_eq!(fault(&|p| p[0].pieces.clear()), Some(Fault::Empty(0)));
    assert_eq!(fault(&|p| p[0].pieces[0].1 += 9), Some(Fault::Overfull(0)));
    assert!(matches!(fault(&|p| p[0].times += 1), Some(Fault::Pieces { .. })));
    assert!(matches!(fault(&|p| drop(p.pop())), Some(Fault::Pieces { .. })));
    assert!(matches!(fault(&|p| p[0].pieces[0].0 -= 1), Some(Fault::Pieces { .. })));
    assert!(fault(&|p| p[0].pieces[0].1 = u64::MAX).is_some());
    assert!(fault(&|p| p[0].times = u64::MAX).is_some());
    let fourteen = Pattern { stock: 1, pieces: vec![(2_000, 1)], times: 2 };
    let twice = |p: &mut Vec<Pattern>| {
        p.retain(|p| p.stock == 0);
        p.push(fourteen.clone());
    };
    assert!(fault(&twice).is_some());
    let only = list(&[(2_000, 2)], stocks, 3);
    let plan = crate::Plan { patterns: vec![fourteen] };
    assert_eq!(check(&only, &plan), Err(Fault::OverLimit(1)));
}

#[test]
fn what_cannot_be_solved_is_refused() {
    let refused = |pieces: &[(i64, u64)], stocks: Stocks<'_>, kerf| {
        solve(&list(pieces, stocks, kerf), Effort::steps(1)).err()
    };
    let bar: Stocks<'_> = &[(12_000, 1, None)];
    for (got, why) in [
        (refused(&[(0, 1)], bar, 0), Refused::Piece(0)),
        (refused(&[(5, 1), (-5, 1)], bar, 0), Refused::Piece(1)),
        (refused(&[(5, 0)], bar, 0), Refused::Piece(0)),
        (refused(&[(5, u64::MAX)], bar, 0), Refused::Piece(0)),
        (refused(&[(12_001, 1)], bar, 0), Refused::TooLong(0)),
        (refused(&[(i64::MAX, 1)], bar, 0), Refused::Piece(0)),
        (refused(&[(5, 1)], bar, -1), Refused::Kerf),
        (refused(&[(5, 1)], bar, i64::MAX), Refused::Kerf),
        (refused(&[(5, 1)], &[], 0), Refused::NothingToBuy),
        (refused(&[(5, 1)], &[(9, 0, Some(3))], 0), Refused::NothingToBuy),
        (refused(&[(5, 1)], &[(9, 0, None)], 0), Refused::Stock(0)),
        (refused(&[(5, 1)], &[(9, -1, None)], 0), Refused::Stock(0)),
        (refused(&[(5, 1)], &[(0, 1, None)], 0), Refused::Stock(0)),
        (refused(&[(5, 1)], &[(9, i64::MAX, None)], 0), Refused::Stock(0)),
        (refused(&[(5, 1)], &[(9, 1, None); 65], 0), Refused::Stocks),
    ] {
        assert_eq!(got, Some(Failure::Refused(why)));
    }
}

#[test]
fn an_empty_list_needs_nothing() {
    let answer = solved(&list(&[], &[(12_000, 1, None)], 3), ENOUGH);
    assert!(answer.proved_least() && answer.plan.patterns.is_empty());
}

#[test]
fn bad_lists_end_with_an_honest_answer() {
    let mut dice = Dice(9);
    let many: Vec<(i64, u64)> = (0..10_000).map(|_| (dice.roll(1, 12_000), 1_000_000)).collect();
    let short: Vec<(i64, u64)> = (1..=10_000).map(|l| (l, 1)).collect();
    let ones = vec![(1, 1_000_000); 10_000];
    let bar: Stocks<'_> = &[(12_000, 1, None)];
    for pieces in [&many, &short, &ones] {
        for kerf in [0, 3, 12_000] {
            let answer = solved(&list(pieces, bar, kerf), 300_000_000);
            assert!(answer.bound > 0);
        }
    }
    let top = [(MOST_LENGTH, MOST_COUNT), (1, MOST_COUNT), (MOST_LENGTH / 3, MOST_COUNT)];
    let dear: Stocks<'_> =
        &[(MOST_LENGTH, MOST_PRICE, None), (MOST_LENGTH / 2, MOST_PRICE - 1, None), (7, 0, Some(MOST_COUNT))];
    for kerf in [0, 1, MOST_LENGTH] {
        solved(&list(&top, dear, kerf), 100_000_000);
        solved(&list(&top, &[(MOST_LENGTH, 1, None)], kerf), 100_000_000);
    }
    // Many stocks, most of them of no use.
    let stocks: Vec<_> =
        (0..64).map(|i| (100 + 7 * i, 1 + i * i % 11, (i % 3 == 0 && i > 0).then_some(2))).collect();
    let pieces: Vec<_> = (0..60).map(|_| (dice.roll(1, 100), 5)).collect();
    solved(&list(&pieces, &stocks, 1), 300_000_000);
}

#[test]
fn a_reason_to_stop_is_heard_and_no_steps_are_still_an_answer() {
    let mut dice = Dice(5);
    let instance = list(&triplets(&mut dice, 60, 1000), &[(1000, 1, None)], 0);
    let stopped = solve(&instance, Effort { steps: u64::MAX, stop: Some(&|| true) });
    assert!(stopped.is_ok_and(|a| a.bound <= a.totals.cost && a.bound >= 60));
    solved(&instance, 0);
}
