//! Who fills which cell of a site, and what its faces look at: the part of the model that hangs on the order of the
//! planes alone. Cells of one kind are put together to boxes.

use std::collections::BTreeMap;

use tankwright_geometry::cells::Painted;
use tankwright_geometry::cuts::{Part, Run, merged};
use tankwright_geometry::{Cells, Cuts, Len, PI, Ratio, Z};

use crate::ledger::{Claim, SetOut, over_break};
use crate::site::Site;
use crate::stage::Stage;
use crate::works::{FaceRule, Forms, Proof, Work, voids};

/// What is summed: work, specification and stage.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Key {
    pub(crate) work: &'static str,
    pub(crate) spec: String,
    pub(crate) stage: Stage,
}

impl Key {
    pub(crate) fn parts(&self) -> (&str, &str, Stage) {
        (self.work, &self.spec, self.stage)
    }
}

/// The part of a cell that belongs to a claim.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Share {
    /// All of it.
    Whole,
    /// The inscribed cylinder.
    Round,
    /// What the cylinder leaves.
    Corners,
}

impl Share {
    pub(crate) fn of(self) -> Ratio {
        let quarter = PI * Ratio::of(1, 4);
        match self {
            Self::Whole => Ratio::ONE,
            Self::Round => quarter,
            Self::Corners => Ratio::ONE - quarter,
        }
    }
}

/// Boxes by the part of them that counts.
type Boxes = [Vec<Part>; 3];

/// The boxes of a key: cells inside the prism of the outer plan and beyond it, faces by axis.
#[derive(Debug, Default)]
pub(crate) struct Sums {
    pub(crate) inside: Boxes,
    pub(crate) beyond: Boxes,
    pub(crate) faces: [Boxes; 3],
}

/// A painted space, in boxes.
#[derive(Debug, Default)]
pub(crate) struct Plan {
    outline: Outline,
    /// Works and specifications of the claims.
    specs: Vec<(&'static str, String)>,
    /// Sorted.
    pub(crate) keys: Vec<Key>,
    /// Of each key.
    pub(crate) sums: Vec<Sums>,
    pub(crate) in_ground: Vec<Part>,
    pub(crate) unclaimed: Vec<Part>,
}

/// All that a plan hangs on, besides works and specifications.
#[derive(Debug, Default, PartialEq, Eq)]
pub(crate) struct Outline {
    size: [usize; 3],
    blocks: Vec<Painted>,
    /// Lifts of all claims, claim after claim.
    lifts: Vec<(u16, Stage, Run)>,
    linings: Vec<(&'static str, Stage)>,
    /// Outer plan; from dig bottom to cover top; from dig bottom to ground.
    prism: Part,
    ground: Run,
    /// The first layer from ground level up.
    above: u16,
    open_pit: bool,
    /// Is over-break reckoned?
    over_break: bool,
}

impl Outline {
    pub(crate) fn of(site: &Site<'_>, set: &SetOut, cuts: &Cuts) -> Option<Self> {
        let painted =
            |c: &Claim| Some(Painted { part: cuts.part(&c.block)?, rank: c.rank.0, round: c.round });
        let mut lifts = Vec::with_capacity(set.claims.len() * 2);
        for (n, claim) in (0..).zip(&set.claims) {
            lifts.extend(claim.lifts.iter().map(|l| (n, l.stage, cuts.slab(&l.z))));
        }
        let flat = |l: &Len| Z::flat(l.clone());
        let [x, y] = cuts.within(site.outer_plan());
        Some(Self {
            size: cuts.size().0,
            blocks: set.claims.iter().map(painted).collect::<Option<_>>()?,
            lifts,
            linings: linings(set).into_iter().map(|(work, _, stage)| (work.id, stage)).collect(),
            prism: [x, y, cuts.slab(&[site.dig_bottom(), flat(&site.cover_top)])],
            ground: cuts.slab(&[site.dig_bottom(), flat(&Len::ZERO)]),
            above: cuts.from_level(Ratio::ZERO),
            open_pit: site.open,
            over_break: !site.open && !site.job.len("tank.pit.over_break").is_zero(),
        })
    }
}

/// What a face looks at.
#[derive(Clone, Copy, PartialEq)]
enum Near {
    Covered,
    Clear,
    Opening,
    Manhole,
    Open,
    Earth,
}

struct Painter<'a> {
    set: &'a SetOut,
    outline: &'a Outline,
    cells: Cells,
    /// Lift of each claim in each layer.
    lifts: Vec<Vec<Option<Stage>>>,
    found: BTreeMap<Key, Sums>,
    in_ground: Vec<Part>,
    unclaimed: Vec<Part>,
}

impl Plan {
    /// Is it the plan of this outline?
    pub(crate) fn is_of(&self, outline: &Outline, set: &SetOut) -> bool {
        let same = |(claim, (work, spec)): (&Claim, &(&str, String))| {
            claim.spec.work.id == *work && claim.spec.spec == *spec
        };
        self.outline == *outline && set.claims.iter().zip(&self.specs).all(same)
    }

    pub(crate) fn paint(outline: Outline, set: &SetOut) -> Self {
        let layers = outline.size[2];
        let mut lifts = vec![vec![None; layers]; set.claims.len()];
        for (n, stage, [from, to]) in &outline.lifts {
            for layer in *from..*to {
                let at = lifts.get_mut(usize::from(*n)).and_then(|l| l.get_mut(usize::from(layer)));
                if let Some(at @ None) = at {
                    *at = Some(*stage);
                }
            }
        }
        let cells = Cells::paint(&outline.blocks, outline.size);
        let mut painter = Painter {
            set,
            outline: &outline,
            cells,
            lifts,
            found: BTreeMap::new(),
            in_ground: Vec::new(),
            unclaimed: Vec::new(),
        };
        painter.volumes();
        painter.faces();
        let Painter { found, in_ground, unclaimed, .. } = painter;
        let (mut keys, mut sums) = (Vec::new(), Vec::new());
        for (key, sum) in found {
            keys.push(key);
            sums.push(Sums {
                inside: sum.inside.map(merged),
                beyond: sum.beyond.map(merged),
                faces: sum.faces.map(|f| f.map(merged)),
            });
        }
        let specs = set.claims.iter().map(|c| (c.spec.work.id, c.spec.spec.clone())).collect();
        // Unclaimed cells stay apart: their volumes count without sign.
        Self { outline, specs, keys, sums, in_ground: merged(in_ground), unclaimed }
    }
}

impl Painter<'_> {
    /// Who shares a cell, and in which part.
    fn shares(&self, cell: [usize; 3]) -> impl Iterator<Item = (usize, Share)> + use<> {
        let fill = self.cells.fill(cell);
        let round = fill.owner.is_some_and(|o| self.set.claims[o].round);
        let main = fill.owner.map(|o| (o, if round { Share::Round } else { Share::Whole }));
        let corners = fill.corners.filter(|_| round).map(|o| (o, Share::Corners));
        main.into_iter().chain(corners)
    }

    fn sums(&mut self, work: &'static str, spec: &str, stage: Stage) -> &mut Sums {
        self.found.entry(Key { work, spec: spec.to_owned(), stage }).or_default()
    }

    fn volumes(&mut self) {
        let within = |i: usize, run: Run| (usize::from(run[0])..usize::from(run[1])).contains(&i);
        let (prism, ground) = (self.outline.prism, self.outline.ground);
        for cell in self.cells.all() {
            let part = Cells::part(cell, None);
            let inside = cell.iter().zip(prism).all(|(i, run)| within(*i, run));
            let mut claimed = false;
            for (n, share) in self.shares(cell) {
                claimed = true;
                let claim = &self.set.claims[n];
                let Some(stage) = self.lifts[n][cell[2]] else { continue };
                let sums = self.sums(claim.spec.work.id, &claim.spec.spec, stage);
                let boxes = if inside { &mut sums.inside } else { &mut sums.beyond };
                boxes[share as usize].push(part);
            }
            if claimed && within(cell[2], ground) {
                self.in_ground.push(part);
            }
            if !claimed && inside {
                self.unclaimed.push(part);
            }
        }
    }

    fn near(&self, cell: [usize; 3]) -> Near {
        let Some(owner) = self.cells.fill(cell).owner else {
            let open = self.outline.open_pit || cell[2] >= usize::from(self.outline.above);
            return if open { Near::Open } else { Near::Earth };
        };
        let work = self.set.claims[owner].spec.work;
        match () {
            () if work == &voids::CLEAR_SPACE => Near::Clear,
            () if work == &voids::OPENING => Near::Opening,
            () if work == &voids::MANHOLE => Near::Manhole,
            () => Near::Covered,
        }
    }

    fn faces(&mut self) {
        let size = self.cells.size();
        let linings = linings(self.set);
        for cell in self.cells.all() {
            for axis in 0..3 {
                let mut next = cell;
                next[axis] += 1;
                if next[axis] == size[axis] || self.cells.fill(cell) == self.cells.fill(next) {
                    continue;
                }
                let up = |looks_up: bool| (axis == 2).then_some(looks_up);
                let face = (Cells::part(cell, Some(axis)), axis);
                self.face(cell, next, up(true), face, &linings);
                self.face(next, cell, up(false), face, &linings);
            }
        }
    }

    /// One face of a cell: `up` is none for a vertical face.
    fn face(
        &mut self,
        cell: [usize; 3],
        other: [usize; 3],
        up: Option<bool>,
        (face, axis): (Part, usize),
        linings: &[(&'static Work, FaceRule, Stage)],
    ) {
        let near = self.near(other);
        for (n, share) in self.shares(cell) {
            let claim = &self.set.claims[n];
            let work = claim.spec.work;
            if work.void {
                continue;
            }
            let stage = self.lifts[n][cell[2]];
            if let (Some(form), Some(stage)) = (formed(&work.forms, near, up), stage) {
                self.sums(form.id, "", stage).faces[axis][share as usize].push(face);
            }
            if let (Near::Earth, None, Some(stage), true) = (near, up, stage, self.outline.over_break)
                && let Some(over) = over_break::filling(claim, &Len::ZERO)
            {
                self.sums(over.work.id, &over.spec, stage).faces[axis][share as usize].push(face);
            }
            for (lining, rule, stage) in linings {
                let counts = match rule {
                    FaceRule::Inside => work.lined && matches!(near, Near::Clear | Near::Opening),
                    FaceRule::Outside => work.lined && near == Near::Open && up.is_none(),
                    FaceRule::Top(on) => work == *on && up == Some(true) && near == Near::Clear,
                    FaceRule::Under(on) => work == *on && up == Some(false),
                    FaceRule::Forms | FaceRule::Ground => false,
                };
                // Pipe holes stay in the outside face: the wall that has their corners counts wholly.
                let share = if *rule == FaceRule::Outside { Share::Whole } else { share };
                if counts {
                    self.sums(lining.id, "", *stage).faces[axis][share as usize].push(face);
                }
            }
        }
    }
}

fn formed(forms: &Forms, near: Near, up: Option<bool>) -> Option<&'static Work> {
    match (near, up) {
        (Near::Clear | Near::Opening, None) => forms.inside,
        (Near::Open, None) => forms.outside,
        (Near::Clear | Near::Opening, Some(false)) => forms.soffit,
        (Near::Manhole, None) => forms.hole,
        _ => None,
    }
}

/// The linings this job asks for: work, rule and stage.
fn linings(set: &SetOut) -> Vec<(&'static Work, FaceRule, Stage)> {
    let mut found = Vec::new();
    for face in &set.faces {
        let Proof::Faces(rule) = face.spec.work.proof else { continue };
        let Some(lift) = face.lifts.first().filter(|_| !matches!(rule, FaceRule::Forms | FaceRule::Ground))
        else {
            continue;
        };
        if !found.iter().any(|(w, _, _): &(&Work, _, _)| *w == face.spec.work) {
            found.push((face.spec.work, rule, lift.stage));
        }
    }
    found
}
