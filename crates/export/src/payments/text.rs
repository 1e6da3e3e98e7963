//! The schedule of payments as a paper for both sides.

use rust_decimal::Decimal;
use tankwright_account::payments::{Payment, Payments};
use tankwright_quantities::estimate::{Caution, Estimate};

use super::title;
use crate::format::{quantity, say, word};
use crate::money::money;
use crate::text::goods;
use crate::text::money::total;
use crate::text::table::{Col, Page, Table};

/// The schedule, what is seen before each payment, and how the work done is made up.
#[must_use]
pub fn text(e: &Estimate, p: &Payments<'_>) -> String {
    let mut page = Page::default();
    crate::text::head(&mut page, e);
    page.line(0, 2, &say("paper-payments-head", &[&total(&e.bill)]));
    page.line(0, 2, &e.bill.total_in_words);
    if p.client_buys {
        page.line(0, 2, word("paper-payments-labour"));
    }
    page.blank();
    schedule(&mut page, e, p);
    terms(&mut page, p);
    seen(&mut page, p);
    made(&mut page, e, p);
    if p.client_buys {
        client(&mut page, e, p);
    }
    cautions(&mut page, p.cautions.iter());
    page.done()
}

/// Cautions, each with its code and who asks for it.
pub(super) fn cautions<'a>(page: &mut Page, told: impl Iterator<Item = &'a Caution>) {
    let told: Vec<_> = told.collect();
    if told.is_empty() {
        return;
    }
    page.blank();
    page.line(0, 0, &say("paper-cautions", &[&told.len().to_string()]));
    let mut table = Table::new(2, &[Col::Left(0), Col::Fill(0)]);
    for c in told {
        table.row([c.code, &say("paper-caution", &["", &c.says.to_string(), &c.source])]);
    }
    page.table(&table);
}

/// A column of the table: its head, and what stands in it.
type Column = (&'static str, fn(&Payment) -> Decimal);

fn schedule(page: &mut Page, e: &Estimate, p: &Payments<'_>) {
    let all = &p.schedule.payments;
    let columns: [Column; 4] = [
        ("paper-payments-worth", |p| p.worth.total()),
        ("paper-payments-held", |p| p.held),
        ("paper-payments-credited", |p| p.credited),
        ("paper-payments-due", |p| p.due),
    ];
    // A column in which nothing stands is left out.
    let columns: Vec<Column> =
        columns.into_iter().filter(|(_, of)| all.iter().any(|p| !of(p).is_zero())).collect();
    let dated = all.iter().any(|p| p.date.is_some());
    let mut cols = vec![Col::Right(2), Col::Fill(24)];
    cols.extend(dated.then_some(Col::Left(10)));
    cols.extend(columns.iter().map(|_| Col::Right(10)));
    let mut table = Table::new(0, &cols);
    let mut head = vec![word("paper-payments-nr"), word("paper-payments-for")];
    head.extend(dated.then(|| word("paper-payments-date")));
    head.extend(columns.iter().map(|(key, _)| word(key)));
    table.row(head);
    let shown = |d: Decimal| money(d, &e.bill.currency);
    let figure = |key: &str, d: Decimal| {
        // A payment that comes to nothing is told, an empty part of it is not.
        if d.is_zero() && key != "paper-payments-due" { String::new() } else { shown(d) }
    };
    for (n, payment) in (1..).zip(all) {
        let mut row = vec![i32::to_string(&n), title(p, payment)];
        row.extend(dated.then(|| payment.date.map_or_else(String::new, |d| d.to_string())));
        row.extend(columns.iter().map(|(key, of)| figure(key, of(payment))));
        table.row(row);
    }
    let mut row = vec![String::new(), word("paper-payments-total").to_owned()];
    row.extend(dated.then(String::new));
    row.extend(columns.iter().map(|(_, of)| shown(all.iter().map(of).sum())));
    table.row(row);
    page.table(&table);
}

fn terms(page: &mut Page, p: &Payments<'_>) {
    let t = &p.terms;
    page.blank();
    if !p.schedule.deposit.amount.is_zero() {
        page.line(0, 2, word("paper-payments-how-deposit"));
    }
    if t.retention.is_zero() {
        if p.schedule.deposit.amount.is_zero() {
            page.line(0, 2, word("paper-payments-none"));
        }
    } else {
        let limit = t.limit.map(|l| say("paper-payments-how-limit", &[&quantity(l, 0)])).unwrap_or_default();
        let release = [quantity(t.release, 0), t.days.to_string()];
        let release = say("paper-payments-how-release", &release.each_ref().map(String::as_str));
        let held = say("paper-payments-how-held", &[&quantity(t.retention, 0)]);
        page.line(0, 2, &format!("{held}{limit}{release}"));
    }
    for d in &t.defaults {
        page.line(0, 2, &say("paper-payments-default", &[&d.path, &d.value, &d.source]));
    }
}

fn seen(page: &mut Page, p: &Payments<'_>) {
    let asks = |payment: &Payment| !payment.seen.is_empty() || !payment.measured.is_empty();
    if !p.schedule.payments.iter().any(asks) {
        return;
    }
    page.heading(word("paper-payments-seen"));
    page.line(0, 2, word("paper-payments-levels"));
    for (n, payment) in (1..).zip(&p.schedule.payments).filter(|(_, p)| asks(p)) {
        page.line(usize::from(n < 10), 4, &format!("{n}  {}", title(p, payment)));
        for mark in &payment.measured {
            page.line(4, 8, &say("paper-payments-measure", &[&mark.title.to_string(), &mark.metres]));
        }
        for seen in &payment.seen {
            page.line(4, 8, &say("paper-payments-see", &[&seen.says.to_string(), &seen.source]));
        }
        page.line(4, 8, word("paper-payments-sign"));
    }
}

fn made(page: &mut Page, e: &Estimate, p: &Payments<'_>) {
    page.heading(word("paper-payments-made"));
    let mut table =
        Table::new(0, &[Col::Fill(34), Col::Right(12), Col::Right(13), Col::Right(12), Col::Right(12)]);
    let heads = [
        "paper-payments-stage",
        "paper-payments-measured",
        "paper-payments-preliminaries",
        "paper-payments-additions",
        "paper-payments-worth",
    ];
    table.row(heads.map(word));
    let rows = p.spread.stages.iter().map(|(stage, worth)| (goods::stage(*stage), worth));
    let apart = (word("paper-payments-provisional").to_owned(), &p.spread.provisional);
    let figure = |d: Decimal| if d.is_zero() { String::new() } else { money(d, &e.bill.currency) };
    let mut sums = [Decimal::ZERO; 4];
    for (title, w) in rows.chain([apart]).filter(|(_, w)| !w.total().is_zero()) {
        let figures = [w.measured + w.provisional, w.preliminaries, w.additions, w.total()];
        sums.iter_mut().zip(figures).for_each(|(sum, f)| *sum += f);
        table.row(std::iter::once(title).chain(figures.map(figure)));
    }
    table.row(std::iter::once(word("paper-payments-total").to_owned()).chain(sums.map(figure)));
    page.table(&table);
    page.line(0, 2, word("paper-payments-how"));
    if !p.spread.provisional.total().is_zero() {
        page.line(0, 2, word("paper-payments-how-provisional"));
    }
}

/// What the client has to have bought, stage by stage.
fn client(page: &mut Page, e: &Estimate, p: &Payments<'_>) {
    if p.goods.is_empty() {
        return;
    }
    page.heading(word("paper-payments-goods"));
    let mut table = Table::new(0, &[Col::Fill(78), Col::Right(14)]);
    for g in &p.goods {
        let lines = g.order.lines.iter().filter(|l| l.packs > 0);
        let one = |l: &tankwright_quantities::orders::Line| {
            format!("{} {}", goods::title(e, &l.material), goods::ordered(e, l))
        };
        let list = lines.map(one).collect::<Vec<_>>().join("; ");
        let by = g.by.map(|d| say("paper-payments-by", &[&goods::day(d)])).unwrap_or_default();
        let head = format!("{}{by}", goods::stage(g.order.stage));
        let cost = g.cost.map_or_else(|| "-".to_owned(), |c| money(c, &e.bill.currency));
        table.row([say("paper-payments-goods-line", &[&head, &list]), cost]);
        if g.cost.is_none() {
            table.across_at(2, word("paper-payments-goods-no-rate"));
        }
    }
    if let Some(all) = e.orders.cost {
        table.row([word("paper-payments-total").to_owned(), money(all, &e.bill.currency)]);
    }
    page.table(&table);
}
