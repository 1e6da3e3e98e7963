//! The ground it stands in.

use super::{COMMON, OURS};
use crate::job::field::{Fallback, Field, Kind, Presence};

/// The table.
pub(super) static FIELDS: &[Field] = &[
    Field::part("ground", Presence::Always, "the ground the tank stands in"),
    Field::value(
        "ground.soil",
        Kind::Text,
        Fallback::Default("firm-clay", COMMON),
        "swell, weight and whether sides stand",
    ),
    Field::value(
        "ground.water_table",
        Kind::LengthOr("none"),
        Fallback::Default("none", OURS),
        "depth of the ground water below ground, at its highest",
    ),
    Field::value(
        "ground.support",
        Kind::Choice(&["none", "open", "close"]),
        Fallback::Default("none", OURS),
        "boards against the sides of pit, soak pit, drainage trenches and inspection chambers",
    ),
    Field::value("ground.keep_dry", Kind::Flag, Fallback::Nothing, "pumping as an item"),
    Field::value(
        "ground.surplus",
        Kind::Choice(&["cart", "spread"]),
        Fallback::Default("cart", COMMON),
        "earth left over: carted away, or spread on the site",
    ),
];
