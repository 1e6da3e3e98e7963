//! The account at a date as a paper: work done so far, less what is held, less what was paid.

use rust_decimal::Decimal;
use tankwright_account::payments::{Payments, Valuation};
use tankwright_quantities::amount_words::amount_words;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::words::look_up;

use super::text::cautions;
use crate::format::{quantity, say, word};
use crate::money::money;
use crate::text::goods;
use crate::text::table::{Col, Page, Table};

/// The account; nothing where no date was asked for.
#[must_use]
pub fn account(e: &Estimate, p: &Payments<'_>) -> String {
    let mut page = Page::default();
    let Some(v) = &p.valuation else { return page.done() };
    crate::text::head(&mut page, e);
    page.line(0, 2, &say("paper-account-head", &[&goods::day(v.at)]));
    let seen = match (v.up_to, v.seen) {
        (Some(stage), _) => say("paper-account-up-to", &[look_up(&format!("stage-{}", stage.id()))]),
        (None, Some(day)) => say("paper-account-seen", &[&goods::day(day)]),
        (None, None) => word("paper-account-unseen").to_owned(),
    };
    page.line(0, 2, &seen);
    if !v.note.is_empty() {
        page.line(0, 2, &v.note);
    }
    page.blank();
    stages(&mut page, e, v);
    sums(&mut page, e, p, v);
    if v.due.is_zero() {
        page.line(0, 2, word("paper-account-nothing"));
    } else {
        page.line(0, 2, &amount_words(v.due, &e.bill.currency));
    }
    page.blank();
    if let Some((day, amount)) = v.left_out {
        let args = [goods::day(day), money(amount, &e.bill.currency)];
        page.line(0, 2, &say("paper-account-left-out", &args.each_ref().map(String::as_str)));
    }
    page.line(0, 2, word("paper-account-variations"));
    // What is to be said of the deposit stands on the schedule.
    cautions(&mut page, p.cautions.iter().filter(|c| c.code == "C041"));
    page.done()
}

fn stages(page: &mut Page, e: &Estimate, v: &Valuation) {
    let mut table = Table::new(0, &[Col::Fill(48), Col::Right(14), Col::Right(8), Col::Right(14)]);
    let heads =
        ["paper-payments-stage", "paper-account-worth", "paper-account-percent", "paper-account-done"];
    table.row(heads.map(word));
    let figure = |d: Decimal| money(d, &e.bill.currency);
    for s in &v.stages {
        let percent = format!("{} %", quantity(s.percent, 0));
        table.row([goods::stage(s.stage), figure(s.worth), percent, figure(s.done)]);
    }
    for (key, amount) in
        [("paper-account-provisional", v.provisional), ("paper-account-materials", v.materials)]
    {
        if !amount.is_zero() {
            table.row([word(key).to_owned(), String::new(), String::new(), figure(amount)]);
        }
    }
    page.table(&table);
}

fn sums(page: &mut Page, e: &Estimate, p: &Payments<'_>, v: &Valuation) {
    let mut table = Table::new(0, &[Col::Fill(74), Col::Right(14)]);
    let mut row = |text: &str, amount: Decimal| table.row([text.to_owned(), money(amount, &e.bill.currency)]);
    row(word("paper-account-gross"), v.gross);
    if !v.held.is_zero() {
        row(word("paper-account-held"), -v.held);
    }
    if !v.released.is_zero() {
        row(word("paper-account-released"), v.released);
    }
    if v.deposit_stands {
        row(word("paper-account-deposit"), v.owed);
    } else {
        row(word("paper-account-owed"), v.owed);
    }
    let before: Vec<_> = p.paid.receipts.iter().filter(|r| r.date <= v.at).collect();
    for r in &before {
        let what = [r.date.to_string(), r.note.clone()];
        let what = what.iter().filter(|t| !t.is_empty()).cloned().collect::<Vec<_>>().join(", ");
        row(&say("paper-account-paid-row", &[&what]), -r.amount);
    }
    if v.ahead.is_zero() {
        row(&format!("{} ({})", word("paper-account-due"), e.bill.currency.code), v.due);
    } else {
        row(word("paper-account-ahead"), v.ahead);
    }
    page.table(&table);
}
