//! The balance `workbook`: every formula, evaluated, is the estimate's own figure.

mod goods;
#[cfg(test)]
mod goods_tests;

use tankwright_geometry::Ratio;
use tankwright_quantities::decimal;
use tankwright_quantities::estimate::{Balance, Estimate};
use tankwright_quantities::sheet::Item;
use tankwright_quantities::words::Phrase;

use rust_decimal::Decimal;

use crate::book::{Book, ItemAt};
use crate::cells::At;
use crate::evaluate::{Value, Values};

/// Compares all dimensions, line values, item totals, nets, bill quantities, amounts, sections, additions, the grand
/// total, materials, orders and marks with the estimate, exactly; every difference is a break. Left and right are the
/// sums of all figures compared.
#[must_use]
pub fn check(book: &Book, estimate: &Estimate, values: &Values) -> Balance {
    let mut says = Balance {
        name: "workbook",
        says: Phrase::new("book-balance-says"),
        left: Ratio::ZERO,
        right: Ratio::ZERO,
        unit: "",
        breaks: Vec::new(),
    };
    let mut check = Check { values, balance: &mut says };
    check.sheet(book, estimate);
    check.bill(book, estimate);
    check.built(book, estimate);
    check.goods(&book.places.goods, estimate);
    check.kept(book);
    says
}

struct Check<'a> {
    values: &'a Values,
    balance: &'a mut Balance,
}

impl Check<'_> {
    fn same(&mut self, what: impl FnOnce() -> String, at: Option<At>, ours: Option<Ratio>) {
        let theirs = match at.and_then(|at| self.values.get(&at)) {
            Some(Value::Number(n)) => Some(*n),
            _ => None,
        };
        if let Some((left, right)) = theirs.zip(ours) {
            self.balance.left = self.balance.left + left;
            self.balance.right = self.balance.right + right;
        }
        if theirs != ours {
            let text = |r: Option<Ratio>| r.map_or_else(|| "nothing".to_owned(), decimal::plain);
            let (what, theirs, ours) = (what(), text(theirs), text(ours));
            self.balance.breaks.push(format!("{what}: workbook {theirs}, estimate {ours}"));
        }
    }

    fn money(&mut self, what: impl FnOnce() -> String, at: Option<At>, ours: Option<Decimal>) {
        self.same(what, at, ours.map(decimal::ratio));
    }

    fn count(&mut self, what: &str, theirs: usize, ours: usize) {
        if theirs != ours {
            self.balance.breaks.push(format!("{what}: workbook {theirs}, estimate {ours}"));
        }
    }

    fn sheet(&mut self, book: &Book, estimate: &Estimate) {
        let (places, sheet) = (&book.places, &estimate.sheet);
        for (items, placed) in [(&sheet.items, &places.items), (&sheet.voids, &places.voids)] {
            self.count("items", placed.len(), items.len());
            for (item, at) in items.iter().zip(placed) {
                self.item(item, at);
            }
        }
    }

    fn item(&mut self, item: &Item, at: &ItemAt) {
        self.count(&item.id, at.lines.len(), item.lines.len());
        for ((n, line), (dims, value)) in (1..).zip(&item.lines).zip(&at.lines) {
            for (dim, at) in line.dims.iter().zip(dims) {
                let booked = Ratio::of(dim.booked.into(), 10_000);
                self.same(|| format!("{}, line {n}, a dimension", item.id), Some(*at), Some(booked));
            }
            self.same(|| format!("{}, line {n} ({})", item.id, line.note), Some(*value), Some(line.value));
        }
        self.money(|| format!("{}, total", item.id), at.total, Some(item.quantity));
        if at.net.is_some() {
            self.money(|| format!("{}, net", item.id), at.net, Some(item.net));
        }
    }

    fn bill(&mut self, book: &Book, estimate: &Estimate) {
        let (places, bill) = (&book.places, &estimate.bill);
        self.count("sections", places.sections.len(), bill.sections.len());
        for (section, at) in bill.sections.iter().zip(&places.sections) {
            self.count("rows", at.rows.len(), section.rows.len());
            for (row, (quantity, amount)) in section.rows.iter().zip(&at.rows) {
                let name = &row.reference;
                self.money(|| format!("{name}, quantity"), Some(*quantity), Some(row.quantity));
                self.money(|| format!("{name}, amount"), *amount, row.amount);
            }
            self.money(|| format!("section {}", section.letter), at.total, section.total);
        }
        self.money(|| "measured works".into(), places.measured, bill.measured);
        for (rows, placed) in
            [(&bill.preliminaries, &places.preliminaries), (&bill.provisional, &places.provisional)]
        {
            self.count("preliminaries or provisional items", placed.len(), rows.len());
            for (row, at) in rows.iter().zip(placed) {
                self.money(|| row.title.clone(), Some(*at), Some(row.amount));
            }
        }
        // An unpriced bill has no total for additions to stand on.
        if bill.total.is_some() {
            self.count("additions", places.additions.len(), bill.additions.len());
        }
        for (addition, (base, amount)) in bill.additions.iter().zip(&places.additions) {
            if base.is_some() && addition.percent.is_some() {
                self.money(|| format!("{}, on", addition.title), *base, Some(addition.base));
            }
            self.money(|| addition.title.clone(), Some(*amount), Some(addition.amount));
        }
        self.money(|| "grand total".into(), places.total, bill.total);
    }

    /// Works by stage as payments part them, goods as the orders have them.
    fn stages(&mut self, book: &Book, estimate: &Estimate) {
        let places = &book.places.stages;
        let worth = tankwright_account::payments::measured(estimate).unwrap_or_default();
        for at in &places.stages {
            let of = |stage| worth.iter().filter(|(s, _)| Some(*s) == stage).map(|(_, w)| *w).sum();
            if at.works.is_some() {
                self.money(|| format!("works of {:?}", at.stage), at.works, Some(of(at.stage)));
            }
            let orders = estimate.orders.stages.iter().filter(|s| Some(s.stage) == at.stage);
            let cost = orders.flat_map(|s| &s.lines).filter_map(|l| l.cost).sum();
            if at.bought.is_some() {
                self.money(|| format!("goods of {:?}", at.stage), at.bought, Some(cost));
            }
        }
        if places.works.is_some() {
            self.money(|| "works of all stages".into(), places.works, estimate.bill.measured);
        }
        if places.bought.is_some() {
            self.money(|| "goods of all stages".into(), places.bought, estimate.orders.cost);
        }
    }

    fn built(&mut self, book: &Book, estimate: &Estimate) {
        let built = crate::analysis::rows(estimate);
        self.stages(book, estimate);
        self.count("built rates", book.places.built.len(), built.len());
        for ((row, worked), at) in built.into_iter().zip(&book.places.built) {
            let name = &row.reference;
            self.count(name, at.lines.len(), worked.lines.len());
            for (line, at) in worked.lines.iter().zip(&at.lines) {
                self.money(|| format!("{name}, {}", line.line.title), Some(*at), Some(line.amount));
            }
            self.count(name, at.on_costs.len(), worked.on_costs.len());
            for (done, at) in worked.on_costs.iter().zip(&at.on_costs) {
                self.money(|| format!("{name}, {}", done.on_cost.title), Some(*at), Some(done.amount));
            }
            self.money(|| format!("{name}, total of its analysis"), at.total, Some(worked.total));
            self.money(|| format!("{name}, rate"), at.rate, Some(worked.rate));
        }
    }

    /// What must stay true is true now.
    fn kept(&mut self, book: &Book) {
        for at in book.places.kept.iter().chain(&book.places.plan).flat_map(|r| r.cells()) {
            if self.values.get(&at) != Some(&Value::Truth(true)) {
                let place = format!("{}!{}", at.page.quoted(), at.a1());
                self.balance.breaks.push(format!("{place}: must be true from the start"));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::evaluate::evaluate;

    fn checked(book: &Book, estimate: &Estimate) -> Balance {
        let values = evaluate(book).unwrap_or_default();
        check(book, estimate, &values)
    }
    use crate::book::workbook;
    use crate::cells::{Content, PageId};
    use crate::fixture::estimate;

    #[test]
    fn every_figure_of_the_fixture_agrees() {
        let estimate = estimate();
        let book = workbook(&estimate).unwrap_or_default();
        let balance = checked(&book, &estimate);
        assert_eq!(balance.breaks, Vec::<String>::new());
        assert!(balance.holds() && balance.left > Ratio::ZERO);
    }

    #[test]
    fn a_wrong_figure_is_named() {
        let mut estimate = estimate();
        let book = workbook(&estimate).unwrap_or_default();
        estimate.sheet.items[0].quantity += Decimal::new(1, 2);
        estimate.bill.total = None;
        let balance = checked(&book, &estimate);
        assert_eq!(balance.breaks.len(), 2, "{:?}", balance.breaks);
        assert!(balance.breaks[0].starts_with("excavation-pit/net/dig, total: workbook"));
        assert!(!balance.holds());
    }

    /// A cell's exact value after an input was changed, as a spreadsheet program would reckon it.
    fn after(name: &str, value: Decimal, of: impl Fn(&Book) -> Option<At>) -> Option<Value> {
        let mut book = workbook(&estimate()).unwrap_or_default();
        let at = book.names.get(name).copied()?;
        let page = book.pages.iter_mut().find(|p| p.id == at.page)?;
        page.cells.get_mut(&(at.row, at.col))?.content = Content::Number(value);
        evaluate(&book).ok()?.get(&of(&book)?).cloned()
    }

    #[test]
    fn inputs_and_rates_are_live() {
        // (2.11 + 0.44) x (1.60 + 0.44) x (1.60 + 0.10 + 0.061 x (2.11 - 0.22) / 2 / 2.11, to 0.01)
        let dig = |book: &Book| book.places.items.first().and_then(|i| i.total);
        let want = Ratio::of(255, 100) * Ratio::of(204, 100) * Ratio::of(173, 100);
        let got = after("in_tank_width", Decimal::new(16, 1), dig);
        assert_eq!(got, Some(Value::Number(want.round_half_away(Ratio::of(1, 100)))));
        // Strips every 3 courses: (21 - 1) / 3 = 6.
        let iron = |book: &Book| book.places.items.get(3).and_then(|i| i.total);
        let girth = Ratio::of(2 * (211 + 150) + 4 * 22, 100);
        let got = after("in_tank_walls_hoop_iron_every", Decimal::from(3), iron);
        assert_eq!(got, Some(Value::Number(girth * Ratio::int(6))));
        let amount = |book: &Book| book.places.sections.first()?.rows.first()?.1;
        assert_eq!(after("rate_A1", Decimal::ZERO, amount), Some(Value::Number(Ratio::ZERO)));
    }

    #[test]
    fn the_summary_asks_for_another_run_when_the_lines_would_change() {
        let watch = |book: &Book| {
            let page = book.page(PageId::Summary)?;
            let found =
                page.cells.iter().find(|(_, c)| matches!(c.content, Content::Formula(Expr::If(_))))?;
            Some(At { page: PageId::Summary, row: found.0.0, col: found.0.1 })
        };
        use crate::expr::Expr;
        let text = |name, value| match after(name, value, watch) {
            Some(Value::Text(text)) => text,
            other => format!("{other:?}"),
        };
        assert_eq!(text("in_tank_width", Decimal::new(16, 1)), "OK");
        let again = "the change alters which lines exist: run tankwright again";
        assert_eq!(text("in_tank_width", Decimal::new(22, 1)), again);
        // Recipes and rates of waste that would put rows together are structure too.
        assert_eq!(text("waste_cement", Decimal::ONE), "OK");
        assert_eq!(text("waste_cement", Decimal::ZERO), again);
        assert_eq!(text("in_tank_base_projection", Decimal::ONE), again);
        assert_eq!(text("in_tank_walls_thickness", Decimal::ZERO), again);
    }

    #[test]
    fn nothing_that_cannot_be_written_is_left_out_silently() {
        let mut estimate = estimate();
        estimate.sheet.items[4].lines[0].of_item = Some("no-such".into());
        let extra = estimate.sheet.items[0].lines[0].dims[0].clone();
        estimate.sheet.items[0].lines[0].dims.push(extra);
        estimate.bill.sections[0].rows[0].items.push("nor-this".into());
        let problems = workbook(&estimate).err().unwrap_or_default();
        let codes: Vec<&str> = problems.iter().map(|p| p.code).collect();
        assert_eq!(codes, ["X102", "X102", "X102"], "{problems:?}");
    }

    #[test]
    fn an_unpriced_bill_has_quantities_only() {
        let mut estimate = estimate();
        let bill = &mut estimate.bill;
        for row in bill.sections.iter_mut().flat_map(|s| &mut s.rows) {
            (row.rate, row.amount) = (None, None);
        }
        bill.sections.iter_mut().for_each(|s| s.total = None);
        (bill.measured, bill.total, bill.price_list) = (None, None, None);
        let book = workbook(&estimate).unwrap_or_default();
        assert_eq!(checked(&book, &estimate).breaks, Vec::<String>::new());
    }
}
