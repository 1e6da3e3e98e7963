//! When what is built: stages, deliveries, hold points, striking dates. Dates come from the job file, never a clock.

mod codes;
mod draw_up;
mod events;
mod lengths;
mod stages;
#[cfg(test)]
mod tests;

pub use codes::CODES;
pub use draw_up::draw_up;
pub use events::title;
pub(crate) use stages::longest;

use crate::job::Day;
use crate::stage::Stage;
use crate::words::Phrase;

/// What kind of date it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum EventKind {
    /// Order by this day.
    Order,
    /// Delivery.
    Delivery,
    /// Work of a stage: from, to.
    Stage,
    /// A pour.
    Pour,
    /// Nothing goes on before this is checked and signed.
    Hold,
    /// Filling and holding.
    WaterTest,
    /// Keep damp until.
    Curing,
    /// Not struck before.
    Strike,
}

/// An entry of the calendar: whole days.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Event {
    /// First day.
    pub from: Day,
    /// Last day, the same for one day.
    pub to: Day,
    /// Kind.
    pub kind: EventKind,
    /// Stage it belongs to.
    pub stage: Stage,
    /// In words, one line.
    pub title: Phrase,
    /// Further lines.
    pub details: Vec<String>,
    /// Source of the rule behind it.
    pub source: String,
}

/// What must be true before a stage begins, in words with its source.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HoldPoint {
    /// The stage whose work is looked at.
    pub of: Stage,
    /// The stage that waits.
    pub before: Stage,
    /// In words.
    pub says: Phrase,
    /// Source.
    pub source: String,
}

/// How long a stage takes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Taken {
    /// Stage.
    pub stage: Stage,
    /// Working days.
    pub days: u32,
    /// Where they come from.
    pub source: String,
    /// By the job file; else they are the usual ones.
    pub given: bool,
    /// How they follow from the work there is, or that they hold for less of it; with the source of the pace.
    pub why: Option<(Phrase, String)>,
}

/// Programme of a job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Programme {
    /// In order of date; empty where the job gives no start.
    pub events: Vec<Event>,
    /// Hold points of the stages that are built, in order.
    pub holds: Vec<HoldPoint>,
    /// Cautions of stages, in words with their source.
    pub cautions: Vec<(Stage, Phrase, String)>,
    /// Days of the stages that are built, in order.
    pub days: Vec<Taken>,
}
