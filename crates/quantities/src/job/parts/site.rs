//! What lies round it, how far away.

use crate::job::field::{Fallback, Field, Presence};

const fn far(key: &'static str, help: &'static str) -> Field {
    Field::length(key, 10, Fallback::Nothing, help)
}

/// The table. A distance left out is not checked.
pub(super) static FIELDS: &[Field] = &[
    Field::part("site", Presence::Always, "what lies round the tank: distances from it"),
    far("site.house", "to the nearest house"),
    far("site.well", "to the nearest well"),
    far("site.stream", "to the nearest stream, ditch or pond"),
    far("site.boundary", "to the boundary of the plot"),
    far("site.ground_abstraction", "to where ground water is drawn for drinking"),
    Field::part("site.soak", Presence::Always, "the same from the soak pit or the drain in the ground"),
    far("site.soak.house", "to the nearest house"),
    far("site.soak.well", "to the nearest well"),
    far("site.soak.stream", "to the nearest stream, ditch or pond"),
    far("site.soak.boundary", "to the boundary of the plot"),
    far("site.soak.ground_abstraction", "to where ground water is drawn for drinking"),
];
