//! A sizing rule as data: where it comes from, what it asks, its steps, its limits, its worked examples.

use tankwright_geometry::Ratio;
use tankwright_quantities::source::Source;

pub use crate::propose::limit;
pub use crate::step::*;
use crate::unit::Quantity;

/// What a rule reckons.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// The volume of a tank.
    Capacity,
    /// The surface or length that soaks water away.
    Soakage,
    /// Persons to design for.
    Persons,
    /// Only distances and levels.
    Clearance,
}

impl Kind {
    /// Words in data files, in order of the kinds.
    pub const WORDS: [&str; 4] = ["capacity", "soakage", "persons", "clearance"];

    /// `capacity`.
    #[must_use]
    pub fn id(self) -> &'static str {
        Self::WORDS[self as usize]
    }
}

/// Whether the publication still holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Status {
    /// As far as is known.
    InForce,
    /// Another edition took its place.
    Superseded,
    /// Withdrawn.
    Lapsed,
    /// Trade practice, a handbook: never in force.
    Practice,
}

impl Status {
    /// Words in data files, in order.
    pub const WORDS: [&str; 4] = ["in force", "superseded", "lapsed", "practice"];

    /// `superseded`.
    #[must_use]
    pub fn id(self) -> &'static str {
        Self::WORDS[self as usize]
    }
}

/// To which level the capacity counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MeasuredTo {
    /// The outlet's.
    WaterLine,
    /// The inlet's.
    Inlet,
}

/// Whether the wall of a soak pit is a surface that a soakage method counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PitCounts {
    /// Its wall below the inlet.
    Wall,
    /// It does not count.
    No,
    /// Not stated in what was seen.
    Unstated,
}

impl PitCounts {
    /// Words in data files, in order.
    pub const WORDS: [&str; 3] = ["wall", "no", "not stated"];
}

/// What of a drainage trench a soakage method counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TrenchCounts {
    /// Its bottom: width x length.
    Base,
    /// Both long sides below the pipe.
    Walls,
    /// Its length, whatever its width.
    Length,
    /// It does not count.
    No,
    /// Not stated in what was seen.
    Unstated,
}

impl TrenchCounts {
    /// Words in data files, in order.
    pub const WORDS: [&str; 5] = ["base", "walls", "length", "no", "not stated"];
}

/// A rule.
#[derive(Clone, Debug)]
pub struct Rule {
    /// `bs-6297-1983`; also the name of its file.
    pub id: String,
    /// What it reckons.
    pub kind: Kind,
    /// Title of the publication.
    pub title: String,
    /// Who issued it.
    pub body: String,
    /// When; `not seen` where that is so.
    pub year: String,
    /// Clause or table; `not seen` where that is so.
    pub clause: String,
    /// Whether it holds.
    pub status: Status,
    /// Why or since when it does not.
    pub status_note: String,
    /// How well it is known: A its own text, B quoted, C weak, M from memory.
    pub confidence: String,
    /// Where it was read.
    pub source: Source,
    /// To which level a tank counts (capacity).
    pub measured_to: Option<MeasuredTo>,
    /// Which surface counts (soakage): `base`, `wall`, `both sides of the trench`, `not stated`.
    pub surface: String,
    /// Whether a drawn pit counts (soakage).
    pub pit: PitCounts,
    /// What of a drawn drainage trench counts (soakage).
    pub trench: TrenchCounts,
    /// What it asks.
    pub inputs: Vec<InputSpec>,
    /// Its steps, in order.
    pub steps: Vec<Step>,
    /// Why it gives no capacity, where it does not.
    pub no_result: String,
    /// Limits of a tank's shape.
    pub shape: Vec<Limit>,
    /// Distances and levels.
    pub clear: Vec<Limit>,
    /// Steps that give length, width and water depth, where the rule gives them itself.
    pub dimensions: Option<[String; 3]>,
    /// Emptying.
    pub emptying: Option<Emptying>,
    /// Soakage methods of the same body.
    pub soakage: Vec<String>,
    /// Doubts that are printed beside every result.
    pub doubts: Vec<String>,
    /// Worked examples.
    pub checks: Vec<Check>,
}

impl Rule {
    /// True where the rule, or a step that makes its result, is from memory.
    #[must_use]
    pub fn recalled(&self) -> bool {
        self.source.recalled || self.steps.iter().any(|s| s.source.as_ref().is_some_and(|s| s.recalled))
    }

    /// `Title, body, year, clause`.
    #[must_use]
    pub fn cite(&self) -> String {
        let known = |t: &&str| !t.is_empty() && *t != "not seen";
        let clause = if self.clause == "not seen" { "clause not seen" } else { &self.clause };
        [&self.title, self.body.as_str(), &self.year, clause]
            .into_iter()
            .filter(known)
            .collect::<Vec<_>>()
            .join(", ")
    }
}

/// An input as a rule takes it; its unit is fixed by its name.
#[derive(Clone, Debug, Default)]
pub struct InputSpec {
    /// `persons`.
    pub name: String,
    /// Taken where the user says nothing.
    pub default: Option<String>,
    /// Fewer are counted as so many.
    pub raise_to: Option<Ratio>,
    /// Nothing else is allowed.
    pub only: Vec<String>,
    /// Below, the rule refuses.
    pub least: Option<Ratio>,
    /// Above, the rule refuses.
    pub most: Option<Ratio>,
    /// Why it refuses.
    pub reason: String,
    /// Flow of each person, by kind of waste (`""` for all).
    pub each: Vec<(String, Quantity)>,
    /// Without it the steps that use it are left out, and the rule still gives its result.
    pub optional: bool,
    /// Of several readings the slowest counts, not the mean.
    pub slowest: bool,
}

/// A limit of the shape, a distance or a level.
#[derive(Clone, Debug)]
pub struct Limit {
    /// `water_depth`, `well`.
    pub name: String,
    /// At least.
    pub least: Option<Quantity>,
    /// At most.
    pub most: Option<Quantity>,
    /// Shares, largest first where the rule says so: `2, 1`.
    pub ratio: Vec<Ratio>,
    /// Only for tanks of at most this volume.
    pub up_to: Option<Quantity>,
    /// Only for tanks over this volume.
    pub over: Option<Quantity>,
    /// Words to add.
    pub words: String,
    /// Source.
    pub source: Source,
}

/// How often a tank is emptied.
#[derive(Clone, Debug)]
pub struct Emptying {
    /// Every so many years; `None`: the rule states no interval, or takes it as an input.
    pub every: Option<Ratio>,
    /// Sludge of a person in a year, litres.
    pub sludge: Option<Ratio>,
    /// The step that gives it, where it hangs on what is given.
    pub step: Option<Entering>,
    /// Source.
    pub source: Source,
}

/// A worked example.
#[derive(Clone, Debug)]
pub struct Check {
    /// Inputs, in their fixed units.
    pub given: Vec<(String, String)>,
    /// Steps and their numbers.
    pub out: Vec<(String, Ratio)>,
    /// Allowed difference.
    pub to: Ratio,
    /// Words that a refusal must hold, where it must refuse.
    pub refused: String,
    /// Where the example stands.
    pub source: String,
}
