//! Money in and out, stage by stage: what is paid, what the goods cost. What labour costs nobody has told.

use rust_decimal::Decimal;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::job::Day;
use tankwright_quantities::orders::StageOrder;
use tankwright_quantities::programme::EventKind;
use tankwright_quantities::stage::Stage;

use super::schedule::{Kind, Schedule};

/// A stage: its goods are bought before it, its payment comes after it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CashRow {
    /// Which.
    pub stage: Stage,
    /// What its goods cost, in packs.
    pub goods: Decimal,
    /// In hand when they are bought: below zero is out of pocket.
    pub before: Decimal,
    /// Paid when the stage is done.
    pub received: Decimal,
    /// In hand then.
    pub after: Decimal,
}

/// Money in and out of who builds.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Cash {
    /// The deposit, in hand before the first stage.
    pub deposit: Decimal,
    /// Stages with goods or a payment, in order.
    pub rows: Vec<CashRow>,
    /// What was held back and is paid when all is built, or later.
    pub retention: Decimal,
    /// All that is paid less all goods, provisional items left out: for labour, plant, overheads, taxes and profit.
    pub left: Decimal,
}

impl Cash {
    /// The stage before whose payment most of the own money is in goods, where any is.
    #[must_use]
    pub fn lowest(&self) -> Option<&CashRow> {
        self.rows.iter().filter(|r| r.before < Decimal::ZERO).min_by_key(|r| r.before)
    }
}

/// Goods that one side must have on the site for a stage.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Goods<'a> {
    /// The orders.
    pub order: &'a StageOrder,
    /// By which day, where the job has a programme.
    pub by: Option<Day>,
    /// What they cost; `None` where one has no rate.
    pub cost: Option<Decimal>,
}

/// Money in and out; `None` where goods have no rate, or beyond what can be reckoned.
pub(super) fn cash(e: &Estimate, schedule: &Schedule) -> Option<Cash> {
    e.orders.cost?;
    let mut cash = Cash { deposit: schedule.deposit.amount, ..Cash::default() };
    let mut hand = cash.deposit;
    for stage in Stage::ALL {
        let lines = e.orders.stages.iter().filter(|o| o.stage == stage).flat_map(|o| &o.lines);
        let goods = lines.filter_map(|l| l.cost).try_fold(Decimal::ZERO, Decimal::checked_add)?;
        let received = schedule.of(stage).map_or(Decimal::ZERO, |p| p.due);
        if goods.is_zero() && schedule.of(stage).is_none() {
            continue;
        }
        let before = hand.checked_sub(goods)?;
        hand = before.checked_add(received)?;
        cash.rows.push(CashRow { stage, goods, before, received, after: hand });
    }
    let held = schedule.payments.iter().filter(|p| matches!(p.kind, Kind::Completion | Kind::Retention));
    cash.retention = held.map(|p| p.due).sum();
    // What is held of provisional items comes back with the rest, and belongs to them.
    let of_provisional = schedule.payments.iter().filter(|p| p.kind == Kind::Provisional);
    cash.retention -= of_provisional.map(|p| p.held).sum::<Decimal>();
    cash.left = hand.checked_add(cash.retention)?;
    Some(cash)
}

/// The goods of every stage that buys any.
pub(super) fn goods(e: &Estimate) -> Vec<Goods<'_>> {
    let bought = e.orders.stages.iter().filter(|o| o.lines.iter().any(|l| l.packs > 0));
    let one = |order: &'_ StageOrder| -> (Option<Day>, Option<Decimal>) {
        let comes =
            e.programme.events.iter().filter(|v| v.kind == EventKind::Delivery && v.stage == order.stage);
        let costs: Option<Vec<Decimal>> =
            order.lines.iter().filter(|l| l.packs > 0).map(|l| l.cost).collect();
        let sum = costs.and_then(|all| all.into_iter().try_fold(Decimal::ZERO, Decimal::checked_add));
        (comes.map(|v| v.from).min(), sum)
    };
    bought
        .map(|order| {
            let (by, cost) = one(order);
            Goods { order, by, cost }
        })
        .collect()
}
