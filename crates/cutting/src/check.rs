//! The check of a plan. It shares no code with the search and reads only what is asked and what is answered.

use std::collections::BTreeMap;

use crate::instance::Instance;
use crate::plan::{Plan, Totals};
use crate::stages::{InStages, StageBar};

/// What is wrong with a plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fault {
    /// A pattern names a stock that is not there.
    NoStock(usize),
    /// A pattern without pieces, or cut no times, or with a number of 0.
    Empty(usize),
    /// A bar is shorter than its pieces and cuts.
    Overfull(usize),
    /// More bars than there are of a stock.
    OverLimit(usize),
    /// Pieces of a length that are not asked, missing, or too many.
    Pieces {
        /// The length.
        length: i64,
        /// How many are asked.
        asked: i128,
        /// How many are cut.
        cut: i128,
    },
    /// A number beyond what is counted.
    Overflow,
}

/// Counts a plan anew: every bar holds its pieces and cuts, every piece is cut once, no stock is used up twice.
///
/// # Errors
/// The first [`Fault`] found.
pub fn check(instance: &Instance, plan: &Plan) -> Result<Totals, Fault> {
    let kerf = i128::from(instance.kerf);
    let mut left: BTreeMap<i64, i128> = BTreeMap::new();
    for piece in &instance.pieces {
        *left.entry(piece.length).or_default() += i128::from(piece.count);
    }
    let asked = left.clone();
    let mut used = vec![0_u64; instance.stocks.len()];
    for (i, pattern) in plan.patterns.iter().enumerate() {
        let stock = instance.stocks.get(pattern.stock).ok_or(Fault::NoStock(i))?;
        if pattern.pieces.is_empty() || pattern.times == 0 {
            return Err(Fault::Empty(i));
        }
        let mut room = i128::from(stock.length) + kerf;
        for &(length, number) in &pattern.pieces {
            if number == 0 {
                return Err(Fault::Empty(i));
            }
            let number = i128::from(number);
            room -= (i128::from(length) + kerf).checked_mul(number).ok_or(Fault::Overflow)?;
            let cut = number.checked_mul(i128::from(pattern.times)).ok_or(Fault::Overflow)?;
            let slot = left.entry(length).or_default();
            *slot = slot.checked_sub(cut).ok_or(Fault::Overflow)?;
        }
        if room < 0 {
            return Err(Fault::Overfull(i));
        }
        let count = used.get_mut(pattern.stock).ok_or(Fault::NoStock(i))?;
        *count = count.checked_add(pattern.times).ok_or(Fault::Overflow)?;
    }
    if let Some((length, missing)) = left.into_iter().find(|(_, n)| *n != 0) {
        let asked = asked.get(&length).copied().unwrap_or(0);
        return Err(Fault::Pieces { length, asked, cut: asked - missing });
    }
    let mut totals = Totals { bought: 0, free: 0, cost: 0 };
    for (i, (stock, used)) in instance.stocks.iter().zip(used).enumerate() {
        if stock.limit.is_some_and(|limit| used > limit) {
            return Err(Fault::OverLimit(i));
        }
        let sum = if stock.price == 0 { &mut totals.free } else { &mut totals.bought };
        *sum = sum.checked_add(used).ok_or(Fault::Overflow)?;
        totals.cost += i128::from(stock.price) * i128::from(used);
    }
    Ok(totals)
}

/// Counts a plan in stages anew: every bar holds its pieces and cuts, every piece of every stage is cut once. Gives
/// the bars bought for each stage.
///
/// # Errors
/// The first [`Fault`] found.
pub fn check_in_stages(list: &InStages, bars: &[StageBar]) -> Result<Vec<u64>, Fault> {
    let kerf = i128::from(list.kerf);
    let mut left: BTreeMap<(i64, usize), (i128, i128)> = BTreeMap::new();
    let mut bought: Vec<u64> = Vec::new();
    for piece in &list.pieces {
        left.entry((piece.length, piece.stage)).or_default().0 += i128::from(piece.count);
        bought.resize(bought.len().max(piece.stage.saturating_add(1)), 0);
    }
    for (i, bar) in bars.iter().enumerate() {
        let mut room = i128::from(list.stock) + kerf;
        let mut first = usize::MAX;
        for &(length, stage, number) in &bar.pieces {
            if number == 0 {
                return Err(Fault::Empty(i));
            }
            let number = i128::from(number);
            room -= (i128::from(length) + kerf).checked_mul(number).ok_or(Fault::Overflow)?;
            let cut = number.checked_mul(i128::from(bar.times)).ok_or(Fault::Overflow)?;
            let slot = &mut left.entry((length, stage)).or_default().1;
            *slot = slot.checked_add(cut).ok_or(Fault::Overflow)?;
            first = first.min(stage);
        }
        if bar.pieces.is_empty() || bar.times == 0 {
            return Err(Fault::Empty(i));
        }
        if room < 0 {
            return Err(Fault::Overfull(i));
        }
        let wrong = Fault::Pieces { length: bar.pieces[0].0, asked: 0, cut: i128::from(bar.times) };
        let count = bought.get_mut(first).ok_or(wrong)?;
        *count = count.checked_add(bar.times).ok_or(Fault::Overflow)?;
    }
    match left.into_iter().find(|(_, (asked, cut))| asked != cut) {
        Some(((length, _), (asked, cut))) => Err(Fault::Pieces { length, asked, cut }),
        None => Ok(bought),
    }
}
