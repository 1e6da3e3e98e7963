//! Packs that materials are sold in, and the times of the programme.

use tankwright_geometry::Ratio;

use crate::orders::Size;
use crate::source::Source;
use crate::stage::Stage;

/// A pack of a material or of a family of materials.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PackEntry {
    /// `cement-50`.
    pub id: String,
    /// Material or family: `cement`, `bricks`, `hardcore`.
    pub material: String,
    /// What it holds.
    pub size: Size,
    /// Word for one and for many.
    pub words: [String; 2],
    /// Words for a pack of the user's own size, where they differ.
    pub own: Option<[String; 2]>,
    /// These goods come by the load, whose size only the supplier knows: `size` is no more than a step.
    pub by_load: bool,
    /// The one of its material that is taken where the job says nothing.
    pub used: bool,
    /// Source.
    pub source: Source,
}

/// Usual days of a stage.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StageDays {
    /// Stage.
    pub stage: Stage,
    /// Days.
    pub days: u32,
    /// How much work they stand for, where that is known.
    pub pace: Option<Pace>,
    /// Source.
    pub source: Source,
}

/// How much work the usual days of a stage stand for, and what holds for more of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pace {
    /// These works of the stage, in their own unit (m3 of walls, whatever the bill has).
    pub works: Vec<String>,
    /// So much of them.
    pub amount: Ratio,
    /// What is more goes on at so much a day, with its source; nothing: it is only told.
    pub then: Option<(Ratio, String)>,
    /// Less of it takes fewer days, in proportion.
    pub less: bool,
}

/// A time to wait, in whole days.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wait {
    /// `props-cover`.
    pub id: String,
    /// What waits: one of [`Wait::KINDS`].
    pub kind: String,
    /// Only where the job has one of these works; always where empty.
    pub works: Vec<String>,
    /// Only after this stage; after any where none.
    pub after: Option<Stage>,
    /// Days.
    pub days: u32,
    /// Counts for the dates; else it is printed beside the one that does.
    pub used: bool,
    /// In words.
    pub says: String,
    /// Source.
    pub source: Source,
}

impl Wait {
    /// Keeping damp, filling and holding, loading fresh work, sides out, props and soffit out, ordering.
    pub const KINDS: [&'static str; 6] = ["curing", "water-test", "load", "sides", "props", "order"];
}

/// Something to check and sign, or to beware of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Notice {
    /// `dig-measured`.
    pub id: String,
    /// Stage it belongs to.
    pub stage: Stage,
    /// Only where the job has one of these works, as `bars` or `bars@base`; always where empty.
    pub works: Vec<String>,
    /// In words.
    pub says: String,
    /// Source.
    pub source: Source,
}

/// Data of the programme.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Times {
    /// Usual days, in the order of stages.
    pub days: Vec<StageDays>,
    /// Times to wait.
    pub waits: Vec<Wait>,
    /// Checked when the stage is done, before the next begins.
    pub holds: Vec<Notice>,
    /// Checked before the stage's pour.
    pub pours: Vec<Notice>,
    /// Cautions.
    pub cautions: Vec<Notice>,
}
