//! Blocks of space over a floor that may fall, and where two of them meet.

use std::cmp::Ordering;

use crate::{Judge, Len};

/// An axis: along the flow, across it, up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Axis {
    /// Along.
    X,
    /// Across.
    Y,
    /// Up.
    Z,
}

/// A level: flat, or following the floor at a distance.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Z {
    /// Level above the datum, or above the floor where it follows.
    pub off: Len,
    /// Does it follow the floor?
    pub follows: bool,
}

impl Z {
    /// A level plane.
    #[must_use]
    pub const fn flat(off: Len) -> Self {
        Self { off, follows: false }
    }

    /// Parallel to the floor, `off` above it.
    #[must_use]
    pub const fn floor(off: Len) -> Self {
        Self { off, follows: true }
    }
}

/// The floor: level outside the clear length, falling in a straight line between its ends.
#[derive(Clone, Debug)]
pub struct Floor {
    /// Level at the outlet end (x = length and beyond).
    pub outlet: Len,
    /// How much lower the inlet end (x = 0 and before) lies.
    pub fall: Len,
    /// Clear length.
    pub length: Len,
}

impl Floor {
    /// Level of the floor at `x`.
    #[must_use]
    pub fn at(&self, judge: &Judge, x: &Len) -> Len {
        if self.fall.is_zero() || judge.cmp(x, &self.length).is_ge() {
            return self.outlet.clone();
        }
        if judge.cmp(x, &Len::ZERO).is_le() {
            return &self.outlet - &self.fall;
        }
        &self.outlet - &Len::share(&self.fall, &(&self.length - x), &self.length)
    }

    /// Mean level between two places that have no bend between them.
    #[must_use]
    pub fn mean(&self, judge: &Judge, x: [&Len; 2]) -> Len {
        if self.fall.is_zero() {
            return self.outlet.clone();
        }
        let both = |x: &Len| judge.cmp(x, &Len::ZERO).is_le();
        if both(x[0]) && both(x[1]) {
            return &self.outlet - &self.fall;
        }
        let beyond = |x: &Len| judge.cmp(x, &self.length).is_ge();
        if beyond(x[0]) && beyond(x[1]) {
            return self.outlet.clone();
        }
        // Mean distance from the outlet end, so that the trail is one share.
        let run = (&(&self.length - x[0]) + &(&self.length - x[1])).half();
        &self.outlet - &Len::share(&self.fall, &run, &self.length)
    }
}

/// A block with vertical sides along x and y; bottom and top are level or follow the floor.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Block {
    /// From and to, along the flow.
    pub x: [Len; 2],
    /// From and to, across it.
    pub y: [Len; 2],
    /// Bottom and top.
    pub z: [Z; 2],
}

impl Block {
    /// Length, breadth and mean height.
    #[must_use]
    pub fn dims(&self, judge: &Judge, floor: &Floor) -> [Len; 3] {
        [&self.x[1] - &self.x[0], &self.y[1] - &self.y[0], self.height(judge, floor)]
    }

    /// Mean height.
    #[must_use]
    pub fn height(&self, judge: &Judge, floor: &Floor) -> Len {
        let rise = &self.z[1].off - &self.z[0].off;
        match (self.z[0].follows, self.z[1].follows) {
            (true, false) => &rise - &floor.mean(judge, [&self.x[0], &self.x[1]]),
            (false, true) => &rise + &floor.mean(judge, [&self.x[0], &self.x[1]]),
            _ => rise,
        }
    }

    /// Where two blocks share space; `None` where they only touch or lie apart.
    #[must_use]
    pub fn meet(&self, o: &Self, judge: &Judge, floor: &Floor) -> Option<Self> {
        if self.apart(o, None, judge) {
            return None;
        }
        let x = meet_span(&self.x, &o.x, judge)?;
        let y = meet_span(&self.y, &o.y, judge)?;
        let z = self.meet_z(o, &x, judge, floor)?;
        Some(Self { x, y, z })
    }

    /// Do they lie apart along an axis (another than `but`)? The one comparison that says so is all that needs
    /// remembering: others may change freely.
    #[must_use]
    pub fn apart(&self, o: &Self, but: Option<Axis>, judge: &Judge) -> bool {
        let sides = [
            (Axis::Z, [&self.z[1].off, &o.z[0].off], self.z[1].follows == o.z[0].follows),
            (Axis::Z, [&o.z[1].off, &self.z[0].off], o.z[1].follows == self.z[0].follows),
            (Axis::X, [&self.x[1], &o.x[0]], true),
            (Axis::X, [&o.x[1], &self.x[0]], true),
            (Axis::Y, [&self.y[1], &o.y[0]], true),
            (Axis::Y, [&o.y[1], &self.y[0]], true),
        ];
        let reason = sides
            .into_iter()
            .find(|(axis, [end, start], alike)| *alike && Some(*axis) != but && end.value() <= start.value());
        reason.is_some_and(|(_, [end, start], _)| judge.cmp(end, start).is_le())
    }

    fn meet_z(&self, o: &Self, x: &[Len; 2], judge: &Judge, floor: &Floor) -> Option<[Z; 2]> {
        let order = |a: &Z, b: &Z| cmp_z(a, b, x, judge, floor);
        let bottom = if order(&self.z[0], &o.z[0]).is_lt() { &o.z[0] } else { &self.z[0] };
        let top = if order(&self.z[1], &o.z[1]).is_gt() { &o.z[1] } else { &self.z[1] };
        order(bottom, top).is_lt().then(|| [bottom.clone(), top.clone()])
    }

    /// The same across one axis: the block's own extent there stays, touching is enough.
    #[must_use]
    pub fn meet_across(&self, o: &Self, axis: Axis, judge: &Judge, floor: &Floor) -> Option<Self> {
        if self.apart(o, Some(axis), judge) {
            return None;
        }
        let mut o = o.clone();
        match axis {
            Axis::X => {
                let y = meet_span(&self.y, &o.y, judge)?;
                let z = self.meet_z(&o, &self.x, judge, floor)?;
                Some(Self { x: self.x.clone(), y, z })
            }
            Axis::Y => {
                let x = meet_span(&self.x, &o.x, judge)?;
                let z = self.meet_z(&o, &x, judge, floor)?;
                Some(Self { x, y: self.y.clone(), z })
            }
            Axis::Z => {
                o.z = self.z.clone();
                let (x, y) = (meet_span(&self.x, &o.x, judge)?, meet_span(&self.y, &o.y, judge)?);
                Some(Self { x, y, z: self.z.clone() })
            }
        }
    }

    /// On which sides of the plane of a flat block does another stand against it: below or before, above or after?
    #[must_use]
    pub fn touches(&self, o: &Self, axis: Axis, judge: &Judge, floor: &Floor) -> [bool; 2] {
        // A flat level and a falling floor are compared only where both blocks are.
        let alike = o.z.iter().all(|z| z.follows == self.z[0].follows);
        let both = if alike || axis != Axis::Z { None } else { meet_span(&self.x, &o.x, judge) };
        let x = both.as_ref().unwrap_or(&self.x);
        let order = |i: usize| match axis {
            Axis::X => judge.cmp(&o.x[i], &self.x[0]),
            Axis::Y => judge.cmp(&o.y[i], &self.y[0]),
            Axis::Z => cmp_z(&o.z[i], &self.z[0], x, judge, floor),
        };
        // One end decides where the other stands wholly beyond the plane: only that is remembered.
        let low = order(0);
        if low.is_gt() {
            return [false, false];
        }
        let high = order(1);
        [low.is_lt() && high.is_ge(), high.is_gt()]
    }

    /// Does the other block cover this one wholly?
    #[must_use]
    pub fn within(&self, o: &Self, judge: &Judge, floor: &Floor) -> bool {
        judge.cmp(&self.x[0], &o.x[0]).is_ge()
            && judge.cmp(&self.x[1], &o.x[1]).is_le()
            && judge.cmp(&self.y[0], &o.y[0]).is_ge()
            && judge.cmp(&self.y[1], &o.y[1]).is_le()
            && cmp_z(&self.z[0], &o.z[0], &self.x, judge, floor).is_ge()
            && cmp_z(&self.z[1], &o.z[1], &self.x, judge, floor).is_le()
    }
}

/// The common part of two spans, if it has any length.
pub(crate) fn meet_span(a: &[Len; 2], b: &[Len; 2], judge: &Judge) -> Option<[Len; 2]> {
    let from = judge.max(&a[0], &b[0]);
    let to = judge.min(&a[1], &b[1]);
    judge.cmp(from, to).is_lt().then(|| [from.clone(), to.clone()])
}

/// Order of two levels over a stretch of x. A flat level that crosses the floor counts at the floor's high end.
pub fn cmp_z(a: &Z, b: &Z, x: &[Len; 2], judge: &Judge, floor: &Floor) -> Ordering {
    if a.follows == b.follows {
        return judge.cmp(&a.off, &b.off);
    }
    let level = |z: &Z, x: &Len| if z.follows { &z.off + &floor.at(judge, x) } else { z.off.clone() };
    let low = judge.cmp(&level(a, &x[0]), &level(b, &x[0]));
    let high = judge.cmp(&level(a, &x[1]), &level(b, &x[1]));
    if high == Ordering::Equal { low } else { high }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test stops where it fails")]
mod tests {
    use super::*;
    use crate::Ratio;

    /// Outlet end 1000 below the datum, inlet end 100 lower, 1000 from end to end.
    fn falling() -> Floor {
        Floor { outlet: Len::fixed(-1000), fall: Len::fixed(100), length: Len::fixed(1000) }
    }

    fn level() -> Floor {
        Floor { fall: Len::ZERO, ..falling() }
    }

    fn block(x: [i64; 2], y: [i64; 2], z: [Z; 2]) -> Block {
        Block { x: x.map(Len::fixed), y: y.map(Len::fixed), z }
    }

    /// Flat levels.
    fn flat(low: i64, high: i64) -> [Z; 2] {
        [low, high].map(|off| Z::flat(Len::fixed(off)))
    }

    /// From, to: along, across, up.
    fn ends(block: &Block) -> [Ratio; 6] {
        let [x, y, z] = [block.x.clone(), block.y.clone(), block.z.clone().map(|z| z.off)];
        [&x[0], &x[1], &y[0], &y[1], &z[0], &z[1]].map(Len::value)
    }

    #[test]
    fn a_floor_is_level_beyond_its_ends_and_straight_between() {
        let (judge, floor) = (Judge::default(), falling());
        let at = |floor: &Floor, x| floor.at(&judge, &Len::fixed(x)).value();
        let fall = |x| Ratio::int(-1000 - 100 * (1000 - x) / 1000);
        for (x, beside) in [(-50, 0), (0, 0), (250, 250), (990, 990), (1000, 1000), (1200, 1000)] {
            assert_eq!(at(&floor, x), fall(beside), "at {x}");
            assert_eq!(at(&level(), x), Ratio::int(-1000), "level at {x}");
        }
        let mean =
            |floor: &Floor, x: [i64; 2]| floor.mean(&judge, [&Len::fixed(x[0]), &Len::fixed(x[1])]).value();
        for x in [[-80, 0], [-80, -20], [1000, 1100], [1020, 1100]] {
            assert_eq!(mean(&floor, x), at(&floor, x[0]), "a level stretch {x:?}");
        }
        for x in [[0, 1000], [0, 200], [200, 600], [700, 1000]] {
            let half = Ratio::of(1, 2);
            assert_eq!(mean(&floor, x), (fall(i128::from(x[0])) + fall(i128::from(x[1]))) * half, "{x:?}");
            assert_eq!(mean(&level(), x), Ratio::int(-1000), "level {x:?}");
        }
    }

    #[test]
    fn a_block_is_as_high_as_its_ends_are_apart() {
        let (judge, floor) = (Judge::default(), falling());
        let size = |z| block([200, 600], [30, 80], z).dims(&judge, &floor).map(|l| l.value());
        let (up, over) = (|off| Z::flat(Len::fixed(off)), |off| Z::floor(Len::fixed(off)));
        // The floor's mean from 200 to 600: 1000 + 100 x 0.6 below the datum.
        for (z, high) in [
            ([up(-900), up(-200)], -200 + 900),
            ([over(40), over(90)], 90 - 40),
            ([over(40), up(-200)], -200 - (40 - 1060)),
            ([up(-1500), over(90)], (90 - 1060) + 1500),
        ] {
            assert_eq!(size(z.clone()), [600 - 200, 80 - 30, high].map(Ratio::int), "{z:?}");
        }
    }

    #[test]
    fn blocks_meet_where_they_share_space() {
        let (judge, floor) = (Judge::default(), falling());
        let a = block([0, 100], [0, 200], flat(-500, 0));
        let meet = |b: &Block| a.meet(b, &judge, &floor).map(|m| ends(&m));
        let b = block([40, 160], [-50, 80], flat(-700, -100));
        let common = [40, 100, 0, 80, -500, -100].map(Ratio::int);
        assert_eq!((meet(&b), b.meet(&a, &judge, &floor).map(|m| ends(&m))), (Some(common), Some(common)));
        assert_eq!(meet(&a), Some(ends(&a)));
        for (x, y, z) in [
            ([100, 160], [0, 200], [-500, 0]),
            ([-60, 0], [0, 200], [-500, 0]),
            ([0, 100], [200, 300], [-500, 0]),
            ([0, 100], [-10, 0], [-500, 0]),
            ([0, 100], [0, 200], [0, 50]),
            ([0, 100], [0, 200], [-900, -500]),
        ] {
            let touching = block(x, y, flat(z[0], z[1]));
            assert_eq!(meet(&touching), None, "{touching:?}");
            assert!(a.apart(&touching, None, &judge) && touching.apart(&a, None, &judge), "{touching:?}");
        }
        assert!(!a.apart(&b, None, &judge));
        // The floor lies 1000 and more below the datum: a slab on it ends far below a block at the top.
        let slab = block([0, 100], [0, 200], [Z::floor(Len::ZERO), Z::floor(Len::fixed(150))]);
        assert!(!a.apart(&slab, None, &judge), "a level and a floor are not compared without their place");
        assert_eq!(meet(&slab), None);
        let deep = block([0, 100], [0, 200], flat(-1020, 0)).meet(&slab, &judge, &floor).unwrap();
        assert_eq!(deep.z, [Z::flat(Len::fixed(-1020)), Z::floor(Len::fixed(150))]);
    }

    #[test]
    fn across_an_axis_touching_is_enough() {
        let (judge, floor) = (Judge::default(), falling());
        let a = block([0, 100], [0, 200], flat(-500, 0));
        let across = |b: &Block, axis| a.meet_across(b, axis, &judge, &floor).map(|m| ends(&m));
        let some = |e: [i128; 6]| Some(e.map(Ratio::int));
        // Beyond the block along the axis, overlapping it along the two others.
        let [x, y, z] = [
            block([100, 130], [50, 260], flat(-300, 90)),
            block([30, 130], [200, 260], flat(-300, 90)),
            block([30, 130], [50, 260], flat(0, 90)),
        ];
        assert_eq!(across(&x, Axis::X), some([0, 100, 50, 200, -300, 0]));
        assert_eq!(across(&y, Axis::Y), some([30, 100, 0, 200, -300, 0]));
        assert_eq!(across(&z, Axis::Z), some([30, 100, 50, 200, -500, 0]));
        for (b, others) in [(x, [Axis::Y, Axis::Z]), (y, [Axis::X, Axis::Z]), (z, [Axis::X, Axis::Y])] {
            for axis in others {
                assert_eq!(across(&b, axis), None, "{b:?} across {axis:?}");
            }
        }
    }

    #[test]
    fn a_plane_is_touched_from_one_side_or_both() {
        let (judge, floor) = (Judge::default(), falling());
        let sides = |plane: &Block, o: &Block, axis| plane.touches(o, axis, &judge, &floor);
        let cases = [([40, 100], [true, false]), ([100, 160], [false, true]), ([40, 160], [true, true])];
        for (run, touched) in
            cases.into_iter().chain([([10, 90], [false, false]), ([110, 190], [false, false])])
        {
            let all = flat(-500, 0);
            let along = block(run, [0, 200], all.clone());
            assert_eq!(
                sides(&block([100, 100], [0, 200], all.clone()), &along, Axis::X),
                touched,
                "x {run:?}"
            );
            let across = block([0, 200], run, all.clone());
            assert_eq!(
                sides(&block([0, 200], [100, 100], all.clone()), &across, Axis::Y),
                touched,
                "y {run:?}"
            );
            let up = block([0, 200], [0, 200], flat(run[0], run[1]));
            assert_eq!(sides(&block([0, 200], [0, 200], flat(100, 100)), &up, Axis::Z), touched, "z {run:?}");
        }
        // The slab lies where the floor is at the plane's level; that the floor rises further on does not matter.
        let plane = block([-200, 1000], [0, 200], flat(-1100, -1100));
        let slab = block([-900, 0], [0, 200], [Z::floor(Len::ZERO), Z::floor(Len::fixed(50))]);
        assert_eq!(sides(&plane, &slab, Axis::Z), [false, true]);
    }

    #[test]
    fn within_is_on_every_side() {
        let (judge, floor) = (Judge::default(), falling());
        let inner = block([10, 90], [20, 80], flat(-400, -100));
        let is = |o: &Block| inner.within(o, &judge, &floor);
        assert!(is(&inner) && is(&block([0, 100], [0, 100], flat(-500, 0))));
        for (x, y, z) in [
            ([11, 90], [20, 80], [-400, -100]),
            ([10, 89], [20, 80], [-400, -100]),
            ([10, 90], [21, 80], [-400, -100]),
            ([10, 90], [20, 79], [-400, -100]),
            ([10, 90], [20, 80], [-399, -100]),
            ([10, 90], [20, 80], [-400, -101]),
        ] {
            assert!(!is(&block(x, y, flat(z[0], z[1]))), "{x:?} {y:?} {z:?}");
        }
    }

    #[test]
    fn a_level_that_crosses_the_floor_counts_at_its_high_end() {
        let (judge, floor) = (Judge::default(), falling());
        let order = |flat: i64, x: [i64; 2]| {
            cmp_z(&Z::flat(Len::fixed(flat)), &Z::floor(Len::ZERO), &x.map(Len::fixed), &judge, &floor)
        };
        assert!(order(-1050, [0, 1000]).is_lt());
        assert!(order(-1050, [0, 400]).is_gt());
        assert!(
            order(-1000, [0, 1000]).is_gt(),
            "it meets the floor at the high end, and is above it at the low one"
        );
        assert!(order(-1100, [-200, 0]).is_eq());
        let both = |a, b| {
            cmp_z(&Z::floor(Len::fixed(a)), &Z::floor(Len::fixed(b)), &[0, 1].map(Len::fixed), &judge, &floor)
        };
        assert!(both(10, 20).is_lt() && both(20, 20).is_eq() && both(30, 20).is_gt());
    }
}
