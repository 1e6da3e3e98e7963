//! Pipes, tees, vent and covers.

use super::{Class, MadeOf, Proof, Section, Unit, Work};
use crate::stage::Stage;

/// Bed under the pipes.
pub static PIPE_BED: Work = Work::plain(
    "pipe-bed",
    Unit::M3,
    Section::Pipework,
    Class::Concrete,
    Proof::Formula,
    Stage::Pipes,
    MadeOf::Recipe("pipe-bed"),
);

/// Pipes.
pub static PIPE: Work = Work::plain(
    "pipe",
    Unit::M,
    Section::Pipework,
    Class::Listed,
    Proof::Listed,
    Stage::Pipes,
    MadeOf::Recipe("pipe"),
);

/// Tees at inlet and outlet.
pub static PIPE_TEE: Work = Work::plain(
    "pipe-tee",
    Unit::Nr,
    Section::Pipework,
    Class::Listed,
    Proof::Listed,
    Stage::WallsUpper,
    MadeOf::Recipe("pipe-tee"),
);

/// Bends in a line of pipes.
pub static PIPE_BEND: Work = Work::plain(
    "pipe-bend",
    Unit::Nr,
    Section::Pipework,
    Class::Listed,
    Proof::Listed,
    Stage::Pipes,
    MadeOf::Recipe("pipe-bend"),
);

/// Vent pipe above the cover.
pub static VENT_PIPE: Work = Work::plain(
    "vent-pipe",
    Unit::M,
    Section::Pipework,
    Class::Listed,
    Proof::Listed,
    Stage::Finish,
    MadeOf::Recipe("vent-pipe"),
);

/// Manhole covers.
pub static MANHOLE_COVER: Work = Work::plain(
    "manhole-cover",
    Unit::Nr,
    Section::Pipework,
    Class::Listed,
    Proof::Listed,
    Stage::Finish,
    MadeOf::Recipe("manhole-cover"),
);

/// All of them, in bill order.
pub static ALL: &[&Work] = &[&PIPE_BED, &PIPE, &PIPE_TEE, &PIPE_BEND, &VENT_PIPE, &MANHOLE_COVER];
