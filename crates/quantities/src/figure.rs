//! What stands by itself (soak pit, drain, inspection chamber), as drawings show it: bodies round an upright axis, in
//! tenths of a millimetre.

use crate::sketch::{Mark, Plan, Span};
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::Drawn;

/// A body of a figure, the same on both sides of its axis.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Body {
    /// In words.
    pub title: Phrase,
    /// Hatching; a hole is left white.
    pub drawn: Drawn,
    /// Distance from the axis, from and to: 0 for a solid body.
    pub half: Span,
    /// Bottom and top.
    pub z: Span,
}

/// Something that stands by itself, with an upright axis. Bodies painted later lie over earlier ones.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Figure {
    /// Stable id: `soak-pit`.
    pub id: &'static str,
    /// In words.
    pub title: Phrase,
    /// Its dig on plan.
    pub plan: Plan,
    /// When it is built.
    pub stage: Stage,
    /// So many of them.
    pub number: u32,
    /// From ground down to its bottom.
    pub depth: i64,
    /// What it is made of.
    pub bodies: Vec<Body>,
    /// Rectangular holes in its slab: along, across.
    pub holes: Vec<[i64; 2]>,
    /// Lids over them, and over a chamber: clear opening along and across, top.
    pub lids: Vec<([i64; 2], i64)>,
    /// Pipes: name, where the centre line lies, diameter; upright ones have a length.
    pub pipes: Vec<Inflow>,
    /// Levels to be marked.
    pub marks: Vec<Mark>,
}

/// A pipe of a figure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Inflow {
    /// In words.
    pub title: Phrase,
    /// Outside diameter.
    pub diameter: i64,
    /// How it lies.
    pub lies: Lies,
}

/// How a pipe of a figure lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lies {
    /// It comes in from the side at this invert.
    In(i64),
    /// It stands in the axis, from and to.
    Upright(Span),
    /// It runs through at this invert, across the section.
    Through(i64),
}

impl Figure {
    /// Nothing but a dig.
    #[must_use]
    pub fn new(id: &'static str, stage: Stage, plan: Plan, depth: i64) -> Self {
        let (bodies, holes, lids, pipes, marks) =
            (Vec::new(), Vec::new(), Vec::new(), Vec::new(), Vec::new());
        Self { id, title: Phrase::new(id), plan, stage, number: 1, depth, bodies, holes, lids, pipes, marks }
    }
}
