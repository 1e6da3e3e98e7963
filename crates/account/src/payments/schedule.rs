//! The payments one after another: deposit, stages, what is measured later, what was held back.

use rust_decimal::Decimal;
use tankwright_quantities::decimal::ratio;
use tankwright_quantities::estimate::{Balance, Caution, Estimate, Mark};
use tankwright_quantities::job::{Day, Job};
use tankwright_quantities::problem::Problem;
use tankwright_quantities::programme::{EventKind, title};
use tankwright_quantities::stage::Stage;
use tankwright_quantities::words::Phrase;

use super::spread::{Spread, Worth};
use super::terms::{DepositTerm, Terms, share};

/// What a payment is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Before the work begins.
    Deposit,
    /// A stage that is done.
    Stage(Stage),
    /// Provisional items, when they are measured.
    Provisional,
    /// The part of what was held back that is due when all is built.
    Completion,
    /// The rest of it.
    Retention,
}

/// What is seen before a payment is made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Seen {
    /// In words.
    pub says: Phrase,
    /// Who asks for it.
    pub source: String,
}

/// A payment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Payment {
    /// What for.
    pub kind: Kind,
    /// When, where the job has a programme.
    pub date: Option<Day>,
    /// What the work is made of; nothing of it where no work is paid.
    pub worth: Worth,
    /// Held back of it.
    pub held: Decimal,
    /// Paid before, by the deposit.
    pub credited: Decimal,
    /// To be paid: worth less what is held and what the deposit paid; or what was held.
    pub due: Decimal,
    /// What is seen before.
    pub seen: Vec<Seen>,
    /// Levels and lengths that are measured before.
    pub measured: Vec<Mark>,
}

/// The deposit.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Deposit {
    /// How much.
    pub amount: Decimal,
    /// Stages whose materials it buys.
    pub buys: Vec<Stage>,
    /// Goods of these stages without a rate: then it is nothing.
    pub no_rate: Vec<String>,
}

/// All payments of a job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Schedule {
    /// Deposit.
    pub deposit: Deposit,
    /// In order.
    pub payments: Vec<Payment>,
}

impl Schedule {
    /// All that is paid.
    #[must_use]
    pub fn total(&self) -> Decimal {
        self.payments.iter().map(|p| p.due).sum()
    }

    /// The payment of a stage.
    #[must_use]
    pub fn of(&self, stage: Stage) -> Option<&Payment> {
        self.payments.iter().find(|p| p.kind == Kind::Stage(stage))
    }
}

/// The day on which a stage is done, and its water test too, where the job has a first day.
pub(super) fn ends(e: &Estimate, stage: Stage) -> Option<Day> {
    let done = |kind| matches!(kind, EventKind::Stage | EventKind::WaterTest);
    e.programme.events.iter().filter(|v| v.stage == stage && done(v.kind)).map(|v| v.to).max()
}

/// Every payment; a problem where the deposit is more than the stages pay (J207). `None` beyond what can be reckoned.
pub(super) fn schedule(
    e: &Estimate,
    job: &Job,
    terms: &Terms,
    spread: &Spread,
) -> Option<Result<Schedule, Problem>> {
    let (digits, total) = (e.bill.currency.digits, e.bill.total?);
    let deposit = deposit(e, terms, total)?;
    let mut payments = Vec::new();
    if !deposit.amount.is_zero() {
        payments.push(Payment {
            due: deposit.amount,
            date: first_order(e, &deposit.buys),
            ..nothing(Kind::Deposit)
        });
    }
    let (mut worth, mut held, mut owed) = (Decimal::ZERO, Decimal::ZERO, deposit.amount);
    let mut pay = |kind, date, part: Worth, with_deposit: bool| {
        worth += part.total();
        let holds = terms.held(worth, total, digits)? - held;
        held += holds;
        let left = part.total() - holds;
        let credited = if with_deposit { owed.min(left) } else { Decimal::ZERO };
        owed -= credited;
        Some(Payment { date, worth: part, held: holds, credited, due: left - credited, ..nothing(kind) })
    };
    let worthy = spread.stages.iter().filter(|(_, w)| !w.total().is_zero());
    for (stage, part) in worthy {
        payments.push(pay(Kind::Stage(*stage), ends(e, *stage), *part, true)?);
    }
    if !spread.provisional.total().is_zero() {
        payments.push(pay(Kind::Provisional, None, spread.provisional, false)?);
    }
    if owed > Decimal::ZERO {
        return Some(Err(too_much(job, &deposit, owed)));
    }
    let done = spread.stages.iter().filter_map(|(s, _)| ends(e, *s)).max();
    let first = terms.released(held, digits)?;
    let later = done.map(|d| d.plus(i64::from(terms.days)));
    for (kind, date, due) in [(Kind::Completion, done, first), (Kind::Retention, later, held - first)] {
        payments.extend((!due.is_zero()).then(|| Payment { date, due, ..nothing(kind) }));
    }
    see(e, &mut payments);
    Some(Ok(Schedule { deposit, payments }))
}

fn nothing(kind: Kind) -> Payment {
    Payment {
        kind,
        date: None,
        worth: Worth::default(),
        held: Decimal::ZERO,
        credited: Decimal::ZERO,
        due: Decimal::ZERO,
        seen: Vec::new(),
        measured: Vec::new(),
    }
}

fn deposit(e: &Estimate, terms: &Terms, total: Decimal) -> Option<Deposit> {
    let amount = match terms.deposit {
        DepositTerm::None => Decimal::ZERO,
        DepositTerm::Amount(amount) => amount,
        DepositTerm::Percent(percent) => share(percent, total, e.bill.currency.digits)?,
        DepositTerm::Materials => return materials(e, &terms.deposit_stages),
    };
    Some(Deposit { amount, ..Deposit::default() })
}

/// What the goods of the first stage cost, or of the stages named, in packs.
fn materials(e: &Estimate, named: &[Stage]) -> Option<Deposit> {
    let bought = |o: &&tankwright_quantities::orders::StageOrder| o.lines.iter().any(|l| l.packs > 0);
    let first = || e.orders.stages.iter().find(bought).map(|o| o.stage).into_iter().collect();
    let buys: Vec<Stage> = if named.is_empty() { first() } else { named.to_vec() };
    let orders = e.orders.stages.iter().filter(|o| buys.contains(&o.stage));
    let mut deposit = Deposit { buys: buys.clone(), ..Deposit::default() };
    for line in orders.flat_map(|o| &o.lines).filter(|l| l.packs > 0) {
        match line.cost {
            Some(cost) => deposit.amount = deposit.amount.checked_add(cost)?,
            None => deposit.no_rate.push(line.material.clone()),
        }
    }
    if !deposit.no_rate.is_empty() {
        deposit.amount = Decimal::ZERO;
    }
    deposit.no_rate.sort_unstable();
    deposit.no_rate.dedup();
    Some(deposit)
}

/// The day by which the first goods of these stages are ordered; else the first day of work.
fn first_order(e: &Estimate, buys: &[Stage]) -> Option<Day> {
    let events = || e.programme.events.iter();
    let order =
        events().filter(|v| v.kind == EventKind::Order && buys.contains(&v.stage)).map(|v| v.from).min();
    order.or_else(|| events().filter(|v| v.kind == EventKind::Stage).map(|v| v.from).min())
}

fn too_much(job: &Job, deposit: &Deposit, owed: Decimal) -> Problem {
    let message = format!("the deposit of {} is {owed} more than the stages pay", deposit.amount);
    let problem = Problem::error("J207", job.place("payments.deposit"), message).label("too large");
    problem.hint("a deposit is taken off the payments of the stages; write a smaller one under [payments]")
}

/// What is seen and measured goes to the payment of its stage. Where a stage pays nothing, what is seen waits for the
/// next payment, and what is measured belongs to the one before.
fn see(e: &Estimate, payments: &mut [Payment]) {
    let paid: Vec<Stage> = payments.iter().filter_map(stage_of).collect();
    let (Some(first), Some(last)) = (paid.first().copied(), paid.last().copied()) else { return };
    for payment in payments {
        let Some(stage) = stage_of(payment) else { continue };
        let next = |of: Stage| paid.iter().copied().find(|s| *s >= of).unwrap_or(last);
        let before = |of: Stage| paid.iter().rev().copied().find(|s| *s <= of).unwrap_or(first);
        let holds = e.programme.holds.iter().filter(|h| next(h.of) == stage);
        payment.seen = holds.map(|h| Seen { says: h.says.clone(), source: h.source.clone() }).collect();
        let marks = e.setting_out.iter().filter(|m| m.stage.map(before) == Some(stage));
        payment.measured = marks.cloned().collect();
    }
}

fn stage_of(payment: &Payment) -> Option<Stage> {
    match payment.kind {
        Kind::Stage(stage) => Some(stage),
        _ => None,
    }
}

/// All payments together are the total of the bill.
pub(super) fn balance(e: &Estimate, schedule: &Schedule) -> Balance {
    Balance {
        name: "payments-due",
        says: Phrase::new("balance-payments-due"),
        left: ratio(schedule.total()),
        right: e.bill.total.map_or(tankwright_geometry::Ratio::UNKNOWN, ratio),
        unit: "",
        breaks: Vec::new(),
    }
}

/// A common limit of a deposit, in hundredths of the total.
const QUARTER: Decimal = Decimal::from_parts(25, 0, 0, false, 0);
const ADVICE: &str = "UK consumer advice for a long job: never more than 25 %, less or none is better (Citizens Advice, \
    as reported by https://myrmexgroup.co.uk/journal/how-much-deposit-to-pay-a-builder)";

/// What both sides should know of the deposit.
pub(super) fn cautions(e: &Estimate, schedule: &Schedule) -> Vec<Caution> {
    let deposit = &schedule.deposit;
    let mut told = Vec::new();
    if !deposit.no_rate.is_empty() {
        let list = e.bill.price_list.as_ref().map_or("", |l| l.0.as_str());
        let says = Phrase::with("payments-no-rate", &[list, &deposit.no_rate.join(", ")]);
        told.push(Caution::new("C100", says, "our own rule"));
    }
    let quarter = e.bill.total.and_then(|t| share(QUARTER, t, e.bill.currency.digits));
    if quarter.is_some_and(|q| deposit.amount > q) {
        told.push(Caution::new("C101", Phrase::new("payments-over-quarter"), ADVICE));
    }
    // The deposit is worked off stage by stage: until then the client is ahead of the work.
    let ahead = schedule.payments.iter().scan(Decimal::ZERO, |run, p| {
        *run += p.due - p.worth.total();
        Some((p.kind, *run))
    });
    let last = ahead.filter(|(kind, run)| matches!(kind, Kind::Stage(_)) && *run > Decimal::ZERO).last();
    if let Some((Kind::Stage(stage), _)) = last {
        let says = Phrase::with("payments-ahead", &[title(stage)]);
        told.push(Caution::new("C102", says, "our own rule"));
    }
    told
}
