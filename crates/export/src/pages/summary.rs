//! Summary: the job on one page; money and the watch over the structure are live.

use rust_decimal::Decimal;
use tankwright_quantities::checks::Verdict;
use tankwright_quantities::estimate::Estimate;

use crate::book::{Desk, word, words};
use crate::cells::{Cell, Look, Page, PageId, Show};
use crate::expr::Expr;
use crate::pages::bill::word_of_section;
use crate::pages::illustrations;
use crate::text::checks::verdict;

pub(crate) fn page(desk: &Desk<'_>) -> Page {
    let estimate = desk.estimate;
    let mut page = Page::new(PageId::Summary, &estimate.title, "", &[]);
    page.widest = vec![52, 26, 60];
    page.least.clone_from(&page.widest);
    page.printed = Some((None, 3));
    let mut at = Rows { page: &mut page, row: 1 };
    job(&mut at, estimate);
    at.row += 1;
    at.label(&word("book-lines-exist"), "");
    let ok = if desk.places.kept.is_empty() {
        Cell::text(word("book-ok"))
    } else {
        let all = Expr::All(desk.places.kept.clone());
        let watch = all.choose(Expr::Text(word("book-ok")), Expr::Text(word("book-run-again")));
        Cell::formula(watch, Show::General)
    };
    at.page.put(at.row - 1, 1, ok.look(Look::Total));
    if !desk.places.plan.is_empty() {
        let all = Expr::All(desk.places.plan.clone());
        let watch = all.choose(Expr::Text(word("book-ok")), Expr::Text(word("book-plan-stale")));
        at.figure(&word("book-plan-fits"), Cell::formula(watch, Show::General).look(Look::Total), "");
    }
    at.row += 1;
    measures(&mut at, estimate);
    money(&mut at, desk);
    goods(&mut at, desk);
    lists(&mut at, estimate);
    let last = at.row + 1;
    let end = illustrations::put(&mut page, desk, last);
    if end > last {
        let told = if desk.pictures.is_empty() { "book-charts-below" } else { "book-figures-below" };
        let told = words(told, &[&(last + 1).to_string()]);
        page.put(1, 2, Cell::text(told).look(Look::Remark));
    }
    page
}

struct Rows<'a> {
    page: &'a mut Page,
    row: u32,
}

impl Rows<'_> {
    fn label(&mut self, label: &str, value: &str) {
        self.page.text(self.row, 0, label);
        self.page.text(self.row, 1, value);
        self.row += 1;
    }

    fn figure(&mut self, label: &str, cell: Cell, note: &str) {
        self.page.text(self.row, 0, label);
        self.page.put(self.row, 1, cell);
        self.page.text(self.row, 2, note);
        self.row += 1;
    }

    fn heading(&mut self, key: &'static str) {
        self.page.heading(self.row, word(key));
        self.row += 1;
    }
}

fn job(at: &mut Rows<'_>, estimate: &Estimate) {
    at.label(&word("book-date"), &estimate.date);
    at.label(&word("book-job-file"), &estimate.file);
    at.label(&word("book-profile"), &format!("{} ({})", estimate.profile.1, estimate.profile.0));
    at.label(&word("book-currency"), &estimate.bill.currency.code);
    if let Some((name, from, to)) = &estimate.bill.price_list {
        at.label(&word("book-price-list"), &words("book-price-list-dates", &[name, from, to]));
    }
    at.row += 1;
    at.heading("book-scope");
    for line in estimate.scope.iter().chain(estimate.sizing.as_ref().map(|s| &s.says)) {
        at.page.put(at.row, 0, Cell::text(line.to_string()).look(Look::Remark));
        at.row += 1;
    }
}

/// How many checks of the drawn job came out how, and each that is not met.
fn checks(at: &mut Rows<'_>, estimate: &Estimate) {
    if estimate.checks.is_empty() {
        return;
    }
    at.heading("book-checks");
    let number = |v: Verdict| estimate.checks.iter().filter(|c| c.verdict == v).count().to_string();
    let counts = [Verdict::Met, Verdict::NotMet, Verdict::Screened, Verdict::Flagged, Verdict::NotChecked];
    let counts = counts.map(number);
    let counts = words("book-checks-counts", &counts.each_ref().map(String::as_str));
    at.page.put(at.row, 0, Cell::text(counts).look(Look::Remark));
    at.row += 1;
    for check in estimate.checks.iter().filter(|c| c.verdict == Verdict::NotMet) {
        at.page.text(at.row, 0, check.says.to_string());
        at.page.text(at.row, 1, verdict(check.verdict));
        at.page.text(at.row, 2, &check.source);
        at.row += 1;
    }
    at.row += 1;
}

fn measures(at: &mut Rows<'_>, estimate: &Estimate) {
    at.heading("book-measures");
    let litres = |l: u64| Cell::number(Decimal::from(l), Show::Fixed(0));
    if let Some(to_line) = estimate.capacity.to_water_line {
        at.figure(&word("book-water-line"), litres(to_line), "");
    }
    at.figure(&word("book-full"), litres(estimate.capacity.full), "");
    let earth = &estimate.earth;
    let metres = |d: Decimal| Cell::number(d, Show::UpTo(2, 4));
    at.figure(&word("book-dug-net"), metres(earth.dug_net), &word("book-dug-net-note"));
    at.figure(&word("book-dug-actual"), metres(earth.dug_actual), &word("book-dug-actual-note"));
    at.figure(&word("book-put-back"), metres(earth.put_back), "");
    at.figure(&word("book-carted-bank"), metres(earth.carted_bank), &word("book-carted-bank-note"));
    let loads =
        earth.loads.map(|(n, size)| words("book-loads", &[&n.to_string(), &size.normalize().to_string()]));
    at.figure(&word("book-carted-loose"), metres(earth.carted_loose), &loads.unwrap_or_default());
    at.row += 1;
}

fn money(at: &mut Rows<'_>, desk: &Desk<'_>) {
    let bill = &desk.estimate.bill;
    let places = &desk.places;
    let show = Show::Money(bill.currency.digits);
    let (Some(total), Some(measured)) = (places.total, places.measured) else {
        at.heading("book-money");
        at.label(&word("book-no-price-list"), "");
        at.row += 1;
        return;
    };
    at.page.heading(at.row, words("book-money-in", &[&bill.currency.code]));
    at.row += 1;
    for (section, placed) in bill.sections.iter().zip(&places.sections) {
        let title = format!("{} {}", section.letter, word_of_section(section.section.id()));
        if let Some(total) = placed.total {
            at.figure(&title, Cell::formula(Expr::Cell(total), show), "");
        }
    }
    at.figure(&word("book-measured"), Cell::formula(Expr::Cell(measured), show).look(Look::Total), "");
    for (title, cells) in
        [("book-preliminaries", &places.preliminaries), ("book-provisional", &places.provisional)]
    {
        if let Some(range) = crate::cells::Range::over(cells) {
            at.figure(&word(title), Cell::formula(Expr::Sum(range), show), "");
        }
    }
    for (addition, (_, amount)) in bill.additions.iter().zip(&places.additions) {
        at.figure(&addition.title, Cell::formula(Expr::Cell(*amount), show), "");
    }
    let cell = Cell::formula(Expr::Cell(total), show).look(Look::Total);
    at.figure(&words("book-grand-total", &[&bill.currency.code]), cell, "");
    at.row += 1;
}

/// Steel, and what materials cost to buy.
fn goods(at: &mut Rows<'_>, desk: &Desk<'_>) {
    let goods = &desk.places.goods;
    let bars: Vec<Expr> = goods.bars.iter().flatten().map(|at| Expr::Cell(*at)).collect();
    if goods.masses.is_empty() && goods.cost.is_none() {
        return;
    }
    at.heading("book-to-buy");
    if !goods.masses.is_empty() {
        let kg = goods.masses.iter().map(|[kg, _]| Expr::Cell(*kg)).collect();
        at.figure(&word("book-steel-kg"), Cell::formula(Expr::total(kg), Show::UpTo(2, 3)), "");
    }
    if !bars.is_empty() {
        let cell = Cell::formula(Expr::total(bars), Show::Fixed(0));
        at.figure(&word("book-bars-to-buy-all"), cell, &word("book-bars-note"));
    }
    if let Some(cost) = goods.cost {
        let currency = &desk.estimate.bill.currency;
        let cell = Cell::formula(Expr::Cell(cost), Show::Money(currency.digits));
        at.figure(&words("book-materials-cost", &[&currency.code]), cell, &word("book-materials-cost-note"));
    }
    at.row += 1;
}

fn lists(at: &mut Rows<'_>, estimate: &Estimate) {
    if !estimate.bill.not_priced.is_empty() {
        at.heading("book-not-priced-head");
        for title in &estimate.bill.not_priced {
            at.label(title, "");
        }
        at.row += 1;
    }
    checks(at, estimate);
    if estimate.cautions_of_job().next().is_some() {
        at.heading("book-cautions");
        for caution in estimate.cautions_of_job() {
            at.page.text(at.row, 0, caution.says.to_string());
            at.page.text(at.row, 1, caution.code);
            at.page.text(at.row, 2, &caution.source);
            at.row += 1;
        }
        at.row += 1;
    }
    if !estimate.defaults.is_empty() {
        let number = Cell::number(Decimal::from(estimate.defaults.len()), Show::Fixed(0));
        at.figure(&word("book-defaults"), number, &word("book-defaults-note"));
        at.row += 1;
    }
    if !estimate.setting_out.is_empty() {
        at.heading("book-setting-out");
        for mark in &estimate.setting_out {
            match mark.metres.trim().parse::<Decimal>() {
                Ok(metres) => at.figure(&mark.title.to_string(), Cell::number(metres, Show::Fixed(3)), "m"),
                Err(_) => at.label(&mark.title.to_string(), &mark.metres),
            }
        }
    }
}
