//! Rates: one row for each bill row, with the line of the price list it came from.

use rust_decimal::Decimal;
use tankwright_quantities::bill::{BillRow, RateFrom};
use tankwright_quantities::build_up::{Cost, Group};

use crate::analysis::rows;
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
        if line.build_up.is_some() {
            // Its cell stands on the page Rate analysis, under this name.
            let name = Expr::Name(cell_name("rate_", &line.reference));
            page.put(
                row,
                4,
                Cell::formula(name, Show::Money(bill.currency.digits.max(rate.normalize().scale()))),
            );
            page.text(row, 5, word("book-built-up"));
            page.text(row, 6, &from.date);
            page.text(row, 7, &from.source);
            continue;
        }
        let cell = Cell::number(*rate, Show::Money(bill.currency.digits.max(rate.normalize().scale())));
        let at = page.put(row, 4, cell.input(Allow::NotNegative));
        let name = cell_name("rate_", &line.reference);
        desk.names.insert(name.clone(), at);
        desk.places.rates.insert(line.reference.clone(), Expr::Name(name));
        let labour = line.labour.as_ref().and_then(|l| labour_rate(bill, l));
        source(&mut page, row, from, labour);
    }
    goods(&mut page, desk);
    built(&mut page, desk);
    page
}

/// Rates that built rates use: those of packs as they stand above, all others in cells of their own.
fn built(page: &mut Page, desk: &mut Desk<'_>) {
    let estimate = desk.estimate;
    let lines = rows(estimate).into_iter().flat_map(|(_, worked)| &worked.lines);
    let mut row = page.cells.keys().next_back().map_or(3, |(row, _)| row + 2);
    let mut first = true;
    for line in lines {
        let Cost::Priced { unit, rate, from: Some(from), .. } = &line.line.cost else { continue };
        if desk.places.lines.contains_key(&from.line) {
            continue;
        }
        let total = estimate.orders.totals.iter().find(|t| t.material == line.line.code);
        let total = total.filter(|_| line.line.group == Group::Materials);
        let material = estimate.materials.materials.iter().find(|m| m.id == line.line.code);
        let pack = total.zip(material).and_then(|(total, material)| {
            let (price, _) = desk.places.prices.get(&total.material)?;
            let own = *unit == material.unit && total.pack.size != Decimal::ONE;
            // The pack's rate was made of this row's: it is taken back, so that one cell moves both.
            Some(if own { price.clone().over(Expr::Number(total.pack.size)) } else { price.clone() })
        });
        if let Some(price) = pack {
            desk.places.lines.insert(from.line, price);
            continue;
        }
        if std::mem::take(&mut first) {
            page.heading(row, word("book-rates-of-build-ups"));
            row += 1;
        }
        page.text(row, 1, &from.code);
        page.text(row, 2, line.line.title.split(',').next().unwrap_or_default());
        page.text(row, 3, unit);
        let places = estimate.bill.currency.digits.max(rate.normalize().scale());
        let cell = Cell::number(*rate, Show::Fixed(places)).input(Allow::NotNegative);
        let at = page.put(row, 4, cell);
        source(page, row, from, None);
        let name = format!("{}_line{}", cell_name("rate_", &from.code), from.line);
        desk.names.insert(name.clone(), at);
        desk.places.lines.insert(from.line, Expr::Name(name));
        row += 1;
    }
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
