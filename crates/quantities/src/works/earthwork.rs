//! Digging, trimming, filling and carting.

use super::{Behind, Class, Drawn, Earth, MadeOf, Proof, Section, Unit, Work};
use crate::stage::Stage;

/// The pit, in depth bands.
pub static EXCAVATION_PIT: Work = Work {
    earth: Earth::Dug,
    ..Work::plain(
        "excavation-pit",
        Unit::M3,
        Section::Earthworks,
        Class::Earth,
        Proof::Formula,
        Stage::Dig,
        MadeOf::Nothing,
    )
};

/// Pockets under the columns.
pub static EXCAVATION_POCKET: Work = Work {
    earth: Earth::Dug,
    ..Work::plain(
        "excavation-pocket",
        Unit::M3,
        Section::Earthworks,
        Class::Earth,
        Proof::Formula,
        Stage::Dig,
        MadeOf::Nothing,
    )
};

/// Pipe trench.
pub static EXCAVATION_TRENCH: Work = Work {
    earth: Earth::Dug,
    ..Work::plain(
        "excavation-trench",
        Unit::M3,
        Section::Earthworks,
        Class::Earth,
        Proof::Formula,
        Stage::Pipes,
        MadeOf::Nothing,
    )
};

/// Trimming the bottom, on plan.
pub static BOTTOM_TRIM: Work = Work::plain(
    "bottom-trim",
    Unit::M2,
    Section::Earthworks,
    Class::Earth,
    Proof::Formula,
    Stage::Dig,
    MadeOf::Nothing,
);

/// Supporting the sides of pit and soak pit.
pub static EARTHWORK_SUPPORT: Work = Work::plain(
    "earthwork-support",
    Unit::M2,
    Section::Earthworks,
    Class::Earth,
    Proof::Formula,
    Stage::Dig,
    MadeOf::Recipe("earthwork-support"),
);

/// Keeping the dig free of water.
pub static KEEP_DRY: Work = Work::plain(
    "keep-dry",
    Unit::Item,
    Section::Earthworks,
    Class::Listed,
    Proof::Listed,
    Stage::Dig,
    MadeOf::Nothing,
);

/// Treating bottom and sides against termites.
pub static TERMITE_TREATMENT: Work = Work::plain(
    "termite-treatment",
    Unit::M2,
    Section::Earthworks,
    Class::Sheet,
    Proof::Formula,
    Stage::Dig,
    MadeOf::Recipe("termite-treatment"),
);

/// Hardcore under the tank.
pub static HARDCORE_BED: Work = Work {
    drawn: Drawn::Hardcore,
    behind: Behind::Same,
    slab: true,
    ..Work::plain(
        "hardcore-bed",
        Unit::M3,
        Section::Earthworks,
        Class::Concrete,
        Proof::Cells,
        Stage::Base,
        MadeOf::Recipe("hardcore-bed"),
    )
};

/// Earth put back round the tank, over a buried cover and in the trench.
pub static BACKFILL: Work = Work {
    earth: Earth::PutBack,
    ..Work::plain(
        "backfill",
        Unit::M3,
        Section::Earthworks,
        Class::Earth,
        Proof::Formula,
        Stage::Finish,
        MadeOf::Nothing,
    )
};

/// Earth taken away, as it lay in the ground.
pub static DISPOSAL: Work = Work {
    earth: Earth::Away,
    ..Work::plain(
        "disposal",
        Unit::M3,
        Section::Earthworks,
        Class::Earth,
        Proof::Formula,
        Stage::Dig,
        MadeOf::Nothing,
    )
};

/// All of them, in bill order.
pub static ALL: &[&Work] = &[
    &EXCAVATION_PIT,
    &EXCAVATION_POCKET,
    &EXCAVATION_TRENCH,
    &BOTTOM_TRIM,
    &EARTHWORK_SUPPORT,
    &KEEP_DRY,
    &TERMITE_TREATMENT,
    &HARDCORE_BED,
    &BACKFILL,
    &DISPOSAL,
];
