//! The balance `bars`: what is cut is what is scheduled, bar by bar, and what is billed weighs the same.

use std::collections::BTreeMap;

use tankwright_geometry::Ratio;

use super::{BarKind, Cutting, Mark, Schedule};
use crate::decimal;
use crate::estimate::Balance;
use crate::sheet::Sheet;
use crate::words::Phrase;
use crate::works::reinforcement;

/// Left: kilograms of the ledger's lines. Right: kilograms of all marks, reckoned anew from numbers and lengths.
///
/// Breaks: a kind without a cutting plan; pieces of a length that the plan and the schedule have in different numbers;
/// a bar whose pieces, cuts and offcut do not make up the bar; an item that does not weigh what its marks weigh.
#[must_use]
pub fn balance(schedule: &Schedule, sheet: &Sheet) -> Balance {
    let mut breaks = schedule.uncut.clone();
    let mut kinds: Vec<&BarKind> = schedule.marks.iter().map(|m| &m.bar).collect();
    kinds.extend(schedule.cutting.iter().map(|c| &c.bar));
    kinds.sort();
    kinds.dedup();
    for kind in kinds {
        let plans: Vec<&Cutting> = schedule.cutting.iter().filter(|c| c.bar == *kind).collect();
        if plans.len() != 1 {
            breaks.push(format!("{}: {} cutting plans", kind.id(), plans.len()));
        }
        pieces(schedule, kind, &plans, &mut breaks);
        plans.iter().for_each(|plan| bars(plan, &mut breaks));
    }
    let by_item = weights(schedule);
    let mut booked = BTreeMap::new();
    for item in sheet.items.iter().filter(|i| i.work == &reinforcement::BARS) {
        booked.insert(item.id.clone(), item.lines.iter().map(|l| l.value).sum::<Ratio>());
    }
    for id in by_item.keys().chain(booked.keys().filter(|id| !by_item.contains_key(*id))) {
        let of = |all: &BTreeMap<String, Ratio>| all.get(id).copied().unwrap_or(Ratio::ZERO);
        let (line, mark) = (of(&booked), of(&by_item));
        if line != mark {
            let say = decimal::plain;
            breaks.push(format!("{id}: {} kg in the ledger, {} kg of marks", say(line), say(mark)));
        }
    }
    let [left, right] = [&booked, &by_item].map(|all| all.values().copied().sum());
    Balance { name: "bars", says: Phrase::new("balance-bars"), left, right, unit: "kg", breaks }
}

/// Kilograms of the marks, by the id of the item they belong to.
fn weights(schedule: &Schedule) -> BTreeMap<String, Ratio> {
    let mut all = BTreeMap::new();
    for Mark { bar, count, length_mm, stage, .. } in &schedule.marks {
        let kg = schedule.mass_per_metre.iter().find(|(k, _)| k == bar).map_or(Ratio::UNKNOWN, |(_, kg)| *kg);
        let metres = Ratio::of(i128::from(*count) * i128::from(*length_mm), 1_000);
        let id = format!("{}/{}/{}", reinforcement::BARS.id, bar.id(), stage.id());
        let sum = all.entry(id).or_insert(Ratio::ZERO);
        *sum = *sum + metres * kg;
    }
    all
}

/// Pieces in the plan are pieces in the schedule, by length and stage.
fn pieces(schedule: &Schedule, kind: &BarKind, plans: &[&Cutting], breaks: &mut Vec<String>) {
    let mut wanted = BTreeMap::new();
    for mark in schedule.marks.iter().filter(|m| m.bar == *kind) {
        *wanted.entry((mark.length_mm, mark.stage)).or_insert(0_u64) += mark.count;
    }
    let mut cut = BTreeMap::new();
    for pattern in plans.iter().flat_map(|p| &p.patterns) {
        for piece in &pattern.pieces {
            *cut.entry(*piece).or_insert(0_u64) += pattern.times;
        }
    }
    for key in wanted.keys().chain(cut.keys().filter(|k| !wanted.contains_key(k))) {
        let of = |all: &BTreeMap<_, u64>| all.get(key).copied().unwrap_or(0);
        let (want, have) = (of(&wanted), of(&cut));
        if want != have {
            let (mm, stage) = (key.0, key.1.id());
            breaks.push(format!("{} {mm} mm, {stage}: {want} scheduled, {have} cut", kind.id()));
        }
    }
}

/// Every bar is pieces, cuts (one a piece, but none after the last where nothing is left) and offcut.
fn bars(plan: &Cutting, breaks: &mut Vec<String>) {
    let id = plan.bar.id();
    let mut number = 0_u64;
    for pattern in &plan.patterns {
        number += pattern.times;
        let used = pattern.pieces.iter().map(|(mm, _)| mm + plan.kerf_mm).sum::<i64>();
        let pieces = pattern.pieces.iter().map(|(mm, _)| mm).sum::<i64>();
        let fits = pieces <= plan.stock_mm && pattern.offcut_mm == (plan.stock_mm - used).max(0);
        // A last cut may be narrower than the saw, or not be needed, only where nothing is left.
        if !fits || used - plan.kerf_mm > plan.stock_mm || pattern.pieces.is_empty() {
            let (stock, left) = (plan.stock_mm, pattern.offcut_mm);
            breaks.push(format!(
                "{id}: a bar of {stock} mm is not {used} mm of pieces and cuts and {left} mm left"
            ));
        }
    }
    let bought: u64 = plan.bought.iter().map(|(_, n)| n).sum();
    if number != plan.bars || bought != plan.bars || plan.bound > plan.bars {
        let (bars, bound) = (plan.bars, plan.bound);
        breaks.push(format!("{id}: {bars} bars, {number} in patterns, {bought} bought, bound {bound}"));
    }
}

#[cfg(test)]
mod tests {
    use super::{Cutting, bars};
    use crate::stage::Stage;
    use crate::steel::cutting::tests::mark;
    use crate::steel::cutting::{Uncut, plan};

    #[test]
    fn a_bar_that_is_not_its_pieces_cuts_and_offcut_is_found() -> Result<(), Vec<Uncut>> {
        // 12 000 - 4 x 2750 - 4 x 3 = 988.
        let good = plan(&[mark(10, 2_750, 8, Stage::Base)], 12_000, 3)?.remove(0);
        let found = |change: &dyn Fn(&mut Cutting)| {
            let (mut plan, mut breaks) = (good.clone(), Vec::new());
            change(&mut plan);
            bars(&plan, &mut breaks);
            breaks.len()
        };
        assert_eq!((found(&|_| ()), good.patterns[0].offcut_mm), (0, 988));
        assert_eq!(found(&|c| c.patterns[0].offcut_mm += 3), 1);
        assert_eq!(found(&|c| c.kerf_mm = 0), 1);
        assert_eq!(found(&|c| c.patterns[0].pieces.truncate(3)), 1);
        assert_eq!(found(&|c| c.bars += 1), 1);
        assert_eq!(found(&|c| c.bought[0].1 += 1), 1);
        assert_eq!(found(&|c| c.bound += 1), 1);
        // Three cuts of 3 mm between four pieces do not fit into 8 mm.
        let tight = |stock: i64| {
            found(&|c| {
                c.stock_mm = stock;
                c.patterns[0].offcut_mm = 0;
            })
        };
        assert_eq!((tight(11_008), tight(11_009)), (1, 0));
        Ok(())
    }
}
