//! Concrete haunches along the foot of the long walls and their formwork.

use super::{Class, Drawn, FaceRule, Forms, MadeOf, Proof, Section, Unit, Weighs, Work};
use crate::stage::Stage;

/// Haunches.
pub static CONCRETE_HAUNCH: Work = Work {
    drawn: Drawn::Concrete,
    weighs: Weighs::Concrete,
    lined: true,
    forms: Forms { inside: Some(&FORMWORK_HAUNCH), ..Forms::NONE },
    ..Work::plain(
        "concrete-haunch",
        Unit::M3,
        Section::Concrete,
        Class::Concrete,
        Proof::Cells,
        Stage::WallsLower,
        MadeOf::Concrete,
    )
};

/// Their inner sides.
pub static FORMWORK_HAUNCH: Work = Work::plain(
    "formwork-haunch",
    Unit::M2,
    Section::Formwork,
    Class::Formwork,
    Proof::Faces(FaceRule::Forms),
    Stage::WallsLower,
    MadeOf::Recipe("formwork-sides"),
);

/// All of them, in bill order.
pub static ALL: &[&Work] = &[&CONCRETE_HAUNCH, &FORMWORK_HAUNCH];
