//! The analyses as JSON: fields are only ever added. Quantities and money are decimal strings.

use serde::Serialize;
use tankwright_quantities::build_up::{Cost, Group, Worked, WorkedLine, WorkedOnCost, audit};
use tankwright_quantities::decimal::shown;
use tankwright_quantities::estimate::Estimate;

use super::{code, rows};
use crate::json::{plain, write};
use crate::text::rate_source;

#[derive(Serialize)]
struct AnalysisOut<'a> {
    format: u8,
    currency: &'a str,
    rows: Vec<RateOut<'a>>,
    /// References of rows that the price list prices directly.
    direct: Vec<&'a str>,
}

#[derive(Serialize)]
struct RateOut<'a> {
    #[serde(rename = "ref")]
    reference: &'a str,
    code: String,
    description: String,
    unit: &'static str,
    rate: String,
    build_up: BuildUpOut<'a>,
}

/// A built rate.
#[derive(Serialize)]
pub(crate) struct BuildUpOut<'a> {
    code: &'a str,
    file: &'a str,
    per: String,
    unit: &'a str,
    lines: Vec<LineOut<'a>>,
    sums: Vec<SumOut>,
    cost: String,
    on_costs: Vec<OnCostOut<'a>>,
    total: String,
    each: String,
    says: Vec<SayOut>,
    rate: String,
    /// Hours of a day, where hours were turned into days or days into hours.
    #[serde(skip_serializing_if = "Option::is_none")]
    day_hours: Option<String>,
}

#[derive(Serialize)]
struct LineOut<'a> {
    group: &'static str,
    code: &'a str,
    title: &'a str,
    working: &'a str,
    /// Null for a percentage, as unit and rate.
    quantity: Option<String>,
    unit: Option<&'a str>,
    rate: Option<String>,
    percent: Option<String>,
    /// What a percentage is taken on.
    on: &'a [String],
    base: Option<String>,
    amount: String,
    /// Who says how much.
    source: &'a str,
    /// The row of the price list.
    price: Option<String>,
}

#[derive(Serialize)]
struct SumOut {
    group: &'static str,
    amount: String,
}

#[derive(Serialize)]
struct OnCostOut<'a> {
    title: &'a str,
    percent: String,
    gross_up: bool,
    /// Empty: on all before it.
    on: &'a [String],
    base: String,
    amount: String,
    source: &'a str,
    /// Groups of the cost that it leaves out.
    leaves_out: Vec<&'static str>,
    /// What it would be more on all before it.
    more_on_all: String,
}

#[derive(Serialize)]
struct SayOut {
    way: &'static str,
    to: String,
    said: String,
}

/// Every built rate of the bill as JSON.
#[must_use]
pub fn json(e: &Estimate) -> String {
    let built = rows(e).into_iter().map(|(row, worked)| RateOut {
        reference: &row.reference,
        code: code(row),
        description: row.wording.to_string(),
        unit: row.unit.id(),
        rate: plain(worked.rate),
        build_up: build_up(worked),
    });
    let all = e.bill.sections.iter().flat_map(|s| &s.rows);
    write(&AnalysisOut {
        format: 1,
        currency: &e.bill.currency.code,
        rows: built.collect(),
        direct: all.filter(|r| r.build_up.is_none()).map(|r| r.reference.as_str()).collect(),
    })
}

/// A built rate as an object.
pub(crate) fn build_up(worked: &Worked) -> BuildUpOut<'_> {
    let places = worked.places();
    let sum = |g: Group| Some(SumOut { group: g.id(), amount: shown(worked.sum(g)?, places) });
    BuildUpOut {
        code: &worked.build_up.0,
        file: &worked.build_up.1,
        per: plain(worked.per),
        unit: &worked.unit,
        lines: worked.lines.iter().map(|l| line(worked, l)).collect(),
        sums: Group::ALL.into_iter().filter_map(sum).collect(),
        cost: shown(worked.cost, places),
        on_costs: worked.on_costs.iter().enumerate().map(|(i, o)| on_cost(worked, i, o)).collect(),
        total: shown(worked.total, places),
        each: plain(worked.each),
        says: worked
            .says
            .iter()
            .map(|(s, said)| SayOut { way: s.way.id(), to: plain(s.to), said: plain(*said) })
            .collect(),
        rate: plain(worked.rate),
        day_hours: worked.day.as_ref().map(|(hours, _)| plain(*hours)),
    }
}

fn line<'a>(worked: &Worked, done: &'a WorkedLine) -> LineOut<'a> {
    let line = &done.line;
    let amount = shown(done.amount, worked.places());
    let common = LineOut {
        group: line.group.id(),
        code: &line.code,
        title: &line.title,
        working: "",
        quantity: None,
        unit: None,
        rate: None,
        percent: None,
        on: &[],
        base: None,
        amount,
        source: &line.source,
        price: None,
    };
    match &line.cost {
        Cost::Priced { working, unit, rate, from, .. } => LineOut {
            working,
            quantity: Some(plain(done.quantity)),
            unit: Some(unit),
            rate: Some(plain(*rate)),
            price: from.as_deref().map(rate_source),
            ..common
        },
        Cost::Percent(percent, on) => LineOut {
            percent: Some(plain(*percent)),
            on,
            base: Some(shown(done.quantity, worked.places())),
            ..common
        },
    }
}

fn on_cost<'a>(worked: &Worked, at: usize, done: &'a WorkedOnCost) -> OnCostOut<'a> {
    let left = audit(worked).into_iter().find(|l| l.on_cost == at);
    let more = left.as_ref().map_or(rust_decimal::Decimal::ZERO, |l| l.more);
    OnCostOut {
        title: &done.on_cost.title,
        percent: plain(done.on_cost.percent),
        gross_up: done.on_cost.gross_up,
        on: &done.on_cost.on,
        base: shown(done.base, worked.places()),
        amount: shown(done.amount, worked.places()),
        source: &done.on_cost.source,
        leaves_out: left.iter().flat_map(|l| &l.groups).map(|(g, _)| g.id()).collect(),
        more_on_all: shown(more, worked.places()),
    }
}
