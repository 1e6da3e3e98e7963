//! What a drawing shows besides the painted space: the dig, water, pipes, levels, the line from the house to the ground
//! that takes the water, and what stands by itself (soak pit, drain, inspection chamber). Elements say it in a few
//! plain shapes; nothing here knows an element. All coordinates are tenths of a millimetre, axes as in `space.rs`.

use tankwright_geometry::{Len, Ratio};

use crate::elements::Element;
pub use crate::figure::{Body, Figure, Inflow, Lies};
use crate::levels::{self, Run};
use crate::site::Site;
use crate::space::tenths;
use crate::stage::Stage;
use crate::words::Phrase;

/// From and to.
pub type Span = [i64; 2];

/// The hole in the ground that the tank stands in: level top, a bottom that follows the floor, sides that may lean.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dig {
    /// Bottom along x and y.
    pub bottom: [Span; 2],
    /// At ground level.
    pub top: [Span; 2],
    /// Bottom below the floor.
    pub below_floor: i64,
    /// Is earth put back between its sides and the tank?
    pub filled: bool,
    /// When it is dug, and when earth is put back.
    pub stages: [Stage; 2],
}

/// Water in a chamber.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Water {
    /// Along and across.
    pub plan: [Span; 2],
    /// Its level.
    pub level: i64,
}

/// A straight piece of pipe.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pipe {
    /// In words; a piece without is the continuation of another.
    pub name: Option<Phrase>,
    /// Ends of the centre line: x, y, z.
    pub ends: [[i64; 3]; 2],
    /// Outside diameter.
    pub diameter: i64,
    /// When it is laid or built in.
    pub stage: Stage,
}

/// A lid over a hole that one can climb through.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lid {
    /// Clear opening, along and across.
    pub plan: [Span; 2],
    /// Its top.
    pub level: i64,
    /// When it is laid.
    pub stage: Stage,
}

/// A pipe that lets air out, upright over a room.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Vent {
    /// In words.
    pub title: Phrase,
    /// Where its axis is drawn: along, across.
    pub at: [i64; 2],
    /// From the top of the slab up to its end.
    pub z: Span,
    /// Diameter as drawn.
    pub diameter: i64,
    /// When it is set.
    pub stage: Stage,
}

/// A level to be marked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mark {
    /// In words.
    pub title: Phrase,
    /// From ground, up.
    pub level: i64,
}

/// A room with its name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Room {
    /// In words.
    pub title: Phrase,
    /// Along and across.
    pub plan: [Span; 2],
    /// When its walls are begun.
    pub stage: Stage,
}

/// Soil heaped over the tank, above the ground.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Heap {
    /// Along and across.
    pub plan: [Span; 2],
    /// From and to.
    pub z: Span,
    /// When it is heaped.
    pub stage: Stage,
}

/// Where something stands along the drain.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Along {
    /// Pipes from the house.
    In,
    /// Chambers in that line.
    Inspected,
    /// The tank.
    Tank,
    /// The pipe from it.
    Out,
    /// Where the water leaves.
    Ground,
    /// Beside the line.
    Beside,
}

/// Outline on plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Plan {
    /// A length of pipe.
    Run {
        /// Its length.
        length: i64,
        /// Diameter.
        diameter: i64,
    },
    /// A rectangle: along the drain, across it.
    Box([i64; 2]),
    /// A circle of this diameter.
    Round(i64),
}

/// One thing along the drain.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stop {
    /// Where.
    pub along: Along,
    /// In words.
    pub title: Phrase,
    /// What is said of it besides, a line each.
    pub says: Vec<Phrase>,
    /// On plan.
    pub plan: Plan,
    /// So many of them.
    pub number: u32,
    /// Clear ground between two of them, where it is given.
    pub apart: Option<i64>,
}

/// An upright member from a base into a slab.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Upright {
    /// From its floor down to the underside of what it is cast into.
    pub below: i64,
    /// Top of the slab.
    pub slab: i64,
}

/// An opening under bars that carry the masonry over it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Over {
    /// From side to side.
    pub width: Span,
    /// Its sill.
    pub sill: i64,
}

/// A reinforced member: where it can be cut across, and its bars.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Detail {
    /// In words.
    pub title: Phrase,
    /// Along which axis it runs.
    pub axis: usize,
    /// From where to where.
    pub run: Span,
    /// Its section: the other two axes in their order.
    pub rect: [Span; 2],
    /// What is known of one that stands upright.
    pub upright: Option<Upright>,
    /// What is known of bars over an opening: they lie in a bed of mortar, which is their section.
    pub over: Option<Over>,
    /// Concrete over its bars.
    pub cover: i64,
    /// Marks of the bar schedule.
    pub marks: Vec<String>,
}

/// A flat face that is formed or lined, as the model found it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Formed {
    /// Its work and stage, as the ledger's item has them.
    pub work: &'static str,
    /// When it is struck.
    pub stage: Stage,
    /// The axis across it: 0, 1 or 2.
    pub axis: usize,
    /// Its corners, one after the other.
    pub corners: Vec<[i64; 3]>,
    /// The part of it that counts.
    pub share: Share,
    /// Area, m2.
    pub area: Ratio,
}

/// Which part of a face counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Share {
    /// All of it.
    Whole,
    /// The round that fits into it.
    Round,
    /// What that leaves.
    Corners,
}

/// All of it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sketch {
    /// The dig of the tank.
    pub digs: Vec<Dig>,
    /// Water.
    pub waters: Vec<Water>,
    /// Pipes at the tank.
    pub pipes: Vec<Pipe>,
    /// Levels of the tank.
    pub marks: Vec<Mark>,
    /// Its chambers.
    pub rooms: Vec<Room>,
    /// Soil over it.
    pub heaps: Vec<Heap>,
    /// Lids over its manholes.
    pub lids: Vec<Lid>,
    /// Vents.
    pub vents: Vec<Vent>,
    /// The drain, unordered.
    pub stops: Vec<Stop>,
    /// What stands by itself.
    pub figures: Vec<Figure>,
    /// Reinforced members, in the order of the bar schedule.
    pub details: Vec<Detail>,
    /// Faces that are formed.
    pub formed: Vec<Formed>,
    /// Faces that are plastered or covered with a sheet.
    pub lined: Vec<Formed>,
    /// Distances that the job gives: what lies there, how far from the tank.
    pub distances: Vec<(Phrase, i64)>,
    /// The same from where the water leaves.
    pub soak_distances: Vec<(Phrase, i64)>,
}

/// A span of lengths in tenths of a millimetre.
#[must_use]
pub fn span(of: &[Len; 2]) -> Span {
    [tenths(&of[0]), tenths(&of[1])]
}

/// A pipe through an end wall, with its tee.
#[derive(Clone, Debug)]
pub struct Through {
    /// In words.
    pub name: Phrase,
    /// Faces of the wall: outside, inside.
    pub wall: Span,
    /// Across the tank, the centre line.
    pub y: i64,
    /// Invert in the wall.
    pub invert: i64,
    /// Outside diameter.
    pub diameter: i64,
    /// Pipe under the tee.
    pub drop: i64,
    /// How much of it lies outside.
    pub length: i64,
    /// How much higher (+) or lower it lies at its far end.
    pub rise: i64,
}

/// What may lie round a tank: keys of `[site]` and their words.
const AROUND: [(&str, &str); 5] = [
    ("house", "draw-to-house"),
    ("well", "draw-to-well"),
    ("stream", "draw-to-stream"),
    ("boundary", "draw-to-boundary"),
    ("ground_abstraction", "draw-to-abstraction"),
];

/// So much of a pipe is shown outside the tank, tenths of a millimetre.
const SHOWN: i64 = 7_000;

impl Sketch {
    /// What there is of it at the end of a stage: no water, no soil over it, no pipe before it is laid. Levels only where
    /// something stands that has them.
    #[must_use]
    pub fn until(&self, now: Stage, top: i64) -> Self {
        let mut own = self.clone();
        own.waters.clear();
        own.rooms.retain(|r| r.stage <= now);
        own.heaps.retain(|h| h.stage <= now);
        own.pipes.retain(|p| p.stage <= now);
        own.lids.retain(|l| l.stage <= now);
        own.vents.retain(|v| v.stage <= now);
        own.marks.retain(|m| m.level <= top);
        for dig in &mut own.digs {
            dig.filled &= dig.stages[1] <= now;
        }
        own
    }

    /// Everything that the elements of a site say, in their order.
    #[must_use]
    pub fn of(elements: &[&dyn Element], site: &Site<'_>) -> Self {
        let mut out = Self::default();
        for element in elements {
            element.sketch(site, &mut out);
        }
        let marks = crate::setting_out::levels(site).into_iter();
        out.marks = marks.map(|(_, title, z)| Mark { title, level: tenths(&z) }).collect();
        for (key, word) in AROUND {
            let far = |path: String| site.job.has(&path).then(|| tenths(&site.job.len(&path)));
            out.distances.extend(far(format!("site.{key}")).map(|far| (Phrase::new(word), far)));
            out.soak_distances.extend(far(format!("site.soak.{key}")).map(|far| (Phrase::new(word), far)));
        }
        out.stops.sort_by_key(|stop| stop.along);
        out
    }

    /// A length of pipe on the way of the water.
    pub fn run(&mut self, along: Along, title: &Phrase, length: &Len, diameter: &Len, run: Option<&Run>) {
        if length.is_zero() {
            return;
        }
        let mut says = Vec::new();
        if let Some(run) = run {
            let mm = |l: &Len| {
                let length = l.value() / Ratio::int(10);
                crate::decimal::rounded(length, 1)
                    .map_or_else(|| crate::decimal::plain(length), |d| d.to_string())
            };
            let fall = levels::one_in(run);
            says.extend(fall.map(|fall| Phrase::with("draw-fall", &[&fall])));
            says.push(Phrase::with("draw-inverts", &[&mm(&run.from), &mm(&run.to)]));
        }
        let plan = Plan::Run { length: tenths(length), diameter: tenths(diameter) };
        self.stops.push(Stop { along, title: title.clone(), says, plan, number: 1, apart: None });
    }

    /// The pieces of a pipe through an end wall: outside with its fall, through the wall into the tee, the tee.
    pub fn through(&mut self, p: &Through) {
        let half = p.diameter / 2;
        let away = if p.wall[0] < p.wall[1] { -1 } else { 1 };
        let axis = p.invert + half;
        // The tee stands clear of the wall by half a diameter: common practice, no source.
        let tee = p.wall[1] - away * p.diameter;
        let shown = p.length.min(SHOWN);
        let rise = if p.length > 0 { p.rise * shown / p.length } else { 0 };
        let end = p.wall[0] + away * shown;
        let pipe = |name, ends, stage| Pipe { name, ends, diameter: p.diameter, stage };
        let outside = [[end, p.y, axis + rise], [p.wall[0], p.y, axis]];
        if shown > 0 {
            self.pipes.push(pipe(None, outside, Stage::Pipes));
        }
        let inside = [[p.wall[0], p.y, axis], [tee, p.y, axis]];
        self.pipes.push(pipe(Some(p.name.clone()), inside, Stage::WallsUpper));
        let under = if p.drop > 0 { p.invert - p.drop } else { p.invert - half };
        let upright = [[tee, p.y, p.invert + p.diameter + half], [tee, p.y, under]];
        self.pipes.push(pipe(None, upright, Stage::WallsUpper));
    }
}
