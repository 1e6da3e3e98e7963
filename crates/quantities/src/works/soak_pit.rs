//! The soak pit.

use super::{Class, Drawn, Earth, Forms, MadeOf, Proof, Section, Unit, Work};
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
pub static SOAK_FILL: Work = Work {
    drawn: Drawn::Stone,
    ..Work::plain(
        "soak-fill",
        Unit::M3,
        Section::SoakPit,
        Class::Earth,
        Proof::Formula,
        Stage::SoakPit,
        MadeOf::Recipe("soak-fill"),
    )
};

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
pub static POLYTHENE_SHEET: Work = Work {
    drawn: Drawn::Sheet,
    ..Work::plain(
        "polythene-sheet",
        Unit::M2,
        Section::SoakPit,
        Class::Sheet,
        Proof::Formula,
        Stage::SoakPit,
        MadeOf::Recipe("polythene-sheet"),
    )
};

/// Soil over the fill, up to ground.
pub static SOIL_COVER: Work = Work {
    drawn: Drawn::Soil,
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

/// Its lining.
pub static BRICKWORK_SOAK_PIT: Work = Work {
    drawn: Drawn::Masonry,
    ..Work::plain(
        "brickwork-soak-pit",
        Unit::M3,
        Section::SoakPit,
        Class::Masonry,
        Proof::Formula,
        Stage::SoakPit,
        MadeOf::Masonry,
    )
};

/// The foot of its lining.
pub static CONCRETE_SOAK_FOOT: Work = Work {
    drawn: Drawn::Concrete,
    ..Work::plain(
        "concrete-soak-foot",
        Unit::M3,
        Section::SoakPit,
        Class::Concrete,
        Proof::Formula,
        Stage::SoakPit,
        MadeOf::Concrete,
    )
};

/// Faces of that foot.
pub static FORMWORK_SOAK_FOOT: Work = Work::plain(
    "formwork-soak-foot",
    Unit::M2,
    Section::SoakPit,
    Class::Formwork,
    Proof::Formula,
    Stage::SoakPit,
    MadeOf::Recipe("formwork-sides"),
);

/// Its cover.
pub static CONCRETE_SOAK_COVER: Work = Work {
    drawn: Drawn::Reinforced,
    slab: true,
    forms: Forms { soffit: Some(&FORMWORK_SOAK_COVER), ..Forms::NONE },
    ..Work::plain(
        "concrete-soak-cover",
        Unit::M3,
        Section::SoakPit,
        Class::Concrete,
        Proof::Formula,
        Stage::SoakPit,
        MadeOf::Concrete,
    )
};

/// Underside of the cover.
pub static FORMWORK_SOAK_COVER: Work = Work::plain(
    "formwork-soak-cover",
    Unit::M2,
    Section::SoakPit,
    Class::Formwork,
    Proof::Formula,
    Stage::SoakPit,
    MadeOf::Recipe("formwork-soffit"),
);

/// Sides of the manhole in the cover.
pub static FORMWORK_SOAK_MANHOLE: Work = Work {
    slab: true,
    ..Work::plain(
        "formwork-soak-manhole",
        Unit::M2,
        Section::SoakPit,
        Class::Formwork,
        Proof::Formula,
        Stage::SoakPit,
        MadeOf::Recipe("formwork-sides"),
    )
};

/// All of them, in bill order.
pub static ALL: &[&Work] = &[
    &EXCAVATION_SOAK_PIT,
    &CONCRETE_SOAK_FOOT,
    &FORMWORK_SOAK_FOOT,
    &BRICKWORK_SOAK_PIT,
    &SOAK_FILL,
    &SOAK_PIPE,
    &CONCRETE_SOAK_COVER,
    &FORMWORK_SOAK_COVER,
    &FORMWORK_SOAK_MANHOLE,
    &POLYTHENE_SHEET,
    &SOIL_COVER,
];
