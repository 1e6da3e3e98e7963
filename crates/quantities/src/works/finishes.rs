//! Plaster, screed, paste and membrane.

use super::{Class, FaceRule, MadeOf, Proof, Section, Unit, Weighs, Work, concrete};
use crate::stage::Stage;

/// Plaster inside.
pub static PLASTER_WALL: Work = Work {
    weighs: Weighs::Coat,
    ..Work::plain(
        "plaster-wall",
        Unit::M2,
        Section::Finishes,
        Class::Plaster,
        Proof::Faces(FaceRule::Inside),
        Stage::Plaster,
        MadeOf::Coat("plaster"),
    )
};

/// Plaster outside.
pub static PLASTER_OUTSIDE: Work = Work {
    weighs: Weighs::Coat,
    ..Work::plain(
        "plaster-outside",
        Unit::M2,
        Section::Finishes,
        Class::Plaster,
        Proof::Faces(FaceRule::Outside),
        Stage::Plaster,
        MadeOf::Coat("plaster"),
    )
};

/// Screed on the floor.
pub static SCREED: Work = Work {
    weighs: Weighs::Coat,
    ..Work::plain(
        "screed",
        Unit::M2,
        Section::Finishes,
        Class::Plaster,
        Proof::Faces(FaceRule::Top(&concrete::CONCRETE_BASE)),
        Stage::Plaster,
        MadeOf::Coat("screed"),
    )
};

/// Cement paste on plaster and screed.
pub static CEMENT_PASTE: Work = Work::plain(
    "cement-paste",
    Unit::M2,
    Section::Finishes,
    Class::Plaster,
    Proof::Formula,
    Stage::Plaster,
    MadeOf::Recipe("cement-paste"),
);

/// Membrane under the cover.
pub static DAMP_PROOF_MEMBRANE: Work = Work::plain(
    "damp-proof-membrane",
    Unit::M2,
    Section::Finishes,
    Class::Sheet,
    Proof::Faces(FaceRule::Under(&concrete::CONCRETE_COVER)),
    Stage::Cover,
    MadeOf::Recipe("damp-proof-membrane"),
);

/// Filling and holding before the cover.
pub static WATER_TEST: Work = Work::plain(
    "water-test",
    Unit::Item,
    Section::Finishes,
    Class::Listed,
    Proof::Listed,
    Stage::Plaster,
    MadeOf::Nothing,
);

/// All of them, in bill order.
pub static ALL: &[&Work] =
    &[&PLASTER_WALL, &PLASTER_OUTSIDE, &SCREED, &CEMENT_PASTE, &DAMP_PROOF_MEMBRANE, &WATER_TEST];
