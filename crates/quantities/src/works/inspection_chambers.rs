//! Inspection chambers in the line of a drain.

use super::{Class, Drawn, Earth, MadeOf, Proof, Section, Unit, Work};
use crate::stage::Stage;

/// Their dig.
pub static EXCAVATION_CHAMBER: Work = Work {
    earth: Earth::Dug,
    ..Work::plain(
        "excavation-chamber",
        Unit::M3,
        Section::Earthworks,
        Class::Earth,
        Proof::Formula,
        Stage::Pipes,
        MadeOf::Nothing,
    )
};

/// Base.
pub static CONCRETE_CHAMBER_BASE: Work = Work {
    drawn: Drawn::Concrete,
    slab: true,
    ..Work::plain(
        "concrete-chamber-base",
        Unit::M3,
        Section::Concrete,
        Class::Concrete,
        Proof::Formula,
        Stage::Pipes,
        MadeOf::Concrete,
    )
};

/// Concrete beside the channel.
pub static CONCRETE_BENCHING: Work = Work {
    drawn: Drawn::Concrete,
    slab: true,
    ..Work::plain(
        "concrete-benching",
        Unit::M3,
        Section::Concrete,
        Class::Concrete,
        Proof::Formula,
        Stage::Pipes,
        MadeOf::Concrete,
    )
};

/// Walls.
pub static BRICKWORK_CHAMBER: Work = Work {
    drawn: Drawn::Masonry,
    ..Work::plain(
        "brickwork-chamber",
        Unit::M3,
        Section::Masonry,
        Class::Masonry,
        Proof::Formula,
        Stage::Pipes,
        MadeOf::Masonry,
    )
};

/// Plaster inside.
pub static PLASTER_CHAMBER: Work = Work::plain(
    "plaster-chamber",
    Unit::M2,
    Section::Finishes,
    Class::Plaster,
    Proof::Formula,
    Stage::Pipes,
    MadeOf::Coat("plaster"),
);

/// All of them, in bill order.
pub static ALL: &[&Work] =
    &[&EXCAVATION_CHAMBER, &CONCRETE_CHAMBER_BASE, &CONCRETE_BENCHING, &BRICKWORK_CHAMBER, &PLASTER_CHAMBER];
