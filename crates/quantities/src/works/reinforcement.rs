//! Bars, by grade and diameter.

use super::{Class, MadeOf, Proof, Section, Unit, Work};
use crate::stage::Stage;

/// Bars, cut, bent and fixed; the specification is grade and diameter.
pub static BARS: Work = Work::plain(
    "bars",
    Unit::Kg,
    Section::Reinforcement,
    Class::Listed,
    Proof::Listed,
    Stage::Base,
    MadeOf::Bars,
);

/// All of them, in bill order.
pub static ALL: &[&Work] = &[&BARS];
