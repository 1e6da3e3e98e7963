//! Choices of recipes, and masonry units of the job's own.

use crate::job::field::{Fallback, Field, Kind, Presence};

/// The table.
pub(super) static FIELDS: &[Field] = &[
    Field::part("materials", Presence::Always, "what the works are made of"),
    Field::value(
        "materials.concrete",
        Kind::Text,
        Fallback::Nothing,
        "whose materials of a mix of concrete, as cpwd; or dry: by the dry-volume method",
    ),
    Field::value(
        "materials.mortar",
        Kind::Text,
        Fallback::Nothing,
        "whose materials of a mix of mortar, as cpwd; or dry: by the dry-volume method",
    ),
    Field::value(
        "materials.blocks",
        Kind::Choice(&["bought", "made"]),
        Fallback::Nothing,
        "blocks bought (also when left out), or made on the site from cement and sand",
    ),
    Field::value(
        "materials.figures",
        Kind::Open,
        Fallback::Nothing,
        "figures of recipes: another source's by its id, or a number of your own",
    ),
    Field::part("materials.units[]", Presence::List, "bricks or blocks of your own, as measured"),
    Field::value(
        "materials.units[].id",
        Kind::Text,
        Fallback::Required,
        "its name, as my-brick; hollow ones, and names that begin with block, are blocks",
    ),
    Field::length("materials.units[].length", 100, Fallback::Required, "length in the face of the wall"),
    Field::length("materials.units[].breadth", 100, Fallback::Required, "depth into the wall"),
    Field::length("materials.units[].height", 100, Fallback::Required, "height in the face of the wall"),
    Field::length("materials.units[].joint", 0, Fallback::Default("10 mm", super::COMMON), "mortar joint"),
    Field::value("materials.units[].hollow", Kind::Flag, Fallback::Nothing, "has it cells?"),
    Field::value(
        "materials.units[].voids",
        Kind::Number { places: 3 },
        Fallback::Nothing,
        "share of it that is cells, as 0.45: fill one with sand and measure it",
    ),
];
