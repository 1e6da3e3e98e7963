//! Orders as a paper: stage by stage what stands in the store, what to order, what is used and what is left.

use rust_decimal::Decimal;
use tankwright_quantities::decimal;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::languages::text;
use tankwright_quantities::orders::{Line, StageOrder, Total};
use tankwright_quantities::stage::Stage;

use super::goods::{self, amount};
use super::table::{Col, Page, Table};
use crate::format::{group, quantity, say, word};

/// Orders of every stage, then what the whole job needs.
#[must_use]
pub fn orders(e: &Estimate) -> String {
    let mut page = Page::default();
    super::head(&mut page, e);
    if e.orders.stages.is_empty() {
        page.line(0, 2, word("paper-orders-none"));
        return page.done();
    }
    page.line(0, 2, word("paper-orders-head"));
    e.orders.stages.iter().for_each(|o| of_stage(&mut page, e, o));
    totals(&mut page, e);
    remarks(&mut page, e);
    page.done()
}

/// Money in the currency's digits; a dash where there is none.
pub(crate) fn money(e: &Estimate, cost: Option<Decimal>) -> String {
    cost.map_or_else(|| "-".to_owned(), |c| crate::money::money(c, &e.bill.currency))
}

fn of_stage(page: &mut Page, e: &Estimate, order: &StageOrder) {
    let head = goods::stage(order.stage).to_uppercase();
    page.heading(&goods::dates(e, order.stage).map_or(head.clone(), |when| format!("{head}   {when}")));
    page.table(&account(e, order));
    notes(page, e, order);
}

/// The account of a stage: in store + delivered - used = left, in the material's own unit.
pub(crate) fn account(e: &Estimate, order: &StageOrder) -> Table {
    let priced = e.orders.stages.iter().flat_map(|o| &o.lines).any(|l| l.cost.is_some());
    let mut cols = vec![Col::Fill(20), Col::Left(14)];
    cols.extend([Col::Right(8); 4]);
    let mut heads = vec![
        "paper-material",
        "paper-to-order",
        "paper-in-store",
        "paper-delivered",
        "paper-used",
        "paper-left-over",
    ];
    if priced {
        cols.push(Col::Right(9));
        heads.push("paper-cost");
    }
    let mut table = Table::new(2, &cols);
    table.heads(heads);
    for line in order.lines.iter().filter(|l| touched(l)) {
        let cost = if line.packs == 0 { String::new() } else { money(e, line.cost) };
        table.row([
            format!("{}, {}", goods::title(e, &line.material), goods::unit(e, &line.material)),
            goods::ordered(e, line),
            amount(line.opening),
            amount(line.ordered),
            amount(line.used),
            amount(line.closing),
            if priced { cost } else { String::new() },
        ]);
    }
    if order.lines.iter().any(|l| l.cost.is_some()) {
        let part = order.lines.iter().any(|l| l.packs > 0 && l.cost.is_none());
        let key = if part { "paper-cost-of-priced" } else { "paper-cost" };
        let sum: Decimal = order.lines.iter().filter_map(|l| l.cost).sum();
        table.row([word(key), "", "", "", "", "", &money(e, Some(sum))]);
    }
    table
}

/// Is anything of it delivered or used?
pub(crate) fn touched(line: &Line) -> bool {
    line.packs > 0 || !line.ordered.is_zero() || !line.used.is_zero()
}

/// What a buyer must know of single lines: reserve, tolerance, which stages a load serves.
pub(crate) fn notes(page: &mut Page, e: &Estimate, order: &StageOrder) {
    at_once(page, e, order);
    for line in &order.lines {
        note(e, order.stage, line).iter().for_each(|text| page.line(2, 4, text));
    }
}

/// What must be on the site at once though only a share of it is worn off.
fn at_once(page: &mut Page, e: &Estimate, order: &StageOrder) {
    let lines = order.lines.iter().filter(|l| l.present > l.used);
    goods::at_once(page, e, lines.map(|l| (l.material.as_str(), l.present)));
}

fn note(e: &Estimate, stage: Stage, line: &Line) -> Vec<String> {
    let (title, unit, mut all) =
        (goods::title(e, &line.material), goods::unit(e, &line.material), Vec::new());
    if let Some(pack) = goods::pack(e, &line.material) {
        if line.reserve > 0 {
            let key = if line.reserve == 1 { "paper-reserve-one" } else { "paper-reserve" };
            all.push(say(key, &[&group(&line.reserve.to_string()), &text(&pack.words[1]), &title]));
        }
        if !line.let_off.is_zero() {
            let tolerance = quantity(e.orders.tolerance, 0);
            let tolerance = if goods::loose(e, &line.material) {
                say("paper-part-of", &[&tolerance, &goods::with_unit(pack.size, unit)])
            } else {
                format!("{tolerance} {}", text(&pack.words[0]))
            };
            all.push(say("paper-let-off", &[&goods::with_unit(line.let_off, unit), &tolerance, &title]));
        }
    }
    if line.packs > 0 && line.serves.iter().any(|s| *s != stage) {
        all.push(say("paper-serves", &[&goods::stage_list(&line.serves), &title]));
    }
    all
}

fn totals(page: &mut Page, e: &Estimate) {
    page.heading(word("paper-orders-totals"));
    let cols = [
        Col::Fill(20),
        Col::Left(16),
        Col::Right(10),
        Col::Right(10),
        Col::Left(2),
        Col::Right(9),
        Col::Right(10),
    ];
    let mut table = Table::new(2, &cols);
    let heads = [
        "paper-material",
        "paper-to-order",
        "paper-delivered",
        "paper-used",
        "paper-unit",
        "paper-rate",
        "paper-cost",
    ];
    table.heads(heads);
    for t in &e.orders.totals {
        table.row([
            goods::title(e, &t.material),
            goods::packs_of(e, &t.material, t.packs, t.ordered),
            amount(t.ordered),
            amount(t.used),
            goods::unit(e, &t.material).to_owned(),
            t.rate.map_or_else(|| "-".to_owned(), |r| crate::money::rate(r, &e.bill.currency)),
            money(e, t.cost),
        ]);
    }
    if let Some(cost) = e.orders.cost {
        let cost = format!("{}\u{a0}{}", e.bill.currency.code, money(e, Some(cost)));
        table.row([word("paper-total"), "", "", "", "", "", &cost]);
    }
    page.table(&table);
    saved(page, e);
    left_over(page, e);
    packs(page, e);
}

/// What is in the store when all is built.
fn left_over(page: &mut Page, e: &Estimate) {
    let one = |t: &Total| {
        let left = t.ordered - t.used;
        let amount = goods::with_unit(left, goods::unit(e, &t.material));
        (left > Decimal::ZERO).then(|| format!("{} {amount}", goods::title(e, &t.material)))
    };
    let all: Vec<_> = e.orders.totals.iter().filter_map(one).collect();
    if !all.is_empty() {
        page.line(2, 4, &say("paper-left-at-end", &[&all.join("; ")]));
    }
}

/// What carrying what is left to the next stage saves.
fn saved(page: &mut Page, e: &Estimate) {
    let one = |t: &Total| {
        let fewer = t.packs_uncarried.checked_sub(t.packs).filter(|n| *n > 0)?;
        let fewer = goods::packs_of(e, &t.material, fewer, t.pack.size.checked_mul(fewer.into())?);
        Some(format!("{} {fewer}", goods::title(e, &t.material)))
    };
    let all: Vec<_> = e.orders.totals.iter().filter_map(one).collect();
    if !all.is_empty() {
        page.line(2, 4, &say("paper-carried", &[&all.join("; ")]));
    }
}

/// Where the sizes of packs come from: the user's own apart from ours.
fn packs(page: &mut Page, e: &Estimate) {
    page.heading(word("paper-packs"));
    let mut table = Table::new(2, &[Col::Left(0), Col::Left(0), Col::Fill(40)]);
    for t in &e.orders.totals {
        let source =
            if t.pack.default { say("paper-default-from", &[&t.pack.source]) } else { t.pack.source.clone() };
        table.row([goods::title(e, &t.material), t.pack.title.clone(), source]);
    }
    page.table(&table);
    page.line(
        2,
        4,
        &say("paper-tolerance", &[&decimal::shown(e.orders.tolerance, e.orders.tolerance.scale())]),
    );
    for (i, group_of) in e.orders.groups.iter().enumerate() {
        let number = group(&(i + 1).to_string());
        page.line(2, 4, &say("paper-group", &[&number, &goods::stage_list(group_of)]));
    }
}

/// Remarks of the orders, under a heading of their own.
pub(crate) fn remarks(page: &mut Page, e: &Estimate) {
    // What was not rounded up stands under its stage.
    let rest: Vec<_> = e.orders.remarks.iter().filter(|r| r.key != "orders-let-off").collect();
    if rest.is_empty() {
        return;
    }
    page.heading(word("paper-remarks"));
    rest.iter().for_each(|r| page.line(2, 4, &r.to_string()));
}

#[cfg(test)]
mod tests {
    use crate::text::orders;
    use crate::{golden, handmade};

    #[test]
    fn orders_of_two_stages() {
        golden::same("orders.txt", &orders(&handmade::estimate()));
    }

    #[test]
    fn without_prices_there_is_no_column_of_cost() {
        let mut e = handmade::estimate();
        for line in e.orders.stages.iter_mut().flat_map(|o| &mut o.lines) {
            line.cost = None;
        }
        let text = orders(&e);
        let base = text.split("BASE").nth(1).and_then(|t| t.split("WALLS").next()).unwrap_or_default();
        assert!(!base.contains("cost"), "{text}");
    }
}
