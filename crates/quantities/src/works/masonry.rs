//! Walls, partitions, shafts and the iron in their joints.

use super::{Behind, Class, Drawn, MadeOf, Proof, Section, Unit, Weighs, Work};
use crate::stage::Stage;

/// Outer walls.
pub static BRICKWORK_WALL: Work = Work {
    drawn: Drawn::Masonry,
    weighs: Weighs::Masonry,
    behind: Behind::Packing,
    lined: true,
    by_area: true,
    ..Work::plain(
        "brickwork-wall",
        Unit::M3,
        Section::Masonry,
        Class::Masonry,
        Proof::Cells,
        Stage::WallsLower,
        MadeOf::Masonry,
    )
};

/// Partitions between the chambers.
pub static BRICKWORK_PARTITION: Work = Work {
    drawn: Drawn::Masonry,
    weighs: Weighs::Masonry,
    lined: true,
    by_area: true,
    ..Work::plain(
        "brickwork-partition",
        Unit::M3,
        Section::Masonry,
        Class::Masonry,
        Proof::Cells,
        Stage::WallsLower,
        MadeOf::Masonry,
    )
};

/// Brick shafts over manholes of a buried cover.
pub static MANHOLE_SHAFT: Work = Work {
    drawn: Drawn::Masonry,
    weighs: Weighs::Masonry,
    ..Work::plain(
        "manhole-shaft",
        Unit::M3,
        Section::Masonry,
        Class::Masonry,
        Proof::Cells,
        Stage::Finish,
        MadeOf::Masonry,
    )
};

/// Hoop iron in the joints.
pub static HOOP_IRON: Work = Work::plain(
    "hoop-iron",
    Unit::M,
    Section::Masonry,
    Class::Listed,
    Proof::Listed,
    Stage::WallsLower,
    MadeOf::Recipe("hoop-iron"),
);

/// All of them, in bill order.
pub static ALL: &[&Work] = &[&BRICKWORK_WALL, &BRICKWORK_PARTITION, &MANHOLE_SHAFT, &HOOP_IRON];
