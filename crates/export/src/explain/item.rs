//! Items and bill rows: lines, dimensions, where each input stands, rate.

use std::collections::BTreeSet;

use rust_decimal::Decimal;
use tankwright_geometry::{InputId, Ratio};
use tankwright_quantities::bill::{BillRow, Labour};
use tankwright_quantities::decimal;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::job::Given;
use tankwright_quantities::sheet::{Dim, Item, Line};

use crate::format::{
    given, grouped, in_figures, in_names, input_value, inputs_of, inputs_of_line, least_places, metres,
    quantity, say, short_name, value, word, working,
};
use crate::money::money_value;
use crate::text::sheet::{decisions, strips};
use crate::text::table::{Col, Page, Table};
use crate::text::{goods, money, rate_source};

/// A bill row: amount, then the items whose sum it is, then the rate.
pub(super) fn row(page: &mut Page, e: &Estimate, row: &BillRow) {
    let unit = row.unit.id();
    let shown = quantity(row.quantity, least_places(row.unit));
    let head = format!("{}   {}", row.reference, super::find::code(row));
    page.heading(&match &row.rate {
        Some((rate, _)) => {
            let amount = money::amount(&e.bill, row.amount);
            format!(
                "{head}   {}",
                say("paper-row-amount", &[&shown, unit, &money::rate(&e.bill, *rate), &amount])
            )
        }
        None => format!("{head}   {shown} {unit}   {}", word("paper-no-amount")),
    });
    page.line(0, 2, &row.wording.to_string());
    let items: Vec<_> = row.items.iter().filter_map(|id| e.sheet.find(id)).collect();
    if items.len() > 1 {
        let parts: Vec<_> = items.iter().map(|i| quantity(i.quantity, least_places(i.unit))).collect();
        page.line(0, 11, &say("paper-row-sum", &[&shown, unit, &parts.join(" + ")]));
    }
    items.iter().for_each(|i| working_of(page, e, i));
    rate_of(page, e, row);
    inputs(page, e, &items);
}

/// One item, with the row of the bill it goes to.
pub(super) fn item(page: &mut Page, e: &Estimate, item: &Item) {
    page.heading(&format!("{}   {}", item.id, item.wording));
    working_of(page, e, item);
    let rows = e.bill.sections.iter().flat_map(|s| &s.rows);
    for row in rows.filter(|r| r.items.contains(&item.id)) {
        page.line(0, 11, &say("paper-billed-in", &[&row.reference, &super::find::code(row)]));
        rate_of(page, e, row);
    }
    if item.unbilled {
        page.line(0, 2, word("paper-unbilled").trim());
    }
    inputs(page, e, &[item]);
}

/// Where a row's rate comes from; where the client buys, what was taken out of it.
fn rate_of(page: &mut Page, e: &Estimate, row: &BillRow) {
    let Some((rate, from)) = &row.rate else { return };
    let less = if from.less_specific { say("paper-less-specific", &[&from.code]) } else { String::new() };
    let full = row.labour.as_ref().map_or(*rate, |l| l.full_rate);
    let text = if row.build_up.is_some() {
        say("build-up-rate", &[&money::rate(&e.bill, *rate), &rate_source(from)])
    } else {
        say("paper-rate-from", &[&money::rate(&e.bill, full), &from.code, &rate_source(from)])
    };
    page.line(0, 11, format!("{text} {less}").trim_end());
    if let Some(worked) = &row.build_up {
        crate::analysis::one(page, &e.bill, row, worked);
    }
    if let Some(labour) = row.labour.as_ref().filter(|l| !l.parts.is_empty()) {
        labour_of(page, e, row, labour, *rate);
    }
}

/// Full rate - materials = labour, with every material of the row.
fn labour_of(page: &mut Page, e: &Estimate, row: &BillRow, labour: &Labour, rate: Decimal) {
    let (bill, digits) = (&e.bill, e.bill.currency.digits);
    page.line(2, 4, word("paper-labour-uses"));
    let mut table = Table::new(4, &[Col::Left(0), Col::Right(14), Col::Fill(0)]);
    for part in &labour.parts {
        let unit = goods::unit(e, &part.material);
        let (quantity, price) = (value(part.quantity, 0, 3), money_value(part.rate, &bill.currency, 6));
        let cost = money_value(part.quantity * part.rate, &bill.currency, digits + 2);
        let text = format!("{} {quantity} {unit} x {price}", part.material).replace(' ', "\u{a0}");
        table.row([text, cost, rate_source(&part.from)]);
    }
    page.table(&table);
    let shown = quantity(row.quantity, least_places(row.unit));
    let cost: Ratio = labour.parts.iter().map(|p| p.quantity * p.rate).sum();
    let worth = money_value(cost, &bill.currency, digits + 2);
    let [materials, full, rate] = [labour.materials, labour.full_rate, rate].map(|d| money::rate(bill, d));
    page.line(2, 4, &say("paper-labour-materials", &[&worth, &shown, row.unit.id(), &materials]));
    page.line(2, 4, &say("paper-labour-is", &[&full, &materials, &rate]));
}

/// Quantity, lines and decisions of an item.
fn working_of(page: &mut Page, e: &Estimate, item: &Item) {
    let least = least_places(item.unit);
    let sum: Ratio = item.lines.iter().map(|l| l.value).sum();
    let (shown, unit) = (quantity(item.quantity, least), item.unit.id());
    let exact = decimal::ratio(item.quantity) == sum;
    let places = item.places.to_string();
    let text = match (exact, least) {
        (true, _) => say("paper-quantity", &[&shown, unit, item.stage.id()]),
        (false, _) => say(
            "paper-quantity-booked",
            &[&shown, unit, item.stage.id(), &value(sum, least, 6), &places, &e.profile.0],
        ),
    };
    page.line(0, 11, &text);
    let mut table = Table::new(2, &[Col::Left(32), Col::Right(12), Col::Fill(0)]);
    for line in &item.lines {
        table.row([
            working(line),
            value(line.value, least.max(if least == 0 { 0 } else { 4 }), 6),
            line.note.to_string(),
        ]);
        for text in strips_of(line).into_iter().chain(line.dims.iter().filter_map(|d| dimension(e, d))) {
            table.across(&text);
        }
    }
    page.table(&table);
    decisions(page, item, str::to_owned);
    if let Some(model) = item.model {
        page.line(2, 4, &say("paper-model-says", &[&value(model, least, 6), unit]));
    }
}

fn strips_of(line: &Line) -> Option<String> {
    Some(strips(line)).filter(|t| !t.is_empty())
}

/// `1.94 = 1.50 + 2 x 0.22   width + 2 x walls.thickness   job.toml:23, 34`; nothing where no trail was kept.
fn dimension(e: &Estimate, dim: &Dim) -> Option<String> {
    let (figures, names) = (in_figures(&dim.len, &e.inputs)?, in_names(&dim.len, &e.inputs)?);
    let mut used = BTreeSet::new();
    inputs_of(&dim.len, &mut used);
    if used.is_empty() {
        return None;
    }
    let exact = dim.len.value() == Ratio::from(dim.booked);
    let mut text = metres(dim.len.value());
    if !exact {
        text = say("paper-dimension-booked", &[&metres(dim.booked.into()), &text]);
    }
    if figures != metres(dim.len.value()) {
        text.push_str(&format!(" = {figures}"));
    }
    if dim.dropped {
        text.push_str(word("paper-dropped"));
    }
    Some(format!("{text}   [{names}]   {}", places(e, &used)))
}

/// `job.toml:22, 41`, the file once; defaults by a word.
fn places(e: &Estimate, used: &BTreeSet<InputId>) -> String {
    let mut parts: Vec<String> = Vec::new();
    let mut seen = BTreeSet::new();
    let mut file = "";
    for input in used.iter().filter_map(|id| e.inputs.get(id.0 as usize)) {
        let (key, part) = match &input.given {
            Given::Here(p) if p.file == file => ((p.file.as_str(), p.line), p.line.to_string()),
            Given::Here(p) => ((p.file.as_str(), p.line), format!("{}:{}", p.file, p.line)),
            Given::Default(_) => (("", 0), word("paper-default").to_owned()),
            Given::Nothing => (("", 1), word("paper-left-out").to_owned()),
        };
        if seen.insert(key) {
            parts.push(part);
            file = if key.0.is_empty() { file } else { key.0 };
        }
    }
    parts.join(", ")
}

/// Every input of these items once: name, value, where it stands or who says the default.
fn inputs(page: &mut Page, e: &Estimate, items: &[&Item]) {
    let used: BTreeSet<InputId> = items.iter().flat_map(|i| &i.lines).flat_map(inputs_of_line).collect();
    let used: Vec<_> = used.iter().filter_map(|id| e.inputs.get(id.0 as usize)).collect();
    if used.is_empty() {
        return;
    }
    page.line(0, 2, word("paper-inputs"));
    let mut table = Table::new(2, &[Col::Left(0), Col::Right(10), Col::Fill(0)]);
    for i in used {
        table.row([short_name(&i.path), input_value(i), given(i)]);
    }
    page.table(&table);
}

/// A quantity to two places with its unit, for sums of earth.
pub(super) fn cubic(value: rust_decimal::Decimal) -> String {
    grouped(value, 2)
}
