//! Hanging concrete boards and their formwork.

use super::{Behind, Class, Drawn, FaceRule, Forms, MadeOf, Proof, Section, Unit, Weighs, Work};
use crate::stage::Stage;

/// Hanging boards.
pub static CONCRETE_BOARD: Work = Work {
    drawn: Drawn::Concrete,
    weighs: Weighs::Concrete,
    behind: Behind::Same,
    forms: Forms { inside: Some(&FORMWORK_BOARD), outside: None, soffit: Some(&FORMWORK_BOARD), hole: None },
    ..Work::plain(
        "concrete-board",
        Unit::M3,
        Section::Concrete,
        Class::Concrete,
        Proof::Cells,
        Stage::WallsLower,
        MadeOf::Concrete,
    )
};

/// Faces and underside of hanging boards.
pub static FORMWORK_BOARD: Work = Work::plain(
    "formwork-board",
    Unit::M2,
    Section::Formwork,
    Class::Formwork,
    Proof::Faces(FaceRule::Forms),
    Stage::WallsLower,
    MadeOf::Recipe("formwork-sides"),
);

/// All of them, in bill order.
pub static ALL: &[&Work] = &[&CONCRETE_BOARD, &FORMWORK_BOARD];
