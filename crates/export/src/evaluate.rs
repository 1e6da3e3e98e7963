//! Values of all cells, exact: expressions are followed through the pages on fractions, so nothing is lost on
//! the way and every ROUND sees the exact figure; a value becomes a decimal only where it is read.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;
use tankwright_quantities::decimal;
use tankwright_quantities::problem::Problem;

use crate::book::Book;
use crate::cells::{At, Content, Range};
use crate::expr::{Expr, Order};

/// A cell's value.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Value {
    /// A number, exact.
    Number(Ratio),
    /// A text.
    Text(String),
    /// True or false.
    Truth(bool),
}

impl Value {
    /// A number as the nearest decimal, at least 12 places where it is not exact; `None` for anything else.
    #[must_use]
    pub fn decimal(&self) -> Option<Decimal> {
        let Self::Number(value) = self else { return None };
        (0..=18).rev().step_by(3).find_map(|p| decimal::rounded(*value, p))
    }
}

/// Values of all cells that hold anything.
pub type Values = BTreeMap<At, Value>;

/// Evaluates every cell of the book.
///
/// # Errors
/// X101 for each expression that asks for a cell or name that is not there, goes in a circle, divides by
/// nothing or grows too large.
pub fn evaluate(book: &Book) -> Result<Values, Vec<Problem>> {
    let mut run = Run { book, done: BTreeMap::new(), open: BTreeSet::new() };
    for page in &book.pages {
        for &(row, col) in page.cells.keys() {
            run.cell(At { page: page.id, row, col });
        }
    }
    let bad = |(at, value): (&At, &Value)| match value {
        Value::Number(n) if !n.is_known() => {
            let text = format!("the workbook's {}!{} has no value", at.page.quoted(), at.a1());
            Some(Problem::error("X101", None, text))
        }
        _ => None,
    };
    let problems: Vec<Problem> = run.done.iter().filter_map(bad).collect();
    if problems.is_empty() { Ok(run.done) } else { Err(problems) }
}

struct Run<'a> {
    book: &'a Book,
    done: Values,
    open: BTreeSet<At>,
}

const NONE: Value = Value::Number(Ratio::UNKNOWN);

impl Run<'_> {
    fn cell(&mut self, at: At) -> Value {
        if let Some(value) = self.done.get(&at) {
            return value.clone();
        }
        let book = self.book;
        let found = book.page(at.page).and_then(|p| p.cells.get(&(at.row, at.col)));
        let value = match found.map(|c| &c.content) {
            None => return NONE,
            Some(Content::Blank) => Value::Text(String::new()),
            Some(Content::Text(text)) => Value::Text(text.clone()),
            Some(Content::Number(n)) => Value::Number(decimal::ratio(*n)),
            Some(Content::Formula(expr)) => {
                if !self.open.insert(at) {
                    return NONE;
                }
                let value = self.expr(expr);
                self.open.remove(&at);
                value
            }
        };
        self.done.insert(at, value.clone());
        value
    }

    fn number(&mut self, expr: &Expr) -> Ratio {
        match self.expr(expr) {
            Value::Number(n) => n,
            _ => Ratio::UNKNOWN,
        }
    }

    fn truth(&mut self, expr: &Expr) -> Option<bool> {
        match self.expr(expr) {
            Value::Truth(t) => Some(t),
            _ => None,
        }
    }

    fn expr(&mut self, expr: &Expr) -> Value {
        let number = match expr {
            Expr::Text(text) => return Value::Text(text.clone()),
            Expr::Cell(at) => return self.cell(*at),
            Expr::Name(name) => {
                let at = self.book.names.get(name).copied();
                return at.map_or(NONE, |at| self.cell(at));
            }
            Expr::Compare(a, order, b) => {
                let (a, b) = (self.number(a), self.number(b));
                if !a.is_known() || !b.is_known() {
                    return NONE;
                }
                return Value::Truth(Order::from(a.cmp(&b)) == *order);
            }
            Expr::IsNumber(e) => return Value::Truth(matches!(self.expr(e), Value::Number(_))),
            Expr::And(of) => return all(of.iter().map(|e| self.truth(e))),
            Expr::All(ranges) => {
                let cells: Vec<At> = ranges.iter().copied().flat_map(Range::cells).collect();
                return all(cells.into_iter().map(|at| match self.cell(at) {
                    Value::Truth(t) => Some(t),
                    _ => None,
                }));
            }
            Expr::If(parts) => {
                let [test, then, otherwise] = parts.as_ref();
                return match self.truth(test) {
                    Some(true) => self.expr(then),
                    Some(false) => self.expr(otherwise),
                    None => NONE,
                };
            }
            Expr::Number(n) => decimal::ratio(*n),
            Expr::Neg(e) => -self.number(e),
            Expr::Add(terms) => terms.iter().map(|e| self.number(e)).sum(),
            Expr::Mul(factors) => factors.iter().map(|e| self.number(e)).fold(Ratio::ONE, |p, f| p * f),
            Expr::Div(a, b) => self.number(a) / self.number(b),
            // Like a spreadsheet, a sum passes over texts and empty cells.
            Expr::Sum(range) => range
                .cells()
                .filter(|at| self.book.has(*at))
                .collect::<Vec<_>>()
                .into_iter()
                .map(|at| match self.cell(at) {
                    Value::Number(n) => n,
                    _ => Ratio::ZERO,
                })
                .sum(),
            Expr::Round(e, places) => match 10_i128.checked_pow(*places) {
                Some(scale) => self.number(e).round_half_away(Ratio::of(1, scale)),
                None => Ratio::UNKNOWN,
            },
            Expr::Up(e) => {
                let value = self.number(e);
                let up = -(-value.abs()).floor();
                if value.signum() < 0 { -up } else { up }
            }
            Expr::Floor(e) => self.number(e).floor(),
            Expr::Max(of) => of.iter().map(|e| self.number(e)).reduce(larger).unwrap_or(Ratio::UNKNOWN),
        };
        Value::Number(number)
    }
}

/// The larger of two; unknown where either is.
fn larger(a: Ratio, b: Ratio) -> Ratio {
    if a.is_known() && b.is_known() { a.max(b) } else { Ratio::UNKNOWN }
}

fn all(of: impl Iterator<Item = Option<bool>>) -> Value {
    let of: Option<Vec<bool>> = of.collect();
    of.map_or(NONE, |of| Value::Truth(of.into_iter().all(|t| t)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cells::{Cell, Page, PageId, Show};

    fn book(cells: Vec<Cell>) -> Book {
        let mut page = Page::new(PageId::Bill, "t", "", &[]);
        for (row, cell) in (1..).zip(cells) {
            page.put(row, 0, cell);
        }
        Book { pages: vec![page], ..Book::default() }
    }

    fn of(expr: Expr) -> Result<Value, Vec<Problem>> {
        let values = evaluate(&book(vec![Cell::formula(expr, Show::General)]))?;
        Ok(values.get(&At { page: PageId::Bill, row: 1, col: 0 }).cloned().unwrap_or(NONE))
    }

    #[test]
    fn a_third_three_times_is_one() {
        let third = Expr::int(1).over(Expr::int(3));
        assert_eq!(of(Expr::Mul(vec![third, Expr::int(3)])), Ok(Value::Number(Ratio::ONE)));
    }

    #[test]
    fn rounding_as_spreadsheets_do() {
        let n = |m, s| Expr::Number(Decimal::new(m, s));
        assert_eq!(of(n(-25, 1).round(0)), Ok(Value::Number(Ratio::int(-3))));
        assert_eq!(of(Expr::Up(Box::new(n(-21, 1)))), Ok(Value::Number(Ratio::int(-3))));
        assert_eq!(of(Expr::Up(Box::new(n(20, 1)))), Ok(Value::Number(Ratio::int(2))));
        assert_eq!(of(Expr::Floor(Box::new(n(-21, 1)))), Ok(Value::Number(Ratio::int(-3))));
    }

    #[test]
    fn circles_holes_and_nothing_below_the_line_are_reported() {
        let at = |row| Expr::Cell(At { page: PageId::Bill, row, col: 0 });
        assert!(of(at(1)).is_err());
        assert!(of(at(9)).is_err());
        assert!(of(Expr::Name("in_x".into())).is_err());
        assert!(of(Expr::int(1).over(Expr::int(0))).is_err());
        assert!(of(Expr::Max(vec![Expr::int(1), Expr::int(1).over(Expr::int(0))])).is_err());
    }
}
