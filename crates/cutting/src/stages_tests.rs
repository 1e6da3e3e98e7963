//! Plans in stages against every partition, and lists as jobs have them.

#![expect(clippy::panic, reason = "tests")]

use super::*;
use crate::lists::{Dice, realistic};

const ENOUGH: Effort<'_> = Effort::steps(1_000_000_000);

fn list(stages: &[&[i64]], stock: i64, kerf: i64) -> InStages {
    let of = |(stage, lengths): (usize, &&[i64])| {
        lengths.iter().map(move |&length| StagePiece { length, count: 1, stage }).collect::<Vec<_>>()
    };
    InStages { pieces: stages.iter().enumerate().flat_map(of).collect(), stock, kerf }
}

fn solved(list: &InStages) -> StageAnswer {
    match solve_in_stages(list, ENOUGH, ENOUGH) {
        Ok(answer) => {
            assert_eq!(check_in_stages(list, &answer.bars), Ok(answer.bought.clone()), "{list:?}");
            answer
        }
        Err(e) => panic!("{e:?} on {list:?}"),
    }
}

#[test]
fn fewest_bars_come_before_late_ones() {
    // Alone stage 1 needs one bar (4 + 3 + 3), but then 6, 7 and 7 need three more: four. With three bars for
    // stage 1 the pairs 4 + 6, 3 + 7 and 3 + 7 fill them.
    let answer = solved(&list(&[&[4, 3, 3], &[6, 7, 7]], 10, 0));
    assert_eq!((answer.bought.clone(), answer.bound, answer.latest), (vec![3, 0], 3, true));
}

#[test]
fn bars_are_bought_as_late_as_can_be() {
    // 5 + 5 now and 5 + 5 later, not 5 + 5 of both stages twice.
    assert_eq!(solved(&list(&[&[5, 5], &[5, 5]], 10, 0)).bought, [1, 1]);
    // The 3 of stage 3 stands in the bar of stage 1; nothing is bought for stage 2.
    assert_eq!(solved(&list(&[&[4], &[3], &[3, 9]], 10, 0)).bought, [1, 0, 1]);
    // With a cut of 1 mm the three no longer share a bar: 4 + 1 + 3 + 1 + 3 > 10.
    assert_eq!(solved(&list(&[&[4], &[3], &[3, 9]], 10, 1)).bought, [1, 0, 2]);
}

/// Bars, then bars of the first stage, and so on: the least over every partition.
fn every_partition(pieces: &[(i64, usize)], stages: usize, room: i64, rest: usize) -> Vec<u64> {
    if rest == 0 {
        return vec![0; stages + 1];
    }
    let first = rest & rest.wrapping_neg();
    let others = rest & !first;
    let (mut best, mut with) = (vec![u64::MAX], others);
    loop {
        let inside = || (0..pieces.len()).filter(|i| (first | with) >> i & 1 == 1).map(|i| pieces[i]);
        if inside().map(|p| p.0).sum::<i64>() <= room {
            let mut sum = every_partition(pieces, stages, room, others & !with);
            sum[0] += 1;
            sum[1 + inside().map(|p| p.1).min().unwrap_or(0)] += 1;
            best = best.min(sum);
        }
        if with == 0 {
            return best;
        }
        with = (with - 1) & others;
    }
}

#[test]
fn equals_every_partition() {
    let mut dice = Dice(21);
    let mut later = 0;
    for _ in 0..400 {
        let (kerf, stages) = (dice.roll(0, 1), dice.roll(1, 4));
        let (low, high) = [(1, 20), (5, 12), (2, 7), (6, 20)][usize::try_from(dice.roll(0, 3)).unwrap_or(0)];
        let mut list = InStages { pieces: Vec::new(), stock: 20, kerf };
        for _ in 0..dice.roll(1, 8) {
            let stage = usize::try_from(dice.roll(0, stages - 1)).unwrap_or(0);
            list.pieces.push(StagePiece { length: dice.roll(low, high), count: 1, stage });
        }
        let pieces: Vec<_> = list.pieces.iter().map(|p| (p.length + kerf, p.stage)).collect();
        let answer = solved(&list);
        assert!(answer.latest && answer.proved_least(), "{list:?}");
        let best = every_partition(&pieces, answer.bought.len(), 20 + kerf, (1 << pieces.len()) - 1);
        assert_eq!((answer.total(), &answer.bought[..]), (best[0], &best[1..]), "{list:?}");
        later += u64::from(answer.bought.iter().filter(|b| **b > 0).count() > 1);
    }
    assert!(later > 100, "{later}");
}

#[test]
fn jobs_are_proved_with_little_work() {
    let mut dice = Dice(22);
    let (mut proved, rounds) = (0, 60);
    for _ in 0..rounds {
        let stages = dice.roll(2, 5);
        let pieces = realistic(&mut dice).into_iter().map(|(length, count)| StagePiece {
            length: length / 25 * 25,
            count,
            stage: usize::try_from(dice.roll(0, stages - 1)).unwrap_or(0),
        });
        let list = InStages { pieces: pieces.collect(), stock: 12_000, kerf: 3 };
        let answer = solve_in_stages(&list, ENOUGH, Effort::steps(50_000_000));
        proved += usize::from(answer.is_ok_and(|a| a.latest && a.proved_least()));
    }
    assert!(proved * 10 >= rounds * 8, "{proved} of {rounds}");
}

#[test]
fn a_plan_that_was_touched_does_not_pass() {
    let list = list(&[&[4, 3, 3], &[6, 7, 7]], 10, 0);
    let good = solved(&list).bars;
    let fault = |change: &dyn Fn(&mut Vec<StageBar>)| {
        let mut bars = good.clone();
        change(&mut bars);
        check_in_stages(&list, &bars).is_err()
    };
    assert!(!fault(&|_| ()));
    assert!(fault(&|b| b[0].times += 1));
    assert!(fault(&|b| b[0].pieces[0].1 = 0));
    assert!(fault(&|b| b[0].pieces[0].1 = 9));
    assert!(fault(&|b| b[0].pieces[0].2 = 0));
    assert!(fault(&|b| b[0].pieces[0].0 += 1));
    assert!(fault(&|b| drop(b.pop())));
    assert!(fault(&|b| b[0].pieces.clear()));
}

#[test]
fn bad_lists_end_with_an_honest_answer() {
    let refused = |pieces: Vec<StagePiece>, stock| {
        solve_in_stages(&InStages { pieces, stock, kerf: 3 }, ENOUGH, ENOUGH).is_err()
    };
    let piece = |length, count, stage| StagePiece { length, count, stage };
    assert!(refused(vec![piece(12_001, 1, 0)], 12_000));
    assert!(refused(vec![piece(0, 1, 0)], 12_000));
    assert!(refused(vec![piece(1, 1, MOST_STAGES)], 12_000));
    assert!(refused(vec![piece(1, 1, usize::MAX)], 12_000));
    let none = solved(&InStages { pieces: Vec::new(), stock: 10, kerf: 0 });
    assert_eq!((none.total(), none.bound, none.latest), (0, 0, true));
    let mut dice = Dice(23);
    let many: Vec<_> = (0..3_000)
        .map(|i| piece(dice.roll(1, 12_000), 1 + 1_000_000 * u64::from(i % 7 == 0), i % 5))
        .collect();
    let list = InStages { pieces: many, stock: 12_000, kerf: 3 };
    let answer = solve_in_stages(&list, Effort::steps(20_000_000), Effort::steps(20_000_000));
    assert!(answer.is_ok_and(|a| a.total() >= a.bound));
}
