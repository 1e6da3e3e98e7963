//! Concrete by the member.

use super::{Behind, Class, Drawn, Forms, MadeOf, Proof, Section, Unit, Weighs, Work, formwork};
use crate::stage::Stage;

/// Blinding.
pub static CONCRETE_BLINDING: Work = Work {
    drawn: Drawn::Blinding,
    behind: Behind::Same,
    slab: true,
    ..Work::plain(
        "concrete-blinding",
        Unit::M3,
        Section::Concrete,
        Class::Concrete,
        Proof::Cells,
        Stage::Base,
        MadeOf::Concrete,
    )
};

/// Filling of the pockets, with base concrete.
pub static CONCRETE_POCKET: Work = Work {
    drawn: Drawn::Concrete,
    weighs: Weighs::Concrete,
    ..Work::plain(
        "concrete-pocket",
        Unit::M3,
        Section::Concrete,
        Class::Concrete,
        Proof::Cells,
        Stage::Base,
        MadeOf::Concrete,
    )
};

/// Base slab.
pub static CONCRETE_BASE: Work = Work {
    drawn: Drawn::Reinforced,
    weighs: Weighs::Concrete,
    behind: Behind::Same,
    slab: true,
    forms: Forms { outside: Some(&formwork::FORMWORK_BASE_EDGE), ..Forms::NONE },
    ..Work::plain(
        "concrete-base",
        Unit::M3,
        Section::Concrete,
        Class::Concrete,
        Proof::Cells,
        Stage::Base,
        MadeOf::Concrete,
    )
};

/// Corner columns.
pub static CONCRETE_COLUMN: Work = Work {
    drawn: Drawn::Reinforced,
    weighs: Weighs::Concrete,
    behind: Behind::Same,
    lined: true,
    forms: Forms::sides(&formwork::FORMWORK_COLUMN),
    ..Work::plain(
        "concrete-column",
        Unit::M3,
        Section::Concrete,
        Class::Concrete,
        Proof::Cells,
        Stage::WallsLower,
        MadeOf::Concrete,
    )
};

/// Ring beams.
pub static CONCRETE_RING_BEAM: Work = Work {
    drawn: Drawn::Reinforced,
    weighs: Weighs::Concrete,
    behind: Behind::Same,
    lined: true,
    forms: Forms::sides(&formwork::FORMWORK_RING_BEAM),
    ..Work::plain(
        "concrete-ring-beam",
        Unit::M3,
        Section::Concrete,
        Class::Concrete,
        Proof::Cells,
        Stage::RingBeam,
        MadeOf::Concrete,
    )
};

/// Beams on top of the walls.
pub static CONCRETE_WALL_BEAM: Work = Work {
    drawn: Drawn::Reinforced,
    weighs: Weighs::Concrete,
    behind: Behind::Same,
    lined: true,
    forms: Forms::sides(&formwork::FORMWORK_WALL_BEAM),
    ..Work::plain(
        "concrete-wall-beam",
        Unit::M3,
        Section::Concrete,
        Class::Concrete,
        Proof::Cells,
        Stage::WallsUpper,
        MadeOf::Concrete,
    )
};

/// Beam under the cover, along the tank.
pub static CONCRETE_SPAN_BEAM: Work = Work {
    drawn: Drawn::Reinforced,
    weighs: Weighs::Concrete,
    behind: Behind::Same,
    forms: Forms {
        soffit: Some(&formwork::FORMWORK_SPAN_BEAM),
        ..Forms::sides(&formwork::FORMWORK_SPAN_BEAM)
    },
    ..Work::plain(
        "concrete-span-beam",
        Unit::M3,
        Section::Concrete,
        Class::Concrete,
        Proof::Cells,
        Stage::Cover,
        MadeOf::Concrete,
    )
};

/// Cover slab.
pub static CONCRETE_COVER: Work = Work {
    drawn: Drawn::Reinforced,
    weighs: Weighs::Concrete,
    behind: Behind::Same,
    slab: true,
    forms: Forms {
        inside: None,
        outside: Some(&formwork::FORMWORK_COVER_EDGE),
        soffit: Some(&formwork::FORMWORK_COVER_SOFFIT),
        hole: Some(&formwork::FORMWORK_MANHOLE),
    },
    ..Work::plain(
        "concrete-cover",
        Unit::M3,
        Section::Concrete,
        Class::Concrete,
        Proof::Cells,
        Stage::Cover,
        MadeOf::Concrete,
    )
};

/// All of them, in bill order.
pub static ALL: &[&Work] = &[
    &CONCRETE_BLINDING,
    &CONCRETE_POCKET,
    &CONCRETE_BASE,
    &CONCRETE_COLUMN,
    &CONCRETE_RING_BEAM,
    &CONCRETE_WALL_BEAM,
    &CONCRETE_SPAN_BEAM,
    &CONCRETE_COVER,
];
