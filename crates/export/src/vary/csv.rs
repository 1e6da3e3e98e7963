//! The account as CSV: one row a fact, its kind in the first column.

use rust_decimal::Decimal;
use tankwright_account::vary::report::{Account, Entry, Settled};
use tankwright_quantities::decimal;

use super::{key, settled_title, words};
use crate::csv::text as harmless;
use crate::json::plain;

const HEAD: [&str; 14] = [
    "row",
    "variation",
    "ref",
    "contract_ref",
    "code",
    "text",
    "unit",
    "quantity",
    "rate",
    "amount",
    "date",
    "by",
    "note",
    "photo",
];

/// A row under way: cells by the name of their column.
#[derive(Default)]
struct Row<'a> {
    row: &'a str,
    variation: &'a str,
    reference: &'a str,
    contract_ref: &'a str,
    code: &'a str,
    text: String,
    unit: &'a str,
    quantity: String,
    rate: String,
    amount: String,
    date: &'a str,
    by: &'a str,
    note: &'a str,
    photo: &'a str,
}

/// Rows `variation` (its worth in the total), `set`, `omission`, `addition`, `provisional`, `prime-cost`,
/// `provisional-sum` (what they change), `daywork`, `paid`, and `statement`, top to bottom.
#[must_use]
pub fn csv(a: &Account) -> String {
    let mut out = ::csv::WriterBuilder::new().terminator(::csv::Terminator::CRLF).from_writer(Vec::new());
    // Writing to memory does not fail.
    let _ = out.write_record(HEAD);
    let money = |value| decimal::shown(value, a.currency.digits);
    let mut put = |r: Row<'_>| {
        let cells = [
            r.row.to_owned(),
            harmless(r.variation),
            harmless(r.reference),
            harmless(r.contract_ref),
            harmless(r.code),
            harmless(&r.text),
            harmless(r.unit),
            r.quantity,
            r.rate,
            r.amount,
            harmless(r.date),
            harmless(r.by),
            harmless(r.note),
            harmless(r.photo),
        ];
        let _ = out.write_record(cells);
    };
    for c in &a.changes {
        let id = if c.id.is_empty() { "not-instructed" } else { &c.id };
        put(Row {
            row: "variation",
            variation: id,
            text: c.says(),
            amount: money(c.worth),
            date: &c.date,
            by: &c.by,
            note: &c.note,
            photo: &c.photo,
            ..Row::default()
        });
        c.keys.iter().for_each(|k| put(Row { row: "set", variation: id, text: key(k), ..Row::default() }));
        let mut entries = |row: &'static str, list: &[Entry]| {
            for e in list {
                put(Row {
                    row,
                    variation: id,
                    reference: &e.reference,
                    contract_ref: &e.row,
                    code: &e.code,
                    text: words(e),
                    unit: &e.unit,
                    quantity: e.worked.map(|(q, _)| plain(q)).unwrap_or_default(),
                    rate: e.worked.map(|(_, r)| plain(r)).unwrap_or_default(),
                    amount: money(e.amount),
                    ..Row::default()
                });
            }
        };
        entries("omission", &c.omissions);
        entries("addition", &c.additions);
    }
    let mut settled = |row: &'static str, list: &[Settled]| {
        for s in list {
            put(Row {
                row,
                text: settled_title(s),
                unit: s.worked.as_ref().map_or("", |w| &w.0),
                quantity: s.worked.as_ref().map(|w| plain(w.2 - w.1)).unwrap_or_default(),
                rate: s.worked.as_ref().map(|w| plain(w.3)).unwrap_or_default(),
                amount: s.add.map(|_| money(s.net())).unwrap_or_default(),
                date: &s.date,
                by: &s.by,
                note: &s.note,
                photo: &s.photo,
                ..Row::default()
            });
        }
    };
    settled("provisional", &a.remeasured);
    settled("prime-cost", &a.prime_cost);
    settled("provisional-sum", &a.provisional_sums);
    for d in &a.dayworks {
        put(Row {
            row: "daywork",
            text: d.title.clone(),
            unit: &d.unit,
            quantity: plain(d.quantity),
            rate: plain(d.rate),
            amount: money(d.amount),
            date: &d.date,
            by: &d.by,
            note: &d.note,
            ..Row::default()
        });
    }
    for (date, amount, note) in &a.payment.receipts {
        put(Row { row: "paid", amount: money(*amount), date, note, ..Row::default() });
    }
    let (s, p) = (&a.sums, &a.payment);
    for (text, amount) in [
        ("contract sum", s.contract),
        ("omissions", Decimal::ZERO - s.omissions),
        ("additions", s.additions),
        ("dayworks", s.dayworks),
        ("provisional items", s.remeasured),
        ("prime cost sums", s.prime_cost),
        ("provisional sums", s.provisional_sums),
        ("additions of the contract", s.on_costs),
        ("adjusted sum", s.adjusted),
        ("retention", Decimal::ZERO - p.retention),
        ("paid", Decimal::ZERO - p.paid),
        ("balance", p.due),
    ] {
        put(Row { row: "statement", text: text.to_owned(), amount: money(amount), ..Row::default() });
    }
    out.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
}
