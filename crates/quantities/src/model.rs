//! The solid model: the claims painted into cells. It proves volumes and faces and never reads a line.

use std::collections::BTreeMap;

use tankwright_geometry::cells::Painted;
use tankwright_geometry::{Cells, Floor, Len, PI, Ratio, Z};

use crate::ledger::{Claim, SetOut, Spec, over_break};
use crate::site::Site;
use crate::stage::Stage;
use crate::works::{FaceRule, Forms, Proof, Work, voids};

type Key = (&'static str, String, Stage);

/// Volumes and faces by work, specification and stage; cubic and square metres.
#[derive(Debug, Default)]
pub struct Model {
    volumes: BTreeMap<Key, Ratio>,
    areas: BTreeMap<Key, Ratio>,
    beyond: BTreeMap<Key, Ratio>,
    /// Everything between dig bottom and ground that stands in the pit, m3.
    pub in_ground: Ratio,
    /// Space inside the outer plan that nobody claims, m3: a defect.
    pub unclaimed: Ratio,
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
    cells: Cells,
    floor: &'a Floor,
    open_pit: bool,
    /// Is over-break reckoned?
    over_break: bool,
    /// Lift of each claim in each layer.
    lifts: Vec<Vec<Option<Stage>>>,
}

impl Model {
    /// Paints a site's claims.
    #[must_use]
    pub fn paint(site: &Site<'_>, set: &SetOut) -> Self {
        let painted: Vec<_> =
            set.claims.iter().map(|c| Painted { block: &c.block, rank: c.rank.0, round: c.round }).collect();
        let mut levels =
            vec![Z::flat(tankwright_geometry::Len::ZERO), site.dig_bottom(), Z::flat(site.cover_top.clone())];
        levels.extend(set.claims.iter().flat_map(|c| &c.lifts).flat_map(|l| l.z.clone()));
        let cells = Cells::paint(&painted, &levels, &site.floor);
        let layers = cells.size()[2];
        let lift =
            |c: &Claim, z| c.lifts.iter().find(|l| cells.between(z, &l.z, &site.floor)).map(|l| l.stage);
        let lifts = set.claims.iter().map(|c| (0..layers).map(|z| lift(c, z)).collect()).collect();
        let over_break = !site.open && !site.job.len("tank.pit.over_break").is_zero();
        let painter = Painter { set, cells, floor: &site.floor, open_pit: site.open, over_break, lifts };
        let mut model = Self::default();
        painter.volumes(site, &mut model);
        painter.faces(&mut model);
        model
    }

    /// Volume of a work, m3.
    #[must_use]
    pub fn volume(&self, spec: &Spec, stage: Stage) -> Ratio {
        self.volumes.get(&(spec.work.id, spec.spec.clone(), stage)).copied().unwrap_or(Ratio::ZERO)
    }

    /// Area of a formwork or lining, m2.
    #[must_use]
    pub fn area(&self, spec: &Spec, stage: Stage) -> Ratio {
        let named = matches!(spec.work.proof, Proof::Faces(FaceRule::Forms | FaceRule::Ground));
        let spec_part = if named { spec.spec.clone() } else { String::new() };
        self.areas.get(&(spec.work.id, spec_part, stage)).copied().unwrap_or(Ratio::ZERO)
    }

    /// Every volume the model found: work, specification, stage, m3.
    pub fn all_volumes(&self) -> impl Iterator<Item = (&'static str, &str, Stage, Ratio)> {
        self.volumes.iter().map(|((w, s, g), v)| (*w, s.as_str(), *g, *v))
    }

    /// Every face the model found: work, specification, stage, m2.
    pub fn all_areas(&self) -> impl Iterator<Item = (&'static str, &str, Stage, Ratio)> {
        self.areas.iter().map(|((w, s, g), v)| (*w, s.as_str(), *g, *v))
    }

    /// What of an item lies beyond the prism of the outer plan between dig bottom and cover top, m3.
    #[must_use]
    pub fn beyond(&self, work: &'static str, spec: &str, stage: Stage) -> Ratio {
        self.beyond.get(&(work, spec.to_owned(), stage)).copied().unwrap_or(Ratio::ZERO)
    }
}

const CUBIC: Ratio = Ratio::int(1_000_000_000_000);
const SQUARE: Ratio = Ratio::int(100_000_000);

impl<'a> Painter<'a> {
    /// Who shares a cell, and in which part.
    fn shares(&self, cell: [usize; 3]) -> impl Iterator<Item = (usize, Ratio)> + use<> {
        let fill = self.cells.fill(cell);
        let round = fill.owner.is_some_and(|o| self.set.claims[o].round);
        let quarter = PI * Ratio::of(1, 4);
        let main = fill.owner.map(|o| (o, if round { quarter } else { Ratio::ONE }));
        let corners = fill.corners.filter(|_| round).map(|o| (o, Ratio::ONE - quarter));
        main.into_iter().chain(corners)
    }

    fn volumes(&self, site: &Site<'_>, model: &mut Model) {
        let plan = site.outer_plan();
        let prism = [site.dig_bottom(), Z::flat(site.cover_top.clone())];
        let ground = [site.dig_bottom(), Z::flat(tankwright_geometry::Len::ZERO)];
        let layers = self.cells.size()[2];
        let in_layer =
            |slab: &[Z; 2]| (0..layers).map(|z| self.cells.between(z, slab, self.floor)).collect::<Vec<_>>();
        let (in_prism, in_ground) = (in_layer(&prism), in_layer(&ground));
        for cell in self.cells.all() {
            let volume = self.cells.volume(cell) / CUBIC;
            let inside = in_prism[cell[2]] && self.cells.within(cell, plan);
            let mut claimed = false;
            for (n, part) in self.shares(cell) {
                claimed = true;
                let claim = &self.set.claims[n];
                let Some(stage) = self.lifts[n][cell[2]] else { continue };
                let key = (claim.spec.work.id, claim.spec.spec.clone(), stage);
                add(&mut model.volumes, key.clone(), volume * part);
                if !inside {
                    add(&mut model.beyond, key, volume * part);
                }
            }
            if claimed && in_ground[cell[2]] {
                model.in_ground = model.in_ground + volume;
            }
            if !claimed && inside {
                model.unclaimed = model.unclaimed + volume.abs();
            }
        }
    }

    fn near(&self, cell: Option<[usize; 3]>) -> Near {
        let Some(cell) = cell else { return Near::Covered };
        let Some(owner) = self.cells.fill(cell).owner else {
            let open = self.open_pit || self.cells.above(cell[2], Ratio::ZERO);
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

    fn faces(&self, model: &mut Model) {
        let size = self.cells.size();
        let linings = linings(self.set);
        for cell in self.cells.all() {
            for axis in 0..3 {
                let mut next = cell;
                next[axis] += 1;
                if next[axis] == size[axis] || self.cells.fill(cell) == self.cells.fill(next) {
                    continue;
                }
                let area = match axis {
                    0 => self.cells.face_x(cell),
                    1 => self.cells.face_y(cell),
                    _ => self.cells.plan(cell),
                } / SQUARE;
                self.face(cell, Some(next), (axis == 2).then_some(true), area, &linings, model);
                self.face(next, Some(cell), (axis == 2).then_some(false), area, &linings, model);
            }
        }
    }

    /// One face of a cell: `up` is none for a vertical face.
    fn face(
        &self,
        cell: [usize; 3],
        other: Option<[usize; 3]>,
        up: Option<bool>,
        area: Ratio,
        linings: &[(&'static Work, FaceRule, Stage)],
        model: &mut Model,
    ) {
        let near = self.near(other);
        for (n, part) in self.shares(cell) {
            let claim = &self.set.claims[n];
            let work = claim.spec.work;
            if work.void {
                continue;
            }
            if let (Some(form), Some(stage)) = (formed(&work.forms, near, up), self.lifts[n][cell[2]]) {
                add(&mut model.areas, (form.id, String::new(), stage), area * part);
            }
            if let (Near::Earth, None, Some(stage)) = (near, up, self.lifts[n][cell[2]])
                && let Some(over) = over_break::filling(claim, &Len::ZERO).filter(|_| self.over_break)
            {
                add(&mut model.areas, (over.work.id, over.spec, stage), area * part);
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
                let part = if *rule == FaceRule::Outside { Ratio::ONE } else { part };
                if counts {
                    add(&mut model.areas, (lining.id, String::new(), *stage), area * part);
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

fn add(map: &mut BTreeMap<Key, Ratio>, key: Key, amount: Ratio) {
    if !amount.is_zero() {
        let sum = map.entry(key).or_insert(Ratio::ZERO);
        *sum = *sum + amount;
    }
}
