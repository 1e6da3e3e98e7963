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
