//! Waste, packs and orders.

use super::{OURS, programme::STAGES};
use crate::job::field::{Fallback, Field, Kind, Presence};

/// Bags held back, by stage.
macro_rules! reserve {
    ($($stage:literal),*) => {
        &[
            Field::value("waste", Kind::Open, Fallback::Nothing, "per cent by material; the rest from the built-in list"),
            Field::value("packs", Kind::Open, Fallback::Nothing, "what one can buy here, by material; the rest from the built-in list"),
            Field::part("orders", Presence::Always, "how orders are made"),
            Field::value("orders.tolerance", Kind::Number { places: 3 }, Fallback::Default("0.05", OURS), "part of a pack that is not rounded up"),
            Field::part("orders.reserve_bags", Presence::Always, "bags in hand for a pour that must not stop"),
            $(Field::value(
                concat!("orders.reserve_bags.", $stage),
                Kind::Count { least: 0, most: 1_000 },
                Fallback::Nothing,
                "bags in hand",
            ),)*
            Field::value("orders.group", Kind::Groups(STAGES), Fallback::Nothing, "stages whose bulk goods come together"),
            Field::value("orders.lead_days", Kind::Open, Fallback::Nothing, "days from order to delivery, by material"),
        ]
    };
}

/// The table.
pub(super) static FIELDS: &[Field] = super::programme::stages!(reserve);
