//! Boxes of cells as polynomials: what `Cuts` reckons between planes as they are, for all candidates whose planes stand
//! in this order.

use tankwright_geometry::cuts::{Part as Box, Run};
use tankwright_geometry::{Cuts, Ratio};

use crate::candidate::drawing::{Drawing, FLAT, FOLLOW};
use crate::candidate::poly::{Poly, Ring};
use crate::ledger::Part;

static LOST: Poly = Poly::LOST;

/// The planes of cuts, tenths of a millimetre.
pub(super) struct Boxes {
    cuts: [Vec<Poly>; 3],
    follow: usize,
    /// Level of the falling floor at each cut along, and its integral up to there.
    floor: Vec<[Poly; 2]>,
}

impl Boxes {
    /// `places`: where each plane of the drawing lies, in parts of `scale` to a tenth of a millimetre. A cut that is
    /// none of the planes (the margin round everything) is lost.
    pub(super) fn of(
        ring: &mut Ring<'_>,
        cuts: &Cuts,
        drawing: &Drawing,
        places: &[Part],
        scale: i128,
    ) -> Self {
        let (size, follow) = cuts.size();
        let follow = usize::from(follow);
        let mut find = |axis: usize, cut: usize| {
            let group = if axis < 2 {
                axis
            } else if cut < follow {
                FOLLOW
            } else {
                FLAT
            };
            let at = cuts.at(axis, cut)? * Ratio::int(scale);
            let mut there = drawing.planes.iter().zip(places);
            let same = there.find(|((g, _), place)| *g == group && Ratio::of(place.n, place.d) == at);
            same.map(|((_, len), _)| ring.len(len))
        };
        let along = |axis: usize, find: &mut dyn FnMut(usize, usize) -> Option<Poly>| -> Vec<Poly> {
            (0..=size[axis]).map(|cut| find(axis, cut).unwrap_or(Poly::LOST)).collect()
        };
        let polys = [0, 1, 2].map(|axis| along(axis, &mut find));
        let mut boxes = Self { cuts: polys, follow, floor: Vec::new() };
        if follow > 0 {
            boxes.floor_falls(ring, cuts, drawing);
        }
        boxes
    }

    fn floor_falls(&mut self, ring: &mut Ring<'_>, cuts: &Cuts, drawing: &Drawing) {
        let [outlet, fall, whole] = drawing.floor.each_ref().map(|l| ring.len(l));
        let one_by = ring.one_by(&whole);
        let end = (0..self.cuts[0].len()).find(|c| cuts.at(0, *c) == Some(Ratio::ZERO)).unwrap_or(0);
        let mut before: Option<(Poly, [Poly; 2])> = None;
        let mut beyond = false;
        for (cut, x) in self.cuts[0].iter().enumerate() {
            // The clear length is a plane: from there on the floor is level.
            beyond |= cut > end && ring.is_nothing(&whole.less(x));
            let level = if cut <= end {
                outlet.less(&fall)
            } else if beyond {
                outlet.clone()
            } else {
                outlet.less(&fall.times(&whole.less(x)).times(&one_by))
            };
            let under = match &before {
                // The margin is no plane, and nothing stands in it.
                Some((at, [last, sum])) if cut > 1 => {
                    let mut sum = sum.clone();
                    let mut two = level.clone();
                    two.plus(last, Ratio::ONE);
                    sum.plus(&x.less(at).times(&two), Ratio::of(1, 2));
                    sum
                }
                _ => Poly::default(),
            };
            before = Some((x.clone(), [level.clone(), under.clone()]));
            self.floor.push([level, under]);
        }
    }

    fn gap(&self, axis: usize, run: Run) -> Poly {
        let cut = |at: u16| self.cuts[axis].get(usize::from(at)).unwrap_or(&LOST);
        cut(run[1]).less(cut(run[0]))
    }

    /// How much more the top follows the floor than the bottom: -1, 0 or 1.
    fn follows(&self, z: Run) -> i128 {
        let one = |at: u16| i128::from(usize::from(at) < self.follow);
        one(z[1]) - one(z[0])
    }

    fn floor(&self, cut: u16, which: usize) -> &Poly {
        self.floor.get(usize::from(cut)).map_or(&LOST, |f| &f[which])
    }

    /// A slab seen from the side.
    fn side(&self, [x, _, z]: &Box) -> Poly {
        let mut side = self.gap(0, *x).times(&self.gap(2, *z));
        let sign = self.follows(*z);
        if sign != 0 {
            let under = self.floor(x[1], 1).less(self.floor(x[0], 1));
            side.plus(&under, Ratio::int(sign));
        }
        side
    }

    pub(super) fn volume(&self, part: &Box) -> Poly {
        self.side(part).times(&self.gap(1, part[1]))
    }

    /// Area of a face: the axis across it has no extent.
    pub(super) fn area(&self, part: &Box, axis: usize) -> Poly {
        let [x, y, z] = part;
        match axis {
            0 => {
                let mut height = self.gap(2, *z);
                let sign = self.follows(*z);
                if sign != 0 {
                    height.plus(self.floor(x[0], 0), Ratio::int(sign));
                }
                self.gap(1, *y).times(&height)
            }
            1 => self.side(part),
            _ => self.gap(0, *x).times(&self.gap(1, *y)),
        }
    }
}
