//! Payments as JSON: fields are only ever added. Money and percentages are decimal strings, days are year-month-day.

use rust_decimal::Decimal;
use serde::Serialize;
use tankwright_account::payments::{Goods, Payment, Payments, Valuation, Worth};
use tankwright_quantities::amount_words::amount_words;
use tankwright_quantities::estimate::{Balance, Caution, Estimate};
use tankwright_quantities::job::Day;
use tankwright_quantities::stage::Stage;

use super::{kind, stage_id, title};
use crate::json::{exact, money, plain};

#[derive(Serialize)]
struct Out<'a> {
    format: u8,
    job: &'a str,
    date: &'a str,
    currency: &'a str,
    /// Does the client buy the materials?
    labour_only: bool,
    total: Option<String>,
    total_in_words: &'a str,
    terms: TermsOut<'a>,
    payments: Vec<PaymentOut<'a>>,
    payments_total: Option<String>,
    stages: Vec<StageOut>,
    /// Provisional items with their share of the additions.
    provisional: PartsOut,
    /// Goods of each stage, in packs.
    goods: Vec<GoodsOut<'a>>,
    /// Money in and out; null where the client buys, or where goods have no rate.
    cash: Option<CashOut>,
    paid: Vec<PaidOut<'a>>,
    /// At the day asked for; else null.
    valuation: Option<ValuationOut<'a>>,
    cautions: Vec<CautionOut<'a>>,
    balances: Vec<BalanceOut<'a>>,
}

#[derive(Serialize)]
struct TermsOut<'a> {
    deposit: Option<String>,
    /// Stages whose materials it buys.
    deposit_stages: Vec<&'static str>,
    /// Materials of these stages without a rate: then there is no deposit.
    deposit_no_rate: &'a [String],
    retention_percent: String,
    retention_limit_percent: Option<String>,
    retention_release_percent: String,
    retention_days: u32,
    defaults: Vec<DefaultOut<'a>>,
}

#[derive(Serialize)]
struct DefaultOut<'a> {
    path: &'a str,
    value: &'a str,
    source: &'a str,
}

#[derive(Serialize)]
struct PartsOut {
    measured: Option<String>,
    preliminaries: Option<String>,
    provisional: Option<String>,
    additions: Option<String>,
    worth: Option<String>,
}

#[derive(Serialize)]
struct StageOut {
    stage: &'static str,
    #[serde(flatten)]
    parts: PartsOut,
}

#[derive(Serialize)]
struct PaymentOut<'a> {
    number: usize,
    /// `deposit`, `stage`, `provisional`, `completion`, `retention`.
    kind: &'static str,
    stage: Option<&'static str>,
    title: String,
    date: Option<String>,
    worth: Option<String>,
    held: Option<String>,
    by_deposit: Option<String>,
    due: Option<String>,
    due_in_words: String,
    measured: Vec<MeasuredOut<'a>>,
    seen: Vec<SeenOut<'a>>,
}

#[derive(Serialize)]
struct MeasuredOut<'a> {
    what: String,
    metres: &'a str,
}

#[derive(Serialize)]
struct SeenOut<'a> {
    says: String,
    source: &'a str,
}

#[derive(Serialize)]
struct GoodsOut<'a> {
    stage: &'static str,
    by: Option<String>,
    cost: Option<String>,
    lines: Vec<LineOut<'a>>,
}

#[derive(Serialize)]
struct LineOut<'a> {
    material: &'a str,
    packs: u64,
    ordered: String,
    cost: Option<String>,
}

#[derive(Serialize)]
struct CashOut {
    deposit: Option<String>,
    rows: Vec<CashRowOut>,
    retention: Option<String>,
    left: Option<String>,
}

#[derive(Serialize)]
struct CashRowOut {
    stage: &'static str,
    goods: Option<String>,
    before: Option<String>,
    received: Option<String>,
    after: Option<String>,
}

#[derive(Serialize)]
struct PaidOut<'a> {
    date: String,
    amount: Option<String>,
    in_words: String,
    note: &'a str,
}

#[derive(Serialize)]
struct ValuationOut<'a> {
    date: String,
    /// The stage asked for: it and all before it are taken as done.
    up_to: Option<&'static str>,
    seen: Option<String>,
    note: &'a str,
    stages: Vec<ValuedOut>,
    provisional: Option<String>,
    materials: Option<String>,
    gross: Option<String>,
    held: Option<String>,
    released: Option<String>,
    owed: Option<String>,
    deposit_stands: bool,
    paid: Option<String>,
    due: Option<String>,
    due_in_words: String,
    ahead: Option<String>,
}

#[derive(Serialize)]
struct ValuedOut {
    stage: &'static str,
    worth: Option<String>,
    percent: String,
    done: Option<String>,
}

#[derive(Serialize)]
struct CautionOut<'a> {
    code: &'static str,
    says: String,
    source: &'a str,
}

#[derive(Serialize)]
struct BalanceOut<'a> {
    name: &'static str,
    says: String,
    left: String,
    right: String,
    holds: bool,
    breaks: &'a [String],
}

/// Money with the currency's digits.
struct Purse<'a>(&'a Estimate);

impl Purse<'_> {
    fn put(&self, amount: Decimal) -> Option<String> {
        money(&self.0.bill, Some(amount))
    }

    fn words(&self, amount: Decimal) -> String {
        amount_words(amount, &self.0.bill.currency)
    }

    fn parts(&self, w: &Worth) -> PartsOut {
        PartsOut {
            measured: self.put(w.measured),
            preliminaries: self.put(w.preliminaries),
            provisional: self.put(w.provisional),
            additions: self.put(w.additions),
            worth: self.put(w.total()),
        }
    }
}

fn day(date: Option<Day>) -> Option<String> {
    date.map(|d| d.to_string())
}

fn payment<'a>(purse: &Purse<'_>, p: &Payments<'_>, number: usize, x: &'a Payment) -> PaymentOut<'a> {
    let stage = stage_id(x.kind);
    PaymentOut {
        number,
        kind: kind(x.kind),
        stage: (!stage.is_empty()).then_some(stage),
        title: title(p, x),
        date: day(x.date),
        worth: purse.put(x.worth.total()),
        held: purse.put(x.held),
        by_deposit: purse.put(x.credited),
        due: purse.put(x.due),
        due_in_words: purse.words(x.due),
        measured: x
            .measured
            .iter()
            .map(|m| MeasuredOut { what: m.title.to_string(), metres: &m.metres })
            .collect(),
        seen: x.seen.iter().map(|s| SeenOut { says: s.says.to_string(), source: &s.source }).collect(),
    }
}

fn goods<'a>(purse: &Purse<'_>, g: &Goods<'a>) -> GoodsOut<'a> {
    let lines = g.order.lines.iter().filter(|l| l.packs > 0).map(|l| LineOut {
        material: &l.material,
        packs: l.packs,
        ordered: plain(l.ordered),
        cost: l.cost.and_then(|c| purse.put(c)),
    });
    GoodsOut {
        stage: g.order.stage.id(),
        by: day(g.by),
        cost: g.cost.and_then(|c| purse.put(c)),
        lines: lines.collect(),
    }
}

fn valuation<'a>(purse: &Purse<'_>, v: &'a Valuation) -> ValuationOut<'a> {
    let valued = v.stages.iter().map(|s| ValuedOut {
        stage: s.stage.id(),
        worth: purse.put(s.worth),
        percent: plain(s.percent),
        done: purse.put(s.done),
    });
    ValuationOut {
        date: v.at.to_string(),
        up_to: v.up_to.map(Stage::id),
        seen: day(v.seen),
        note: &v.note,
        stages: valued.collect(),
        provisional: purse.put(v.provisional),
        materials: purse.put(v.materials),
        gross: purse.put(v.gross),
        held: purse.put(v.held),
        released: purse.put(v.released),
        owed: purse.put(v.owed),
        deposit_stands: v.deposit_stands,
        paid: purse.put(v.paid),
        due: purse.put(v.due),
        due_in_words: purse.words(v.due),
        ahead: purse.put(v.ahead),
    }
}

fn caution(c: &Caution) -> CautionOut<'_> {
    CautionOut { code: c.code, says: c.says.to_string(), source: &c.source }
}

fn balance(b: &Balance) -> BalanceOut<'_> {
    let (left, right) = (exact(b.left), exact(b.right));
    BalanceOut { name: b.name, says: b.says.to_string(), left, right, holds: b.holds(), breaks: &b.breaks }
}

/// All of it: schedule, stages, goods, money in and out, payments received, account.
#[must_use]
pub fn json(e: &Estimate, p: &Payments<'_>) -> String {
    let purse = &Purse(e);
    let t = &p.terms;
    let deposit = &p.schedule.deposit;
    let cash = p.cash.as_ref().map(|c| CashOut {
        deposit: purse.put(c.deposit),
        rows: c
            .rows
            .iter()
            .map(|r| CashRowOut {
                stage: r.stage.id(),
                goods: purse.put(r.goods),
                before: purse.put(r.before),
                received: purse.put(r.received),
                after: purse.put(r.after),
            })
            .collect(),
        retention: purse.put(c.retention),
        left: purse.put(c.left),
    });
    let out = Out {
        format: 1,
        job: &e.title,
        date: &e.date,
        currency: &e.bill.currency.code,
        labour_only: p.client_buys,
        total: money(&e.bill, e.bill.total),
        total_in_words: &e.bill.total_in_words,
        terms: TermsOut {
            deposit: purse.put(deposit.amount),
            deposit_stages: deposit.buys.iter().map(|s| s.id()).collect(),
            deposit_no_rate: &deposit.no_rate,
            retention_percent: plain(t.retention),
            retention_limit_percent: t.limit.map(plain),
            retention_release_percent: plain(t.release),
            retention_days: t.days,
            defaults: t
                .defaults
                .iter()
                .map(|d| DefaultOut { path: &d.path, value: &d.value, source: &d.source })
                .collect(),
        },
        payments: (1..).zip(&p.schedule.payments).map(|(n, x)| payment(purse, p, n, x)).collect(),
        payments_total: purse.put(p.schedule.total()),
        stages: p
            .spread
            .stages
            .iter()
            .map(|(stage, w)| StageOut { stage: stage.id(), parts: purse.parts(w) })
            .collect(),
        provisional: purse.parts(&p.spread.provisional),
        goods: p.goods.iter().map(|g| goods(purse, g)).collect(),
        cash,
        paid: p
            .paid
            .receipts
            .iter()
            .map(|r| PaidOut {
                date: r.date.to_string(),
                amount: purse.put(r.amount),
                in_words: purse.words(r.amount),
                note: &r.note,
            })
            .collect(),
        valuation: p.valuation.as_ref().map(|v| valuation(purse, v)),
        cautions: p.cautions.iter().map(caution).collect(),
        balances: p.balances.iter().map(balance).collect(),
    };
    crate::json::write(&out)
}
