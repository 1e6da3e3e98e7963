//! What a structure looks like, drawn once with trails: its planes as sums of inputs, what second formulas say of it,
//! and what it holds. Candidates whose planes stand in the same order have the same cells.

use std::cmp::Ordering;

use tankwright_geometry::{Amount, Len, Z};

use crate::balances;
use crate::capacity::{self, Held};
use crate::elements::ALL;
use crate::flow;
use crate::ledger::{Book, Part, Second, SetOut};
use crate::model::{Asked, Model};
use crate::open_space::Room;
use crate::site::Site;

/// Along, across, up from the floor where it falls, up.
pub(super) const GROUPS: usize = 4;
/// Levels that follow a falling floor.
pub(super) const FOLLOW: usize = 2;
/// Flat levels.
pub(super) const FLAT: usize = 3;

/// A structure, drawn.
#[derive(Debug)]
pub(super) struct Drawing {
    /// Every plane once, group by group.
    pub(super) planes: Vec<(usize, Len)>,
    /// The floor: level at the outlet, fall, clear length.
    pub(super) floor: [Len; 3],
    pub(super) seconds: Vec<Second>,
    /// What these ask of the model.
    pub(super) asked: Vec<Asked>,
    /// The prism of the outer plan from dig bottom to cover top, m3.
    pub(super) prism: Amount,
    /// Outer plan, square tenths of a millimetre.
    pub(super) plan: Amount,
    pub(super) held: Held,
}

impl Drawing {
    /// Of a site with trails.
    pub(super) fn of(site: &Site<'_>, set: &SetOut) -> Self {
        let model = Model::to_be_asked();
        let mut book = Book::of_proofs(site.profile, site.judge, &site.floor);
        flow::prove(ALL, site, &model, &mut book);
        let mut rooms = Vec::new();
        let held = Held::of(site, &mut |room| {
            rooms.push(room);
            Amount::found(rooms.len() - 1)
        });
        let floor = &site.floor;
        let mut drawing = Self {
            planes: Vec::new(),
            floor: [floor.outlet.clone(), floor.fall.clone(), floor.length.clone()],
            seconds: book.proofs(),
            asked: model.asked(),
            prism: balances::prism(site),
            plan: site.outer_length().amount() * site.outer_width().amount(),
            held,
        };
        drawing.take_planes(site, set, &rooms);
        drawing
    }

    fn take_planes(&mut self, site: &Site<'_>, set: &SetOut, rooms: &[Room]) {
        let ends = |group: usize, span: &[Len; 2]| span.clone().map(|l| (group, l));
        let levels = |z: &[Z; 2]| {
            z.clone().map(|z| match (z.follows, site.floor.fall.is_zero()) {
                (true, false) => (FOLLOW, z.off),
                (true, true) => (FLAT, &z.off + &site.floor.outlet),
                (false, _) => (FLAT, z.off),
            })
        };
        let mut all = Vec::new();
        all.extend(ends(0, &[Len::ZERO, site.length.clone()]));
        all.extend(ends(0, &site.outer_x()));
        all.extend(ends(1, &site.outer_y()));
        all.extend(levels(&[site.dig_bottom(), Z::flat(Len::ZERO)]));
        all.extend(levels(&[Z::flat(site.cover_top.clone()), Z::flat(site.cover_bottom.clone())]));
        for level in capacity::levels(site) {
            all.extend(levels(&[level.clone(), level]));
        }
        for claim in &set.claims {
            all.extend(ends(0, &claim.block.x));
            all.extend(ends(1, &claim.block.y));
            all.extend(levels(&claim.block.z));
            claim.lifts.iter().for_each(|l| all.extend(levels(&l.z)));
        }
        for room in rooms {
            all.extend(ends(0, &room.x));
            all.extend(ends(1, &room.y));
        }
        all.sort();
        all.dedup();
        self.planes = all;
    }
}

/// The order of the planes of each group.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Order([Vec<(usize, bool)>; GROUPS]);

fn compare(a: Part, b: Part) -> Option<Ordering> {
    if a.d == b.d {
        return Some(a.n.cmp(&b.n));
    }
    Some(a.n.checked_mul(b.d)?.cmp(&b.n.checked_mul(a.d)?))
}

impl Order {
    /// Of planes that lie so: each with its place among the planes, and whether it coincides with the one before.
    pub(super) fn of(drawing: &Drawing, lens: &[Part], at: &[usize]) -> Option<Self> {
        let mut order = Self::default();
        let place = |plane: usize| at.get(plane).and_then(|sum| lens.get(*sum)).copied();
        for (plane, (group, _)) in drawing.planes.iter().enumerate() {
            order.0.get_mut(*group)?.push((plane, false));
            place(plane)?;
        }
        for group in &mut order.0 {
            let cmp = |a: usize, b: usize| place(a).zip(place(b)).and_then(|(a, b)| compare(a, b));
            group.sort_by(|(a, _), (b, _)| cmp(*a, *b).unwrap_or(Ordering::Equal));
            for i in 1..group.len() {
                group[i].1 = cmp(group[i - 1].0, group[i].0)? == Ordering::Equal;
            }
        }
        Some(order)
    }

    /// Do planes that lie so stand in this order?
    pub(super) fn holds(&self, lens: &[Part], at: &[usize]) -> bool {
        let place = |plane: usize| at.get(plane).and_then(|sum| lens.get(*sum)).copied();
        self.0.iter().all(|group| {
            let mut before: Option<Part> = None;
            group.iter().all(|(plane, same)| {
                let Some(own) = place(*plane) else { return false };
                let wanted = if *same { Ordering::Equal } else { Ordering::Less };
                let fits = before.is_none_or(|b| compare(b, own) == Some(wanted));
                before = Some(own);
                fits
            })
        })
    }

    /// Planes that coincide, two and two.
    pub(super) fn same(&self) -> impl Iterator<Item = (usize, usize)> {
        let pairs = self.0.iter().flat_map(|g| g.windows(2));
        pairs.filter(|w| w[1].1).map(|w| (w[0].0, w[1].0))
    }
}
