//! Build-ups as data: what a unit of a work takes of labour, plant and sundries besides its recipe; standing on-costs.

use rust_decimal::Decimal;

use crate::build_up::{Group, OnCost, Say, Working};
use crate::rates::Stock;
use crate::rates::find::candidates;
use crate::source::Source;

/// What a work takes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BuildUp {
    /// Work, or work and specification: `brickwork-wall/220`.
    pub code: String,
    /// For so much of it.
    pub per: Decimal,
    /// In this unit.
    pub unit: String,
    /// Do materials come from the work's recipe?
    pub recipe: bool,
    /// Lines, by group.
    pub lines: Vec<BuildLine>,
    /// Where its constants come from, unless a line says otherwise.
    pub source: Source,
    /// The file it stands in.
    pub file: String,
}

/// A line of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BuildLine {
    /// What for.
    pub group: Group,
    /// Code of a price list: `mason`; of a percentage empty.
    pub code: String,
    /// As printed; empty: the price list's words.
    pub title: String,
    /// How much.
    pub needs: Needs,
    /// The amount is said to multiples.
    pub say: Option<Say>,
    /// Its own source, where it has one.
    pub source: Option<Source>,
}

/// How much.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Needs {
    /// A quantity in a unit; an empty unit is the material's own.
    Quantity(Working, String),
    /// Per cent of earlier lines: groups or codes.
    Percent(Decimal, Vec<String>),
}

/// Everything known of build-ups.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct BuildUps {
    /// In the order read; one for each code and unit.
    pub all: Vec<BuildUp>,
    /// Standing on-costs, in order.
    pub on_costs: Vec<OnCost>,
    /// Hours of a working day.
    pub day: Option<(Decimal, Source)>,
}

impl Stock {
    /// The build-up of a work with its specification: the most specific code, then the unit asked for before another
    /// that the thickness of a wall, or the width of a face billed in m, turns into it.
    #[must_use]
    pub fn build_up(&self, work: &str, spec: &str, unit: &str, turns: bool) -> Option<&BuildUp> {
        let units = match (turns, unit) {
            (false, _) => [unit, unit],
            (true, "m") => ["m2", "m2"],
            (true, _) => ["m3", "m2"],
        };
        let of =
            |code: &str, unit: &str| self.build_ups.all.iter().find(|b| b.code == code && b.unit == unit);
        candidates(work, spec).iter().find_map(|code| {
            of(code, unit).or_else(|| units.iter().filter(|u| **u != unit).find_map(|other| of(code, other)))
        })
    }
}
