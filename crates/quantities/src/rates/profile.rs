//! A measurement profile: how things are booked, rounded and deducted, each figure with its clause.

use std::collections::BTreeMap;

use tankwright_geometry::Ratio;

use crate::sheet::Whole;
use crate::source::Source;
use crate::works::{Class, Unit};

/// Voids up to this size are not deducted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct VoidLimit {
    /// Unit of the limit: m3 or m2.
    pub unit: Unit,
    /// Largest void kept, in cubic or square tenths of a millimetre.
    pub limit: Ratio,
    /// Clause.
    pub source: Source,
}

impl VoidLimit {
    /// The limit in its unit.
    #[must_use]
    pub fn shown(&self) -> Ratio {
        let power = self.unit.dims();
        (0..power).fold(self.limit, |l, _| l / Ratio::int(10_000))
    }
}

/// How a total is rounded.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rounding {
    /// Places kept.
    pub places: u32,
    /// So many of the last place are one step: 10 for tens of units where no place is kept.
    pub of: u32,
    /// What is more than nothing and rounds to less than this is this; 0 for no such rule.
    pub least: u32,
    /// Clause.
    pub source: Source,
}

impl Rounding {
    /// A figure so rounded.
    #[must_use]
    pub fn rounded(&self, value: Ratio) -> Ratio {
        Whole { of: self.of, least: self.least, by_row: false }.rounded(value, self.places)
    }
}

/// Where the edge of a void decides, and not its size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Boundary {
    /// A void at the edge of the measured face is always deducted.
    Face,
    /// A void at the edge of the slab or wall that it goes through is always deducted.
    Part,
    /// Limits hold wherever a void lies.
    Anywhere,
}

/// What becomes of the room to work in beside an open pit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Room {
    /// Billed as an item of its own, m3.
    Billed,
    /// In the rate of the net dig.
    InRate(Source),
    /// Billed by the face of the net dig, m2, where the work is nearer to it than this, tenths of a millimetre.
    ByFace(i64, Source),
}

/// What becomes of support to sides.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Support {
    /// The face that is held, m2.
    Area,
    /// One item for the job.
    Item(Source),
    /// In the rate of the dig.
    InRate(Source),
}

/// Two classes of a pit by its plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DigClass {
    /// Up to this width a dig is of the first class, tenths of a millimetre.
    pub width: i64,
    /// So too up to this plan, square tenths of a millimetre.
    pub area: Ratio,
    /// In the wording: the first class, the second.
    pub says: [String; 2],
    /// Clause.
    pub source: Source,
}

/// Words on a kind of work, or a kind of work in the rate of another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OfWork {
    /// Its code: a work, or `work/spec`.
    pub code: String,
    /// What stands in the wording; empty for what is in a rate.
    pub says: String,
    /// Clause.
    pub source: Source,
}

impl OfWork {
    /// Is it this work with this specification?
    #[must_use]
    pub fn is(&self, work: &str, spec: &str) -> bool {
        let rest = self.code.strip_prefix(work);
        rest.is_some_and(|rest| {
            let of = rest.strip_prefix('/').unwrap_or(rest);
            rest.is_empty() || rest.starts_with('/') && (spec == of || spec.starts_with(&format!("{of}/")))
        })
    }
}

/// What a profile says of itself on every paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum NoteKind {
    /// Deemed to be in the rates.
    Deemed,
    /// The method's own figure is not known here; this stands in.
    NotKnown,
    /// A rule of the method that is not followed; what is done instead.
    NotFollowed,
}

impl NoteKind {
    /// All, in the order printed, with their lists in the file.
    pub const ALL: [(&'static str, Self); 3] =
        [("deemed", Self::Deemed), ("not_known", Self::NotKnown), ("not_followed", Self::NotFollowed)];

    /// The word in front of it.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Deemed => "profile-deemed",
            Self::NotKnown => "profile-not-known",
            Self::NotFollowed => "profile-not-followed",
        }
    }
}

/// A note of a profile.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Note {
    /// Of which kind.
    pub kind: NoteKind,
    /// In words.
    pub says: String,
    /// Where it comes from.
    pub source: Source,
}

/// How a job is measured.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Profile {
    /// File name without ending: `exact`, `east-africa`.
    pub id: String,
    /// As printed.
    pub title: String,
    /// Which text it follows, and which it does not.
    pub method: Option<(String, Source)>,
    /// Dimensions are booked to this step, tenths of a millimetre.
    pub step: (i64, Source),
    /// Thicknesses of slabs are booked to this step.
    pub slab_step: (i64, Source),
    /// How totals are rounded, by unit.
    pub places: BTreeMap<Unit, Rounding>,
    /// Totals are rounded with their row of the bill, not item by item.
    pub by_row: Option<Source>,
    /// Lower ends of the depth bands below the last of which the rest lies, tenths of a millimetre; empty: one band.
    pub bands: (Vec<i64>, Source),
    /// The whole of a pit is in the band of its greatest depth.
    pub by_greatest_depth: Option<Source>,
    /// Classes of a pit by its plan.
    pub dig_class: Option<DigClass>,
    /// Walls in m2 with their thickness in the wording.
    pub walls_by_area: Option<Source>,
    /// Walls in m3, but in m2 up to this thickness, tenths of a millimetre.
    pub thin_walls: Option<(i64, Source)>,
    /// Working space.
    pub working_space: Room,
    /// Support to sides.
    pub support: Support,
    /// Laps of bars are in the billed kilograms.
    pub laps: Option<Source>,
    /// Void limits by class of work; a class without one deducts every void.
    pub voids: BTreeMap<Class, VoidLimit>,
    /// Plaster: of a void over the limit and up to this, square tenths of a millimetre, one of two faces is deducted.
    pub one_face: Option<(Ratio, Source)>,
    /// Holes of pipes up to this diameter are not deducted, tenths of a millimetre; others by the limit of voids.
    pub pipes: BTreeMap<Class, (i64, Source)>,
    /// What the edge of a void decides.
    pub boundary: (Boundary, Option<Source>),
    /// Ends of beams, boards and partitions up to this are not deducted, square tenths of a millimetre; none: of any size.
    pub ends: BTreeMap<Class, (Option<Ratio>, Source)>,
    /// Edges of slabs in m up to the last of these heights, tenths of a millimetre, by band; higher ones in m2.
    pub edges: Option<(Vec<i64>, Source)>,
    /// Faces up to this width in m, tenths of a millimetre.
    pub narrow: BTreeMap<Class, (i64, Source)>,
    /// Kinds of work in the rate of others.
    pub in_rate: Vec<OfWork>,
    /// What the wording of a kind of work states besides.
    pub states: Vec<OfWork>,
    /// What is deemed, not known, not followed.
    pub notes: Vec<Note>,
}

impl Profile {
    /// By which clause a wall of this thickness, tenths of a millimetre, is measured in m2; `None`: in m3.
    #[must_use]
    pub fn by_area(&self, thickness: Ratio) -> Option<&Source> {
        let thin = self.thin_walls.as_ref().filter(|(limit, _)| thickness <= Ratio::from(*limit));
        self.walls_by_area.as_ref().or(thin.map(|(_, source)| source))
    }
}
