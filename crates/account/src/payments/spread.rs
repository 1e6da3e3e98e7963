//! The bill by stages: every amount goes to the stages of its items, and the parts of each close to the last digit.
//!
//! A row is parted by the quantities of its items; a preliminary goes to the stage the job names, else with the measured
//! work; an addition by what it was taken on. Running totals are rounded, so that the last part takes what is left.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;
use tankwright_quantities::bill::AddedOn;
use tankwright_quantities::decimal::{ratio, rounded};
use tankwright_quantities::estimate::{Balance, Estimate};
use tankwright_quantities::job::Job;
use tankwright_quantities::stage::Stage;
use tankwright_quantities::words::Phrase;

/// What a part of the bill is made of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Worth {
    /// Measured works.
    pub measured: Decimal,
    /// Preliminaries.
    pub preliminaries: Decimal,
    /// Provisional items: only in their own part.
    pub provisional: Decimal,
    /// Additions, the rounding of the offer among them.
    pub additions: Decimal,
}

impl Worth {
    /// All of it.
    #[must_use]
    pub fn total(&self) -> Decimal {
        self.measured + self.preliminaries + self.provisional + self.additions
    }
}

/// The bill, parted.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Spread {
    /// Stages of the job, in order, those without worth too.
    pub stages: Vec<(Stage, Worth)>,
    /// Provisional items with their share of the additions: nobody knows their stage until they are measured.
    pub provisional: Worth,
}

impl Spread {
    /// What a stage is worth.
    #[must_use]
    pub fn of(&self, stage: Stage) -> Worth {
        self.stages.iter().find(|(s, _)| *s == stage).map(|(_, w)| *w).unwrap_or_default()
    }

    /// All parts together.
    #[must_use]
    pub fn total(&self) -> Decimal {
        self.stages.iter().map(|(_, w)| w.total()).sum::<Decimal>() + self.provisional.total()
    }
}

/// Stages of the job: of its programme and of its items.
#[must_use]
pub fn stages(e: &Estimate) -> Vec<Stage> {
    let built = |s: &Stage| {
        e.programme.days.iter().any(|d| d.stage == *s) || e.sheet.items.iter().any(|i| i.stage == *s)
    };
    Stage::ALL.into_iter().filter(built).collect()
}

/// Parts a priced bill; `None` where it is not priced, or beyond what can be reckoned exactly.
#[must_use]
pub fn spread(e: &Estimate, job: &Job) -> Option<Spread> {
    let stages = stages(e);
    let digits = e.bill.currency.digits;
    let (n, last) = (stages.len(), stages.len().checked_sub(1)?);
    // One part a stage, and one for the provisional items.
    let mut parts = vec![Worth::default(); n + 1];
    parts.iter_mut().zip(measured_of(e, &stages)?).for_each(|(p, m)| p.measured = m);
    let measured: Vec<Ratio> = parts.iter().map(|p| ratio(p.measured)).collect();
    for (i, row) in e.bill.preliminaries.iter().enumerate() {
        let named = job.text(&format!("preliminaries[{i}].stage"));
        match stages.iter().position(|s| s.id() == named) {
            Some(stage) => parts.get_mut(stage)?.preliminaries += row.amount,
            None => {
                let shares = share(row.amount, &measured, last, digits)?;
                parts.iter_mut().zip(shares).for_each(|(p, s)| p.preliminaries += s);
            }
        }
    }
    parts.last_mut()?.provisional = e.bill.provisional.iter().map(|r| r.amount).sum();

    let mut done: Vec<Vec<Decimal>> = Vec::new();
    for addition in &e.bill.additions {
        let weights: Vec<Ratio> = match &addition.on {
            AddedOn::Measured => measured.clone(),
            AddedOn::Titles(named) => {
                let of =
                    |i: usize| named.iter().filter_map(|a| done.get(*a)?.get(i)).map(|d| ratio(*d)).sum();
                measured.iter().enumerate().map(|(i, m)| *m + of(i)).collect()
            }
            AddedOn::Running | AddedOn::Amount => parts.iter().map(|p| ratio(p.total())).collect(),
        };
        let shares = share(addition.amount, &weights, last, digits)?;
        parts.iter_mut().zip(&shares).for_each(|(p, s)| p.additions += *s);
        done.push(shares);
    }
    let provisional = parts.pop()?;
    Some(Spread { stages: stages.into_iter().zip(parts).collect(), provisional })
}

/// The measured works of each stage, in order; `None` where a row has no rate.
#[must_use]
pub fn measured(e: &Estimate) -> Option<Vec<(Stage, Decimal)>> {
    let stages = stages(e);
    let of = measured_of(e, &stages)?;
    Some(stages.into_iter().zip(of).collect())
}

fn measured_of(e: &Estimate, stages: &[Stage]) -> Option<Vec<Decimal>> {
    let last = stages.len().checked_sub(1)?;
    let mut parts = vec![Decimal::ZERO; stages.len()];
    for row in e.bill.sections.iter().flat_map(|s| &s.rows) {
        let mut weights = vec![Ratio::ZERO; stages.len()];
        for item in row.items.iter().filter_map(|id| e.sheet.find(id)) {
            let at = stages.iter().position(|s| *s == item.stage)?;
            let weight = weights.get_mut(at)?;
            *weight = *weight + ratio(item.quantity);
        }
        let shares = share(row.amount?, &weights, last, e.bill.currency.digits)?;
        parts.iter_mut().zip(shares).for_each(|(p, s)| *p += s);
    }
    Some(parts)
}

/// An amount in parts as the weights are: each the rounded running total less what was given before. Without any weight
/// all of it goes to the part `last`.
fn share(amount: Decimal, weights: &[Ratio], last: usize, digits: u32) -> Option<Vec<Decimal>> {
    let whole: Ratio = weights.iter().copied().sum();
    if !whole.is_known() {
        return None;
    }
    if whole.is_zero() {
        return Some((0..weights.len()).map(|i| if i == last { amount } else { Decimal::ZERO }).collect());
    }
    let (mut before, mut run) = (Decimal::ZERO, Ratio::ZERO);
    let mut part = |weight: &Ratio| {
        run = run + *weight;
        let up_to = if run == whole { amount } else { rounded(ratio(amount) * run / whole, digits)? };
        let share = up_to - before;
        before = up_to;
        Some(share)
    };
    weights.iter().map(&mut part).collect()
}

/// All parts are the bill, and the measured works of all parts are those of the bill.
pub(super) fn balance(e: &Estimate, spread: &Spread) -> Balance {
    let sum = |get: fn(&Worth) -> Decimal| -> Decimal {
        spread.stages.iter().map(|(_, w)| get(w)).chain([get(&spread.provisional)]).sum()
    };
    let side = |rows: &[tankwright_quantities::bill::SideRow]| rows.iter().map(|r| r.amount).sum::<Decimal>();
    let kinds = [
        ("measured", sum(|w| w.measured), e.bill.measured.unwrap_or_default()),
        ("preliminaries", sum(|w| w.preliminaries), side(&e.bill.preliminaries)),
        ("provisional", sum(|w| w.provisional), side(&e.bill.provisional)),
        ("additions", sum(|w| w.additions), e.bill.additions.iter().map(|a| a.amount).sum()),
    ];
    let breaks = kinds.iter().filter(|(_, ours, bill)| ours != bill);
    Balance {
        name: "payments",
        says: Phrase::new("balance-payments"),
        left: ratio(spread.total()),
        right: e.bill.total.map_or(Ratio::UNKNOWN, ratio),
        unit: "",
        breaks: breaks
            .map(|(name, ours, bill)| format!("{name}: {ours} by stages, {bill} in the bill"))
            .collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn d(text: &str) -> Decimal {
        text.parse().unwrap_or_default()
    }

    #[test]
    fn shares_close_and_none_is_below_nothing() {
        let thirds = [Ratio::ONE, Ratio::ONE, Ratio::ONE];
        // 33.33, 66.67 - 33.33, 100 - 66.67
        assert_eq!(share(d("100"), &thirds, 2, 2), Some(vec![d("33.33"), d("33.34"), d("33.33")]));
        // of 2 in four parts each half goes up once: 1, 1, 2, 2
        let fours = [Ratio::ONE; 4];
        assert_eq!(share(d("2"), &fours, 3, 0), Some(vec![d("1"), d("0"), d("1"), d("0")]));
        let some = [Ratio::ZERO, Ratio::of(3, 1), Ratio::of(1, 1), Ratio::ZERO];
        assert_eq!(share(d("1000"), &some, 3, 0), Some(vec![d("0"), d("750"), d("250"), d("0")]));
        assert_eq!(share(d("7"), &[Ratio::ZERO; 3], 1, 0), Some(vec![d("0"), d("7"), d("0")]));
        assert_eq!(share(d("7"), &[Ratio::UNKNOWN], 0, 0), None);
    }
}
