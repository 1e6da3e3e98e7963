//! The solid model: the claims painted into cells. It proves volumes and faces and never reads a line.
//!
//! Who fills which cell hangs only on the order of the planes. That is a [`Plan`]: painted once, its cells put
//! together to boxes. Any claims with their planes in the same order have the same plan; each time all its boxes are
//! measured anew between the planes as they are.

use std::rc::Rc;

use tankwright_geometry::{Cuts, Len, Ratio, Z};

use crate::ledger::{SetOut, Spec};
use crate::plan::{Key, Outline, Plan, Share};
use crate::site::Site;
use crate::stage::Stage;
use crate::works::{FaceRule, Proof};

const CUBIC: i128 = 1_000_000_000_000;
const SQUARE: i128 = 100_000_000;

/// Volumes and faces by work, specification and stage; cubic and square metres.
#[derive(Debug, Default)]
pub struct Model {
    plan: Rc<Plan>,
    /// Sums in the order of the plan's keys.
    volumes: Vec<Ratio>,
    areas: Vec<Ratio>,
    beyond: Vec<Ratio>,
    /// Everything between dig bottom and ground that stands in the pit, m3.
    pub in_ground: Ratio,
    /// Space inside the outer plan that nobody claims, m3: a defect.
    pub unclaimed: Ratio,
}

/// Plans painted before, the latest first.
#[derive(Debug, Default)]
pub struct Plans(Vec<Rc<Plan>>);

/// So many plans are kept.
const KEPT: usize = 256;

impl Plans {
    /// The plan of an outline, painted where it is not known yet.
    fn of(&mut self, outline: Outline, set: &SetOut) -> Rc<Plan> {
        if let Some(i) = self.0.iter().position(|p| p.is_of(&outline, set)) {
            self.0.swap(0, i);
        } else {
            self.0.truncate(KEPT - 1);
            self.0.insert(0, Rc::new(Plan::paint(outline, set)));
        }
        self.0.first().cloned().unwrap_or_default()
    }
}

impl Model {
    /// Paints a site's claims.
    #[must_use]
    pub fn paint(site: &Site<'_>, set: &SetOut) -> Self {
        Self::painted(site, set, &mut Plans::default())
    }

    /// The same where plans of other sites are at hand.
    #[must_use]
    pub fn painted(site: &Site<'_>, set: &SetOut, plans: &mut Plans) -> Self {
        // Where numbers grow too large to be held, nothing is known.
        let unknown = || Self { in_ground: Ratio::UNKNOWN, unclaimed: Ratio::UNKNOWN, ..Self::default() };
        let mut levels = vec![Z::flat(Len::ZERO), site.dig_bottom(), Z::flat(site.cover_top.clone())];
        levels.extend(set.claims.iter().flat_map(|c| &c.lifts).flat_map(|l| l.z.clone()));
        let Some(cuts) = Cuts::of(set.claims.iter().map(|c| &c.block), &levels, &site.floor) else {
            return unknown();
        };
        let Some(outline) = Outline::of(site, set, &cuts) else { return unknown() };
        Self::measured(plans.of(outline, set), &cuts)
    }

    /// Measures the boxes of a plan between cuts.
    fn measured(plan: Rc<Plan>, cuts: &Cuts) -> Self {
        let parts = |per: Option<i128>, unit: i128| per.and_then(|n| n.checked_mul(unit)).unwrap_or(0);
        let (cubic, square) = (parts(cuts.cubic(), CUBIC), parts(cuts.square(), SQUARE));
        let share = |sums: [Option<i128>; 3], per: i128| {
            let of = |share: Share| match sums[share as usize] {
                Some(0) => Ratio::ZERO,
                Some(n) => Ratio::of(n, per) * share.of(),
                None => Ratio::UNKNOWN,
            };
            of(Share::Whole) + of(Share::Round) + of(Share::Corners)
        };
        let [mut volumes, mut areas, mut beyond] = [const { Vec::new() }; 3];
        for sums in &plan.sums {
            let sum = |boxes: &[Vec<[[u16; 2]; 3]>; 3], f: &dyn Fn(&[[u16; 2]; 3]) -> Option<i128>| {
                [0, 1, 2].map(|i| boxes[i].iter().try_fold(0_i128, |s, b| s.checked_add(f(b)?)))
            };
            let outside = sum(&sums.beyond, &|b| cuts.volume(b));
            let inside = sum(&sums.inside, &|b| cuts.volume(b));
            let both = [0, 1, 2].map(|i| inside[i]?.checked_add(outside[i]?));
            volumes.push(share(both, cubic));
            beyond.push(share(outside, cubic));
            let mut faces = [Some(0_i128); 3];
            for (axis, boxes) in sums.faces.iter().enumerate() {
                let of_axis = sum(boxes, &|b| cuts.area(b, axis));
                faces = [0, 1, 2].map(|i| faces[i]?.checked_add(of_axis[i]?));
            }
            areas.push(share(faces, square));
        }
        let plain = |parts: &[_], f: &dyn Fn(i128) -> i128| {
            let sum = parts.iter().try_fold(0_i128, |s, b| s.checked_add(f(cuts.volume(b)?)));
            sum.map_or(Ratio::UNKNOWN, |n| Ratio::of(n, cubic))
        };
        let in_ground = plain(&plan.in_ground, &|v| v);
        let unclaimed = plain(&plan.unclaimed, &i128::abs);
        Self { plan, volumes, areas, beyond, in_ground, unclaimed }
    }

    fn of(&self, sums: &[Ratio], work: &str, spec: &str, stage: Stage) -> Ratio {
        let key = self.plan.keys.binary_search_by(|k| k.parts().cmp(&(work, spec, stage)));
        key.ok().and_then(|i| sums.get(i)).copied().unwrap_or(Ratio::ZERO)
    }

    /// Volume of a work, m3.
    #[must_use]
    pub fn volume(&self, spec: &Spec, stage: Stage) -> Ratio {
        self.of(&self.volumes, spec.work.id, &spec.spec, stage)
    }

    /// Area of a formwork or lining, m2.
    #[must_use]
    pub fn area(&self, spec: &Spec, stage: Stage) -> Ratio {
        let named = matches!(spec.work.proof, Proof::Faces(FaceRule::Forms | FaceRule::Ground));
        self.of(&self.areas, spec.work.id, if named { &spec.spec } else { "" }, stage)
    }

    fn all<'s>(&'s self, sums: &'s [Ratio]) -> impl Iterator<Item = (&'static str, &'s str, Stage, Ratio)> {
        let known = self.plan.keys.iter().zip(sums).filter(|(_, v)| !v.is_zero());
        known.map(|(Key { work, spec, stage }, v)| (*work, spec.as_str(), *stage, *v))
    }

    /// Every volume the model found: work, specification, stage, m3.
    pub fn all_volumes(&self) -> impl Iterator<Item = (&'static str, &str, Stage, Ratio)> {
        self.all(&self.volumes)
    }

    /// Every face the model found: work, specification, stage, m2.
    pub fn all_areas(&self) -> impl Iterator<Item = (&'static str, &str, Stage, Ratio)> {
        self.all(&self.areas)
    }

    /// What of an item lies beyond the prism of the outer plan between dig bottom and cover top, m3.
    #[must_use]
    pub fn beyond(&self, work: &'static str, spec: &str, stage: Stage) -> Ratio {
        self.of(&self.beyond, work, spec, stage)
    }
}
