//! The bill to be priced as a workbook: only rates and remarks can be filled in, amounts and sums follow.

use std::collections::BTreeMap;

use tankwright_account::returned::Form;
use tankwright_account::returned::form::{ADDITIONS, Asks, FormRow, Line, Sum, head_mark, mark};
use tankwright_quantities::bill::AddedOn;

use crate::book::{Book, heads, word, words};
use crate::cells::{Allow, At, Cell, Look, Page, PageId, Range, Show};
use crate::expr::Expr;

const WORDS: u16 = 1;
const UNIT: u16 = 2;
const QUANTITY: u16 = 3;
const RATE: u16 = 4;
const AMOUNT: u16 = 5;
const REMARKS: u16 = 6;
const MARKS: u16 = 7;
/// Places that a rate may have beyond the currency's before its amount could be rounded twice.
const SPARE: u32 = 4;
/// Most tests in one AND, and rows above which the total says nothing of open ones: the formula grows too long.
const TESTS: usize = 200;
const WATCHED: usize = 400;

/// The form as a book of two pages: what is read before, and the bill.
#[must_use]
pub fn form_book(form: &Form) -> Book {
    let [title, remark] = form.head();
    let mut before = Page::new(PageId::Before, &title, "", &[]);
    before.heading(2, word("form-notes"));
    before.widest = vec![80];
    before.locked = true;
    for (row, note) in (3..).zip(&form.notes) {
        before.text(row, 0, note.clone());
    }
    let code = form.currency.code.as_str();
    let mut columns = heads(&["form-ref", "form-description", "form-unit", "form-quantity"]);
    columns.extend([words("form-rate", &[code]), words("form-amount", &[code]), word("form-remarks")]);
    let mut page = Page::new(PageId::ToPrice, &title, &remark, &columns);
    page.put(2, MARKS, Cell::text(head_mark(form)));
    page.widest = vec![8, 60, 8, 16, 18, 20, 40];
    // Figures that are not there yet want room.
    page.least = vec![4, 30, 5, 13, 13, 15, 30];
    page.printed = Some((None, MARKS));
    page.hidden = Some(MARKS);
    page.locked = true;
    let mut writer = Writer {
        form,
        page,
        row: 3,
        amounts: BTreeMap::new(),
        rates: BTreeMap::new(),
        sums: BTreeMap::new(),
    };
    form.lines().iter().for_each(|line| writer.line(line));
    let pages = vec![before, writer.page];
    Book { title: form.job.clone(), date: form.date.clone(), pages, ..Book::default() }
}

struct Writer<'a> {
    form: &'a Form,
    page: Page,
    row: u32,
    /// Amounts and rates of rows, by their place in the form.
    amounts: BTreeMap<usize, At>,
    rates: BTreeMap<usize, At>,
    sums: BTreeMap<Sum, At>,
}

impl Writer<'_> {
    fn line(&mut self, line: &Line) {
        let row = self.row;
        self.row += 1;
        self.page.text(row, MARKS, mark(self.form, line));
        match line {
            Line::Gap => {}
            Line::Heading(letter, text) => {
                self.page.heading(row, letter.clone());
                self.page.put(row, WORDS, Cell::text(text.clone()).look(Look::Heading));
            }
            Line::Sum(sum, reference, text) => {
                self.page.text(row, 0, reference);
                let look = if matches!(sum, Sum::Carried(_)) { Look::Body } else { Look::Total };
                self.page.put(row, WORDS, Cell::text(text.clone()).look(look));
                let cell = Cell::formula(self.sum(*sum), self.money()).look(look);
                let at = self.page.put(row, AMOUNT, cell);
                self.sums.insert(*sum, at);
                self.open(*sum);
            }
            Line::Field(_, label) => {
                self.page.put(row, WORDS, Cell::text(label.clone()).look(Look::Body));
                for col in UNIT..=REMARKS {
                    self.page.put(row, col, Cell::blank(Allow::Free, Show::General));
                }
            }
            Line::Row(i) => {
                if let Some(asked) = self.form.rows.get(*i) {
                    self.asked(row, *i, asked);
                }
            }
        }
    }

    fn money(&self) -> Show {
        Show::Fixed(self.form.currency.digits)
    }

    fn asked(&mut self, row: u32, i: usize, asked: &FormRow) {
        self.page.text(row, 0, &asked.reference);
        self.page.text(row, WORDS, &asked.words);
        self.page.text(row, UNIT, &asked.unit);
        let digits = self.form.currency.digits;
        let places = asked.stated.map_or(0, |s| s.normalize().scale());
        let (quantity, scale, percent) = match &asked.asks {
            Asks::Rate(q) => {
                let scale = q.normalize().scale();
                let least = if matches!(asked.unit.as_str(), "nr" | "item") { scale } else { 2 };
                (Cell::number(*q, Show::UpTo(least, scale.max(least))), scale, false)
            }
            Asks::Percent(on) => (Cell::formula(self.base(on), self.money()), digits, true),
        };
        let quantity = Expr::Cell(self.page.put(row, QUANTITY, quantity));
        let show = if percent { Show::General } else { Show::UpTo(digits, digits.max(places).max(2)) };
        let cell = match asked.stated {
            Some(stated) => Cell::number(stated, show),
            None => Cell::blank(Allow::NotNegative, show),
        };
        let rate = self.page.put(row, RATE, cell);
        let product = Expr::Mul(vec![quantity, Expr::Cell(rate)]);
        let product = if percent { product.over(Expr::int(100)) } else { product };
        let exact = scale + digits.max(places) + SPARE;
        let priced = Expr::IsNumber(Box::new(Expr::Cell(rate)));
        let amount = priced.choose(product.settle(exact, digits), Expr::Text(word("form-no-rate")));
        let amount = self.page.put(row, AMOUNT, Cell::formula(amount, self.money()));
        self.page.put(row, REMARKS, Cell::blank(Allow::Free, Show::General));
        self.amounts.insert(i, amount);
        self.rates.insert(i, rate);
    }

    /// Amounts of rows that follow each other.
    fn rows(&self, letter: char) -> Expr {
        let cells: Vec<At> =
            self.form.rows_of(letter).filter_map(|i| self.amounts.get(&i).copied()).collect();
        Range::over(&cells).map_or(Expr::int(0), Expr::Sum)
    }

    fn carried(&self, measured: bool) -> Vec<Expr> {
        let sections =
            self.form.sections.iter().filter(|s| s.letter != ADDITIONS && s.measured() == measured);
        sections.filter_map(|s| self.sums.get(&Sum::Carried(s.letter))).map(|at| Expr::Cell(*at)).collect()
    }

    fn running(&self) -> Expr {
        let mut terms: Vec<Expr> =
            self.sums.get(&Sum::Measured).map(|at| Expr::Cell(*at)).into_iter().collect();
        terms.extend(self.carried(false));
        if self.form.rows_of(ADDITIONS).any(|i| self.amounts.contains_key(&i)) {
            terms.push(self.rows(ADDITIONS));
        }
        Expr::total(terms)
    }

    fn base(&self, on: &AddedOn) -> Expr {
        let measured = || self.sums.get(&Sum::Measured).map_or(Expr::int(0), |at| Expr::Cell(*at));
        let AddedOn::Titles(of) = on else {
            return if *on == AddedOn::Running { self.running() } else { measured() };
        };
        let rows: Vec<usize> = self.form.rows_of(ADDITIONS).collect();
        // Each by itself in a sum: one that is not filled in counts as nothing.
        let one = |i: &usize| Range::over(&[*self.amounts.get(rows.get(*i)?)?]).map(Expr::Sum);
        Expr::total(std::iter::once(measured()).chain(of.iter().filter_map(one)).collect())
    }

    fn sum(&self, sum: Sum) -> Expr {
        match sum {
            Sum::Section(letter) => self.rows(letter),
            Sum::Carried(letter) => {
                self.sums.get(&Sum::Section(letter)).map_or(Expr::int(0), |at| Expr::Cell(*at))
            }
            Sum::Measured => Expr::total(self.carried(true)),
            Sum::Total => self.running(),
        }
    }

    /// Beside a sum of rows: whether one of them has no rate.
    fn open(&mut self, sum: Sum) {
        let rates: Vec<At> = match sum {
            Sum::Section(letter) => {
                self.form.rows_of(letter).filter_map(|i| self.rates.get(&i).copied()).collect()
            }
            Sum::Total => self.rates.values().copied().collect(),
            Sum::Carried(_) | Sum::Measured => return,
        };
        if rates.is_empty() || rates.len() > WATCHED {
            return;
        }
        let test = |at: &At| Expr::IsNumber(Box::new(Expr::Cell(*at)));
        let all: Vec<Expr> =
            rates.chunks(TESTS).map(|some| Expr::And(some.iter().map(test).collect())).collect();
        let says =
            Expr::And(all).choose(Expr::Text(word("form-all-rows")), Expr::Text(word("form-open-rows")));
        let row = self.row - 1;
        self.page.put(row, REMARKS, Cell::formula(says, Show::General));
    }
}
