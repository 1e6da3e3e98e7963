//! A measurement profile: how things are booked, rounded and deducted, each figure with its clause.

use std::collections::BTreeMap;

use tankwright_geometry::Ratio;

use crate::source::Source;
use crate::works::{Class, Unit};

/// Voids up to this size, wholly inside the measured extent, are not deducted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct VoidLimit {
    /// Unit of the limit: m3 or m2.
    pub unit: Unit,
    /// Largest void kept, in cubic or square tenths of a millimetre.
    pub limit: Ratio,
    /// Clause.
    pub source: Source,
}

/// How a job is measured.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Profile {
    /// File name without ending: `exact`, `east-africa`.
    pub id: String,
    /// As printed.
    pub title: String,
    /// Dimensions are booked to this step, tenths of a millimetre.
    pub step: (i64, Source),
    /// Thicknesses of slabs are booked to this step.
    pub slab_step: (i64, Source),
    /// Places kept of an item's total, by unit.
    pub places: BTreeMap<Unit, (u32, Source)>,
    /// Lower ends of the depth bands below the last of which the rest lies, tenths of a millimetre; empty: one band.
    pub bands: (Vec<i64>, Source),
    /// Walls in m2 with their thickness in the wording.
    pub walls_by_area: Option<Source>,
    /// Working space stays in the rate of the net dig.
    pub working_space_in_rate: Option<Source>,
    /// Void limits by class of work; a class without one deducts every void.
    pub voids: BTreeMap<Class, VoidLimit>,
}
