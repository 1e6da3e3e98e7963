//! The end of a bill: measured works, preliminaries, provisional items, additions and total.

use rust_decimal::Decimal;
use tankwright_quantities::bill::{AddedOn, Addition, Bill, ClientBuys, Labour, SideRow};
use tankwright_quantities::estimate::Estimate;

use super::table::{Col, Page, Table};
use crate::format::{quantity, say, word};

/// An amount in the currency's own digits; "not priced" where there is none.
pub(crate) fn amount(bill: &Bill, value: Option<Decimal>) -> String {
    value.map_or_else(|| word("paper-no-amount").to_owned(), |d| crate::money::money(d, &bill.currency))
}

/// A rate with at least the currency's digits.
pub(crate) fn rate(bill: &Bill, value: Decimal) -> String {
    crate::money::rate(value, &bill.currency)
}

/// Unit, quantity and rate of a side row, where it was given so.
pub(crate) fn worked(bill: &Bill, row: &SideRow) -> String {
    row.worked.as_ref().map_or_else(String::new, |(unit, n, r)| {
        format!("{} {unit} x {}", quantity(*n, 0), rate(bill, *r)).replace(' ', "\u{a0}")
    })
}

/// An addition's title with its percentage.
pub(crate) fn addition_title(a: &Addition) -> String {
    match a.percent {
        Some(p) => say("paper-percent", &[&quantity(p, 0), &a.title]),
        None => a.title.clone(),
    }
}

/// What a percentage was taken on, in words.
pub(crate) fn taken_on(bill: &Bill, a: &Addition) -> String {
    match &a.on {
        AddedOn::Running => word("paper-on-running").to_owned(),
        AddedOn::Measured => word("paper-on-measured").to_owned(),
        AddedOn::Titles(at) => {
            let titles: Vec<_> =
                at.iter().filter_map(|i| bill.additions.get(*i)).map(|a| a.title.as_str()).collect();
            say("paper-on-titles", &[&titles.join(", ")])
        }
        AddedOn::Amount => String::new(),
    }
}

/// Sum of side rows; the rows themselves stand beside it wherever it is printed.
pub(crate) fn side_total(rows: &[SideRow]) -> Decimal {
    rows.iter().map(|r| r.amount).sum()
}

/// Rows from the measured works down to the last addition: text, amount.
pub(crate) fn chain(table: &mut Table, bill: &Bill) {
    table.row([word("paper-measured").to_owned(), amount(bill, bill.measured)]);
    for (rows, key) in
        [(&bill.preliminaries, "paper-preliminary"), (&bill.provisional, "paper-provisional-row")]
    {
        for row in rows {
            let title = match worked(bill, row) {
                w if w.is_empty() => row.title.clone(),
                w => format!("{}, {w}", row.title),
            };
            table.row([format!("\u{a0}\u{a0}{}", say(key, &[&title])), amount(bill, Some(row.amount))]);
        }
    }
    for a in &bill.additions {
        table.row([format!("\u{a0}\u{a0}{}", addition_title(a)), amount(bill, Some(a.amount))]);
    }
    table.row([word("paper-total").to_owned(), total(bill)]);
}

/// The grand total with its currency.
pub(crate) fn total(bill: &Bill) -> String {
    match bill.total {
        Some(t) => format!("{}\u{a0}{}", bill.currency.code, crate::money::money(t, &bill.currency)),
        None => word("paper-no-amount").to_owned(),
    }
}

/// Total in words, rounding, price list and what is not priced.
pub(crate) fn foot(page: &mut Page, e: &Estimate) {
    let bill = &e.bill;
    if bill.total.is_some() {
        page.line(0, 2, &bill.total_in_words);
    }
    if let Some(step) = bill.say {
        page.line(0, 2, &say("paper-say", &[&rate(bill, step)]));
    }
    match &bill.price_list {
        Some((name, from, to)) if from == to => page.line(0, 2, &say("paper-prices-of", &[from, name])),
        Some((name, from, to)) => page.line(0, 2, &say("paper-prices", &[from, to, name])),
        None => page.line(0, 2, word("paper-no-prices")),
    }
    if !bill.not_priced.is_empty() {
        page.line(0, 2, &say("paper-not-priced", &[&bill.not_priced.join("; ")]));
    }
    if bill.client_buys.is_some() {
        page.line(0, 2, word("paper-labour-total"));
    }
}

/// What stands under a row of labour; nothing where its rate has no materials in it.
pub(crate) fn labour_rate(bill: &Bill, labour: &Labour) -> Option<String> {
    let figures = [rate(bill, labour.full_rate), rate(bill, labour.materials)];
    let [full, materials] = figures.each_ref().map(String::as_str);
    (!labour.parts.is_empty()).then(|| say("paper-labour-rate", &[full, materials]))
}

/// What the client buys: text and amount of each line.
pub(crate) fn client_lines(buys: &ClientBuys) -> Vec<(String, Option<Decimal>)> {
    let mut lines = vec![(word("paper-client-in-rates").to_owned(), Some(buys.in_rates))];
    let besides = buys.besides.iter().map(|(says, cost)| (says.to_string(), *cost));
    lines.extend(besides.map(|(says, cost)| (say("paper-client-besides", &[&says]), cost)));
    lines.extend(buys.rest.map(|rest| (word("paper-client-rest").to_owned(), Some(rest))));
    lines.push(match buys.orders {
        Some(orders) => (word("paper-client-orders").to_owned(), Some(orders)),
        None => (word("paper-client-orders-priced").to_owned(), Some(buys.orders_priced)),
    });
    lines
}

/// What is said under these lines.
pub(crate) fn client_words(buys: &ClientBuys) -> Vec<String> {
    let mut all = vec![word("paper-client-contract").to_owned()];
    if !buys.no_rate.is_empty() {
        all.push(say("paper-client-no-rate", &[&buys.no_rate.join("; ")]));
    }
    all
}

/// The block of what the client buys, where the rates are of labour.
pub(crate) fn client_buys(page: &mut Page, bill: &Bill) {
    let Some(buys) = &bill.client_buys else { return };
    page.heading(word("paper-client-head"));
    let mut table = Table::new(2, &[Col::Fill(76), Col::Right(20)]);
    for (text, cost) in client_lines(buys) {
        table.row([text, cost.map_or_else(|| word("paper-client-none").to_owned(), |_| amount(bill, cost))]);
    }
    page.table(&table);
    client_words(buys).iter().for_each(|text| page.line(2, 2, text));
}
