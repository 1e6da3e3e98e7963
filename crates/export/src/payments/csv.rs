//! Payments as CSV: one row a fact, its kind in the first column.

use rust_decimal::Decimal;
use tankwright_account::payments::Payments;
use tankwright_quantities::decimal;
use tankwright_quantities::estimate::Estimate;

use super::{kind, stage_id, title};
use crate::csv::text as harmless;
use crate::json::plain;

const HEAD: [&str; 12] = [
    "row",
    "number",
    "kind",
    "stage",
    "title",
    "date",
    "percent",
    "worth",
    "held",
    "by_deposit",
    "amount",
    "says",
];

/// Rows `payment`, `goods` (what a stage's goods cost), `paid`, and at a date `valued` (a stage) and `account` (its sums).
#[must_use]
pub fn csv(e: &Estimate, p: &Payments<'_>) -> String {
    let mut out = ::csv::WriterBuilder::new().terminator(::csv::Terminator::CRLF).from_writer(Vec::new());
    let mut put = |cells: [String; 12]| {
        // Numbers and ids are never touched.
        let cells = cells.into_iter().enumerate();
        let cells = cells.map(|(i, c)| if matches!(i, 4 | 11) { harmless(&c) } else { c });
        // Writing to memory does not fail.
        let _ = out.write_record(cells);
    };
    put(HEAD.map(str::to_owned));
    let money = |d: Decimal| decimal::shown(d, e.bill.currency.digits);
    let none = String::new;
    for (n, x) in (1..).zip(&p.schedule.payments) {
        put([
            "payment".to_owned(),
            i32::to_string(&n),
            kind(x.kind).to_owned(),
            stage_id(x.kind).to_owned(),
            title(p, x),
            x.date.map(|d| d.to_string()).unwrap_or_default(),
            none(),
            money(x.worth.total()),
            money(x.held),
            money(x.credited),
            money(x.due),
            x.seen.iter().map(|s| s.says.to_string()).collect::<Vec<_>>().join(" | "),
        ]);
    }
    let mut short = |row: &str, stage: &str, title: String, date: String, figures: [String; 3]| {
        let [percent, worth, amount] = figures;
        let (row, stage) = (row.to_owned(), stage.to_owned());
        put([row, none(), none(), stage, title, date, percent, worth, none(), none(), amount, none()]);
    };
    for g in &p.goods {
        let by = g.by.map(|d| d.to_string()).unwrap_or_default();
        let cost = g.cost.map(money).unwrap_or_default();
        short("goods", g.order.stage.id(), none(), by, [none(), none(), cost]);
    }
    for r in &p.paid.receipts {
        short("paid", "", r.note.clone(), r.date.to_string(), [none(), none(), money(r.amount)]);
    }
    let Some(v) = &p.valuation else { return done(out) };
    let at = || v.at.to_string();
    for s in &v.stages {
        short("valued", s.stage.id(), none(), at(), [plain(s.percent), money(s.worth), money(s.done)]);
    }
    for (name, amount) in [
        ("provisional", v.provisional),
        ("materials", v.materials),
        ("gross", v.gross),
        ("held", v.held),
        ("released", v.released),
        ("owed", v.owed),
        ("paid", v.paid),
        ("due", v.due),
        ("ahead", v.ahead),
    ] {
        short("account", "", name.to_owned(), at(), [none(), none(), money(amount)]);
    }
    done(out)
}

fn done(out: ::csv::Writer<Vec<u8>>) -> String {
    out.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
}
