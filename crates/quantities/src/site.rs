//! Setting-out: the dimensions and levels that elements share, derived once from the job.

use std::cell::OnceCell;

use tankwright_geometry::{Block, Floor, Judge, Len, Ratio, Z};

use crate::job::Job;
use crate::ledger::{Lift, Spec};
use crate::made::Made;
use crate::rates::{MasonryUnit, Profile, Stock};
use crate::stage::Stage;
use crate::works::finishes;

/// A partition's extent along the tank.
pub type Span = [Len; 2];

/// The layers under the floor.
#[derive(Debug)]
pub struct Layers {
    /// Base slab.
    pub base: Len,
    /// Blinding under it.
    pub blinding: Len,
    /// Hardcore under both.
    pub hardcore: Len,
}

/// Shared dimensions. x along the flow from the inner face of the inlet end wall, y across from the left inner face
/// seen downstream, z up from ground level.
#[derive(Debug)]
pub struct Site<'a> {
    /// The job.
    pub job: &'a Job,
    /// Data.
    pub stock: &'a Stock,
    /// How it is measured.
    pub profile: &'a Profile,
    /// Compares lengths.
    pub judge: &'a Judge,
    /// Clear lengths of the chambers, from the inlet.
    pub chambers: Vec<Len>,
    /// Clear length: chambers and partitions.
    pub length: Len,
    /// Clear width.
    pub width: Len,
    /// Thickness of the outer walls.
    pub wall: Len,
    /// Extents of the partitions along x.
    pub partitions: Vec<Span>,
    /// Thickness of a partition.
    pub partition: Len,
    /// Air gap over partitions.
    pub air_gap: Len,
    /// The floor.
    pub floor: Floor,
    /// Top of the cover.
    pub cover_top: Len,
    /// Underside of the cover.
    pub cover_bottom: Len,
    /// Top of masonry.
    pub masonry_top: Len,
    /// Depth of the wall beams.
    pub wall_beams: Len,
    /// Thickness of base, blinding and hardcore, from the top.
    pub layers: Layers,
    /// Base beyond the walls.
    pub projection: Len,
    /// Open pit?
    pub open: bool,
    /// Working space of an open pit.
    pub working_space: Len,
    /// Batter of an open pit: horizontal per 1 vertical, a plain number.
    pub batter: Len,
    /// Undersides and tops of the ring beams, in the order of the job file.
    pub ring_beams: Vec<[Len; 2]>,
    /// Which of them is the lowest.
    pub lowest_ring: Option<usize>,
    /// Invert of the outlet.
    pub water_line: Option<Len>,
    /// Masonry unit of the walls.
    pub unit: Option<&'a MasonryUnit>,
    plaster: OnceCell<Option<Spec>>,
}

impl<'a> Site<'a> {
    /// Derives the shared dimensions. Impossible ones are reported by the elements they belong to.
    #[must_use]
    pub fn set_out(job: &'a Job, stock: &'a Stock, profile: &'a Profile, judge: &'a Judge) -> Self {
        let chambers = job.lens("tank.chambers");
        let wall = job.len("tank.walls.thickness");
        let partition = if job.has("tank.partitions.thickness") {
            job.len("tank.partitions.thickness")
        } else {
            wall.clone()
        };
        let mut partitions = Vec::new();
        let mut length = Len::ZERO;
        for (i, chamber) in chambers.iter().enumerate() {
            length = length + chamber;
            if i + 1 < chambers.len() {
                let from = length.clone();
                length = length + &partition;
                partitions.push([from, length.clone()]);
            }
        }
        let cover_top = job.len("tank.cover_top");
        let cover_bottom = &cover_top - &job.len("tank.cover.thickness");
        let wall_beams = job.len("tank.cover.wall_beams");
        let masonry_top = &cover_bottom - &wall_beams;
        let outlet = &cover_bottom - &job.len("tank.height");
        let floor = Floor { outlet: outlet.clone(), fall: job.len("tank.base.fall"), length: length.clone() };
        let ring = |i: usize| {
            let bottom = &outlet + &job.len(&format!("tank.ring_beams[{i}].above_floor"));
            let top = &bottom + &job.len(&format!("tank.ring_beams[{i}].depth"));
            [bottom, top]
        };
        let ring_beams: Vec<_> = (0..job.count_of("tank.ring_beams")).map(ring).collect();
        let lowest_ring =
            (0..ring_beams.len()).min_by(|a, b| judge.cmp(&ring_beams[*a][0], &ring_beams[*b][0]));
        let outlet_pipe =
            job.has("tank.pipes.outlet").then(|| &masonry_top - &job.len("tank.pipes.outlet.below_top"));
        Self {
            job,
            stock,
            profile,
            judge,
            chambers,
            width: job.len("tank.width"),
            wall,
            partitions,
            partition,
            air_gap: job.len("tank.partitions.air_gap"),
            floor,
            cover_top,
            cover_bottom,
            masonry_top,
            wall_beams,
            layers: Layers {
                base: job.len("tank.base.concrete.thickness"),
                blinding: job.len("tank.base.blinding.thickness"),
                hardcore: job.len("tank.base.hardcore"),
            },
            projection: job.len("tank.base.projection"),
            open: job.text("tank.pit.face") == "open",
            working_space: job.len("tank.pit.working_space"),
            batter: job.len("tank.pit.batter"),
            ring_beams,
            lowest_ring,
            water_line: outlet_pipe,
            unit: stock.units.get(job.text("tank.walls.unit")),
            plaster: OnceCell::new(),
            length,
        }
    }

    /// Is a length less than another? Asked where it says what can be built, not how it is measured.
    #[must_use]
    pub fn less(&self, a: &Len, b: &Len) -> bool {
        self.judge.limit(a, b).is_lt()
    }

    /// Are two lengths the same? Asked as [`less`](Self::less).
    #[must_use]
    pub fn same(&self, a: &Len, b: &Len) -> bool {
        self.judge.limit(a, b).is_eq()
    }

    /// Outer plan along x.
    #[must_use]
    pub fn outer_x(&self) -> Span {
        [-&self.wall, &self.length + &self.wall]
    }

    /// Outer plan along y.
    #[must_use]
    pub fn outer_y(&self) -> Span {
        [-&self.wall, &self.width + &self.wall]
    }

    /// Outer length.
    #[must_use]
    pub fn outer_length(&self) -> Len {
        &self.length + &self.wall.times(2)
    }

    /// Outer width.
    #[must_use]
    pub fn outer_width(&self) -> Len {
        &self.width + &self.wall.times(2)
    }

    /// Outer plan as values: x from, x to, y from, y to.
    #[must_use]
    pub fn outer_plan(&self) -> [Ratio; 4] {
        let ([x0, x1], [y0, y1]) = (self.outer_x(), self.outer_y());
        [x0.value(), x1.value(), y0.value(), y1.value()]
    }

    /// Depth of the dig bottom below the floor.
    #[must_use]
    pub fn layers_deep(&self) -> Len {
        &(&self.layers.base + &self.layers.blinding) + &self.layers.hardcore
    }

    /// The bottom of the dig; it follows the floor.
    #[must_use]
    pub fn dig_bottom(&self) -> Z {
        Z::floor(-&self.layers_deep())
    }

    /// The floor as a level.
    #[must_use]
    pub fn on_floor(&self) -> Z {
        Z::floor(Len::ZERO)
    }

    /// Depth of the dig at the outlet end (where the bottom is highest), from ground.
    #[must_use]
    pub fn dig_depth(&self) -> Len {
        &self.layers_deep() - &self.floor.outlet
    }

    /// A block.
    #[must_use]
    pub fn block(x: [&Len; 2], y: [&Len; 2], z: [&Z; 2]) -> Block {
        Block { x: x.map(Clone::clone), y: y.map(Clone::clone), z: z.map(Clone::clone) }
    }

    /// Height from a level down to the floor, mean between two places without a bend between them.
    #[must_use]
    pub fn above_floor(&self, level: &Len, x: [&Len; 2]) -> Len {
        level - &self.floor.mean(self.judge, x)
    }

    /// Mean height of a lift between two places without a bend between them.
    #[must_use]
    pub fn lift_height(&self, lift: &Lift, x: [&Len; 2]) -> Len {
        let [bottom, top] = &lift.z;
        if bottom.follows { self.above_floor(&top.off, x) } else { &top.off - &bottom.off }
    }

    /// Lifts of masonry or columns from the floor to `top`: stages change at the lowest ring beam.
    /// `over`: what is built in the beam's own depth (columns; partitions belong to the lift above it).
    #[must_use]
    pub fn lifts(&self, top: &Len, over: Over) -> Vec<Lift> {
        let bottom = self.on_floor();
        let Some(ring) = self.lowest_ring else {
            return Lift::one(Stage::WallsLower, [bottom, Z::flat(top.clone())]);
        };
        let [under, upper] = &self.ring_beams[ring];
        let marks: Vec<(Stage, Z)> = match over {
            Over::Beam => vec![
                (Stage::WallsLower, bottom),
                (Stage::RingBeam, Z::flat(under.clone())),
                (Stage::WallsUpper, Z::flat(upper.clone())),
            ],
            Over::Left => vec![(Stage::WallsLower, bottom), (Stage::WallsUpper, Z::flat(under.clone()))],
        };
        let mut lifts = Vec::new();
        for (i, (stage, from)) in marks.iter().enumerate() {
            let top = Z::flat(top.clone());
            let to = marks.get(i + 1).map_or(&top, |(_, z)| z);
            let to = if self.judge.cmp(&to.off, &top.off).is_gt() { &top } else { to };
            if !from.follows && self.judge.cmp(&from.off, &to.off).is_ge() {
                break;
            }
            lifts.push(Lift { stage: *stage, z: [from.clone(), to.clone()] });
        }
        lifts
    }

    /// What of a height is open outside: all of it in an open pit, else what stands above ground.
    #[must_use]
    pub fn outside(&self, z: &[Z; 2]) -> Option<[Z; 2]> {
        if self.open {
            return Some(z.clone());
        }
        let ground = Len::ZERO;
        if !self.judge.positive(&z[1].off) {
            return None;
        }
        let low =
            if z[0].follows || !self.judge.positive(&z[0].off) { Z::flat(ground) } else { z[0].clone() };
        Some([low, z[1].clone()])
    }

    /// Plaster, if the job asks for it: one copy for all that is plastered.
    #[must_use]
    pub fn plaster(&self) -> Option<&Spec> {
        let make = || self.finish("tank.plaster", &finishes::PLASTER_WALL);
        let plaster = self.plaster.get_or_init(make).as_ref();
        // It stands in the words of whoever asks.
        if let Some(thickness) = plaster.and_then(|p| p.made.thickness.as_ref()) {
            self.judge.fix(thickness);
        }
        plaster
    }

    /// A finish of thickness and mix at a part of the job file.
    #[must_use]
    pub fn finish(&self, part: &str, work: &'static crate::works::Work) -> Option<Spec> {
        if !self.job.has(part) {
            return None;
        }
        let mm = self.mm(&self.job.len(&format!("{part}.thickness")));
        let mix = self.job.text(&format!("{part}.mix"));
        let proofed = if work == &finishes::PLASTER_OUTSIDE { "" } else { self.waterproofed() };
        let mark = if proofed.is_empty() { "" } else { "/waterproofed" };
        let thickness = Some(self.job.len(&format!("{part}.thickness")));
        let made =
            Made { mix: mix.to_owned(), thickness, waterproofed: !proofed.is_empty(), ..Made::NOTHING };
        Some(Spec { spec: format!("{mm}/{mix}{mark}"), ..Spec::of(work, &mm, &[mix, proofed]).made(made) })
    }

    /// Unit and mortar of a wall, the outer walls' own where the part gives none.
    #[must_use]
    pub fn masonry(&self, part: &str, thickness: &Len) -> Made {
        let own = |key: &str| {
            let text = self.job.text(&format!("{part}.{key}"));
            if text.is_empty() { self.job.text(&format!("tank.walls.{key}")) } else { text }.to_owned()
        };
        Made { mix: own("mortar"), unit: own("unit"), thickness: Some(thickness.clone()), ..Made::NOTHING }
    }

    /// The words that name the waterproofer, where the job asks for it.
    #[must_use]
    pub fn waterproofed(&self) -> &'static str {
        if self.job.flag("tank.plaster.waterproofer") {
            crate::words::look_up("with-waterproofer")
        } else {
            ""
        }
    }

    /// A masonry unit as printed; its id where the stock has no such unit.
    #[must_use]
    pub fn unit_title<'t>(&'t self, id: &'t str) -> &'t str {
        self.stock.units.get(id).map_or(id, |u| &u.title)
    }

    /// A length in whole or decimal millimetres, for specifications.
    #[must_use]
    pub fn mm(&self, len: &Len) -> String {
        self.judge.fix(len);
        crate::decimal::plain(len.value() / Ratio::int(10))
    }
}

/// What stands in the depth of the lowest ring beam.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Over {
    /// A stage of its own: columns, and walls (whose masonry the beam replaces).
    Beam,
    /// Nothing special: partitions go on with the upper lift.
    Left,
}
