//! The solid model: the claims painted into cells. It proves volumes and faces and never reads a line.
//!
//! Who fills which cell hangs only on the order of the planes. That is a `Plan`: painted once, its cells put
//! together to boxes. Any claims with their planes in the same order have the same plan; each time all its boxes are
//! measured anew between the planes as they are.

use std::cell::RefCell;
use std::rc::Rc;

use tankwright_geometry::cuts::Part;
use tankwright_geometry::{Amount, Cuts, Len, Ratio, Z};

use crate::ledger::{SetOut, Spec};
use crate::plan::{Key, Outline, Plan, Share};
use crate::site::Site;
use crate::stage::Stage;
use crate::works::{FaceRule, Proof};

const CUBIC: i128 = 1_000_000_000_000;
const SQUARE: i128 = 100_000_000;

/// Sums of a key by the part of its boxes that counts; `None` where they grow too large to be held.
pub(crate) type Shares = [Option<i128>; 3];

/// Volumes and faces by work, specification and stage; cubic and square metres.
#[derive(Debug, Default)]
pub struct Model {
    pub(crate) plan: Rc<Plan>,
    /// Sums in the order of the plan's keys, in whole parts.
    pub(crate) volumes: Vec<Shares>,
    pub(crate) areas: Vec<Shares>,
    beyond: Vec<Shares>,
    /// Parts in a cubic and in a square tenth of a millimetre.
    pub(crate) cubic: i128,
    pub(crate) square: i128,
    /// Everything between dig bottom and ground that stands in the pit, m3.
    pub in_ground: Ratio,
    /// Space inside the outer plan that nobody claims, m3: a defect.
    pub unclaimed: Ratio,
    /// Where nothing is painted, and second formulas are only written down: what they ask of a model.
    asked: Option<RefCell<Vec<Asked>>>,
}

/// What a second formula takes from the model.
#[derive(Clone, Debug)]
pub(crate) enum Asked {
    /// What stands in the pit between dig bottom and ground.
    InGround,
    /// The volume of a work.
    Volume(Key),
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

/// The planes of everything that is claimed; `None` where numbers grow too large.
pub(crate) fn cuts(site: &Site<'_>, set: &SetOut) -> Option<Cuts> {
    let own = [Z::flat(Len::ZERO), site.dig_bottom(), Z::flat(site.cover_top.clone())];
    let levels = own.iter().chain(set.claims.iter().flat_map(|c| &c.lifts).flat_map(|l| &l.z));
    Cuts::of(set.claims.iter().map(|c| &c.block), levels, &site.floor)
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
        let Some(cuts) = cuts(site, set) else { return unknown() };
        let Some(outline) = Outline::of(site, set, &cuts) else { return unknown() };
        Self::measured(plans.of(outline, set), &cuts)
    }

    /// Measures the boxes of a plan between cuts.
    fn measured(plan: Rc<Plan>, cuts: &Cuts) -> Self {
        let (cubic, square) = (cuts.cubic().unwrap_or(0), cuts.square().unwrap_or(0));
        let [mut volumes, mut areas, mut beyond] = [const { Vec::new() }; 3].map(|mut v| {
            v.reserve(plan.sums.len());
            v
        });
        let add = |sums: &mut Shares, boxes: &[Vec<Part>; 3], f: &dyn Fn(&Part) -> Option<i128>| {
            for (sum, boxes) in sums.iter_mut().zip(boxes) {
                *sum = boxes.iter().try_fold((*sum).unwrap_or(0), |s, b| s.checked_add(f(b)?));
            }
        };
        for sums in &plan.sums {
            let mut of = [Some(0); 3];
            add(&mut of, &sums.beyond, &|b| cuts.volume(b));
            beyond.push(of);
            add(&mut of, &sums.inside, &|b| cuts.volume(b));
            volumes.push(of);
            of = [Some(0); 3];
            for (axis, boxes) in sums.faces.iter().enumerate() {
                add(&mut of, boxes, &|b| cuts.area(b, axis));
            }
            areas.push(of);
        }
        let plain = |parts: &[Part], f: &dyn Fn(i128) -> i128| {
            let sum = parts.iter().try_fold(0_i128, |s, b| s.checked_add(f(cuts.volume(b)?)));
            metres([sum, Some(0), Some(0)], cubic, CUBIC)
        };
        let in_ground = plain(&plan.in_ground, &|v| v);
        let unclaimed = plain(&plan.unclaimed, &i128::abs);
        Self { plan, volumes, areas, beyond, cubic, square, in_ground, unclaimed, asked: None }
    }

    /// A model of nothing, that keeps what is asked of it.
    pub(crate) fn to_be_asked() -> Self {
        Self { asked: Some(RefCell::default()), ..Self::default() }
    }

    /// What was asked, in order.
    pub(crate) fn asked(&self) -> Vec<Asked> {
        self.asked.as_ref().map(RefCell::take).unwrap_or_default()
    }

    fn answer(&self, of: impl FnOnce() -> Asked, value: impl FnOnce() -> Ratio) -> Amount {
        let Some(asked) = &self.asked else { return value().into() };
        let mut asked = asked.borrow_mut();
        asked.push(of());
        Amount::found(asked.len() - 1)
    }

    /// What stands in the pit between dig bottom and ground, m3.
    #[must_use]
    pub fn stands(&self) -> Amount {
        self.answer(|| Asked::InGround, || self.in_ground)
    }

    /// Volume of a work as second formulas take it, m3.
    #[must_use]
    pub fn fills(&self, spec: &Spec, stage: Stage) -> Amount {
        let key = || Key { work: spec.work.id, spec: spec.spec.clone(), stage };
        self.answer(|| Asked::Volume(key()), || self.volume(spec, stage))
    }

    fn of(&self, sums: &[Shares], work: &str, spec: &str, stage: Stage) -> Option<Shares> {
        let key = self.plan.keys.binary_search_by(|k| k.parts().cmp(&(work, spec, stage)));
        key.ok().and_then(|i| sums.get(i)).copied()
    }

    fn cubes(&self, sums: Option<Shares>) -> Ratio {
        sums.map_or(Ratio::ZERO, |s| metres(s, self.cubic, CUBIC))
    }

    fn squares(&self, sums: Option<Shares>) -> Ratio {
        sums.map_or(Ratio::ZERO, |s| metres(s, self.square, SQUARE))
    }

    /// Volume of a work, m3.
    #[must_use]
    pub fn volume(&self, spec: &Spec, stage: Stage) -> Ratio {
        self.cubes(self.of(&self.volumes, spec.work.id, &spec.spec, stage))
    }

    /// Area of a formwork or lining, m2.
    #[must_use]
    pub fn area(&self, spec: &Spec, stage: Stage) -> Ratio {
        self.squares(self.of(&self.areas, spec.work.id, face_spec(spec), stage))
    }

    /// Every volume the model found: work, specification, stage, m3.
    pub fn all_volumes(&self) -> impl Iterator<Item = (&'static str, &str, Stage, Ratio)> {
        let named = self.plan.keys.iter().zip(&self.volumes);
        named
            .map(|(k, v)| (k.work, k.spec.as_str(), k.stage, self.cubes(Some(*v))))
            .filter(|k| !k.3.is_zero())
    }

    /// Every face the model found: work, specification, stage, m2.
    pub fn all_areas(&self) -> impl Iterator<Item = (&'static str, &str, Stage, Ratio)> {
        let named = self.plan.keys.iter().zip(&self.areas);
        named
            .map(|(k, v)| (k.work, k.spec.as_str(), k.stage, self.squares(Some(*v))))
            .filter(|k| !k.3.is_zero())
    }

    /// What of an item lies beyond the prism of the outer plan between dig bottom and cover top, m3.
    #[must_use]
    pub fn beyond(&self, work: &'static str, spec: &str, stage: Stage) -> Ratio {
        self.cubes(self.of(&self.beyond, work, spec, stage))
    }

    /// All volumes within that prism, m3.
    pub(crate) fn inside(&self) -> Ratio {
        let sum = |of: &[Shares], i: usize| of.iter().try_fold(0_i128, |s, v| s.checked_add(v[i]?));
        let inside = |i| sum(&self.volumes, i)?.checked_sub(sum(&self.beyond, i)?);
        metres([0, 1, 2].map(inside), self.cubic, CUBIC)
    }
}

/// The part of a face's specification that the model knows.
pub(crate) fn face_spec(spec: &Spec) -> &str {
    let named = matches!(spec.work.proof, Proof::Faces(FaceRule::Forms | FaceRule::Ground));
    if named { &spec.spec } else { "" }
}

/// Whole parts as metres: `per` of them make a tenth of a millimetre, `unit` of these a metre, squared or cubed.
pub(crate) fn metres(sums: Shares, per: i128, unit: i128) -> Ratio {
    let Some(per) = per.checked_mul(unit) else { return Ratio::UNKNOWN };
    let of = |share: Share| match sums[share as usize] {
        Some(0) => Ratio::ZERO,
        Some(n) if matches!(share, Share::Whole) => Ratio::of(n, per),
        Some(n) => Ratio::of(n, per) * share.of(),
        None => Ratio::UNKNOWN,
    };
    of(Share::Whole) + of(Share::Round) + of(Share::Corners)
}
