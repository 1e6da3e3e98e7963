//! Who claims which space, and which faces are formed or lined.

use std::cell::OnceCell;
use std::rc::Rc;

use tankwright_geometry::{Axis, Block, Z};

use crate::made::Made;
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::Work;

/// Who has the space where two parts meet: the lower wins. The one list, design section 5.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Rank(pub u16);

impl Rank {
    /// Corner columns.
    pub const COLUMN: Self = Self(10);
    /// Beam under the cover.
    pub const SPAN_BEAM: Self = Self(20);
    /// Beams on the walls.
    pub const WALL_BEAM: Self = Self(30);
    /// Ring beams.
    pub const RING_BEAM: Self = Self(40);
    /// Boards built into the walls.
    pub const BOARD: Self = Self(45);
    /// Pipe holes: nothing of higher rank touches them.
    pub const PIPE_HOLE: Self = Self(48);
    /// Outer walls.
    pub const WALL: Self = Self(50);
    /// Openings in partitions.
    pub const OPENING: Self = Self(60);
    /// Partitions.
    pub const PARTITION: Self = Self(70);
    /// Manholes.
    pub const MANHOLE: Self = Self(90);
    /// Cover and what lies over it.
    pub const COVER: Self = Self(100);
    /// Layers under the floor.
    pub const BASE: Self = Self(110);
    /// Clear space: what is left.
    pub const CLEAR_SPACE: Self = Self(200);

    /// The next place after a rank, for a later element.
    #[must_use]
    pub const fn after(self) -> Self {
        Self(self.0 + 1)
    }
}

/// A work with its specification and bill wording.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spec {
    /// Kind of work.
    pub work: &'static Work,
    /// Part of the bill's key; empty for none.
    pub spec: String,
    /// Bill wording; its key is the work's id unless the element says otherwise.
    pub wording: Phrase,
    /// What recipes need to know besides.
    pub made: Made,
    /// One copy of it for all that is made of it.
    pub(crate) shared: Shared,
}

/// A copy of a spec that claims and faces share; it says nothing about the spec.
#[derive(Debug, Default)]
pub(crate) struct Shared(OnceCell<(Marks, Rc<Spec>)>);

/// Where the texts of a spec lie and how long they are: they tell whether it was changed since it was copied.
type Marks = [(usize, usize); 5];

impl Clone for Shared {
    fn clone(&self) -> Self {
        Self::none()
    }
}

impl PartialEq for Shared {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl Eq for Shared {}

impl Shared {
    /// No copy yet.
    pub(crate) const fn none() -> Self {
        Self(OnceCell::new())
    }
}

impl Eq for Work {}

impl Spec {
    /// A work that needs no specification.
    #[must_use]
    pub const fn plain(work: &'static Work) -> Self {
        Self {
            work,
            spec: String::new(),
            wording: Phrase::new(work.id),
            made: Made::NOTHING,
            shared: Shared::none(),
        }
    }

    /// A work with its specification, which is also the first argument of the wording.
    #[must_use]
    pub fn of(work: &'static Work, spec: &str, more: &[&str]) -> Self {
        let args = [&[spec], more].concat();
        let made = Made::default();
        Self {
            work,
            spec: spec.to_owned(),
            wording: Phrase::with(work.id, &args),
            made,
            shared: Shared::none(),
        }
    }

    /// The one copy; where the spec was changed since, a new one.
    fn shared(&self) -> Rc<Self> {
        let (marks, copy) = self.shared.0.get_or_init(|| (self.marks(), Rc::new(self.clone())));
        if *marks == self.marks() { copy.clone() } else { Rc::new(self.clone()) }
    }

    fn marks(&self) -> Marks {
        let text = |t: &str| (t.as_ptr().addr(), t.len());
        let args = (self.wording.args.as_ptr().addr(), self.wording.args.len());
        [text(&self.spec), text(self.wording.key), args, text(&self.made.mix), text(&self.made.unit)]
    }

    /// With what recipes need to know.
    #[must_use]
    pub fn made(mut self, made: Made) -> Self {
        (self.made, self.shared) = (made, Shared::none());
        self
    }

    /// With another wording.
    #[must_use]
    pub fn worded(mut self, key: &'static str, args: &[&str]) -> Self {
        (self.wording, self.shared) = (Phrase::with(key, args), Shared::none());
        self
    }
}

/// A slab of height that is built in one stage.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lift {
    /// Stage.
    pub stage: Stage,
    /// Bottom and top.
    pub z: [Z; 2],
}

/// A claim on space.
#[derive(Clone, Debug)]
pub struct Claim {
    /// Word key of the part, as in "less column".
    pub part: &'static str,
    /// Who wins.
    pub rank: Rank,
    /// What is built (or left open) there.
    pub spec: Rc<Spec>,
    /// Its stages by height; together they cover the block.
    pub lifts: Vec<Lift>,
    /// A cylinder inscribed in the block.
    pub round: bool,
    /// A beam, board or partition: the way it runs. What it meets that way it meets with its end.
    pub runs: Option<Axis>,
    /// For a wall: the axis of its thickness.
    pub thickness: Option<Axis>,
    /// The space.
    pub block: Block,
}

/// What a face is made on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Carrier {
    /// Concrete whose [`crate::works::Forms`] name the face's work.
    Formed,
    /// Everything lined.
    Lined,
    /// This work.
    On(&'static Work),
}

/// Towards which end of its axis a face looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Towards smaller coordinates, or down.
    Low,
    /// Towards larger coordinates, or up.
    High,
}

/// A gross face: a flat block, the way it looks, and the work on it.
#[derive(Clone, Debug)]
pub struct Face {
    /// Formwork or lining.
    pub spec: Rc<Spec>,
    /// Rank of the part it belongs to: of what stands in its place only higher ranks are deducted.
    pub rank: Rank,
    /// What carries it.
    pub carrier: Carrier,
    /// Axis of its plane.
    pub axis: Axis,
    /// The way it looks.
    pub side: Side,
    /// Solids against it do not matter (a sheet laid in between).
    pub covered: bool,
    /// Stages by height.
    pub lifts: Vec<Lift>,
    /// The face: both ends of `axis` are the same.
    pub block: Block,
}

impl Claim {
    /// A claim in one stage.
    #[must_use]
    pub fn new(part: &'static str, rank: Rank, spec: &Spec, stage: Stage, block: Block) -> Self {
        let lifts = Lift::one(stage, block.z.clone());
        Self { part, rank, spec: spec.shared(), lifts, round: false, runs: None, thickness: None, block }
    }

    /// With stages by height.
    #[must_use]
    pub fn in_lifts(mut self, lifts: &[Lift]) -> Self {
        self.lifts = lifts.to_vec();
        self
    }

    /// A beam, board or partition, with the way it runs.
    #[must_use]
    pub const fn runs(mut self, along: Axis) -> Self {
        self.runs = Some(along);
        self
    }

    /// A wall, with the axis of its thickness.
    #[must_use]
    pub const fn wall(mut self, thickness: Axis) -> Self {
        self.thickness = Some(thickness);
        self
    }
}

impl Face {
    /// A face in one stage. `at` gives the plane: both ends of its axis in `block` are that place.
    #[must_use]
    pub fn new(
        spec: &Spec,
        rank: Rank,
        carrier: Carrier,
        look: (Axis, Side),
        stage: Stage,
        block: Block,
    ) -> Self {
        let lifts = Lift::one(stage, block.z.clone());
        let (axis, side) = look;
        Self { spec: spec.shared(), rank, carrier, axis, side, covered: false, lifts, block }
    }

    /// With stages by height.
    #[must_use]
    pub fn in_lifts(mut self, lifts: &[Lift]) -> Self {
        self.lifts = lifts.to_vec();
        self
    }
}

/// Everything elements set out.
#[derive(Debug, Default)]
pub struct SetOut {
    /// Claims on space.
    pub claims: Vec<Claim>,
    /// Gross faces.
    pub faces: Vec<Face>,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::works::concrete;

    #[test]
    fn a_spec_changed_after_it_was_shared_is_not_its_old_copy() {
        let mut spec = Spec::of(&concrete::CONCRETE_BASE, "1:2:4", &[]);
        assert_eq!(spec.shared().spec, "1:2:4");
        assert!(Rc::ptr_eq(&spec.shared(), &spec.shared()));
        spec.spec = "1:3:6".to_owned();
        assert_eq!(spec.shared().spec, "1:3:6");
    }
}
