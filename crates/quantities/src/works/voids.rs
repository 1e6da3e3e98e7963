//! Openings, holes and clear space: measured like works, never billed.

use super::{Class, Drawn, FaceRule, MadeOf, Proof, Section, Unit, Work};
use crate::stage::Stage;

/// Openings in partitions.
pub static OPENING: Work = Work {
    drawn: Drawn::Hole,
    void: true,
    ..Work::plain(
        "void-opening",
        Unit::M3,
        Section::Masonry,
        Class::Masonry,
        Proof::Cells,
        Stage::WallsLower,
        MadeOf::Nothing,
    )
};

/// Pipe holes in end walls.
pub static PIPE_HOLE: Work = Work {
    drawn: Drawn::Hole,
    void: true,
    ..Work::plain(
        "void-pipe-hole",
        Unit::M3,
        Section::Masonry,
        Class::Masonry,
        Proof::Cells,
        Stage::WallsLower,
        MadeOf::Nothing,
    )
};

/// Manholes in the cover.
pub static MANHOLE: Work = Work {
    drawn: Drawn::Hole,
    void: true,
    ..Work::plain(
        "void-manhole",
        Unit::M3,
        Section::Concrete,
        Class::Concrete,
        Proof::Cells,
        Stage::Cover,
        MadeOf::Nothing,
    )
};

/// Clear space of manhole shafts.
pub static SHAFT: Work = Work {
    drawn: Drawn::Hole,
    void: true,
    ..Work::plain(
        "void-shaft",
        Unit::M3,
        Section::Masonry,
        Class::Masonry,
        Proof::Cells,
        Stage::Finish,
        MadeOf::Nothing,
    )
};

/// Clear space of the chambers.
pub static CLEAR_SPACE: Work = Work {
    drawn: Drawn::Room,
    void: true,
    ..Work::plain(
        "void-clear-space",
        Unit::M3,
        Section::Finishes,
        Class::Plaster,
        Proof::Cells,
        Stage::WallsLower,
        MadeOf::Nothing,
    )
};

/// Sides of a tight pit that is dug wider than drawn: what fills them is ordered, never billed.
pub static OVER_BREAK: Work = Work {
    void: true,
    ..Work::plain(
        "over-break",
        Unit::M2,
        Section::Earthworks,
        Class::Listed,
        Proof::Faces(FaceRule::Ground),
        Stage::Dig,
        MadeOf::OverBreak,
    )
};

/// All of them, in bill order.
pub static ALL: &[&Work] = &[&OPENING, &PIPE_HOLE, &MANHOLE, &SHAFT, &CLEAR_SPACE, &OVER_BREAK];
