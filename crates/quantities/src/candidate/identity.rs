//! The balances of a structure as identities: where lines, cells and second formulas come to the same polynomials of the
//! inputs that vary, they agree for every candidate of this form whose planes stand in this order.
//!
//! Proved once, when the first such candidate was measured as every estimate is. What is not proved here is measured
//! and held together for each candidate anew.

use tankwright_geometry::cuts::Part as Box;
use tankwright_geometry::{Cuts, Ratio};

use crate::candidate::boxes::Boxes;
use crate::candidate::drawing::{Drawing, Order};
use crate::candidate::family::Made;
use crate::candidate::poly::{Compiled, Poly, Ring};
use crate::estimate::Capacity;
use crate::ledger::{Head, Inputs, Part};
use crate::model::{self, Asked, Model};
use crate::open_space::{Room, Space};
use crate::plan::{Key, Plan, Share, Sums};
use crate::works::{Earth, Proof};

const CUBIC: Ratio = Ratio::int(1_000_000_000_000);
const SQUARE: Ratio = Ratio::int(100_000_000);

/// Candidates of a form whose planes stand in one order.
#[derive(Debug)]
pub(super) struct Class {
    order: Order,
    /// So many inputs varied when it was proved.
    varied: usize,
    /// What such a tank holds and takes up on plan, where all identities hold.
    proved: Option<Proved>,
}

/// Figures of proved candidates that come from no line.
#[derive(Debug)]
pub(super) struct Proved {
    held: Vec<Compiled>,
    plan: Compiled,
}

/// What was measured at a candidate, to be said of all of its class.
pub(super) struct Measured<'a> {
    pub(super) model: &'a Model,
    pub(super) cuts: Option<Cuts>,
    pub(super) space: Option<&'a Space>,
    /// The rooms it was asked for, those of the drawing.
    pub(super) rooms: Vec<Room>,
    pub(super) capacity: &'a Capacity,
    pub(super) plan: Ratio,
}

impl Class {
    /// The class of a form that the candidate at hand is of; as far as it is known for the inputs that vary.
    pub(super) fn holds(&self, varied: usize, lens: &[Part], at: &[usize]) -> bool {
        self.varied == varied && self.order.holds(lens, at)
    }

    pub(super) const fn varied(&self) -> usize {
        self.varied
    }

    pub(super) fn proved(&self) -> Option<&Proved> {
        self.proved.as_ref()
    }

    /// Of a candidate that was measured, and whose balances closed.
    pub(super) fn of(made: &Made, inputs: &Inputs, measured: &Measured<'_>) -> Option<Self> {
        let drawing = made.drawing.as_ref()?;
        let order = Order::of(drawing, &made.figures.lens, &made.form.planes)?;
        let proved = prove(made, drawing, &order, inputs, measured);
        Some(Self { order, varied: inputs.varied.len(), proved })
    }
}

impl Proved {
    pub(super) fn capacity(&self, drawing: &Drawing, inputs: &[i64]) -> Option<Capacity> {
        let (mut figures, mut known) = (self.held.iter(), true);
        let capacity = drawing.held.read(&mut |_| {
            let value = figures.next().and_then(|f| f.value(inputs));
            known &= value.is_some();
            value.unwrap_or(Ratio::UNKNOWN)
        });
        known.then_some(capacity)
    }

    pub(super) fn plan(&self, inputs: &[i64]) -> Option<Ratio> {
        self.plan.value(inputs)
    }
}

/// `None` where one identity does not hold, or cannot be said.
fn prove(
    made: &Made,
    drawing: &Drawing,
    order: &Order,
    inputs: &Inputs,
    measured: &Measured<'_>,
) -> Option<Proved> {
    let form = &made.form;
    let mut ring = Ring::of(inputs)?;
    for (sum, was) in form.ties() {
        let is = ring.sum(form, sum);
        ring.tie(&is.less(&Poly::fixed(Ratio::of(was.n, was.d))))?;
    }
    for (a, b) in order.same() {
        let [a, b] = [a, b].map(|plane| drawing.planes.get(plane).map(|(_, len)| ring.len(len)));
        ring.tie(&a?.less(&b?))?;
    }
    let places: Vec<Part> = form.planes.iter().filter_map(|p| made.figures.lens.get(*p)).copied().collect();
    let boxes = Boxes::of(&mut ring, measured.cuts.as_ref()?, drawing, &places, form.scale());
    let cells = Cells::of(&boxes, &measured.model.plan);
    let items: Vec<Poly> = (0..form.items.len()).map(|i| item(made, i, &mut ring)).collect();
    let closes = balances(made, drawing, &measured.model.plan, &cells, &items, &mut ring);
    closes.then_some(())?;
    let space = measured.space?;
    let boxes = Boxes::of(&mut ring, &space.cuts, drawing, &places, form.scale());
    let rooms: Vec<Poly> = measured.rooms.iter().map(|r| sum(space.parts(r), |b| boxes.volume(b))).collect();
    let mut held = Vec::new();
    drawing.held.read(&mut |amount| {
        let poly = ring.amount(amount, &rooms);
        held.push(ring.compiled(&poly));
        Ratio::ZERO
    });
    let held = held.into_iter().collect::<Option<Vec<_>>>()?;
    let plan = ring.amount(&drawing.plan, &[]).scaled(Ratio::ONE / SQUARE);
    let proved = Proved { held, plan: ring.compiled(&plan)? };
    // It must give back what was measured here.
    let same = proved.capacity(drawing, &inputs.values).as_ref() == Some(measured.capacity)
        && proved.plan(&inputs.values) == Some(measured.plan);
    same.then_some(proved)
}

fn sum(parts: impl Iterator<Item = Box>, each: impl Fn(&Box) -> Poly) -> Poly {
    parts.fold(Poly::default(), |mut sum, part| {
        sum.plus(&each(&part), Ratio::ONE);
        sum
    })
}

/// Sums of the cells of a plan, cubic and square metres.
struct Cells {
    volumes: Vec<Poly>,
    beyond: Vec<Poly>,
    areas: Vec<Poly>,
    in_ground: Poly,
    /// Box by box.
    unclaimed: Vec<Poly>,
}

impl Cells {
    fn of(boxes: &Boxes, plan: &Plan) -> Self {
        let shares = [Share::Whole, Share::Round, Share::Corners];
        let add = |to: &mut Poly, parts: &[Vec<Box>; 3], f: &dyn Fn(&Box) -> Poly, unit: Ratio| {
            for (share, parts) in shares.into_iter().zip(parts) {
                let own = sum(parts.iter().copied(), f);
                to.plus(&own, share.of() / unit);
            }
        };
        let volume = |b: &Box| boxes.volume(b);
        let (mut volumes, mut beyond, mut areas) = (Vec::new(), Vec::new(), Vec::new());
        for Sums { inside, beyond: out, faces } in &plan.sums {
            let [mut own, mut area] = [Poly::default(), Poly::default()];
            add(&mut own, out, &volume, CUBIC);
            beyond.push(own.clone());
            add(&mut own, inside, &volume, CUBIC);
            volumes.push(own);
            for (axis, parts) in faces.iter().enumerate() {
                add(&mut area, parts, &|b| boxes.area(b, axis), SQUARE);
            }
            areas.push(area);
        }
        let in_ground = sum(plan.in_ground.iter().copied(), volume).scaled(Ratio::ONE / CUBIC);
        let unclaimed = plan.unclaimed.iter().map(volume).collect();
        Self { volumes, beyond, areas, in_ground, unclaimed }
    }
}

/// The exact sum of an item in its work's own unit; lost where a line counts strips or bars.
fn item(made: &Made, item: usize, ring: &mut Ring<'_>) -> Poly {
    let form = &made.form;
    let mut total = Poly::default();
    if form.items.get(item).is_some_and(|head| head.spec.work.proof == Proof::Listed) {
        return Poly::LOST;
    }
    for row in &form.rows {
        let Some(group) = form.groups.get(row.group).filter(|g| g.item == item) else { continue };
        let Some(factors) = form.factors(row) else { return Poly::LOST };
        let mut product = Poly::fixed(Ratio::int(row.count));
        for len in factors {
            product = product.times(&ring.sum(form, len));
        }
        total.plus(&product, group.exact);
    }
    total
}

/// Do all balances of measurement close as identities?
fn balances(
    made: &Made,
    drawing: &Drawing,
    plan: &Plan,
    cells: &Cells,
    items: &[Poly],
    ring: &mut Ring<'_>,
) -> bool {
    let key = |spec: &str, head: &Head| {
        plan.keys.binary_search_by(|k| k.parts().cmp(&(head.spec.work.id, spec, head.stage))).ok()
    };
    let volume = |asked: &Key| {
        let at = plan.keys.binary_search(asked).ok();
        at.and_then(|at| cells.volumes.get(at)).cloned().unwrap_or_default()
    };
    let found: Vec<Poly> = drawing
        .asked
        .iter()
        .map(|asked| match asked {
            Asked::InGround => cells.in_ground.clone(),
            Asked::Volume(key) => volume(key),
        })
        .collect();
    let mut seconds: Vec<_> = drawing.seconds.iter().map(|s| (s, ring.amount(&s.amount, &found))).collect();
    let [mut volumes, mut areas] =
        [&cells.volumes, &cells.areas].map(|v| v.iter().map(Some).collect::<Vec<_>>());
    let (mut earth, mut closes) = (Poly::default(), true);
    for (head, own) in made.form.items.iter().zip(items) {
        let take = |of: &mut Vec<Option<&Poly>>, spec: &str| {
            let at = key(spec, head);
            at.and_then(|at| of.get_mut(at)).and_then(Option::take).cloned().unwrap_or_default()
        };
        let other = match head.spec.work.proof {
            Proof::Listed => {
                closes &= head.spec.work.earth == Earth::None;
                take(&mut volumes, &head.spec.spec);
                continue;
            }
            Proof::Cells => take(&mut volumes, &head.spec.spec),
            Proof::Faces(_) => take(&mut areas, model::face_spec(&head.spec)),
            Proof::Formula => {
                take(&mut volumes, &head.spec.spec);
                let at = seconds.iter().position(|(s, _)| s.is_of(&head.spec, head.stage));
                at.map(|at| seconds.swap_remove(at).1).unwrap_or_default()
            }
        };
        closes &= ring.is_nothing(&own.less(&other));
        let sign = match head.spec.work.earth {
            Earth::None => 0,
            Earth::Dug => 1,
            Earth::PutBack | Earth::Away => -1,
        };
        if sign != 0 {
            earth.plus(own, Ratio::int(sign));
        }
    }
    let inside = cells.volumes.iter().zip(&cells.beyond).fold(Poly::default(), |mut sum, (v, b)| {
        sum.plus(&v.less(b), Ratio::ONE);
        sum
    });
    let prism = ring.amount(&drawing.prism, &[]);
    let nothing = |of: &[Option<&Poly>]| of.iter().flatten().all(|p| ring.is_nothing(p));
    closes
        && nothing(&volumes)
        && nothing(&areas)
        && seconds.iter().all(|(_, p)| ring.is_nothing(p))
        && cells.unclaimed.iter().all(|p| ring.is_nothing(p))
        && ring.is_nothing(&earth)
        && ring.is_nothing(&prism.less(&inside))
}
