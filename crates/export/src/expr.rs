//! The expression tree: one tree gives the formula text and (see `evaluate`) its result.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;
use tankwright_quantities::decimal;

use crate::cells::{At, PageId, Range};

/// How two numbers are compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Order {
    /// Below.
    Less,
    /// The same.
    Equal,
    /// Above.
    Greater,
}

impl Order {
    /// As formulas write it.
    #[must_use]
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Less => "<",
            Self::Equal => "=",
            Self::Greater => ">",
        }
    }
}

impl From<std::cmp::Ordering> for Order {
    fn from(order: std::cmp::Ordering) -> Self {
        match order {
            std::cmp::Ordering::Less => Self::Less,
            std::cmp::Ordering::Equal => Self::Equal,
            std::cmp::Ordering::Greater => Self::Greater,
        }
    }
}

/// An expression over cells and named cells.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Expr {
    /// A number.
    Number(Decimal),
    /// A text, at most 255 characters.
    Text(String),
    /// A named cell.
    Name(String),
    /// A cell.
    Cell(At),
    /// The other way round.
    Neg(Box<Self>),
    /// Sum of all.
    Add(Vec<Self>),
    /// Product of all.
    Mul(Vec<Self>),
    /// Quotient.
    Div(Box<Self>, Box<Self>),
    /// Sum of a range.
    Sum(Range),
    /// Rounded to places, halves away from zero.
    Round(Box<Self>, u32),
    /// Next whole number away from zero.
    Up(Box<Self>),
    /// Largest whole number not above.
    Floor(Box<Self>),
    /// The largest.
    Max(Vec<Self>),
    /// A comparison.
    Compare(Box<Self>, Order, Box<Self>),
    /// Is it a number?
    IsNumber(Box<Self>),
    /// Are all true?
    And(Vec<Self>),
    /// Are all cells of all ranges true?
    All(Vec<Range>),
    /// The second where the first is true, else the third.
    If(Box<[Self; 3]>),
}

/// Binding strength of the outermost operator.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Level {
    Compare,
    Add,
    Mul,
    Minus,
    Atom,
}

impl Expr {
    /// A whole number.
    #[must_use]
    pub fn int(n: i64) -> Self {
        Self::Number(n.into())
    }

    /// A fraction: as a decimal where one holds it, else as a quotient; `None` where too large to write.
    #[must_use]
    pub fn ratio(value: Ratio) -> Option<Self> {
        if let Some(d) = exact(value) {
            return Some(Self::Number(d));
        }
        let (n, d) = (exact(Ratio::int(value.numer()))?, exact(Ratio::int(value.denom()))?);
        Some(Self::Div(Box::new(Self::Number(n)), Box::new(Self::Number(d))))
    }

    /// `self / other`.
    #[must_use]
    pub fn over(self, other: Self) -> Self {
        Self::Div(Box::new(self), Box::new(other))
    }

    /// Rounded to places.
    #[must_use]
    pub fn round(self, places: u32) -> Self {
        Self::Round(Box::new(self), places)
    }

    /// Rounded to places where the exact figure has at most `exact` of them: a spreadsheet reckons in binary and
    /// would find 0.115 - 0.11 a hair below 0.005. Rounding to the figure's own places first takes the hair off.
    #[must_use]
    pub fn settle(self, exact: u32, places: u32) -> Self {
        let plain = matches!(self, Self::Number(_) | Self::Name(_) | Self::Cell(_));
        if plain || exact <= places { self.round(places) } else { self.round(exact).round(places) }
    }

    /// A comparison with another.
    #[must_use]
    pub fn is(self, order: Order, other: Self) -> Self {
        Self::Compare(Box::new(self), order, Box::new(other))
    }

    /// A choice.
    #[must_use]
    pub fn choose(self, then: Self, otherwise: Self) -> Self {
        Self::If(Box::new([self, then, otherwise]))
    }

    /// A product; one factor stands alone.
    #[must_use]
    pub fn product(mut factors: Vec<Self>) -> Self {
        match (factors.pop(), factors.is_empty()) {
            (None, _) => Self::int(1),
            (Some(only), true) => only,
            (Some(last), false) => {
                factors.push(last);
                Self::Mul(factors)
            }
        }
    }

    /// A sum; one term stands alone.
    #[must_use]
    pub fn total(mut terms: Vec<Self>) -> Self {
        match (terms.pop(), terms.is_empty()) {
            (None, _) => Self::int(0),
            (Some(only), true) => only,
            (Some(last), false) => {
                terms.push(last);
                Self::Add(terms)
            }
        }
    }

    /// The formula as it stands on `here`, without the `=` in front. English names, comma separators.
    #[must_use]
    pub fn text(&self, here: PageId) -> String {
        self.write(here).0
    }

    fn write(&self, here: PageId) -> (String, Level) {
        let plain = |e: &Self| e.write(here).0;
        let call = |name: &str, args: &[Self]| {
            let args: Vec<String> = args.iter().map(plain).collect();
            (format!("{name}({})", args.join(",")), Level::Atom)
        };
        match self {
            Self::Number(n) => {
                (n.to_string(), if n.is_sign_negative() && !n.is_zero() { Level::Minus } else { Level::Atom })
            }
            Self::Text(t) => (format!("\"{}\"", t.replace('"', "\"\"")), Level::Atom),
            Self::Name(name) => (name.clone(), Level::Atom),
            Self::Cell(at) => (address(at, here), Level::Atom),
            Self::Neg(e) => (format!("-{}", at_least(e.write(here), Level::Atom)), Level::Minus),
            Self::Add(terms) => {
                let mut text = String::new();
                for term in terms {
                    let term = at_least(term.write(here), Level::Mul);
                    if !text.is_empty() && !term.starts_with('-') {
                        text.push('+');
                    }
                    text.push_str(&term);
                }
                (text, Level::Add)
            }
            Self::Mul(factors) => {
                let mut text = String::new();
                for factor in factors {
                    if text.is_empty() {
                        text = at_least(factor.write(here), Level::Mul);
                    } else {
                        text.push('*');
                        text.push_str(&at_least(factor.write(here), Level::Atom));
                    }
                }
                (text, Level::Mul)
            }
            Self::Div(a, b) => {
                let (a, b) = (at_least(a.write(here), Level::Mul), at_least(b.write(here), Level::Atom));
                (format!("{a}/{b}"), Level::Mul)
            }
            Self::Sum(range) => (format!("SUM({})", span(range, here)), Level::Atom),
            Self::Round(e, places) => (format!("ROUND({},{places})", plain(e)), Level::Atom),
            Self::Up(e) => (format!("ROUNDUP({},0)", plain(e)), Level::Atom),
            Self::Floor(e) => (format!("INT({})", plain(e)), Level::Atom),
            Self::Max(of) => call("MAX", of),
            Self::Compare(a, order, b) => {
                let (a, b) = (at_least(a.write(here), Level::Add), at_least(b.write(here), Level::Add));
                (format!("{a}{}{b}", order.sign()), Level::Compare)
            }
            Self::IsNumber(e) => (format!("ISNUMBER({})", plain(e)), Level::Atom),
            Self::And(of) => call("AND", of),
            Self::All(ranges) => {
                let ranges: Vec<String> = ranges.iter().map(|r| span(r, here)).collect();
                (format!("AND({})", ranges.join(",")), Level::Atom)
            }
            Self::If(parts) => call("IF", parts.as_slice()),
        }
    }
}

/// The decimal that holds a fraction exactly, if one does.
#[must_use]
pub fn exact(value: Ratio) -> Option<Decimal> {
    [0, 4, 12, 20, 28]
        .into_iter()
        .find_map(|p| decimal::rounded(value, p).filter(|d| decimal::ratio(*d) == value))
}

fn at_least((text, level): (String, Level), least: Level) -> String {
    if level < least { format!("({text})") } else { text }
}

fn address(at: &At, here: PageId) -> String {
    if at.page == here { at.a1() } else { format!("{}!{}", at.page.quoted(), at.a1()) }
}

fn span(range: &Range, here: PageId) -> String {
    format!("{}:{}", address(&range.from, here), At { row: range.to, ..range.from }.a1())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn name(n: &str) -> Expr {
        Expr::Name(n.to_owned())
    }

    fn text(e: &Expr) -> String {
        e.text(PageId::Bill)
    }

    #[test]
    fn brackets_only_where_the_tree_needs_them() {
        let sum = Expr::Add(vec![name("a"), Expr::Neg(Box::new(name("b"))), Expr::int(-2)]);
        assert_eq!(text(&sum), "a-b-2");
        assert_eq!(text(&Expr::Mul(vec![Expr::int(-2), sum.clone(), Expr::int(-1)])), "-2*(a-b-2)*(-1)");
        assert_eq!(text(&sum.clone().over(Expr::Mul(vec![name("c"), name("d")]))), "(a-b-2)/(c*d)");
        let share = Expr::Mul(vec![Expr::int(-1), name("f"), sum]).over(name("l"));
        assert_eq!(text(&Expr::Add(vec![name("z"), share])), "z-1*f*(a-b-2)/l");
        assert_eq!(text(&Expr::Neg(Box::new(Expr::int(-3)))), "-(-3)");
    }

    #[test]
    fn pages_and_texts_are_quoted() {
        let at = At { page: PageId::Decisions, row: 0, col: 1 };
        assert_eq!(text(&Expr::Cell(at)), "'Decisions and balances'!B1");
        assert_eq!(text(&Expr::Cell(At { page: PageId::Bill, ..at })), "B1");
        assert_eq!(text(&Expr::Sum(Range { from: at, to: 8 })), "SUM('Decisions and balances'!B1:B9)");
        assert_eq!(text(&Expr::Text("say \"so\"".into())), "\"say \"\"so\"\"\"");
    }

    #[test]
    fn a_fraction_no_decimal_holds_is_a_quotient() {
        assert_eq!(Expr::ratio(Ratio::of(1, 8)).map(|e| text(&e)).as_deref(), Some("0.125"));
        assert_eq!(Expr::ratio(Ratio::of(-1, 3)).map(|e| text(&e)).as_deref(), Some("-1/3"));
    }
}
