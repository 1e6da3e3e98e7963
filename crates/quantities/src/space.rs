//! The painted space as plain data: who fills which cell between which planes. Drawings cut it; they can never show
//! another tank than the one that was measured.

use std::collections::BTreeMap;
use std::rc::Rc;

use tankwright_geometry::cells::Painted;
use tankwright_geometry::{Cells, Cuts, Len, Ratio, Z, nearest};

use crate::ledger::{Claim, SetOut, Spec};
use crate::site::Site;
use crate::stage::Stage;
use crate::works::Drawn;

/// A level: flat, or at this distance from the floor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Level {
    /// Tenths of a millimetre from ground, or from the floor where it follows.
    pub off: i64,
    /// Does it follow the floor?
    pub follows: bool,
}

/// What a cell is filled with, as drawings need to know it. Claims that look alike are one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Look {
    /// Word key of the part.
    pub part: &'static str,
    /// Its work.
    pub work: &'static str,
    /// Specification.
    pub spec: String,
    /// Hatching.
    pub drawn: Drawn,
    /// Thickness of a wall, tenths of a millimetre.
    pub thickness: Option<i64>,
    /// Mix of concrete or mortar; empty for none.
    pub mix: String,
    /// Masonry unit as printed; empty for none.
    pub unit: String,
}

impl Look {
    /// Is it empty?
    #[must_use]
    pub const fn is_void(&self) -> bool {
        matches!(self.drawn, Drawn::Hole | Drawn::Room)
    }
}

/// A cylinder inscribed in a box of cells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Round {
    /// Cells from and to, along x, y and z.
    pub cells: [[usize; 2]; 3],
    /// Its axis: 0, 1 or 2.
    pub axis: usize,
    /// What fills it.
    pub look: usize,
}

/// The floor, tenths of a millimetre: level before x = 0 and beyond `length`, falling between them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Fall {
    /// Level at the outlet end.
    pub outlet: i64,
    /// How much lower the inlet end lies.
    pub fall: i64,
    /// Clear length.
    pub length: i64,
}

impl Fall {
    /// Level of the floor at a place, to the tenth of a millimetre.
    #[must_use]
    pub fn at(&self, x: i64) -> i64 {
        let run = (self.length - x).clamp(0, self.length);
        let drop = i128::from(self.fall) * i128::from(run);
        self.outlet
            - nearest(drop, i128::from(self.length.max(1))).map_or(0, |d| i64::try_from(d).unwrap_or(0))
    }
}

/// The cells. Coordinates are tenths of a millimetre: x along the flow from the inner face of the inlet end wall,
/// y across it from the left inner face, z up from ground.
#[derive(Clone, Debug, Default)]
pub struct Space {
    /// Planes along x; cell i lies between plane i and i + 1.
    pub x: Vec<i64>,
    /// Planes along y.
    pub y: Vec<i64>,
    /// Levels, from below: those that follow the floor, then flat ones.
    pub z: Vec<Level>,
    /// The floor.
    pub floor: Fall,
    /// What fills cells.
    pub looks: Vec<Look>,
    /// Cylinders; their cells are listed with the look of the corners they leave.
    pub rounds: Vec<Round>,
    /// Of each cell, x by y by z: its look plus one, or 0.
    cells: Vec<u16>,
    /// When it is built, or left open.
    stages: Vec<Option<Stage>>,
    /// The stage whose work is shown, where it is the space as it stands then.
    pub now: Option<Stage>,
}

impl Space {
    /// Number of cells along x, y and z.
    #[must_use]
    pub fn size(&self) -> [usize; 3] {
        [self.x.len(), self.y.len(), self.z.len()].map(|n| n.saturating_sub(1))
    }

    /// What fills a cell; of a cylinder's cell, its corners.
    #[must_use]
    pub fn look(&self, [x, y, z]: [usize; 3]) -> Option<usize> {
        let [nx, ny, nz] = self.size();
        let at = (x < nx && y < ny && z < nz).then_some((x * ny + y) * nz + z)?;
        let at = self.cells.get(at)?;
        usize::from(*at).checked_sub(1)
    }

    /// When a cell is built.
    #[must_use]
    pub fn stage(&self, [x, y, z]: [usize; 3]) -> Option<Stage> {
        let [nx, ny, nz] = self.size();
        let at = (x < nx && y < ny && z < nz).then_some((x * ny + y) * nz + z)?;
        self.stages.get(at).copied().flatten()
    }

    /// Is it what is built in the stage that is shown?
    #[must_use]
    pub fn is_new(&self, cell: [usize; 3]) -> bool {
        self.now.is_some() && self.stage(cell) == self.now
    }

    /// When each cell stands in its place: what hangs in others, and is made before them, stands when they do.
    fn settled(&self) -> Vec<Option<Stage>> {
        let [nx, ny, nz] = self.size();
        let index = |[x, y, z]: [usize; 3]| (x * ny + y) * nz + z;
        let cells = || (0..nx).flat_map(|x| (0..ny).flat_map(move |y| (0..nz).map(move |z| [x, y, z])));
        let solid = |cell| self.look(cell).and_then(|l| self.looks.get(l)).is_some_and(|l| !l.is_void());
        let grounded = |[x, y, z]: [usize; 3]| z == 0 || self.look([x, y, z - 1]).is_none();
        let beside = |cell: [usize; 3]| {
            let moved = move |(axis, up): (usize, bool)| {
                let mut near = cell;
                near[axis] = if up { cell[axis] + 1 } else { cell[axis].checked_sub(1)? };
                Some(near)
            };
            (0..3).flat_map(|axis| [(axis, false), (axis, true)]).filter_map(moved)
        };
        let built = |cell| self.stage(cell).filter(|_| solid(cell));
        let mut waiting: BTreeMap<Stage, Vec<[usize; 3]>> = BTreeMap::new();
        for cell in cells().filter(|c| grounded(*c)) {
            if let Some(stage) = built(cell) {
                waiting.entry(stage).or_default().push(cell);
            }
        }
        let mut settled: Vec<Option<Stage>> = vec![None; self.cells.len()];
        while let Some((now, mut next)) = waiting.pop_first() {
            while let Some(cell) = next.pop() {
                let Some(at @ None) = settled.get_mut(index(cell)) else { continue };
                *at = Some(now);
                for near in beside(cell) {
                    match built(near) {
                        Some(stage) if stage > now => waiting.entry(stage).or_default().push(near),
                        Some(_) => next.push(near),
                        None => {}
                    }
                }
            }
        }
        let own = settled.iter().zip(&self.stages);
        own.map(|(stands, built)| stands.or(*built)).collect()
    }

    /// The space as it stands at the end of a stage: what is built later is open still.
    #[must_use]
    pub fn until(&self, now: Stage) -> Self {
        let mut space = Self { now: Some(now), stages: self.settled(), ..self.clone() };
        // Every tank has a room; without one nothing is drawn there.
        let room = self.looks.iter().position(|l| l.drawn == Drawn::Room).map_or(0, |i| i + 1);
        let open = u16::try_from(room).unwrap_or(0);
        for (cell, stage) in space.cells.iter_mut().zip(&space.stages) {
            if *cell != 0 && stage.is_some_and(|s| s > now) {
                *cell = open;
            }
        }
        // A hole is where its wall stands.
        let holes = std::mem::take(&mut space.rounds);
        let stands = |r: &Round| space.stage(r.cells.map(|[from, _]| from)).is_some_and(|s| s <= now);
        space.rounds = holes.into_iter().filter(stands).collect();
        space
    }

    /// Height of a level at a place along the tank.
    #[must_use]
    pub fn level(&self, level: usize, x: i64) -> i64 {
        self.z.get(level).map_or(0, |z| if z.follows { z.off + self.floor.at(x) } else { z.off })
    }

    /// The same with one more flat level, cutting the layer that it lies in.
    #[must_use]
    pub fn with_level(&self, off: i64) -> Self {
        let mut space = self.clone();
        let own = Level { off, follows: false };
        let flat = |z: &Level| !z.follows && z.off >= off;
        let Some(at) = self.z.iter().position(flat).filter(|at| *at > 0 && self.z.get(*at) != Some(&own))
        else {
            return space;
        };
        space.z.insert(at, own);
        let [nx, ny, nz] = self.size();
        space.cells = Vec::with_capacity(nx * ny * (nz + 1));
        space.stages = Vec::with_capacity(nx * ny * (nz + 1));
        let layers = |z: usize| if z < at { z } else { z - 1 };
        for x in 0..nx {
            for y in 0..ny {
                let old = (0..=nz).map(|z| (x * ny + y) * nz + layers(z));
                space.cells.extend(old.clone().map(|i| self.cells.get(i).copied().unwrap_or(0)));
                space.stages.extend(old.map(|i| self.stages.get(i).copied().flatten()));
            }
        }
        for round in &mut space.rounds {
            let [from, to] = round.cells[2];
            round.cells[2] = [from + usize::from(from >= at), to + usize::from(to >= at)];
        }
        space
    }

    /// Paints the claims of a site. Empty where the numbers grow too large, which the model refuses.
    #[must_use]
    pub fn paint(site: &Site<'_>, set: &SetOut) -> Self {
        Self::painted(site, set).unwrap_or_default()
    }

    fn painted(site: &Site<'_>, set: &SetOut) -> Option<Self> {
        let ground = Z::flat(Len::ZERO);
        let lifts = set.claims.iter().flat_map(|c| &c.lifts).flat_map(|l| &l.z);
        let levels = std::iter::once(&ground).chain(lifts);
        let cuts = Cuts::of(set.claims.iter().map(|c| &c.block), levels, &site.floor)?;
        let painted =
            |c: &Claim| Some(Painted { part: cuts.part(&c.block)?, rank: c.rank.0, round: c.round });
        let blocks = set.claims.iter().map(painted).collect::<Option<Vec<_>>>()?;
        let (size, follow) = cuts.size();
        let follow = if site.floor.fall.is_zero() { 0 } else { usize::from(follow) };
        let along = |axis| cuts.planes(axis).map(whole).collect::<Vec<_>>();
        let levels = along(2).into_iter().enumerate();
        let mut space = Self {
            x: along(0),
            y: along(1),
            z: levels.map(|(i, off)| Level { off, follows: i < follow }).collect(),
            floor: Fall {
                outlet: tenths(&site.floor.outlet),
                fall: tenths(&site.floor.fall),
                length: tenths(&site.floor.length),
            },
            ..Self::default()
        };
        let own: Vec<usize> = set.claims.iter().map(|c| space.look_of(look(site, c))).collect();
        let cells = Cells::paint(&blocks, size);
        for cell in cells.all() {
            let fill = cells.fill(cell);
            let round = fill.owner.is_some_and(|o| set.claims.get(o).is_some_and(|c| c.round));
            let shown = if round { fill.corners } else { fill.owner };
            let at = shown.and_then(|o| own.get(o)).and_then(|o| u16::try_from(o + 1).ok());
            space.cells.push(at.unwrap_or(0));
            space
                .stages
                .push(shown.and_then(|o| set.claims.get(o)).and_then(|c| stage_of(c, &cuts, cell[2])));
        }
        for ((claim, block), look) in set.claims.iter().zip(&blocks).zip(own) {
            if claim.round {
                let cells = block.part.map(|run| run.map(usize::from));
                let [_, dy, dz] =
                    [&claim.block.x, &claim.block.y, &claim.block.y].map(|s| (&s[1] - &s[0]).value());
                let axis = if dy == dz { 0 } else { 1 };
                space.rounds.push(Round { cells, axis, look });
            }
        }
        Some(space)
    }

    fn look_of(&mut self, look: Look) -> usize {
        if let Some(at) = self.looks.iter().position(|l| *l == look) {
            return at;
        }
        self.looks.push(look);
        self.looks.len() - 1
    }
}

/// The stage in which a claim's layer is built.
fn stage_of(claim: &Claim, cuts: &Cuts, layer: usize) -> Option<Stage> {
    let holds = |l: &&crate::ledger::Lift| {
        let [from, to] = cuts.slab(&l.z).map(usize::from);
        (from..to).contains(&layer)
    };
    claim.lifts.iter().find(holds).map(|l| l.stage)
}

/// Whole tenths of a millimetre: a tenth is less than what a pen draws.
#[must_use]
pub fn whole(value: Ratio) -> i64 {
    nearest(value.numer(), value.denom()).and_then(|n| i64::try_from(n).ok()).unwrap_or(0)
}

/// A length in whole tenths of a millimetre.
#[must_use]
pub fn tenths(len: &Len) -> i64 {
    whole(len.value())
}

fn look(site: &Site<'_>, claim: &Claim) -> Look {
    let spec: &Rc<Spec> = &claim.spec;
    let made = &spec.made;
    let unit = if made.unit.is_empty() { String::new() } else { site.unit_title(&made.unit).to_owned() };
    let concrete = matches!(spec.work.drawn, Drawn::Concrete | Drawn::Reinforced | Drawn::Blinding);
    let mix = if concrete { spec.spec.split('/').next().unwrap_or_default() } else { &made.mix };
    // Made to carry bars: hatched so where the job gives it any.
    let bars = || {
        let part = format!("steel.{}", claim.part.replace('-', "_"));
        site.job.has(&part) || site.job.has(&format!("{part}s"))
    };
    let drawn = match spec.work.drawn {
        Drawn::Reinforced if !bars() => Drawn::Concrete,
        other => other,
    };
    Look {
        part: claim.part,
        work: spec.work.id,
        spec: spec.spec.clone(),
        drawn,
        thickness: made.thickness.as_ref().map(tenths),
        mix: mix.to_owned(),
        unit,
    }
}
