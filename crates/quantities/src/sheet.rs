//! The ledger as plain data: items of dimension lines. Everything after it sees only this.

use rust_decimal::Decimal;
use tankwright_geometry::{InputId, Len, Ratio};

use crate::made::Made;
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::{Unit, Work};

/// What multiplies a line's dimensions.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Times {
    /// A whole number, negative for a deduction.
    Count(i64),
    /// 1/2, 1/3, 1/4, 1/6 or 1/12.
    Fraction(Ratio),
    /// Pi as declared.
    Pi,
    /// A count that is an input of the job.
    Input(InputId, i64),
    /// Whole strips of hoop iron in a lift: whole part of (whole courses in `lift`, less 1) / `every`.
    Strips {
        /// Height of the lift.
        lift: Len,
        /// Unit height plus joint.
        course: Len,
        /// Every so many courses: input and value.
        every: (InputId, i64),
        /// The result.
        value: i64,
    },
    /// Bars side by side: whole spaces (rounded up) of at most `at` over a length, and one bar more.
    Spaces {
        /// Length between the first and the last bar.
        over: Len,
        /// Largest spacing.
        at: Len,
        /// The result: spaces + 1.
        value: i64,
    },
    /// Kilograms in a metre of bar, as printed: three places.
    MassPerMetre(Ratio),
}

/// A dimension of a line.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Dim {
    /// The exact length with its trail.
    pub len: Len,
    /// Booked by the profile, tenths of a millimetre.
    pub booked: i64,
    /// Booking step of the profile, tenths of a millimetre: 1, 50 or 100.
    pub step: i64,
    /// Named in the item's wording instead of multiplied (a wall's thickness where walls are in m2).
    pub dropped: bool,
    /// Booked up to the next step by the standard of the goods, in every profile (the length of a bar).
    pub up: bool,
}

/// One line of a dimension sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// What it is.
    pub note: Phrase,
    /// Multipliers, in the order written.
    pub times: Vec<Times>,
    /// Length, breadth, depth; or none.
    pub dims: Vec<Dim>,
    /// Refers to the quantity of another item (its id) instead of dimensions.
    pub of_item: Option<String>,
    /// By the profile, in the item's unit: exactly times x booked dimensions (m, m2, m3).
    pub value: Ratio,
    /// By `exact`: dimensions booked to 0.1 mm, none dropped, in the work's own unit.
    pub net: Ratio,
    /// Not rounded at all, in the work's own unit.
    pub exact: Ratio,
    /// So many of the work's own unit in one of the item's: the dimension that is named instead of multiplied, in
    /// metres; else 1.
    pub per: Ratio,
}

/// Why an item's quantity differs from the model's.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Decision {
    /// In words.
    pub what: Phrase,
    /// Model less booked, in the item's unit; the sum of an item's sizes closes the gap exactly.
    pub size: Ratio,
    /// Clause that permits it.
    pub clause: String,
}

/// A void, or the end of a beam, that the profile kept or deducted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Judged {
    /// The part: manhole, opening, beam.
    pub what: Phrase,
    /// How many alike.
    pub times: i64,
    /// Its size as the limit counts it.
    pub size: Ratio,
    /// Unit of the size: m2 or m3.
    pub unit: Unit,
    /// Largest size that is kept, where there is one.
    pub limit: Option<Ratio>,
    /// Not deducted.
    pub kept: bool,
    /// Why, in words.
    pub why: Phrase,
    /// Clause; empty where there is none.
    pub clause: String,
}

/// How a profile rounds an item's total beyond its places.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Whole {
    /// So many of the last place are one step.
    pub of: u32,
    /// What is more than nothing is no less than this; 0 for no such rule.
    pub least: u32,
    /// Rounded together with the items of its row of the bill: each gets what the row has grown by.
    pub by_row: bool,
}

impl Whole {
    /// A total so rounded, to these places.
    #[must_use]
    pub fn rounded(self, total: Ratio, places: u32) -> Ratio {
        let ten = (0..places).fold(Ratio::ONE, |t, _| t * Ratio::int(10));
        let rounded = total.round_half_away(Ratio::from(i64::from(self.of)) / ten);
        let least = Ratio::from(i64::from(self.least));
        if total.signum() > 0 && rounded < least { least } else { rounded }
    }
}

impl Default for Whole {
    fn default() -> Self {
        Self { of: 1, least: 0, by_row: false }
    }
}

/// A measured item: one work, one specification, one stage.
#[derive(Clone, Debug)]
pub struct Item {
    /// `work/spec/stage` without empty parts.
    pub id: String,
    /// Kind of work.
    pub work: &'static Work,
    /// Specification, part of the bill's key: `1:2:4`, `220`, `1.5-3.0`, or empty.
    pub spec: String,
    /// Stage.
    pub stage: Stage,
    /// Unit under the profile.
    pub unit: Unit,
    /// Bill wording: the word `work-ID` (or `work-ID-SPEC`) with its arguments.
    pub wording: Phrase,
    /// Gross lines first, then deductions.
    pub lines: Vec<Line>,
    /// By the profile.
    pub quantity: Decimal,
    /// By `exact`, in the work's own unit.
    pub net: Decimal,
    /// Places the profile keeps of the quantity.
    pub places: u32,
    /// And how else it rounds.
    pub whole: Whole,
    /// The model's quantity in the item's unit, where the model proves it.
    pub model: Option<Ratio>,
    /// All that lies between quantity and model.
    pub decisions: Vec<Decision>,
    /// Voids and ends that were kept or deducted.
    pub judged: Vec<Judged>,
    /// Measured, but the profile keeps it out of the bill (in the rate of another item).
    pub unbilled: bool,
    /// What recipes need to know.
    pub made: Made,
    /// Deductions that the profile leaves out of the quantity: with the lines they make `net`.
    pub kept: Vec<Line>,
}

/// The ledger.
#[derive(Clone, Debug, Default)]
pub struct Sheet {
    /// In the order of bill sections, works, specifications, stages.
    pub items: Vec<Item>,
    /// Openings, holes and clear space: measured like items, never billed.
    pub voids: Vec<Item>,
}

impl Sheet {
    /// The item of an id.
    #[must_use]
    pub fn find(&self, id: &str) -> Option<&Item> {
        self.items.iter().find(|i| i.id == id)
    }
}
