//! Money in and out as a paper for who builds.

use rust_decimal::Decimal;
use tankwright_account::payments::{CashRow, Payments};
use tankwright_quantities::estimate::Estimate;

use crate::format::{say, word};
use crate::money::money;
use crate::text::goods;
use crate::text::table::{Col, Page, Table};

/// Stage by stage: goods, what is in hand, what is paid.
#[must_use]
pub fn cash(e: &Estimate, p: &Payments<'_>) -> String {
    let mut page = Page::default();
    crate::text::head(&mut page, e);
    page.line(0, 2, word("paper-cash-head"));
    page.blank();
    let Some(cash) = &p.cash else {
        let why = if p.client_buys { "paper-cash-client" } else { "paper-cash-no-rate" };
        page.line(0, 2, word(why));
        return page.done();
    };
    let cols = [Col::Fill(40), Col::Right(12), Col::Right(12), Col::Right(12), Col::Right(12)];
    let mut table = Table::new(0, &cols);
    let heads = [
        "paper-payments-stage",
        "paper-cash-goods",
        "paper-cash-before",
        "paper-cash-received",
        "paper-cash-after",
    ];
    table.row(heads.map(word));
    let figure = |d: Decimal| money(d, &e.bill.currency);
    let some = |d: Decimal| if d.is_zero() { String::new() } else { figure(d) };
    let e_ = String::new;
    if !cash.deposit.is_zero() {
        let amount = figure(cash.deposit);
        table.row([word("paper-cash-deposit").to_owned(), e_(), e_(), amount.clone(), amount]);
    }
    for r in &cash.rows {
        table.row([
            goods::stage(r.stage),
            some(r.goods),
            figure(r.before),
            some(r.received),
            figure(r.after),
        ]);
    }
    if !cash.retention.is_zero() {
        let row = [e_(), e_(), figure(cash.retention), figure(cash.left)];
        table.row(std::iter::once(word("paper-cash-retention").to_owned()).chain(row));
    }
    let sum = |get: fn(&CashRow) -> Decimal| cash.rows.iter().map(get).sum::<Decimal>();
    let received = cash.deposit + sum(|r| r.received) + cash.retention;
    let row = [figure(sum(|r| r.goods)), e_(), figure(received), figure(cash.left)];
    table.row(std::iter::once(word("paper-payments-total").to_owned()).chain(row));
    page.table(&table);
    page.blank();
    let with_code = |d: Decimal| format!("{}\u{a0}{}", e.bill.currency.code, figure(d));
    match cash.lowest() {
        Some(row) => {
            let args = [goods::stage(row.stage), with_code(-row.before)];
            page.line(0, 2, &say("paper-cash-lowest", &args.each_ref().map(String::as_str)));
        }
        None => page.line(0, 2, word("paper-cash-never")),
    }
    page.line(0, 2, &say("paper-cash-left", &[&with_code(cash.left)]));
    page.line(0, 2, word("paper-cash-how"));
    page.done()
}
