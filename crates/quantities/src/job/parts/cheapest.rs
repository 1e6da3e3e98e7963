//! What `tankwright cheapest` searches: its words, with `_` for `-`. The command line goes over it.

use crate::job::field::{Fallback, Field, Kind, Presence};

const fn key(key: &'static str, kind: Kind, help: &'static str) -> Field {
    Field::value(key, kind, Fallback::Nothing, help)
}

/// The table. Ranges are texts, as `1.5 m..4 m`: the search reads them.
pub(super) static FIELDS: &[Field] = &[
    Field::part("cheapest", Presence::Optional, "where the cheapest tank that complies is looked for"),
    key("cheapest.length", Kind::Text, "clear lengths of all chambers together, as \"1.5 m..4 m\""),
    key("cheapest.first", Kind::Text, "clear length of the first chamber, as \"1 m..2.5 m\""),
    key("cheapest.width", Kind::Text, "clear width, as \"1 m..2 m\""),
    key("cheapest.depth", Kind::Text, "tank.height, as \"1.4 m..2 m\""),
    key("cheapest.step", Kind::Text, "from one length, width or depth to the next, as \"50 mm\""),
    key("cheapest.chambers", Kind::Texts, "numbers of chambers, as [\"2\", \"3\"]"),
    key("cheapest.units", Kind::Texts, "bricks or blocks of the walls, from rates/units.toml"),
    key("cheapest.covers", Kind::Texts, "thicknesses of the cover, as [\"100 mm\", \"125 mm\"]"),
    key("cheapest.span_beam", Kind::Texts, "the span beam that is drawn: [\"with\", \"without\"]"),
    key("cheapest.faces", Kind::Texts, "faces of the pit: [\"tight\", \"open\"]"),
    key("cheapest.working_space", Kind::Text, "of an open pit, as \"600 mm\""),
    key("cheapest.max_plan", Kind::Text, "most that the tank may cover outside, as \"8 m2\""),
];
