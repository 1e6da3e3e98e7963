//! The bar schedule and the cutting plan as plain data: what papers, orders and exports see.

use tankwright_geometry::{Len, Ratio};

use crate::stage::Stage;
use crate::words::Phrase;

/// Grade and diameter: `Y12`.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct BarKind {
    /// `Y`, `R`, `H`, `T` ...: a letter of `rates/bars.toml`.
    pub grade: String,
    /// Millimetres.
    pub diameter: u32,
}

impl BarKind {
    /// `Y12`: specification of the work `bars` and of the material `bars/Y12`.
    #[must_use]
    pub fn id(&self) -> String {
        format!("{}{}", self.grade, self.diameter)
    }
}

/// How the number of bars of a mark comes about: `members x (spaces + 1)`, or `members x each`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Number {
    /// Equal members, layers, legs: a plain factor.
    pub members: u64,
    /// Bars in one member: the multiplier that the ledger's line shows.
    pub each: crate::sheet::Times,
}

/// One mark of the schedule.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mark {
    /// `1`, `2` ... in the order of the schedule.
    pub mark: String,
    /// What it reinforces: "base, across".
    pub member: Phrase,
    /// Grade and diameter.
    pub bar: BarKind,
    /// Shape code of BS 8666:2005: `00`, `11`, `21`, `51` ...
    pub shape: &'static str,
    /// How many altogether.
    pub count: u64,
    /// How that number comes about.
    pub number: Number,
    /// Bending dimensions `A` to `E`, external, with their trails.
    pub dims: Vec<(char, Len)>,
    /// Sum by the formula of the shape, before it is rounded up.
    pub sum: Len,
    /// Cutting length, whole mm: the sum up to the next 25 mm.
    pub length_mm: i64,
    /// Kilograms of all of them: count x length in m x mass per metre as printed.
    pub mass: Ratio,
    /// When it is fixed.
    pub stage: Stage,
    /// What a bender must know besides: actual spacing, laps, cut at a manhole.
    pub remarks: Vec<Phrase>,
}

/// One way to cut a bar.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pattern {
    /// Stage for which these bars are bought: the first that needs a piece of them.
    pub stage: Stage,
    /// So many bars are cut so.
    pub times: u64,
    /// Every piece of one bar, mm, longest first, with the stage that needs it.
    pub pieces: Vec<(i64, Stage)>,
    /// What is left of one bar, mm.
    pub offcut_mm: i64,
}

/// Cutting plan of one grade and diameter.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cutting {
    /// Grade and diameter.
    pub bar: BarKind,
    /// Length of a bar as bought, mm.
    pub stock_mm: i64,
    /// Lost in a cut, mm.
    pub kerf_mm: i64,
    /// Bars to buy.
    pub bars: u64,
    /// No plan needs fewer.
    pub bound: u64,
    /// Proved that no plan with as few bars buys fewer for the first stage in which it differs.
    pub latest: bool,
    /// Patterns, in the order of stages.
    pub patterns: Vec<Pattern>,
    /// Bars bought for a stage, in order; none of 0.
    pub bought: Vec<(Stage, u64)>,
    /// Offcuts of 300 mm and more left at the end: length in mm and number, longest first.
    pub kept: Vec<(i64, u64)>,
}

impl Cutting {
    /// Is there no plan with fewer bars?
    #[must_use]
    pub const fn proved_least(&self) -> bool {
        self.bars == self.bound
    }
}

/// Where bars of a mark lie on plan: the ends of each, tenths of a millimetre along the tank and across it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Laid {
    /// The mark.
    pub mark: String,
    /// Bar by bar.
    pub bars: Vec<[[i64; 2]; 2]>,
}

/// Bars of a job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Schedule {
    /// Marks, in the order of stages and members.
    pub marks: Vec<Mark>,
    /// Cutting plans, by grade and diameter.
    pub cutting: Vec<Cutting>,
    /// Kinds without a plan and why: a defect, the balance `bars` says so.
    pub uncut: Vec<String>,
    /// Where the bars of mats and those beside holes lie.
    pub laid: Vec<Laid>,
    /// Mass per metre as printed, by grade and diameter: kg, three places.
    pub mass_per_metre: Vec<(BarKind, Ratio)>,
    /// What else a steel fixer must know, in words: pieces taken from offcuts, spacers, chairs.
    pub remarks: Vec<Phrase>,
}
