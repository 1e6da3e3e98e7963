//! Rates worked out by hand: quantities at rates, sub-totals, on-costs one by one, "say". Data in, figures out.
//!
//! `outline` says what a row of the bill needs, `price` puts a list's rates to it, `work_out` reckons.

mod audit;
mod blank;
mod codes;
mod outline;
mod price;
mod row;
mod terms;
#[cfg(test)]
mod tests;
mod work_out;
mod working;

pub use audit::{LeftOut, audit};
pub use blank::{blank, lacking};
pub use codes::CODES;
pub use outline::{Outline, OutlineLine, Piece, Want, outlines};
pub use price::{Asked, Lacking, Why, priced};
pub(crate) use row::of_spec;
pub use terms::Terms;
pub use work_out::work_out;
pub use working::{Say, Way, Working};

use rust_decimal::Decimal;

use crate::bill::RateFrom;
use crate::materials::Use;

/// What a line of an analysis costs for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// What is bought and stays in the work.
    Materials,
    /// Work of hands.
    Labour,
    /// Machines and gear.
    Plant,
    /// What is reckoned as a share of the others.
    Sundries,
}

impl Group {
    /// All, in the order of an analysis.
    pub const ALL: [Self; 4] = [Self::Materials, Self::Labour, Self::Plant, Self::Sundries];

    /// As written in data and job files; its title is the word `group-ID`.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Materials => "materials",
            Self::Labour => "labour",
            Self::Plant => "plant",
            Self::Sundries => "sundries",
        }
    }
}

/// A percentage on earlier lines and on-costs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OnCost {
    /// `Profit`.
    pub title: String,
    /// Per cent.
    pub percent: Decimal,
    /// What it is taken on: `cost`, groups, codes of lines, titles of earlier on-costs; empty: on all before it.
    pub on: Vec<String>,
    /// The percentage is one of the sum *with* it: x / (100 - x) of what is before it.
    pub gross_up: bool,
    /// Where it comes from.
    pub source: String,
}

/// A line of an analysis that is still to be worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// What for.
    pub group: Group,
    /// `cement`, `mason`.
    pub code: String,
    /// As printed.
    pub title: String,
    /// How much, at what rate.
    pub cost: Cost,
    /// The amount is said to multiples.
    pub say: Option<Say>,
    /// Who says how much is needed.
    pub source: String,
}

/// What a line costs.
#[derive(Clone, Debug, PartialEq)]
pub enum Cost {
    /// A quantity at a rate.
    Priced {
        /// How much, exact, in `unit`; rounded once to [`PLACES`].
        quantity: tankwright_geometry::Ratio,
        /// How it comes about, in words; may be empty.
        working: String,
        /// The unit of the rate.
        unit: String,
        /// Money for one.
        rate: Decimal,
        /// The row of the price list.
        from: Option<Box<RateFrom>>,
        /// Of a material: its own unit in one of `unit`, and what it is needed for.
        made: Option<Made>,
    },
    /// Per cent of earlier lines: groups or codes; empty: of all lines before it.
    Percent(Decimal, Vec<String>),
}

/// How the quantity of a material comes about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Made {
    /// Its own units in one unit of the rate: kilograms in a bag.
    pub pack: Decimal,
    /// Products with their waste.
    pub uses: Vec<Use>,
}

/// A rate as data.
#[derive(Clone, Debug, PartialEq)]
pub struct Analysis {
    /// For so much of the work.
    pub per: Decimal,
    /// In this unit.
    pub unit: String,
    /// Lines, in order.
    pub lines: Vec<Line>,
    /// On-costs, in order.
    pub on_costs: Vec<OnCost>,
    /// The rate of one unit is said to multiples, step by step.
    pub says: Vec<Say>,
    /// Minor digits of the currency: places of the rate; amounts have two at least.
    pub digits: u32,
}

/// Places of a quantity.
pub const PLACES: u32 = 6;

/// A line worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkedLine {
    /// The line.
    pub line: Line,
    /// Quantity to [`PLACES`]; of a percentage what it is taken on.
    pub quantity: Decimal,
    /// Money.
    pub amount: Decimal,
    /// Of a percentage: lines it is taken on.
    pub on: Vec<usize>,
}

/// An on-cost worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkedOnCost {
    /// The on-cost.
    pub on_cost: OnCost,
    /// Lines it is taken on.
    pub lines: Vec<usize>,
    /// Earlier on-costs it is taken on.
    pub earlier: Vec<usize>,
    /// What it is taken on.
    pub base: Decimal,
    /// Money.
    pub amount: Decimal,
}

/// An analysis worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Worked {
    /// Code and file of the build-up; empty where the analysis is of no work of ours.
    pub build_up: (String, String),
    /// For so much of the work.
    pub per: Decimal,
    /// Unit.
    pub unit: String,
    /// Lines.
    pub lines: Vec<WorkedLine>,
    /// Sum of the lines.
    pub cost: Decimal,
    /// On-costs.
    pub on_costs: Vec<WorkedOnCost>,
    /// Cost and on-costs.
    pub total: Decimal,
    /// Total over `per`, rounded to the currency.
    pub each: Decimal,
    /// `each` as it is said, step by step.
    pub says: Vec<(Say, Decimal)>,
    /// The rate: the last of these.
    pub rate: Decimal,
    /// Minor digits of the currency.
    pub digits: u32,
    /// The hours of a day, where hours were turned into days, and who says so.
    pub day: Option<(Decimal, String)>,
}

impl Worked {
    /// Places of amounts.
    #[must_use]
    pub fn places(&self) -> u32 {
        self.digits.max(2)
    }

    /// Sum of a group; nothing where it has no line.
    #[must_use]
    pub fn sum(&self, group: Group) -> Option<Decimal> {
        let mut own = self.lines.iter().filter(|l| l.line.group == group).map(|l| l.amount).peekable();
        own.peek()?;
        Some(own.sum())
    }
}
