//! What the cross-check finds, as plain data.

use rust_decimal::Decimal;
use tankwright_quantities::problem::Problem;
use tankwright_quantities::words::Phrase;

use crate::measure::Drop;
use crate::world::Pick;

/// One way in which the other figure comes about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Explanation {
    /// Ids of mistakes, in the order of the catalogue.
    pub mistakes: Vec<&'static str>,
    /// Each in words, with what it was made on.
    pub says: Vec<Phrase>,
}

/// An item both sides have.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Compared {
    /// Lines of theirs, the first first.
    pub lines: Vec<usize>,
    /// Their words, of the first line.
    pub text: String,
    /// Works, the first first.
    pub works: Vec<String>,
    /// Specification, where only one is meant.
    pub spec: String,
    /// What of ours it is held against.
    pub picks: Vec<Pick>,
    /// What their unit leaves away of our lines.
    pub drop: Drop,
    /// Our quantity in `unit`.
    pub ours: Decimal,
    /// Theirs, all lines together.
    pub theirs: Decimal,
    /// Places their figure is printed to.
    pub places: u32,
    /// Unit of both.
    pub unit: String,
    /// Theirs less ours.
    pub difference: Decimal,
    /// Same to the last printed digit of theirs?
    pub agrees: bool,
    /// Every explanation with the fewest mistakes; none where it agrees, or where nothing explains it.
    pub explained: Vec<Explanation>,
    /// How many mistakes, alone or together, were tried.
    pub tried: usize,
    /// Our rate x difference, where the job is priced.
    pub worth: Option<Decimal>,
}

/// A line of theirs that is held against nothing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unmatched {
    /// Line.
    pub line: usize,
    /// Their words.
    pub text: String,
    /// Quantity as printed; empty where there is none.
    pub quantity: String,
    /// Unit as written.
    pub unit: String,
    /// Why.
    pub why: Phrase,
    /// What it may be, for the map.
    pub perhaps: Vec<String>,
}

/// A row of our bill that no line of theirs covers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Missing {
    /// Row of the bill.
    pub reference: String,
    /// Work.
    pub work: &'static str,
    /// Specification.
    pub spec: String,
    /// Wording.
    pub says: Phrase,
    /// Quantity.
    pub quantity: Decimal,
    /// Unit.
    pub unit: &'static str,
    /// Amount.
    pub amount: Option<Decimal>,
}

/// What was added or multiplied wrongly in their own list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slip {
    /// Line.
    pub line: usize,
    /// `dimensions`, `extension`, `total`, `percentage`.
    pub what: &'static str,
    /// Their words.
    pub text: String,
    /// As printed.
    pub printed: Decimal,
    /// As it should be, to the same places.
    pub should_be: Decimal,
    /// Printed less right.
    pub difference: Decimal,
    /// Explanations with the fewest mistakes.
    pub explained: Vec<Explanation>,
}

/// How a line of theirs was understood, for the map.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mapped {
    /// Line.
    pub line: usize,
    /// Works, joined by `+`, with `work/spec` where one is meant; empty: not known, `-`: leave out.
    pub works: String,
    /// Sure enough to be used?
    pub sure: bool,
    /// Other possibilities.
    pub perhaps: Vec<String>,
    /// Their words.
    pub text: String,
    /// Quantity and unit as printed.
    pub quantity: String,
}

/// The whole finding.
#[derive(Clone, Debug, Default)]
pub struct Report {
    /// Name of the second take-off.
    pub file: String,
    /// Items of both sides, in the order of theirs.
    pub rows: Vec<Compared>,
    /// Lines held against nothing.
    pub unmatched: Vec<Unmatched>,
    /// Rows of ours that they do not have.
    pub missing: Vec<Missing>,
    /// Arithmetic of theirs.
    pub arithmetic: Vec<Slip>,
    /// How each line was understood.
    pub map: Vec<Mapped>,
    /// Cautions from reading.
    pub cautions: Vec<Problem>,
}
