//! The faces that are formed or lined, one by one: the very boxes that prove formwork and plaster, as drawings show
//! them.

use tankwright_geometry::cuts::Part;
use tankwright_geometry::{Cuts, Ratio};

use crate::ledger::SetOut;
use crate::model::{self, Model, metres};
use crate::plan::Share as Counted;
use crate::site::Site;
use crate::sketch::{Formed, Share};
use crate::space::{Fall, tenths, whole};
use crate::works::Class;

const SQUARE: i128 = 100_000_000;
const SHARES: [(Counted, Share); 3] =
    [(Counted::Whole, Share::Whole), (Counted::Round, Share::Round), (Counted::Corners, Share::Corners)];

/// Every face of the works of some classes, in the order of the model.
#[must_use]
pub(crate) fn faces(site: &Site<'_>, set: &SetOut, model: &Model, of: &[Class]) -> Vec<Formed> {
    let Some(cuts) = model::cuts(site, set) else { return Vec::new() };
    let Some(square) = cuts.square() else { return Vec::new() };
    let planes = Planes::of(site, &cuts);
    let works = crate::works::all();
    let mut found = Vec::new();
    for (key, sums) in model.plan.keys.iter().zip(&model.plan.sums) {
        let work = works.iter().find(|w| w.id == key.work && of.contains(&w.class));
        let Some(work) = work else { continue };
        for (axis, boxes) in sums.faces.iter().enumerate() {
            for ((counted, share), boxes) in SHARES.into_iter().zip(boxes) {
                for part in boxes {
                    let mut sums = [Some(0); 3];
                    sums[counted as usize] = cuts.area(part, axis);
                    let area: Ratio = metres(sums, square, SQUARE);
                    let corners = planes.corners(part, axis);
                    found.push(Formed { work: work.id, stage: key.stage, axis, corners, share, area });
                }
            }
        }
    }
    found
}

/// Places of cuts, tenths of a millimetre.
struct Planes {
    of: [Vec<i64>; 3],
    /// So many levels follow the floor.
    follow: usize,
    floor: Fall,
}

impl Planes {
    fn of(site: &Site<'_>, cuts: &Cuts) -> Self {
        let sloping = !site.floor.fall.is_zero();
        let floor = Fall {
            outlet: tenths(&site.floor.outlet),
            fall: tenths(&site.floor.fall),
            length: tenths(&site.floor.length),
        };
        let follow = if sloping { usize::from(cuts.size().1) } else { 0 };
        Self { of: [0, 1, 2].map(|axis| cuts.planes(axis).map(whole).collect()), follow, floor }
    }

    fn at(&self, axis: usize, i: u16) -> i64 {
        self.of.get(axis).and_then(|p| p.get(usize::from(i))).copied().unwrap_or(0)
    }

    fn level(&self, i: u16, x: i64) -> i64 {
        let floor = if usize::from(i) < self.follow { self.floor.at(x) } else { 0 };
        self.at(2, i) + floor
    }

    /// Corners of a face, also where the floor under it bends.
    fn corners(&self, [x, y, z]: &Part, axis: usize) -> Vec<[i64; 3]> {
        let ([x0, x1], [y0, y1]) = ([0, 1].map(|i| self.at(0, x[i])), [0, 1].map(|i| self.at(1, y[i])));
        let corner = |x: i64, y: i64, level: u16| [x, y, self.level(level, x)];
        match axis {
            0 => vec![corner(x0, y0, z[0]), corner(x0, y1, z[0]), corner(x0, y1, z[1]), corner(x0, y0, z[1])],
            1 => {
                let bends = [0, self.floor.length].into_iter().filter(|b| x0 < *b && *b < x1);
                let along: Vec<i64> = [x0].into_iter().chain(bends).chain([x1]).collect();
                let low = along.iter().map(|x| corner(*x, y0, z[0]));
                low.chain(along.iter().rev().map(|x| corner(*x, y0, z[1]))).collect()
            }
            _ => vec![corner(x0, y0, z[0]), corner(x1, y0, z[0]), corner(x1, y1, z[0]), corner(x0, y1, z[0])],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn corners_follow_the_floor_and_bend_where_it_does() {
        // The first level stands 1500 over the floor, the second is flat.
        let floor = Fall { outlet: -20_000, fall: 600, length: 30_000 };
        let of = [vec![-5_000, 0, 30_000, 35_000], vec![0, 10_000], vec![1_500, -16_000]];
        let planes = Planes { of, follow: 1, floor };
        // -20 000 - 600 + 1500 up to the inlet, -20 000 + 1500 from the outlet on.
        let low = [(-5_000, -19_100), (0, -19_100), (30_000, -18_500), (35_000, -18_500)];
        let high = [35_000, 30_000, 0, -5_000].map(|x| (x, -16_000));
        let all: Vec<[i64; 3]> = low.into_iter().chain(high).map(|(x, z)| [x, 0, z]).collect();
        assert_eq!(planes.corners(&[[0, 3], [0, 1], [0, 1]], 1), all);
        let over = [[0, 0, -19_100], [30_000, 0, -18_500], [30_000, 0, -16_000], [0, 0, -16_000]];
        assert_eq!(planes.corners(&[[1, 2], [0, 1], [0, 1]], 1), over);
    }
}
