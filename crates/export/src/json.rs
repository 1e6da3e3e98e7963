//! JSON for other programs: fields are only ever added. Quantities and money are decimal strings.
//!
//! Only the top-level object carries `"format": 1`. Ids are stable; notes and descriptions are words for people.

use rust_decimal::Decimal;
use serde::Serialize;
use tankwright_geometry::Ratio;
use tankwright_quantities::bill::{Bill, BillRow, SideRow};
use tankwright_quantities::decimal;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::sheet::{Item, Line};

use crate::format::{metres_plain, multiplier};
use crate::text::rate_source;

/// The take-off as JSON, two spaces a step, with a line end.
#[must_use]
pub fn takeoff(e: &Estimate) -> String {
    write(&TakeoffOut {
        format: 1,
        job: job(e),
        profile: &e.profile.0,
        items: e.sheet.items.iter().map(item).collect(),
        voids: e.sheet.voids.iter().map(item).collect(),
        balances: e.balances.iter().map(balance).collect(),
        earth: earth(e),
        capacity: CapacityOut { to_water_line: e.capacity.to_water_line, full: e.capacity.full },
        setting_out: e
            .setting_out
            .iter()
            .map(|m| MarkOut { title: m.title.to_string(), metres: &m.metres })
            .collect(),
        cautions: cautions(e),
        defaults: defaults(e),
    })
}

/// The bill as JSON; rates and amounts are null where no price list was used.
#[must_use]
pub fn bill(e: &Estimate) -> String {
    let b = &e.bill;
    write(&BillOut {
        format: 1,
        job: job(e),
        profile: &e.profile.0,
        currency: &b.currency.code,
        sections: b
            .sections
            .iter()
            .map(|s| SectionOut {
                id: s.section.id(),
                title: crate::format::word(&format!("section-{}", s.section.id())).to_owned(),
                letter: s.letter,
                total: money(b, s.total),
                rows: s.rows.iter().map(|r| row(b, r)).collect(),
            })
            .collect(),
        measured_total: money(b, b.measured),
        preliminaries: sides(b, &b.preliminaries),
        provisional: sides(b, &b.provisional),
        not_priced: &b.not_priced,
        additions: b
            .additions
            .iter()
            .map(|a| AdditionOut {
                title: &a.title,
                percent: a.percent.map(plain),
                base: money(b, Some(a.base)),
                amount: money(b, Some(a.amount)),
            })
            .collect(),
        total: money(b, b.total),
        total_in_words: &b.total_in_words,
        price_list: b.price_list.as_ref().map(|(name, from, to)| ListOut { name, from, to }),
        cautions: cautions(e),
        defaults: defaults(e),
    })
}

#[derive(Serialize)]
struct TakeoffOut<'a> {
    format: u8,
    job: JobOut<'a>,
    profile: &'a str,
    items: Vec<ItemOut<'a>>,
    voids: Vec<ItemOut<'a>>,
    balances: Vec<BalanceOut<'a>>,
    earth: EarthOut,
    capacity: CapacityOut,
    setting_out: Vec<MarkOut<'a>>,
    cautions: Vec<CautionOut<'a>>,
    defaults: Vec<DefaultOut<'a>>,
}

#[derive(Serialize)]
struct JobOut<'a> {
    title: &'a str,
    date: &'a str,
    currency: &'a str,
    file: &'a str,
}

#[derive(Serialize)]
struct ItemOut<'a> {
    id: &'a str,
    work: &'static str,
    spec: &'a str,
    section: &'static str,
    stage: &'static str,
    unit: &'static str,
    description: String,
    quantity: String,
    net: String,
    net_unit: &'static str,
    model: Option<String>,
    billed: bool,
    lines: Vec<LineOut<'a>>,
    decisions: Vec<DecisionOut<'a>>,
}

#[derive(Serialize)]
struct LineOut<'a> {
    note: String,
    times: Vec<String>,
    dims: Vec<String>,
    dropped: Vec<String>,
    of_item: Option<&'a str>,
    value: String,
}

#[derive(Serialize)]
struct DecisionOut<'a> {
    what: String,
    size: String,
    clause: &'a str,
}

#[derive(Serialize)]
struct BalanceOut<'a> {
    name: &'static str,
    says: String,
    left: String,
    right: String,
    difference: String,
    unit: &'static str,
    holds: bool,
    breaks: &'a [String],
}

#[derive(Serialize)]
struct EarthOut {
    dug_net: String,
    dug_actual: String,
    put_back: String,
    carted_bank: String,
    carted_loose: String,
    loads: Option<u64>,
    load: Option<String>,
}

#[derive(Serialize)]
struct CapacityOut {
    to_water_line: Option<u64>,
    full: u64,
}

#[derive(Serialize)]
struct MarkOut<'a> {
    title: String,
    metres: &'a str,
}

#[derive(Serialize)]
struct CautionOut<'a> {
    code: &'static str,
    says: String,
    source: &'a str,
    line: Option<usize>,
}

#[derive(Serialize)]
struct DefaultOut<'a> {
    path: &'a str,
    value: &'a str,
    source: &'a str,
}

#[derive(Serialize)]
struct BillOut<'a> {
    format: u8,
    job: JobOut<'a>,
    profile: &'a str,
    currency: &'a str,
    sections: Vec<SectionOut<'a>>,
    measured_total: Option<String>,
    preliminaries: Vec<SideOut<'a>>,
    provisional: Vec<SideOut<'a>>,
    not_priced: &'a [String],
    additions: Vec<AdditionOut<'a>>,
    total: Option<String>,
    total_in_words: &'a str,
    price_list: Option<ListOut<'a>>,
    cautions: Vec<CautionOut<'a>>,
    defaults: Vec<DefaultOut<'a>>,
}

#[derive(Serialize)]
struct SectionOut<'a> {
    id: &'static str,
    title: String,
    letter: char,
    total: Option<String>,
    rows: Vec<RowOut<'a>>,
}

#[derive(Serialize)]
struct RowOut<'a> {
    #[serde(rename = "ref")]
    reference: &'a str,
    work: &'static str,
    spec: &'a str,
    description: String,
    unit: &'static str,
    quantity: String,
    rate: Option<String>,
    amount: Option<String>,
    source: Option<String>,
    code: Option<&'a str>,
    less_specific: bool,
    items: &'a [String],
}

#[derive(Serialize)]
struct SideOut<'a> {
    title: &'a str,
    unit: Option<&'a str>,
    quantity: Option<String>,
    rate: Option<String>,
    amount: Option<String>,
}

#[derive(Serialize)]
struct AdditionOut<'a> {
    title: &'a str,
    percent: Option<String>,
    base: Option<String>,
    amount: Option<String>,
}

#[derive(Serialize)]
struct ListOut<'a> {
    name: &'a str,
    from: &'a str,
    to: &'a str,
}

/// Structs of texts and numbers cannot fail to serialise; were it so, the text says what went wrong.
fn write<T: Serialize>(value: &T) -> String {
    let mut text = serde_json::to_string_pretty(value)
        .unwrap_or_else(|fault| format!("{{\"format\": 1, \"fault\": \"{fault}\"}}"));
    text.push('\n');
    text
}

/// Digits as they are, without zeros that say nothing.
pub(crate) fn plain(value: Decimal) -> String {
    value.normalize().to_string()
}

/// An amount with the currency's digits.
pub(crate) fn money(bill: &Bill, value: Option<Decimal>) -> Option<String> {
    value.map(|d| decimal::shown(d, bill.currency.digits))
}

/// An exact value: a decimal or a fraction; "unknown" after an overflow.
pub(crate) fn exact(value: Ratio) -> String {
    if value.is_known() { decimal::plain(value) } else { "unknown".to_owned() }
}

fn job(e: &Estimate) -> JobOut<'_> {
    JobOut { title: &e.title, date: &e.date, currency: &e.bill.currency.code, file: &e.file }
}

fn item(item: &Item) -> ItemOut<'_> {
    ItemOut {
        id: &item.id,
        work: item.work.id,
        spec: &item.spec,
        section: item.work.section.id(),
        stage: item.stage.id(),
        unit: item.unit.id(),
        description: item.wording.to_string(),
        quantity: plain(item.quantity),
        net: plain(item.net),
        net_unit: item.work.unit.id(),
        model: item.model.map(exact),
        billed: !item.unbilled,
        lines: item.lines.iter().map(line).collect(),
        decisions: item
            .decisions
            .iter()
            .map(|d| DecisionOut { what: d.what.to_string(), size: exact(d.size), clause: &d.clause })
            .collect(),
    }
}

fn line(line: &Line) -> LineOut<'_> {
    let dims =
        |dropped| line.dims.iter().filter(|d| d.dropped == dropped).map(|d| metres_plain(d.booked)).collect();
    LineOut {
        note: line.note.to_string(),
        times: line.times.iter().map(multiplier).collect(),
        dims: dims(false),
        dropped: dims(true),
        of_item: line.of_item.as_deref(),
        value: exact(line.value),
    }
}

fn balance(b: &tankwright_quantities::estimate::Balance) -> BalanceOut<'_> {
    BalanceOut {
        name: b.name,
        says: b.says.to_string(),
        left: exact(b.left),
        right: exact(b.right),
        difference: exact(b.left - b.right),
        unit: b.unit,
        holds: b.holds(),
        breaks: &b.breaks,
    }
}

fn earth(e: &Estimate) -> EarthOut {
    EarthOut {
        dug_net: plain(e.earth.dug_net),
        dug_actual: plain(e.earth.dug_actual),
        put_back: plain(e.earth.put_back),
        carted_bank: plain(e.earth.carted_bank),
        carted_loose: plain(e.earth.carted_loose),
        loads: e.earth.loads.map(|(n, _)| n),
        load: e.earth.loads.map(|(_, size)| plain(size)),
    }
}

fn cautions(e: &Estimate) -> Vec<CautionOut<'_>> {
    let one = |c: &tankwright_quantities::estimate::Caution| c.place.as_ref().map(|p| p.line);
    e.cautions
        .iter()
        .map(|c| CautionOut { code: c.code, says: c.says.to_string(), source: &c.source, line: one(c) })
        .collect()
}

fn defaults(e: &Estimate) -> Vec<DefaultOut<'_>> {
    e.defaults.iter().map(|d| DefaultOut { path: &d.path, value: &d.value, source: &d.source }).collect()
}

fn row<'a>(bill: &Bill, r: &'a BillRow) -> RowOut<'a> {
    RowOut {
        reference: &r.reference,
        work: r.work.id,
        spec: &r.spec,
        description: r.wording.to_string(),
        unit: r.unit.id(),
        quantity: plain(r.quantity),
        rate: r.rate.as_ref().map(|(rate, _)| plain(*rate)),
        amount: money(bill, r.amount),
        source: r.rate.as_ref().map(|(_, from)| rate_source(from)),
        code: r.rate.as_ref().map(|(_, from)| from.code.as_str()),
        less_specific: r.rate.as_ref().is_some_and(|(_, from)| from.less_specific),
        items: &r.items,
    }
}

fn sides<'a>(bill: &Bill, rows: &'a [SideRow]) -> Vec<SideOut<'a>> {
    rows.iter().map(|r| side_row(bill, r)).collect()
}

fn side_row<'a>(bill: &Bill, r: &'a SideRow) -> SideOut<'a> {
    SideOut {
        title: &r.title,
        unit: r.worked.as_ref().map(|w| w.0.as_str()),
        quantity: r.worked.as_ref().map(|w| plain(w.1)),
        rate: r.worked.as_ref().map(|w| plain(w.2)),
        amount: money(bill, Some(r.amount)),
    }
}
