//! Rates: one row for each bill row, with the line of the price list it came from.

use tankwright_quantities::bill::{BillRow, RateFrom};

use crate::book::{Desk, heads, word, words};
use crate::cells::{Allow, Cell, Page, PageId, Show};
use crate::expr::Expr;
use crate::text::money::labour_rate;
use crate::trail::cell_name;

pub(crate) fn page(desk: &mut Desk<'_>) -> Page {
    let bill = &desk.estimate.bill;
    let mut columns = heads(&["book-ref", "book-code", "book-work", "book-unit"]);
    columns.push(words("book-rate-in", &[&bill.currency.code]));
    columns.extend(heads(&["book-price-row", "book-date", "book-source", "book-note"]));
    let remark = match &bill.price_list {
        Some((name, from, to)) if bill.client_buys.is_some() => {
            words("book-labour-rates-remark", &[name, from, to])
        }
        Some((name, from, to)) => words("book-rates-remark", &[name, from, to]),
        None => word("book-no-price-list"),
    };
    let mut page = Page::new(PageId::Rates, &word("book-rates"), &remark, &columns);
    page.widest = vec![8, 40, 60, 8, 16, 40, 12, 50, 40];
    for (row, line) in (3..).zip(bill.sections.iter().flat_map(|s| &s.rows)) {
        page.text(row, 0, &line.reference);
        page.text(row, 2, line.wording.to_string());
        page.text(row, 3, line.unit.id());
        let Some((rate, from)) = &line.rate else {
            page.text(row, 1, own_code(line));
            page.text(row, 4, word("book-no-rate"));
            continue;
        };
        page.text(row, 1, &from.code);
        let cell = Cell::number(*rate, Show::Money(bill.currency.digits.max(rate.normalize().scale())));
        let at = page.put(row, 4, cell.input(Allow::NotNegative));
        let name = cell_name("rate_", &line.reference);
        desk.names.insert(name.clone(), at);
        desk.places.rates.insert(line.reference.clone(), Expr::Name(name));
        let labour = line.labour.as_ref().and_then(|l| labour_rate(bill, l));
        source(&mut page, row, from, labour);
    }
    goods(&mut page, desk);
    page
}

/// Rates of a pack of each material bought, where the price list has them.
fn goods(page: &mut Page, desk: &mut Desk<'_>) {
    let estimate = desk.estimate;
    let priced = estimate.orders.totals.iter().filter_map(|t| Some((t, t.rate?)));
    let mut row = page.cells.keys().next_back().map_or(3, |(row, _)| row + 2);
    for (i, (total, rate)) in priced.enumerate() {
        if i == 0 {
            page.heading(row, word("book-rates-of-materials"));
            row += 1;
        }
        let title = estimate.materials.materials.iter().find(|m| m.id == total.material).map(|m| &m.title);
        page.text(row, 1, &total.material);
        page.text(row, 2, title.map_or("", String::as_str));
        page.text(row, 3, &total.pack.words[0]);
        let places = rate.normalize().scale();
        let cell = Cell::number(rate, Show::Money(estimate.bill.currency.digits.max(places)));
        let at = page.put(row, 4, cell.input(Allow::NotNegative));
        let name = cell_name("rate_", &total.material);
        desk.names.insert(name.clone(), at);
        desk.places.prices.insert(total.material.clone(), (Expr::Name(name), places));
        row += 1;
    }
}

fn own_code(line: &BillRow) -> String {
    if line.spec.is_empty() { line.work.id.to_owned() } else { format!("{}/{}", line.work.id, line.spec) }
}

fn source(page: &mut Page, row: u32, from: &RateFrom, labour: Option<String>) {
    page.text(row, 5, format!("{}:{}", from.list, from.line));
    page.text(row, 6, &from.date);
    page.text(row, 7, &from.source);
    let less = from.less_specific.then(|| word("book-less-specific"));
    let notes: Vec<String> = less.into_iter().chain(labour).collect();
    if !notes.is_empty() {
        page.text(row, 8, notes.join("; "));
    }
}
