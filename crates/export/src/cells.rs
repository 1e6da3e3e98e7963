//! Abstract cells: a number, a text or an expression, with a look, at a place on a page.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use crate::expr::Expr;

/// The pages of the workbook, in order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PageId {
    /// What it is, and the money, on one screen.
    Summary,
    /// Lengths, counts and factors of the job file.
    Inputs,
    /// The priced bill.
    Bill,
    /// What each stage costs, in works and in goods.
    Stages,
    /// Dimension sheets.
    Dimensions,
    /// What goes into the work, by material and stage.
    Materials,
    /// What to buy for each stage.
    Orders,
    /// Bar schedule.
    Bars,
    /// How bars are cut.
    Cutting,
    /// One rate for each bill row and material bought.
    Rates,
    /// How rates are built up.
    Analysis,
    /// What of the drawn tank was checked.
    Checks,
    /// What was decided, and what closes.
    Decisions,
    /// Comparisons that shaped the lines.
    Structure,
    /// Where figures come from.
    Sources,
    /// A bill that others price.
    ToPrice,
    /// What they read before.
    Before,
}

impl PageId {
    /// The name on the tab: part of every formula that looks across pages, so never translated.
    #[must_use]
    pub const fn tab(self) -> &'static str {
        match self {
            Self::Summary => "Summary",
            Self::Inputs => "Inputs",
            Self::Bill => "Bill",
            Self::Stages => "By stage",
            Self::Dimensions => "Dimensions",
            Self::Materials => "Materials",
            Self::Orders => "Orders",
            Self::Bars => "Bars",
            Self::Cutting => "Cutting",
            Self::Rates => "Rates",
            Self::Analysis => "Rate analysis",
            Self::Checks => "Checks",
            Self::Decisions => "Decisions and balances",
            Self::Structure => "Structure",
            Self::Sources => "Sources",
            Self::ToPrice => "Bill to price",
            Self::Before => "Read before",
        }
    }

    /// The tab as a formula writes it.
    #[must_use]
    pub fn quoted(self) -> String {
        if self.tab().contains(' ') { format!("'{}'", self.tab()) } else { self.tab().to_owned() }
    }
}

/// A cell's address.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct At {
    /// Page.
    pub page: PageId,
    /// Row, from 0.
    pub row: u32,
    /// Column, from 0.
    pub col: u16,
}

impl At {
    /// As `C5`.
    #[must_use]
    pub fn a1(&self) -> String {
        let (mut left, mut letters) = (u32::from(self.col) + 1, Vec::new());
        while left > 0 {
            left -= 1;
            letters.push(char::from(b'A' + u8::try_from(left % 26).unwrap_or(0)));
            left /= 26;
        }
        format!("{}{}", letters.iter().rev().collect::<String>(), self.row + 1)
    }

    /// As `$C$5`, with the page.
    #[must_use]
    pub fn fixed(&self) -> String {
        let a1 = self.a1();
        let digits = a1.find(|c: char| c.is_ascii_digit()).unwrap_or(a1.len());
        format!("{}!${}${}", self.page.quoted(), &a1[..digits], &a1[digits..])
    }
}

/// Cells of one column, from one row to another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Range {
    /// First cell.
    pub from: At,
    /// Last row, from 0.
    pub to: u32,
}

impl Range {
    /// The range of equal column from the first of these cells to the last; they must follow each other.
    #[must_use]
    pub fn over(cells: &[At]) -> Option<Self> {
        Some(Self { from: *cells.first()?, to: cells.last()?.row })
    }

    /// Its cells.
    pub fn cells(self) -> impl Iterator<Item = At> {
        (self.from.row..=self.to).map(move |row| At { row, ..self.from })
    }
}

/// What stands in a cell.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Content {
    /// Nothing: for the user to fill in.
    Blank,
    /// Text, whatever it starts with.
    Text(String),
    /// A number.
    Number(Decimal),
    /// An expression: it has no value of its own.
    Formula(Expr),
}

/// How a cell looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Look {
    /// Head of the page; runs over its neighbours.
    Title,
    /// A remark under the title; runs over its neighbours.
    Remark,
    /// Head of a part; runs over its neighbours.
    Heading,
    /// Head of a column.
    Head,
    /// Plain.
    Body,
    /// A sum.
    Total,
    /// For the user to change.
    Input,
}

/// How a number is shown; its value keeps all digits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Show {
    /// As it comes.
    General,
    /// True or false.
    Truth,
    /// So many places.
    Fixed(u32),
    /// Money, so many places.
    Money(u32),
    /// At least and at most so many places.
    UpTo(u32, u32),
}

/// What a cell lets the user enter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Allow {
    /// A number above 0.
    Positive,
    /// A number, 0 or above.
    NotNegative,
    /// Nothing but 0.
    Zero,
    /// Any number.
    Any,
    /// Anything.
    Free,
}

/// A cell.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cell {
    /// What stands in it.
    pub content: Content,
    /// How it looks.
    pub look: Look,
    /// How its number is shown.
    pub show: Show,
    /// What may be entered.
    pub allow: Option<Allow>,
}

impl Cell {
    /// A text.
    #[must_use]
    pub fn text(text: impl Into<String>) -> Self {
        Self { content: Content::Text(text.into()), look: Look::Body, show: Show::General, allow: None }
    }

    /// Nothing yet: a cell for the user.
    #[must_use]
    pub fn blank(allow: Allow, show: Show) -> Self {
        Self { content: Content::Blank, look: Look::Input, show, allow: Some(allow) }
    }

    /// A number.
    #[must_use]
    pub fn number(number: Decimal, show: Show) -> Self {
        Self { content: Content::Number(number), look: Look::Body, show, allow: None }
    }

    /// An expression.
    #[must_use]
    pub fn formula(expr: Expr, show: Show) -> Self {
        Self { content: Content::Formula(expr), look: Look::Body, show, allow: None }
    }

    /// With a look.
    #[must_use]
    pub fn look(mut self, look: Look) -> Self {
        self.look = look;
        self
    }

    /// For the user to change, within limits.
    #[must_use]
    pub fn input(mut self, allow: Allow) -> Self {
        self.look = Look::Input;
        self.allow = Some(allow);
        self
    }
}

/// A drawing as a picture, without its dots: those come when the file is written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// What it shows, short.
    pub title: String,
    /// What it shows in words, for who cannot see it.
    pub alt: String,
    /// Sides of its sheet, mm.
    pub sides: [u32; 2],
}

/// A row of figures of a chart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Series {
    /// The cell that names it.
    pub name: At,
    /// The figures.
    pub values: Range,
}

/// A chart of cells of this workbook.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chart {
    /// Its head.
    pub title: String,
    /// What it shows in words.
    pub alt: String,
    /// What its parts are, and how much.
    pub axes: [String; 2],
    /// Names of the parts: first and last cell, of one column or more.
    pub labels: [At; 2],
    /// Bars that lie, or columns that stand on each other.
    pub lying: bool,
    /// Bars or columns.
    pub bars: Vec<Series>,
    /// A line over them.
    pub line: Option<Series>,
    /// Places of its money.
    pub places: u32,
}

/// What stands on a page over free rows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Shown {
    /// Picture of so many; the first is 0.
    Picture(usize, Picture),
    /// Chart.
    Chart(Chart),
}

/// A picture or a chart and where it stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Figure {
    /// First row.
    pub row: u32,
    /// Width and height, in dots of which 96 make an inch.
    pub size: [u32; 2],
    /// What.
    pub shown: Shown,
}

/// A page of cells.
#[derive(Clone, Debug)]
pub struct Page {
    /// Which.
    pub id: PageId,
    /// Cells by row and column.
    pub cells: BTreeMap<(u32, u16), Cell>,
    /// Pictures and charts.
    pub figures: Vec<Figure>,
    /// Rows from the top that stay in sight and repeat on every printed sheet.
    pub heads: u32,
    /// Widest a column may grow, in characters; longer text wraps.
    pub widest: Vec<u16>,
    /// Least width of a column, in characters, where figures are still to come.
    pub least: Vec<u16>,
    /// Printed on its side.
    pub landscape: bool,
    /// What is printed where it is not all: so many columns, up to a row or to the last one.
    pub printed: Option<(Option<u32>, u16)>,
    /// A column that nobody needs to see.
    pub hidden: Option<u16>,
    /// Nothing can be changed but what is for the user.
    pub locked: bool,
}

impl Page {
    /// An empty page with its title, and heads of columns in the third row where there are any.
    #[must_use]
    pub fn new(id: PageId, title: &str, remark: &str, heads: &[String]) -> Self {
        let mut page = Self {
            id,
            cells: BTreeMap::new(),
            figures: Vec::new(),
            heads: 1,
            widest: Vec::new(),
            least: Vec::new(),
            landscape: heads.len() > 4,
            printed: None,
            hidden: None,
            locked: false,
        };
        page.put(0, 0, Cell::text(title).look(Look::Title));
        if !remark.is_empty() {
            page.put(1, 0, Cell::text(remark).look(Look::Remark));
        }
        if !heads.is_empty() {
            page.heads = 3;
            page.head(2, heads);
        }
        page
    }

    /// Puts a cell; says where.
    pub fn put(&mut self, row: u32, col: u16, cell: Cell) -> At {
        self.cells.insert((row, col), cell);
        At { page: self.id, row, col }
    }

    /// Puts a text unless it is empty.
    pub fn text(&mut self, row: u32, col: u16, text: impl Into<String>) {
        let text = text.into();
        if !text.is_empty() {
            self.put(row, col, Cell::text(text));
        }
    }

    /// A row of column heads.
    pub fn head(&mut self, row: u32, heads: &[String]) {
        for (col, head) in (0..).zip(heads) {
            self.put(row, col, Cell::text(head.clone()).look(Look::Head));
        }
    }

    /// A part's heading.
    pub fn heading(&mut self, row: u32, text: impl Into<String>) {
        self.put(row, 0, Cell::text(text).look(Look::Heading));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn addresses() {
        let at = |col| At { page: PageId::Decisions, row: 4, col };
        assert_eq!(at(0).a1(), "A5");
        assert_eq!(at(25).a1(), "Z5");
        assert_eq!(at(26).a1(), "AA5");
        assert_eq!(at(27 * 26).a1(), "AAA5");
        assert_eq!(at(2).fixed(), "'Decisions and balances'!$C$5");
    }
}
