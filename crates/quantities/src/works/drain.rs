//! Drainage trenches.

use super::{Class, Drawn, Earth, MadeOf, Proof, Section, Unit, Work};
use crate::stage::Stage;

/// Their dig.
pub static EXCAVATION_DRAIN: Work = Work {
    earth: Earth::Dug,
    ..Work::plain(
        "excavation-drain",
        Unit::M3,
        Section::SoakPit,
        Class::Earth,
        Proof::Formula,
        Stage::SoakPit,
        MadeOf::Nothing,
    )
};

/// Stone round the pipe.
pub static DRAIN_STONE: Work = Work {
    drawn: Drawn::Stone,
    ..Work::plain(
        "drain-stone",
        Unit::M3,
        Section::SoakPit,
        Class::Earth,
        Proof::Formula,
        Stage::SoakPit,
        MadeOf::Recipe("drain-stone"),
    )
};

/// The perforated pipe, along the whole trench.
pub static DRAIN_PIPE: Work = Work::plain(
    "drain-pipe",
    Unit::M,
    Section::SoakPit,
    Class::Listed,
    Proof::Listed,
    Stage::SoakPit,
    MadeOf::Recipe("drain-pipe"),
);

/// Sheet over the stone, by what it is made of.
pub static DRAIN_SHEET: Work = Work {
    drawn: Drawn::Sheet,
    ..Work::plain(
        "drain-sheet",
        Unit::M2,
        Section::SoakPit,
        Class::Sheet,
        Proof::Formula,
        Stage::SoakPit,
        MadeOf::Recipe("drain-sheet"),
    )
};

/// All of them, in bill order.
pub static ALL: &[&Work] = &[&EXCAVATION_DRAIN, &DRAIN_STONE, &DRAIN_PIPE, &DRAIN_SHEET];
