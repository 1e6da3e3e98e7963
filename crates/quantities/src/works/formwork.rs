//! Formwork, face by face.

use super::{Class, FaceRule, MadeOf, Proof, Section, Unit, Work};
use crate::stage::Stage;

/// Edge of the base.
pub static FORMWORK_BASE_EDGE: Work = Work {
    slab: true,
    edge: true,
    ..Work::plain(
        "formwork-base-edge",
        Unit::M2,
        Section::Formwork,
        Class::Formwork,
        Proof::Faces(FaceRule::Forms),
        Stage::Base,
        MadeOf::Recipe("formwork-edge"),
    )
};

/// Columns.
pub static FORMWORK_COLUMN: Work = Work::plain(
    "formwork-column",
    Unit::M2,
    Section::Formwork,
    Class::Formwork,
    Proof::Faces(FaceRule::Forms),
    Stage::WallsLower,
    MadeOf::Recipe("formwork-sides"),
);

/// Ring beams.
pub static FORMWORK_RING_BEAM: Work = Work::plain(
    "formwork-ring-beam",
    Unit::M2,
    Section::Formwork,
    Class::Formwork,
    Proof::Faces(FaceRule::Forms),
    Stage::RingBeam,
    MadeOf::Recipe("formwork-sides"),
);

/// Wall beams.
pub static FORMWORK_WALL_BEAM: Work = Work::plain(
    "formwork-wall-beam",
    Unit::M2,
    Section::Formwork,
    Class::Formwork,
    Proof::Faces(FaceRule::Forms),
    Stage::WallsUpper,
    MadeOf::Recipe("formwork-sides"),
);

/// Span beam, sides and underside.
pub static FORMWORK_SPAN_BEAM: Work = Work::plain(
    "formwork-span-beam",
    Unit::M2,
    Section::Formwork,
    Class::Formwork,
    Proof::Faces(FaceRule::Forms),
    Stage::Cover,
    MadeOf::Recipe("formwork-sides"),
);

/// Underside of the cover.
pub static FORMWORK_COVER_SOFFIT: Work = Work::plain(
    "formwork-cover-soffit",
    Unit::M2,
    Section::Formwork,
    Class::Formwork,
    Proof::Faces(FaceRule::Forms),
    Stage::Cover,
    MadeOf::Recipe("formwork-soffit"),
);

/// Edge of the cover.
pub static FORMWORK_COVER_EDGE: Work = Work {
    slab: true,
    edge: true,
    ..Work::plain(
        "formwork-cover-edge",
        Unit::M2,
        Section::Formwork,
        Class::Formwork,
        Proof::Faces(FaceRule::Forms),
        Stage::Cover,
        MadeOf::Recipe("formwork-edge"),
    )
};

/// Sides of manhole openings.
pub static FORMWORK_MANHOLE: Work = Work {
    slab: true,
    ..Work::plain(
        "formwork-manhole",
        Unit::M2,
        Section::Formwork,
        Class::Formwork,
        Proof::Faces(FaceRule::Forms),
        Stage::Cover,
        MadeOf::Recipe("formwork-edge"),
    )
};

/// All of them, in bill order.
pub static ALL: &[&Work] = &[
    &FORMWORK_BASE_EDGE,
    &FORMWORK_COLUMN,
    &FORMWORK_RING_BEAM,
    &FORMWORK_WALL_BEAM,
    &FORMWORK_SPAN_BEAM,
    &FORMWORK_COVER_SOFFIT,
    &FORMWORK_COVER_EDGE,
    &FORMWORK_MANHOLE,
];
