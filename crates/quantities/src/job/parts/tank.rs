//! The size of the tank.

use crate::job::field::{Fallback, Field, Kind, Presence};

/// Least clear dimension, in tenths of a millimetre: 100 mm.
const LEAST: i64 = 1_000;

/// Most: 100 m.
const MOST: i64 = 1_000_000;

/// The table.
pub(super) static FIELDS: &[Field] = &[
    Field::part("tank", Presence::Always, "the tank"),
    Field::value(
        "tank.persons",
        Kind::Count { least: 1, most: 10_000 },
        Fallback::Nothing,
        "who use it, for the check of its size",
    ),
    Field::value(
        "tank.chambers",
        Kind::Lengths { least: LEAST, most: MOST, count: 4 },
        Fallback::Required,
        "clear lengths from the inlet, one to four",
    ),
    Field::length("tank.width", LEAST, Fallback::Required, "clear width"),
    Field::length(
        "tank.height",
        LEAST,
        Fallback::Required,
        "top of base at the outlet end to underside of cover",
    ),
    Field::length("tank.cover_top", -MOST, Fallback::Nothing, "top of cover above (+) or below (-) ground"),
];
