//! JSON for other programs: fields are only ever added. Quantities and money are decimal strings.
//!
//! Only the top-level object carries `"format": 1`. Ids are stable; notes and descriptions are words for people.

mod bars;
mod fields;
mod goods;
mod store;

pub use bars::bars;
pub(crate) use goods::rounding;
pub use goods::{materials, orders};
pub use store::store;

use rust_decimal::Decimal;
use serde::Serialize;
use tankwright_geometry::Ratio;
use tankwright_quantities::bill::{Bill, BillRow, ClientBuys, SideRow};
use tankwright_quantities::decimal;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::sheet::{Item, Judged, Line};
use tankwright_quantities::words::Phrase;

use crate::format::{metres_plain, multiplier};
use crate::text::rate_source;
use fields::{
    AdditionOut, BalanceOut, BesideOut, BesidesOut, BillOut, CapacityOut, CautionOut, ClientBuysOut,
    DecisionOut, DefaultOut, EarthOut, ItemOut, JobOut, JudgedOut, LineOut, ListOut, MarkOut, NoteOut,
    RowOut, SectionOut, SideOut, SizingOut, TakeoffOut,
};

/// The take-off as JSON, two spaces a step, with a line end.
#[must_use]
pub fn takeoff(e: &Estimate) -> String {
    write(&TakeoffOut {
        format: 1,
        job: job(e),
        profile: &e.profile.0,
        method: &e.method.text,
        notes: e
            .method
            .notes
            .iter()
            .map(|n| NoteOut {
                kind: crate::format::word(n.kind.key()).to_owned(),
                says: &n.says,
                source: n.source.to_string(),
            })
            .collect(),
        items: e.sheet.items.iter().map(item).collect(),
        voids: e.sheet.voids.iter().map(item).collect(),
        balances: e.balances.iter().map(balance).collect(),
        earth: earth(e),
        capacity: CapacityOut { to_water_line: e.capacity.to_water_line, full: e.capacity.full },
        sizing: e.sizing.as_ref().map(|s| SizingOut {
            rule: &s.rule,
            says: s.says.to_string().replace(crate::format::NO_BREAK, " "),
            complies: s.complies,
            asked_l: s.asked_l.map(ended),
            provided_l: s.provided_l.map(ended),
            margin_l: s.margin_l.map(ended),
            reasons: &s.reasons,
            not_checked: &s.not_checked,
        }),
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
        method: &e.method.text,
        beside: beside(e),
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
        client_buys: b.client_buys.as_ref().map(|buys| client_buys(b, buys)),
        cautions: cautions(e),
        defaults: defaults(e),
    })
}

/// Structs of texts and numbers cannot fail to serialise; were it so, the text says what went wrong.
pub(crate) fn write<T: Serialize>(value: &T) -> String {
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

/// A quantity as a decimal, always: twelve places where it has no end.
pub(crate) fn ended(value: Ratio) -> String {
    let text = exact(value);
    if text.contains('/') { decimal::rounded(value, 12).map_or(text, plain) } else { text }
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
        billed: !item.unbilled && !item.work.void,
        lines: item.lines.iter().map(line).collect(),
        decisions: item
            .decisions
            .iter()
            .map(|d| DecisionOut { what: d.what.to_string(), size: exact(d.size), clause: &d.clause })
            .collect(),
        booked: ended(item.lines.iter().map(|l| l.value).sum()),
        voids: item.judged.iter().map(judged).collect(),
    }
}

fn judged(j: &Judged) -> JudgedOut<'_> {
    JudgedOut {
        what: j.what.to_string(),
        times: j.times,
        size: ended(j.size),
        unit: j.unit.id(),
        limit: j.limit.map(ended),
        kept: j.kept,
        why: j.why.to_string(),
        clause: &j.clause,
    }
}

fn beside(e: &Estimate) -> BesideOut {
    BesideOut {
        dig_billed: plain(e.earth.dug_net),
        dug: plain(e.earth.dug_actual),
        carted_loose: plain(e.earth.carted_loose),
        concrete_billed: plain(e.concrete.billed),
        concrete_net: plain(e.concrete.net),
        concrete_mixed: plain(e.concrete.mixed),
    }
}

fn line(line: &Line) -> LineOut<'_> {
    let dims =
        |dropped| line.dims.iter().filter(|d| d.dropped == dropped).map(|d| metres_plain(d.booked)).collect();
    LineOut {
        note: line.note.to_string(),
        times: line.times.iter().map(multiplier).collect(),
        // A line that refers to another item multiplies that item's quantity.
        dims: if line.of_item.is_some() { vec![ended(line.value)] } else { dims(false) },
        dropped: dims(true),
        of_item: line.of_item.as_deref(),
        value: ended(line.value),
    }
}

fn balance(b: &tankwright_quantities::estimate::Balance) -> BalanceOut<'_> {
    BalanceOut {
        name: b.name,
        says: b.says.to_string(),
        left: ended(b.left),
        right: ended(b.right),
        difference: ended(b.left - b.right),
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
    e.cautions_of_job()
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
        full_rate: r.labour.as_ref().map(|l| plain(l.full_rate)),
        materials: r.labour.as_ref().map(|l| plain(l.materials)),
        materials_amount: r.labour.as_ref().and_then(|l| money(bill, Some(l.worth))),
        build_up: r.build_up.as_deref().map(crate::analysis::build_up),
    }
}

fn client_buys<'a>(bill: &Bill, buys: &'a ClientBuys) -> ClientBuysOut<'a> {
    let besides = |(says, cost): &(Phrase, Option<Decimal>)| BesidesOut {
        title: says.to_string(),
        amount: money(bill, *cost),
    };
    ClientBuysOut {
        in_rates: money(bill, Some(buys.in_rates)),
        besides: buys.besides.iter().map(besides).collect(),
        rest: money(bill, buys.rest),
        orders: money(bill, buys.orders),
        orders_priced: money(bill, Some(buys.orders_priced)),
        no_rate: &buys.no_rate,
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::handmade;
    use serde_json::Value;
    use tankwright_geometry::parse::decimal;

    fn read(text: &str) -> Value {
        serde_json::from_str(text).unwrap_or_default()
    }

    fn number(text: &Value) -> Ratio {
        let text = text.as_str().unwrap_or_default();
        let (sign, text) = text.strip_prefix('-').map_or((1, text), |t| (-1, t));
        let (n, d) = text.split_once('/').unwrap_or((text, "1"));
        decimal(n).zip(decimal(d)).map_or(Ratio::UNKNOWN, |(n, d)| Ratio::int(sign) * n / d)
    }

    #[test]
    fn binding_fields_of_the_take_off() {
        let out = read(&takeoff(&handmade::estimate()));
        assert_eq!(out["format"], 1);
        assert_eq!(out["job"]["title"], "Rest house, hill road");
        assert_eq!(out["profile"], "east-africa");
        let wall = &out["items"][1];
        for (key, text) in [
            ("id", "brickwork-wall/220/walls-lower"),
            ("work", "brickwork-wall"),
            ("spec", "220"),
            ("section", "masonry"),
            ("stage", "walls-lower"),
            ("unit", "m2"),
            ("quantity", "10.25"),
            ("net_unit", "m3"),
        ] {
            assert_eq!(wall[key], text);
        }
        assert_eq!(wall["lines"][1]["times"], serde_json::json!(["-1", "1/4", "3.1415926536"]));
        assert_eq!(wall["lines"][1]["dims"], serde_json::json!(["0.11", "0.11"]));
        assert_eq!(out["items"][0]["decisions"][0]["size"], "-0.034435");
        assert_eq!(out["balances"][0]["difference"], "0");
        assert_eq!(out["balances"][0]["holds"], true);
        // 13.71 x 1.25
        assert_eq!(out["earth"]["carted_loose"], "17.1375");
    }

    #[test]
    fn multipliers_and_dimensions_give_the_value() {
        let out = read(&takeoff(&handmade::estimate()));
        let mut seen = 0;
        for item in ["items", "voids"].iter().filter_map(|k| out[k].as_array()).flatten() {
            for line in item["lines"].as_array().into_iter().flatten().filter(|l| l["of_item"].is_null()) {
                let factors = ["times", "dims"].iter().filter_map(|k| line[k].as_array()).flatten();
                assert_eq!(
                    factors.map(number).fold(Ratio::ONE, |a, b| a * b),
                    number(&line["value"]),
                    "{line}"
                );
                seen += 1;
            }
        }
        assert_eq!(seen, 4);
    }

    #[test]
    fn binding_fields_of_the_bill() {
        let out = read(&bill(&handmade::estimate()));
        assert_eq!(out["format"], 1);
        assert_eq!(out["currency"], "UGX");
        let row = &out["sections"][1]["rows"][0];
        assert_eq!(
            (&row["ref"], &row["quantity"], &row["rate"]),
            (&"E1".into(), &"10.25".into(), &"46500".into())
        );
        // 10.25 x 46 500
        assert_eq!(row["amount"], "476625");
        assert_eq!(row["source"], "rates/prices/demo-ugx.csv:31, 2026-10-01, invented, demo");
        assert_eq!(out["measured_total"], "641145");
        assert_eq!(out["additions"][1]["percent"], "18");
        assert_eq!(out["total"], "1361000");
        assert_eq!(out["not_priced"], serde_json::json!(["water", "watchman"]));
    }

    #[test]
    fn without_prices_amounts_are_null_and_cents_are_kept() {
        let mut e = handmade::estimate();
        e.bill.total = None;
        e.bill.currency.digits = 2;
        let out = read(&bill(&e));
        assert!(out["total"].is_null());
        assert_eq!(out["measured_total"], "641145.00");
    }
}
