//! The soak pit.

use super::{Class, Earth, MadeOf, Proof, Section, Unit, Work};
use crate::stage::Stage;

/// Its dig.
pub static EXCAVATION_SOAK_PIT: Work = Work {
    earth: Earth::Dug,
    ..Work::plain(
        "excavation-soak-pit",
        Unit::M3,
        Section::SoakPit,
        Class::Earth,
        Proof::Formula,
        Stage::SoakPit,
        MadeOf::Nothing,
    )
};

/// Its fill of hardcore.
pub static SOAK_FILL: Work = Work::plain(
    "soak-fill",
    Unit::M3,
    Section::SoakPit,
    Class::Earth,
    Proof::Formula,
    Stage::SoakPit,
    MadeOf::Recipe("soak-fill"),
);

/// The pipe in the fill.
pub static SOAK_PIPE: Work = Work::plain(
    "soak-pipe",
    Unit::M,
    Section::SoakPit,
    Class::Listed,
    Proof::Listed,
    Stage::SoakPit,
    MadeOf::Recipe("soak-pipe"),
);

/// Sheet over the fill.
pub static POLYTHENE_SHEET: Work = Work::plain(
    "polythene-sheet",
    Unit::M2,
    Section::SoakPit,
    Class::Sheet,
    Proof::Formula,
    Stage::SoakPit,
    MadeOf::Recipe("polythene-sheet"),
);

/// Soil over the fill, up to ground.
pub static SOIL_COVER: Work = Work {
    earth: Earth::PutBack,
    ..Work::plain(
        "soil-cover",
        Unit::M3,
        Section::SoakPit,
        Class::Earth,
        Proof::Formula,
        Stage::SoakPit,
        MadeOf::Nothing,
    )
};

/// All of them, in bill order.
pub static ALL: &[&Work] = &[&EXCAVATION_SOAK_PIT, &SOAK_FILL, &SOAK_PIPE, &POLYTHENE_SHEET, &SOIL_COVER];
