//! The analyses as CSV: one row a line, a sum, an on-cost, a step.

use rust_decimal::Decimal;
use tankwright_quantities::build_up::{Cost, Group};
use tankwright_quantities::decimal::shown;
use tankwright_quantities::estimate::Estimate;

use super::{code, rows, taken_on};
use crate::csv::{Out, text};
use crate::json::plain;
use crate::text::rate_source;

const HEADS: [&str; 12] =
    ["ref", "work", "row", "group", "code", "text", "quantity", "unit", "rate", "amount", "source", "price"];

/// Every built rate of the bill.
#[must_use]
pub fn csv(e: &Estimate) -> String {
    let mut out = Out::new(&HEADS);
    for (row, worked) in rows(e) {
        let places = worked.places();
        let mut put = |kind: &str, words: [&str; 3], figures: [String; 4], source: &str, price: &str| {
            let [group, line, says] = words;
            let [n, unit, rate, amount] = figures;
            let head = [&row.reference, &code(row), kind, group, line, says].map(text);
            let tail = [n, text(&unit), rate, amount, text(source), text(price)];
            out.row(head.into_iter().chain(tail));
        };
        let none = String::new;
        for done in &worked.lines {
            let line = &done.line;
            let amount = shown(done.amount, places);
            let words = [line.group.id(), line.code.as_str(), line.title.as_str()];
            match &line.cost {
                Cost::Priced { unit, rate, from, .. } => {
                    let figures = [plain(done.quantity), unit.clone(), plain(*rate), amount];
                    let price = from.as_deref().map(rate_source).unwrap_or_default();
                    put("line", words, figures, &line.source, &price);
                }
                Cost::Percent(percent, _) => {
                    let figures = [plain(*percent), "%".to_owned(), shown(done.quantity, places), amount];
                    put("line", words, figures, &line.source, "");
                }
            }
        }
        for group in Group::ALL {
            if let Some(sum) = worked.sum(group) {
                put("sum", [group.id(), "", ""], [none(), none(), none(), shown(sum, places)], "", "");
            }
        }
        put("cost", ["", "", ""], [none(), none(), none(), shown(worked.cost, places)], "", "");
        for done in &worked.on_costs {
            let says = format!("{}, {}", done.on_cost.title, taken_on(&e.bill, worked, done));
            let figures = [
                plain(done.on_cost.percent),
                "%".to_owned(),
                shown(done.base, places),
                shown(done.amount, places),
            ];
            put("on-cost", ["", "", &says], figures, &done.on_cost.source, "");
        }
        let per = [plain(worked.per), worked.unit.clone(), none(), shown(worked.total, places)];
        put("total", ["", "", ""], per, "", "");
        let one = |rate: Decimal| [plain(Decimal::ONE), worked.unit.clone(), plain(rate), none()];
        put("each", ["", "", ""], one(worked.each), "", "");
        for (step, said) in &worked.says {
            let says = format!("{} {}", step.way.id(), plain(step.to));
            put("say", ["", "", &says], one(*said), "", "");
        }
    }
    out.done()
}
