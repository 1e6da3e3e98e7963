//! Bill: quantities from the dimension sheets, rates by name, sections, additions and the grand total.

use tankwright_quantities::bill::{BillRow, SideRow};
use tankwright_quantities::works::Unit;

use crate::book::{Desk, SectionAt, heads, word, words};
use crate::cells::{Allow, At, Cell, Look, Page, PageId, Range, Show};
use crate::expr::Expr;
use crate::pages::additions;
use crate::text::money::{client_lines, client_words};

pub(crate) const TITLE: u16 = 1;
pub(crate) const UNIT: u16 = 2;
pub(crate) const QUANTITY: u16 = 3;
pub(crate) const RATE: u16 = 4;
pub(crate) const AMOUNT: u16 = 5;
const ITEMS: u16 = 6;
/// Places that a rate may gain by hand before its amount could be rounded twice.
pub(crate) const SPARE: u32 = 2;

pub(crate) fn page(desk: &mut Desk<'_>) -> Page {
    let code = &desk.estimate.bill.currency.code;
    let mut columns = heads(&["book-ref", "book-description", "book-unit", "book-quantity"]);
    columns.push(words("book-rate-in", &[code]));
    columns.push(words("book-amount-in", &[code]));
    columns.push(word("book-items"));
    let job = words("book-bill-of", &[&desk.estimate.title, &desk.estimate.profile.1]);
    let mut page = Page::new(PageId::Bill, &word("book-bill"), &job, &columns);
    // A client gets the columns up to the amount; what is for our own use stands beside them.
    page.put(1, ITEMS, Cell::text(word("book-bill-remark")).look(Look::Remark));
    page.printed = Some((None, ITEMS));
    page.landscape = false;
    page.widest = vec![8, 60, 8, 16, 18, 20, 150];
    let mut bill = Bill { page: &mut page, row: 3, desk };
    bill.measured();
    bill.side("book-preliminaries", false);
    bill.side("book-provisional", true);
    bill.not_priced();
    additions::add(&mut bill);
    bill.client_buys();
    page
}

/// The bill while it is written, row by row.
pub(crate) struct Bill<'a, 'd> {
    pub(crate) page: &'a mut Page,
    pub(crate) row: u32,
    pub(crate) desk: &'a mut Desk<'d>,
}

impl Bill<'_, '_> {
    /// How money is shown.
    pub(crate) fn money(&self) -> Show {
        Show::Money(self.digits())
    }

    /// Minor digits of the currency.
    pub(crate) fn digits(&self) -> u32 {
        self.desk.estimate.bill.currency.digits
    }

    /// A row with a sum of money.
    pub(crate) fn sum(&mut self, title: &str, expr: Expr) -> At {
        self.page.put(self.row, TITLE, Cell::text(title).look(Look::Heading));
        let cell = Cell::formula(expr, self.money()).look(Look::Total);
        self.row += 1;
        self.page.put(self.row - 1, AMOUNT, cell)
    }

    fn measured(&mut self) {
        let bill = &self.desk.estimate.bill;
        let mut totals = Vec::new();
        for section in &bill.sections {
            let title = word_of_section(section.section.id());
            self.page.heading(self.row, section.letter.to_string());
            self.page.put(self.row, TITLE, Cell::text(title.clone()).look(Look::Heading));
            self.row += 1;
            let rows: Vec<(At, Option<At>)> = section.rows.iter().map(|r| self.line(r)).collect();
            let amounts: Option<Vec<At>> = rows.iter().map(|r| r.1).collect();
            let total = amounts.filter(|_| section.total.is_some()).map(|amounts| {
                let sum = Range::over(&amounts).map_or(Expr::int(0), Expr::Sum);
                self.sum(&words("book-section-total", &[&section.letter.to_string(), &title]), sum)
            });
            totals.extend(total.map(Expr::Cell));
            self.row += 1;
            self.desk.places.sections.push(SectionAt { rows, total });
        }
        if bill.measured.is_some() && totals.len() == bill.sections.len() {
            let at = self.sum(&word("book-measured"), Expr::total(totals));
            self.desk.places.measured = Some(at);
        }
        self.row += 1;
    }

    fn line(&mut self, line: &BillRow) -> (At, Option<At>) {
        let row = self.row;
        self.row += 1;
        self.page.text(row, 0, &line.reference);
        self.page.text(row, TITLE, line.wording.to_string());
        self.page.text(row, UNIT, line.unit.id());
        self.page.text(row, ITEMS, line.items.join(", "));
        let mut totals = Vec::new();
        for id in &line.items {
            let found = self.desk.estimate.sheet.items.iter().position(|i| i.id == *id);
            let at = found.and_then(|i| self.desk.places.items.get(i)).and_then(|i| i.total);
            let what = format!("row {}: no item {id}", line.reference);
            totals.push(self.desk.need(at.map(Expr::Cell), &what));
        }
        let (places, shown) = match line.unit {
            Unit::Kg => (2, 2),
            Unit::Nr => (0, 0),
            Unit::Item => (3, 0),
            Unit::M | Unit::M2 | Unit::M3 => (3, 2),
        };
        let show = Show::UpTo(shown, places);
        let quantity = self.page.put(row, QUANTITY, Cell::formula(Expr::total(totals).round(places), show));
        let Some(rate) = self.desk.places.rates.get(&line.reference).cloned() else {
            self.page.text(row, AMOUNT, word("book-no-rate"));
            return (quantity, None);
        };
        let given = line.rate.as_ref().map_or(0, |(rate, _)| rate.normalize().scale());
        let exact = places + self.digits().max(given) + SPARE;
        let amount = Expr::Mul(vec![Expr::Cell(quantity), rate.clone()]).settle(exact, self.digits());
        self.page.put(row, RATE, Cell::formula(rate, Show::Money(self.digits().max(given))));
        let amount = self.page.put(row, AMOUNT, Cell::formula(amount, self.money()));
        (quantity, Some(amount))
    }

    /// Preliminaries or provisional items: rows of the job file, with amounts of their own.
    fn side(&mut self, title: &'static str, provisional: bool) {
        let bill = &self.desk.estimate.bill;
        let rows = if provisional { &bill.provisional } else { &bill.preliminaries };
        if rows.is_empty() {
            return;
        }
        self.page.put(self.row, TITLE, Cell::text(word(title)).look(Look::Heading));
        self.row += 1;
        let amounts = rows.iter().map(|r| self.side_line(r)).collect();
        self.row += 1;
        if provisional {
            self.desk.places.provisional = amounts;
        } else {
            self.desk.places.preliminaries = amounts;
        }
    }

    fn side_line(&mut self, line: &SideRow) -> At {
        let row = self.row;
        self.row += 1;
        self.page.text(row, TITLE, &line.title);
        let Some((unit, quantity, rate)) = &line.worked else {
            let cell = Cell::number(line.amount, self.money()).input(Allow::NotNegative);
            return self.page.put(row, AMOUNT, cell);
        };
        self.page.text(row, UNIT, unit);
        let digits = self.digits();
        let exact = quantity.scale().max(3) + digits.max(rate.scale()) + SPARE;
        let quantity = Cell::number(*quantity, Show::UpTo(0, 3)).input(Allow::NotNegative);
        let quantity = self.page.put(row, QUANTITY, quantity);
        let rate = Cell::number(*rate, Show::Money(digits.max(rate.normalize().scale())));
        let rate = self.page.put(row, RATE, rate.input(Allow::NotNegative));
        let amount = Expr::Mul(vec![Expr::Cell(quantity), Expr::Cell(rate)]).settle(exact, digits);
        self.page.put(row, AMOUNT, Cell::formula(amount, self.money()))
    }

    /// What the client buys, as this run reckoned it: values, which nothing follows.
    fn client_buys(&mut self) {
        let Some(buys) = &self.desk.estimate.bill.client_buys else { return };
        self.row += 1;
        self.page.put(self.row, TITLE, Cell::text(word("paper-client-head")).look(Look::Heading));
        for (text, cost) in client_lines(buys) {
            self.row += 1;
            self.page.text(self.row, TITLE, text);
            match cost {
                Some(cost) => self.page.put(self.row, AMOUNT, Cell::number(cost, self.money())),
                None => self.page.put(self.row, AMOUNT, Cell::text(word("paper-client-none"))),
            };
        }
        for text in client_words(buys).into_iter().chain([word("book-client-values")]) {
            self.row += 1;
            self.page.put(self.row, TITLE, Cell::text(text).look(Look::Remark));
        }
        self.row += 1;
    }

    fn not_priced(&mut self) {
        let titles = &self.desk.estimate.bill.not_priced;
        if !titles.is_empty() {
            self.page.text(self.row, TITLE, words("book-not-priced", &[&titles.join(", ")]));
            self.row += 2;
        }
    }
}

/// The date at the head of the bill, or the warning that the bill no longer holds.
pub(crate) fn stamp(page: &mut Page, desk: &Desk<'_>) {
    let date = desk.estimate.date.clone();
    let cell = if desk.places.kept.is_empty() {
        Cell::text(date)
    } else {
        let all = Expr::All(desk.places.kept.clone());
        Cell::formula(all.choose(Expr::Text(date), Expr::Text(word("book-not-valid"))), Show::General)
    };
    page.put(0, QUANTITY, cell);
}

/// Title of a section of the bill.
pub(crate) fn word_of_section(id: &str) -> String {
    tankwright_quantities::words::look_up(&format!("section-{id}")).to_owned()
}
