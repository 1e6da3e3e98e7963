//! The steps of a rule as data: six kinds, no expression language.

use tankwright_geometry::Ratio;
use tankwright_quantities::source::Source;

use crate::unit::Unit;

/// One step.
#[derive(Clone, Debug)]
pub struct Step {
    /// Its name; later steps use it.
    pub id: String,
    /// As printed.
    pub title: String,
    /// The unit its number is given when it leaves the step; `None` for a row of a table.
    pub gives: Option<Unit>,
    /// How.
    pub how: How,
    /// Raised to this.
    pub at_least: Option<Ratio>,
    /// Lowered to this.
    pub at_most: Option<Ratio>,
    /// Rounded up to a multiple of this.
    pub round_up: Option<Ratio>,
    /// When the rule refuses.
    pub refuse: Vec<Refusal>,
    /// Words printed beside it, for some values of an earlier one.
    pub says: Vec<Say>,
    /// A second result with another value in place of this one.
    pub beside: Option<Beside>,
    /// An answer of the rule, not only a step on the way.
    pub result: bool,
    /// Where it comes from, if not from where the rule does.
    pub source: Option<Source>,
}

/// The six kinds.
#[derive(Clone, Debug)]
pub enum How {
    /// A sum of products.
    Add(Vec<Term>),
    /// One of four shapes.
    Curve(Curve),
    /// Rows of named values by a number.
    Table(Table),
    /// A value, or a straight line, by the band a number falls in.
    Bands(Bands),
    /// A value by two numbers.
    Grid(Grid),
    /// A value by a word or a whole number.
    Choose(Choose),
}

/// An earlier value and the unit in which it enters.
#[derive(Clone, Debug)]
pub struct Entering {
    /// `flow`, `row.length`.
    pub name: String,
    /// Its number in this unit is used.
    pub unit: Unit,
}

/// `factor x of / over`.
#[derive(Clone, Debug)]
pub struct Term {
    /// Number in front.
    pub factor: Ratio,
    /// Multiplied.
    pub of: Vec<Entering>,
    /// Divided by.
    pub over: Vec<Entering>,
}

/// The four shapes: the only sums that are not exact fractions.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// `a + b log10 x`.
    Log10,
    /// `a x^b`.
    Power,
    /// `a b^(c - x)`.
    Exponent,
    /// `a / sqrt x`.
    Root,
}

impl Shape {
    /// As written in data files, in order.
    pub const WORDS: [&str; 4] = ["a + b log10 x", "a x^b", "a b^(c - x)", "a / sqrt x"];
}

/// A curve.
#[derive(Clone, Debug)]
pub struct Curve {
    /// Its shape.
    pub shape: Shape,
    /// Constants; those a shape has not are 0.
    pub abc: [Ratio; 3],
    /// What enters.
    pub x: Entering,
}

/// Where a row or band ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bound {
    /// The number; `None`: no end.
    pub at: Option<Ratio>,
    /// Whether the number itself still belongs to it.
    pub included: bool,
}

impl Bound {
    /// Whether the row or band holds x, given that those before do not.
    #[must_use]
    pub fn holds(&self, x: Ratio) -> bool {
        self.at.is_none_or(|at| if self.included { x <= at } else { x < at })
    }
}

/// A table: the first row whose bound is not passed.
#[derive(Clone, Debug)]
pub struct Table {
    /// What is looked up.
    pub of: Entering,
    /// Above the last row: so much for each one more, else refused.
    pub extend: Option<Ratio>,
    /// Only the numbers of the rows themselves.
    pub exact: bool,
    /// Below this the table says nothing.
    pub from: Option<Ratio>,
    /// Why it refuses.
    pub reason: String,
    /// Names and units of the values.
    pub columns: Vec<(String, Unit)>,
    /// Bound and values.
    pub rows: Vec<(Bound, Vec<Ratio>)>,
}

/// What a band gives: a value and a slope over the number looked up; or words why it refuses.
pub type Band = Result<(Ratio, Ratio), String>;

/// Bands.
#[derive(Clone, Debug)]
pub struct Bands {
    /// What is looked up.
    pub of: Entering,
    /// Ends and what each gives.
    pub bands: Vec<(Bound, Band)>,
}

/// A grid.
#[derive(Clone, Debug)]
pub struct Grid {
    /// Looked up down the rows.
    pub down: Entering,
    /// Looked up across.
    pub across: Entering,
    /// Ends of the columns.
    pub columns: Vec<Bound>,
    /// Ends of the rows and their values.
    pub rows: Vec<(Bound, Vec<Ratio>)>,
}

/// A choice.
#[derive(Clone, Debug)]
pub struct Choose {
    /// Name of the input or step.
    pub by: String,
    /// Word or number, and what it gives.
    pub options: Vec<(String, Pick)>,
}

/// What a choice gives.
#[derive(Clone, Debug)]
pub enum Pick {
    /// A number in the step's unit.
    Number(Ratio),
    /// An earlier value.
    Name(String),
}

/// Limits of a step's number outside which the rule refuses.
#[derive(Clone, Debug, Default)]
pub struct Refusal {
    /// Refused at this and less.
    pub at_most: Option<Ratio>,
    /// Refused at this and more.
    pub at_least: Option<Ratio>,
    /// Refused below.
    pub below: Option<Ratio>,
    /// Refused above.
    pub above: Option<Ratio>,
    /// Why.
    pub reason: String,
}

/// Words for some values.
#[derive(Clone, Debug)]
pub struct Say {
    /// Of what.
    pub of: Entering,
    /// From here, this too.
    pub from: Option<Ratio>,
    /// To here, this too.
    pub to: Option<Ratio>,
    /// The words.
    pub words: String,
}

/// A second reading of a rule.
#[derive(Clone, Debug)]
pub struct Beside {
    /// Name of the input that takes the step's place where it is more.
    pub value: String,
    /// Why both are shown.
    pub words: String,
}
