//! Rate analysis: how rates are built up, live. Quantities of materials follow recipes and waste, amounts follow rates.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;
use tankwright_quantities::bill::BillRow;
use tankwright_quantities::build_up::{Cost, Group, Made, PLACES, Say, Way, Worked, WorkedLine};
use tankwright_quantities::decimal::{ratio, rounded};

use crate::analysis::{code, group_word, rows, taken_words};
use crate::book::{BuiltAt, Desk, heads, word, words};
use crate::cells::{Allow, At, Cell, Look, Page, PageId, Range, Show};
use crate::expr::{Expr, exact};
use crate::format::quantity;
use crate::pages::bill::SPARE;
use crate::pages::figures::{Recipes, Wastes};
use crate::pages::owners;
use crate::trail::cell_name;

const TEXT: u16 = 1;
const WORKING: u16 = 2;
const QUANTITY: u16 = 3;
const UNIT: u16 = 4;
const RATE: u16 = 5;
const AMOUNT: u16 = 6;

/// The page; none where no rate is built up. Rates of the price list stand on the page Rates.
pub(crate) fn page(desk: &mut Desk<'_>) -> Option<Page> {
    let built = rows(desk.estimate);
    let first = built.first()?.1;
    let currency = desk.estimate.bill.currency.code.clone();
    let mut columns = heads(&["book-ref", "book-description", "book-working", "book-quantity", "book-unit"]);
    columns.extend([words("book-rate-in", &[&currency]), words("book-amount-in", &[&currency])]);
    let mut page =
        Page::new(PageId::Analysis, &word("book-analysis"), &word("book-analysis-remark"), &columns);
    page.widest = vec![8, 56, 56, 14, 8, 14, 16];
    let owners = owners::of(desk.estimate);
    let (recipes, wastes) = (Recipes::of(desk.estimate, &owners), Wastes::of(desk.estimate));
    let mut sheet = Sheet { page: &mut page, row: 3, desk, recipes, wastes, percents: Vec::new() };
    sheet.on_costs(first);
    for (row, worked) in built {
        sheet.one(row, worked);
    }
    Some(page)
}

struct Sheet<'a, 'd> {
    page: &'a mut Page,
    row: u32,
    desk: &'a mut Desk<'d>,
    recipes: Recipes,
    wastes: Wastes,
    /// Percentages of the on-costs, in order.
    percents: Vec<Expr>,
}

impl Sheet<'_, '_> {
    /// Percentages that all rates share, once.
    fn on_costs(&mut self, worked: &Worked) {
        if worked.on_costs.is_empty() {
            return;
        }
        self.page.heading(self.row, word("book-on-costs"));
        self.row += 1;
        for (i, done) in (1..).zip(&worked.on_costs) {
            let gross = if done.on_cost.gross_up { word("build-up-gross-up") } else { String::new() };
            self.page.text(self.row, TEXT, &done.on_cost.title);
            self.page.text(self.row, WORKING, format!("{}{gross}", taken_words(done)));
            self.page.text(self.row, UNIT, "%");
            let cell = Cell::number(done.on_cost.percent, Show::General).input(Allow::NotNegative);
            let at = self.page.put(self.row, RATE, cell);
            let name = format!("on_cost_no{i}");
            self.desk.names.insert(name.clone(), at);
            self.percents.push(Expr::Name(name));
            self.row += 1;
        }
        self.row += 1;
    }

    fn one(&mut self, row: &BillRow, worked: &Worked) {
        self.page.heading(self.row, &row.reference);
        let title = words("book-analysis-of", &[&code(row), &row.wording.to_string()]);
        self.page.put(self.row, TEXT, Cell::text(title).look(Look::Heading));
        let per = [&quantity(worked.per, 0), &worked.unit, &worked.build_up.0, &worked.build_up.1];
        let per = words("build-up-for", &per.map(String::as_str));
        self.page.put(self.row, WORKING, Cell::text(per).look(Look::Remark));
        self.row += 1;
        let (places, money) = (worked.places(), Show::Fixed(worked.places()));
        let mut at = BuiltAt::default();
        let mut sums = Vec::new();
        for group in Group::ALL {
            let mut own = Vec::new();
            for done in worked.lines.iter().filter(|l| l.line.group == group) {
                own.push(self.line(worked, done, &at.lines));
                at.lines.extend(own.last());
            }
            if let Some(range) = Range::over(&own) {
                let title = words("build-up-sum", &[group_word(group)]);
                sums.push(Expr::Cell(self.sum(&title, Expr::Sum(range).round(places), money)));
            }
        }
        let cost = self.sum(&word("build-up-cost"), Expr::total(sums).round(places), money);
        let mut parts = vec![Expr::Cell(cost)];
        for (i, done) in worked.on_costs.iter().enumerate() {
            let lines = done.lines.iter().filter_map(|l| at.lines.get(*l));
            let earlier = done.earlier.iter().filter_map(|o| at.on_costs.get(*o));
            let base = Expr::total(lines.chain(earlier).map(|at| Expr::Cell(*at)).collect()).round(places);
            self.page.text(self.row, TEXT, &done.on_cost.title);
            self.page.text(self.row, WORKING, taken_words(done));
            let base = self.page.put(self.row, QUANTITY, Cell::formula(base, money));
            self.page.text(self.row, UNIT, "%");
            let percent = self.percents.get(i).cloned().unwrap_or_else(|| Expr::int(0));
            self.page.put(self.row, RATE, Cell::formula(percent.clone(), Show::General));
            let over = if done.on_cost.gross_up {
                Expr::Add(vec![Expr::int(100), Expr::Neg(Box::new(percent.clone()))])
            } else {
                Expr::int(100)
            };
            let amount = Expr::Mul(vec![Expr::Cell(base), percent]).over(over);
            let exact = ratio(done.base) * ratio(done.on_cost.percent);
            let exact = if done.on_cost.gross_up {
                exact / (Ratio::int(100) - ratio(done.on_cost.percent))
            } else {
                exact / Ratio::int(100)
            };
            let cell = Cell::formula(settled(amount, exact, places), money);
            at.on_costs.push(self.page.put(self.row, AMOUNT, cell));
            parts.extend(at.on_costs.last().map(|at| Expr::Cell(*at)));
            self.row += 1;
        }
        let (per, unit) = (quantity(worked.per, 0), worked.unit.as_str());
        let title = words("build-up-total", &[&per, unit]);
        let total = self.sum(&title, Expr::total(parts).round(places), money);
        let each = Expr::Cell(total).over(Expr::Number(worked.per));
        let each = settled(each, ratio(worked.total) / ratio(worked.per), worked.digits);
        let shown = Show::Fixed(worked.digits);
        let mut last = self.sum(&words("build-up-each", &[unit]), each, shown);
        let mut before = worked.each;
        for (step, said) in &worked.says {
            let title = words("build-up-say", &[step.way.id(), &quantity(step.to, 0)]);
            let scale = step.to.scale().max(worked.digits);
            let expr = self::said(Expr::Cell(last), *step, ratio(before), scale);
            last = self.sum(&title, expr, Show::Fixed(scale));
            before = *said;
        }
        (at.total, at.rate) = (Some(total), Some(last));
        let name = cell_name("rate_", &row.reference);
        self.desk.names.insert(name.clone(), last);
        self.desk.places.rates.insert(row.reference.clone(), Expr::Name(name));
        self.desk.places.built.push(at);
        self.row += 1;
    }

    fn sum(&mut self, title: &str, expr: Expr, show: Show) -> At {
        self.page.put(self.row, TEXT, Cell::text(title).look(Look::Total));
        self.row += 1;
        self.page.put(self.row - 1, AMOUNT, Cell::formula(expr, show).look(Look::Total))
    }

    fn line(&mut self, worked: &Worked, done: &WorkedLine, before: &[At]) -> At {
        let (row, places) = (self.row, worked.places());
        self.row += 1;
        self.page.text(row, TEXT, &done.line.title);
        let (factor, rate, value, scale) = match &done.line.cost {
            Cost::Priced { quantity, working, unit, rate, from, made } => {
                self.page.text(row, WORKING, working);
                let quantity = match made {
                    Some(made) => Cell::formula(self.goods(made, *quantity), Show::UpTo(2, PLACES)),
                    None => Cell::number(done.quantity, Show::UpTo(2, PLACES)).input(Allow::NotNegative),
                };
                let quantity = self.page.put(row, QUANTITY, quantity);
                self.page.text(row, UNIT, unit);
                let price = from.as_ref().and_then(|f| self.desk.places.lines.get(&f.line)).cloned();
                let price = self.desk.need(price, &done.line.title);
                let places = rate.normalize().scale();
                let rate = self.page.put(row, RATE, Cell::formula(price, Show::Fixed(places.max(2))));
                (quantity, Expr::Cell(rate), ratio(done.quantity) * ratio(rate_of(done)), PLACES + places)
            }
            Cost::Percent(percent, on) => {
                let on = if on.is_empty() { word("build-up-on-all") } else { on.join(", ") };
                self.page.text(row, WORKING, words("book-analysis-on", &[&on]));
                let of = done.on.iter().filter_map(|i| before.get(*i)).map(|at| Expr::Cell(*at));
                let base = Expr::total(of.collect()).round(places);
                let base = self.page.put(row, QUANTITY, Cell::formula(base, Show::Fixed(places)));
                self.page.text(row, UNIT, "%");
                let cell = Cell::number(*percent, Show::General).input(Allow::NotNegative);
                let rate = Expr::Cell(self.page.put(row, RATE, cell)).over(Expr::int(100));
                let value = ratio(done.quantity) * ratio(*percent) / Ratio::int(100);
                (base, rate, value, places + 2 + percent.normalize().scale())
            }
        };
        let amount = Expr::Mul(vec![Expr::Cell(factor), rate]);
        let amount = match done.line.say {
            None => amount.settle(scale + SPARE, places),
            Some(say) => said(amount.round(scale + SPARE), say, value, places),
        };
        self.page.put(row, AMOUNT, Cell::formula(amount, Show::Fixed(places)))
    }

    /// A material: its uses with waste, over what a pack holds.
    fn goods(&mut self, made: &Made, quantity: Ratio) -> Expr {
        let mut parts = Vec::new();
        for used in &made.uses {
            let base = self.desk.need(Expr::ratio(used.base), &used.material);
            let mut factors = vec![base];
            factors.extend(self.recipes.factor(self.desk, &used.steps));
            if let Some(waste) = self.waste(used.waste_percent, &used.material) {
                factors.push(Expr::Add(vec![Expr::int(1), waste.over(Expr::int(100))]));
            }
            let product = Expr::product(factors);
            parts.push(if used.less { Expr::Neg(Box::new(product)) } else { product });
        }
        let mut sum = Expr::total(parts);
        if made.pack != Decimal::ONE {
            sum = sum.over(Expr::Number(made.pack));
        }
        settled(sum, quantity, PLACES)
    }

    fn waste(&mut self, percent: Ratio, material: &str) -> Option<Expr> {
        match self.wastes.name(material, percent) {
            Some(name) => Some(Expr::Name(name)),
            None if percent.is_zero() => None,
            None => exact(percent).map(Expr::Number),
        }
    }
}

fn rate_of(done: &WorkedLine) -> Decimal {
    match &done.line.cost {
        Cost::Priced { rate, .. } | Cost::Percent(rate, _) => *rate,
    }
}

/// Rounded to places, the noise of binary figures taken off first, unless the figure lies so near to a half that the
/// first rounding would decide.
fn settled(expr: Expr, value: Ratio, places: u32) -> Expr {
    let fine = 14_u32.saturating_sub(digits(value)).clamp(places + 2, 12);
    let twice = rounded(value, fine).and_then(|d| rounded(ratio(d), places));
    if twice == rounded(value, places) { expr.settle(fine, places) } else { expr.round(places) }
}

fn digits(value: Ratio) -> u32 {
    value.abs().floor().numer().checked_ilog10().map_or(1, |d| d + 1)
}

/// A figure said to a multiple.
fn said(of: Expr, say: Say, value: Ratio, places: u32) -> Expr {
    let step = || Expr::Number(say.to);
    let fine = 14_u32.saturating_sub(digits(value / ratio(say.to))).clamp(3, 9);
    let steps = of.over(step()).round(fine);
    let whole = match say.way {
        Way::Up => Expr::Up(Box::new(steps)),
        Way::Down => Expr::Floor(Box::new(steps)),
        Way::Nearest => steps.round(0),
    };
    Expr::Mul(vec![whole, step()]).round(places)
}
