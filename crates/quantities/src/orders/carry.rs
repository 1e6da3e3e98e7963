//! The core of ordering: uses stage by stage, in whole packs; what is left goes on to the next stage.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use crate::decimal::{product, ratio};

/// One material in one stage, in its own unit; packs are whole.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Step {
    /// In store before.
    pub opening: Decimal,
    /// Packs delivered, reserve included.
    pub packs: u64,
    /// Packs of these that are held as a reserve.
    pub reserve: u64,
    /// Delivered.
    pub ordered: Decimal,
    /// Used.
    pub used: Decimal,
    /// opening + ordered - used; below zero where a part of a pack was let off.
    pub closing: Decimal,
    /// What this delivery was not rounded up for.
    pub let_off: Decimal,
}

/// Orders for `uses`, one a stage, in packs of `pack`.
///
/// `groups` tells which uses come with one delivery: it comes at the group's first use and covers what all groups
/// begun so far need, less what was delivered. A group of its own for each stage is buying stage by stage with what
/// is left carried on. A part of a pack up to `tolerance` is not rounded up, but the first delivery of a material
/// that is used is never nothing. `reserve` packs come on top and stay in the store.
///
/// Nothing where a figure grows beyond what can be reckoned exactly, or the pack holds nothing.
///
/// Where at a use `present` must be on the site at once (boards and props, of which a use wears off a share only), a
/// delivery covers the greater of the two; empty: nothing stands there again.
#[must_use]
pub fn carry(
    uses: &[Decimal],
    present: &[Decimal],
    pack: Decimal,
    tolerance: Decimal,
    groups: &[usize],
    reserve: &[u64],
) -> Option<Vec<Step>> {
    let group_of = |i: usize| groups.get(i).copied().unwrap_or(i);
    let (mut opened, mut delivered) = (Vec::new(), Decimal::ZERO);
    let (mut opening, mut steps) = (Decimal::ZERO, Vec::with_capacity(uses.len()));
    for (i, used) in uses.iter().enumerate() {
        let (mut packs, mut let_off) = (0, Decimal::ZERO);
        let group = group_of(i);
        if !used.is_zero() && !opened.contains(&group) {
            opened.push(group);
            let (mut gone, mut need) = (Decimal::ZERO, Decimal::ZERO);
            for (j, other) in uses.iter().enumerate().filter(|(j, _)| opened.contains(&group_of(*j))) {
                if j >= i {
                    let at_once = present.get(j).map_or(*other, |p| *other.max(p));
                    need = need.max(gone.checked_add(at_once)?);
                }
                gone = gone.checked_add(*other)?;
            }
            let short = need.checked_sub(delivered)?;
            packs = up(short, pack, tolerance)?;
            if packs == 0 && delivered.is_zero() && short > Decimal::ZERO {
                packs = 1;
            }
            let_off = short.checked_sub(product(packs.into(), pack)?)?.max(Decimal::ZERO);
        }
        let reserve = reserve.get(i).copied().unwrap_or(0);
        let packs = packs.checked_add(reserve)?;
        let ordered = product(packs.into(), pack)?;
        delivered = delivered.checked_add(ordered)?;
        let closing = opening.checked_add(ordered)?.checked_sub(*used)?;
        steps.push(Step { opening, packs, reserve, ordered, used: *used, closing, let_off });
        opening = closing;
    }
    Some(steps)
}

/// Least whole number of packs that holds `amount`, a part of a pack up to `tolerance` let off.
pub(super) fn up(amount: Decimal, pack: Decimal, tolerance: Decimal) -> Option<u64> {
    if pack <= Decimal::ZERO {
        return None;
    }
    let packs = ratio(amount) / ratio(pack) - ratio(tolerance);
    let whole = Ratio::ZERO - (Ratio::ZERO - packs).floor();
    if !whole.is_known() {
        return None;
    }
    u64::try_from(whole.numer().max(0)).ok()
}

/// Packs where every need is rounded up by itself, nothing let off and nothing carried.
#[must_use]
pub fn uncarried(uses: &[Decimal], pack: Decimal) -> Option<u64> {
    uses.iter().try_fold(0_u64, |sum, used| sum.checked_add(up(*used, pack, Decimal::ZERO)?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bill::fixture::{Dice, d};

    const OWN: [usize; 5] = [0, 1, 2, 3, 4];
    const ONE: [usize; 5] = [0; 5];

    fn all(text: &[&str]) -> Vec<Decimal> {
        text.iter().map(|t| d(t)).collect()
    }

    fn packs(steps: &[Step]) -> Vec<u64> {
        steps.iter().map(|s| s.packs).collect()
    }

    #[test]
    fn the_published_table_of_bags() -> Result<(), &'static str> {
        // Trade practice, section 4: blinding, base, wall mortar, plaster and screed, cover, in bags.
        let uses = all(&["1.63", "7.003", "6.77", "3.87", "3.82"]);
        let steps = carry(&uses, &[], Decimal::ONE, d("0.05"), &OWN, &[]).ok_or("too large")?;
        assert_eq!(packs(&steps), [2, 7, 7, 4, 4]);
        assert_eq!(steps.iter().map(|s| s.packs).sum::<u64>(), 24);
        assert_eq!(uncarried(&uses, Decimal::ONE), Some(2 + 8 + 7 + 4 + 4));
        // The table cuts its left-overs to two places.
        let left: Vec<Decimal> = steps.iter().map(|s| s.closing.trunc_with_scale(2)).collect();
        assert_eq!(left, all(&["0.37", "0.36", "0.59", "0.72", "0.90"]));
        // 7.003 bags bought alone: 7 by the tolerance, 8 without.
        assert_eq!(up(d("7.003"), Decimal::ONE, d("0.05")), Some(7));
        assert_eq!(up(d("7.003"), Decimal::ONE, Decimal::ZERO), Some(8));
        // The same in kg and bags of 50 kg.
        let kg: Vec<Decimal> = uses.iter().map(|u| u * d("50")).collect();
        let steps = carry(&kg, &[], d("50"), d("0.05"), &OWN, &[]).ok_or("too large")?;
        assert_eq!(packs(&steps), [2, 7, 7, 4, 4]);
        Ok(())
    }

    #[test]
    fn sand_for_the_job_is_one_trip_and_by_stages_five() -> Result<(), &'static str> {
        let uses = all(&["0.17", "0.49", "0.94", "0.54", "0.27"]);
        assert_eq!(uses.iter().sum::<Decimal>(), d("2.41"));
        let steps = carry(&uses, &[], d("3"), d("0.05"), &ONE, &[]).ok_or("too large")?;
        assert_eq!(packs(&steps), [1, 0, 0, 0, 0]);
        assert_eq!(uncarried(&uses, d("3")), Some(5));
        assert_eq!(steps.last().map(|s| s.closing), Some(d("3") - d("2.41")));
        Ok(())
    }

    #[test]
    fn what_is_let_off_stays_owed_and_the_first_pack_is_never_let_off() -> Result<(), &'static str> {
        let steps = carry(&all(&["0.04", "1.97", "0.04", "0.04"]), &[], Decimal::ONE, d("0.05"), &OWN, &[]);
        let steps = steps.ok_or("too large")?;
        assert_eq!(packs(&steps), [1, 1, 0, 1]);
        let closing: Vec<Decimal> = steps.iter().map(|s| s.closing).collect();
        assert_eq!(closing, all(&["0.96", "-0.01", "-0.05", "0.91"]));
        let let_off: Vec<Decimal> = steps.iter().map(|s| s.let_off).collect();
        assert_eq!(let_off, all(&["0", "0.01", "0.05", "0"]));
        Ok(())
    }

    #[test]
    fn what_serves_again_is_there_at_once_and_stays_in_the_store() -> Result<(), &'static str> {
        // Boards: 1.56 and 2.63 of 2 uses, 3.8 of 4 uses; the third stage needs 3.8 - (2 - 0.78 + 2 - 1.315) = 1.895.
        let (uses, present) = (all(&["0.78", "1.315", "0.95"]), all(&["1.56", "2.63", "3.8"]));
        let steps = carry(&uses, &present, Decimal::ONE, d("0.05"), &OWN, &[]).ok_or("too large")?;
        assert_eq!(packs(&steps), [2, 2, 2]);
        assert_eq!(steps.last().map(|s| s.closing), Some(d("6") - d("0.78") - d("1.315") - d("0.95")));
        // One delivery for all: the most that is ever wanted, 0.78 + 1.315 + 3.8 = 5.895.
        let steps = carry(&uses, &present, Decimal::ONE, d("0.05"), &ONE, &[]).ok_or("too large")?;
        assert_eq!(packs(&steps), [6, 0, 0]);
        // A cover on 3.65 props, of which 0.365 wear off: four of them, not one.
        let steps = carry(&all(&["0.365"]), &all(&["3.65"]), Decimal::ONE, d("0.05"), &OWN, &[]);
        assert_eq!(packs(&steps.ok_or("too large")?), [4]);
        Ok(())
    }

    #[test]
    fn a_reserve_stays_in_the_store() -> Result<(), &'static str> {
        let steps =
            carry(&all(&["1.5", "1.4"]), &[], Decimal::ONE, d("0.05"), &OWN, &[1, 0]).ok_or("too large")?;
        assert_eq!(packs(&steps), [3, 0]);
        assert_eq!(steps.last().map(|s| s.closing), Some(d("3") - d("1.5") - d("1.4")));
        Ok(())
    }

    #[test]
    fn a_pack_of_nothing_and_figures_beyond_all_measure_give_nothing() {
        assert_eq!(carry(&all(&["1"]), &[], Decimal::ZERO, Decimal::ZERO, &OWN, &[]), None);
        assert_eq!(carry(&[Decimal::MAX, Decimal::MAX], &[], d("0.001"), Decimal::ZERO, &ONE, &[]), None);
    }

    #[test]
    fn holds_for_random_uses() -> Result<(), String> {
        let mut dice = Dice(7);
        let tolerance = d("0.05");
        for turn in 0..3_000 {
            let stages = usize::try_from(dice.roll(12)).unwrap_or(0) + 1;
            let mut amount = |most| Decimal::new(i64::try_from(dice.roll(most)).unwrap_or(0), 3);
            let pack = amount(60_000) + d("0.001");
            let uses: Vec<Decimal> =
                (0..stages).map(|_| if turn % 3 == 0 { amount(3_000) } else { amount(90_000) }).collect();
            let own: Vec<usize> = (0..stages).collect();
            let mixed: Vec<usize> = (0..stages).map(|_| usize::try_from(dice.roll(3)).unwrap_or(0)).collect();
            for groups in [&own, &mixed, &vec![0; stages]] {
                let why = || format!("{uses:?} in {pack} by {groups:?}");
                let steps = carry(&uses, &[], pack, tolerance, groups, &[]).ok_or_else(why)?;
                let (mut store, mut used, mut bought) = (Decimal::ZERO, Decimal::ZERO, 0);
                for step in &steps {
                    assert_eq!(step.opening, store, "{}", why());
                    assert_eq!(step.opening + step.ordered, step.used + step.closing, "{}", why());
                    assert_eq!(step.ordered, pack * Decimal::from(step.packs), "{}", why());
                    assert!(step.closing >= -tolerance * pack, "short: {}", why());
                    (store, used, bought) = (step.closing, used + step.used, bought + step.packs);
                }
                let present: Vec<Decimal> = uses.iter().map(|u| *u * Decimal::from(turn % 5)).collect();
                let steps = carry(&uses, &present, pack, tolerance, groups, &[]).ok_or_else(why)?;
                for (step, present) in steps.iter().zip(&present) {
                    let there = step.opening + step.ordered + tolerance * pack;
                    assert!(there >= step.used.max(*present) || step.used.is_zero(), "at once: {}", why());
                    assert_eq!(step.opening + step.ordered, step.used + step.closing, "{}", why());
                }
                assert!(uncarried(&uses, pack).is_some_and(|most| bought <= most), "{}", why());
                // The least that covers all uses; one pack at least where anything is used.
                let least = up(used, pack, tolerance).ok_or_else(why)?.max(u64::from(!used.is_zero()));
                assert!(bought == least || groups != &own, "{bought} {least} {}", why());
                assert!(bought <= least + 1, "{}", why());
            }
        }
        Ok(())
    }
}
