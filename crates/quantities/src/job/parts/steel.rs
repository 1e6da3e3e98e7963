//! Bars, in the notation of the drawing office: `4Y12`, `Y10@150`.

use super::COMMON;
use crate::job::field::{Fallback, Field, Kind, Presence};

/// Source of the default lap.
const LAP: &str =
    "BS 8110, concrete of grade 30, ribbed bars in tension: 40d (structuralguide.com/lap-and-anchorage)";

/// The table.
pub(super) static FIELDS: &[Field] = &[
    Field::part("steel", Presence::Optional, "bars; left out: none"),
    Field::part("steel.base", Presence::Optional, "mesh in the base"),
    Field::value(
        "steel.base.short",
        Kind::Bars { spaced: true },
        Fallback::Required,
        "bars across the tank, as Y10@200",
    ),
    Field::value("steel.base.long", Kind::Bars { spaced: true }, Fallback::Required, "bars along the tank"),
    Field::part("steel.columns", Presence::Optional, "bars of the corner columns"),
    Field::value(
        "steel.columns.main",
        Kind::Bars { spaced: false },
        Fallback::Required,
        "upright bars, as 4Y12",
    ),
    Field::value("steel.columns.links", Kind::Bars { spaced: true }, Fallback::Required, "links, as R8@200"),
    Field::part("steel.ring_beams", Presence::Optional, "bars of the ring beams"),
    Field::value(
        "steel.ring_beams.main",
        Kind::Bars { spaced: false },
        Fallback::Required,
        "bars along the beam, as 4Y10",
    ),
    Field::value(
        "steel.ring_beams.links",
        Kind::Bars { spaced: true },
        Fallback::Required,
        "links, as R8@200",
    ),
    Field::part("steel.wall_beams", Presence::Optional, "bars of the beams on the walls"),
    Field::value(
        "steel.wall_beams.main",
        Kind::Bars { spaced: false },
        Fallback::Required,
        "bars along the beam, as 4Y10",
    ),
    Field::value(
        "steel.wall_beams.links",
        Kind::Bars { spaced: true },
        Fallback::Required,
        "links, as R8@200",
    ),
    Field::part("steel.span_beam", Presence::Optional, "bars of the span beam"),
    Field::value(
        "steel.span_beam.main",
        Kind::Bars { spaced: false },
        Fallback::Required,
        "bars along the beam, as 4Y12",
    ),
    Field::value(
        "steel.span_beam.links",
        Kind::Bars { spaced: true },
        Fallback::Required,
        "links, as R8@200",
    ),
    Field::part("steel.cover", Presence::Optional, "mesh in the cover"),
    Field::value(
        "steel.cover.short",
        Kind::Bars { spaced: true },
        Fallback::Required,
        "bars across the tank, as Y10@150",
    ),
    Field::value("steel.cover.long", Kind::Bars { spaced: true }, Fallback::Required, "bars along the tank"),
    Field::value(
        "steel.cover.layers",
        Kind::Count { least: 1, most: 2 },
        Fallback::Default("1", COMMON),
        "layers of mesh",
    ),
    Field::value(
        "steel.cover.trimmers",
        Kind::Bars { spaced: false },
        Fallback::Nothing,
        "bars beside each manhole side, as 1Y12",
    ),
    Field::part("steel.soak_pit_cover", Presence::Optional, "mesh in the cover of a lined soak pit"),
    Field::value(
        "steel.soak_pit_cover.bars",
        Kind::Bars { spaced: true },
        Fallback::Required,
        "bars both ways, as Y12@150",
    ),
    Field::value(
        "steel.soak_pit_cover.trimmers",
        Kind::Bars { spaced: false },
        Fallback::Nothing,
        "bars beside each side of its manhole, as 1Y12",
    ),
    Field::length("steel.cover_to_steel", 0, Fallback::Default("40 mm", COMMON), "concrete over the bars"),
    Field::length("steel.stock_length", 1_000, Fallback::Default("12 m", COMMON), "length bars are sold in"),
    Field::length("steel.kerf", 0, Fallback::Nothing, "lost in each cut"),
    Field::value("steel.lap", Kind::Lap, Fallback::Default("40d", LAP), "lap of bars, as 40d or 500 mm"),
    Field::length(
        "steel.column_foot",
        0,
        Fallback::Default("200 mm", COMMON),
        "leg of column bars in the base or pocket; 0 for none",
    ),
    Field::length(
        "steel.column_top",
        0,
        Fallback::Default("300 mm", COMMON),
        "leg of column bars bent into the cover; 0 for none",
    ),
    Field::length(
        "steel.beam_corner",
        0,
        Fallback::Default("300 mm", COMMON),
        "leg of beam bars round the corners; 0 for none",
    ),
    Field::value(
        "steel.lintel",
        Kind::Bars { spaced: false },
        Fallback::Nothing,
        "bars over a partition opening wider than 250 mm; left out: 3 of the thinnest ribbed bar",
    ),
    Field::value(
        "steel.chairs",
        Kind::Bars { spaced: false },
        Fallback::Nothing,
        "chairs between two layers of the cover, as 12Y10",
    ),
    Field::value(
        "steel.spacers",
        Kind::Count { least: 0, most: 10_000 },
        Fallback::Nothing,
        "blocks that keep the bars off formwork and ground",
    ),
];
