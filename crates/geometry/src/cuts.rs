//! Every plane of every block as whole numbers: places of planes, and areas and volumes between them.
//!
//! All coordinates are brought to one scale, so that nothing is a fraction until the last division. Where the floor
//! falls, heights are taken `length` times, because the floor's level at x is `outlet - fall x run / length`.

use crate::{Block, Floor, Ratio, Z};

#[cfg(test)]
mod tests;

/// From and to, as places in a list of cuts.
pub type Run = [u16; 2];

/// A box of cells along x, y and z; a face where one of them has no extent.
pub type Part = [Run; 3];

/// The planes of a space, sorted, in whole parts of a tenth of a millimetre.
#[derive(Debug)]
pub struct Cuts {
    scale: i128,
    x: Vec<i64>,
    y: Vec<i64>,
    /// Offsets of the levels that follow the floor, then flat levels.
    z: Vec<i64>,
    follow: u16,
    sloping: bool,
    outlet: i64,
    /// Clear length; 1 where the floor does not fall.
    length: i128,
    /// `length` x level of the floor at each cut of x, and twice its integral up to there.
    floor: Vec<[i128; 2]>,
    /// Products of four coordinates are far from what 128 bits hold.
    small: bool,
}

/// Brings fractions to one scale.
struct Scale(i128);

impl Scale {
    fn of(values: impl Iterator<Item = Ratio>) -> Option<Self> {
        let mut scale = 1_i128;
        for value in values {
            let d = value.denom();
            if d == 0 {
                return None;
            }
            // Most are whole, or in the scale that was found already.
            if d != 1 && d != scale && scale % d != 0 {
                // The least common multiple: d over what both share.
                scale = scale.checked_mul(Ratio::of(scale, d).denom())?;
            }
        }
        Some(Self(scale))
    }

    fn whole(&self, value: Ratio) -> Option<i64> {
        let (n, d) = (value.numer(), value.denom());
        if d == self.0 {
            return i64::try_from(n).ok();
        }
        let times = if d == 1 { self.0 } else { self.0 / d };
        i64::try_from(n.checked_mul(times)?).ok()
    }
}

fn sorted(mut all: Vec<i64>) -> Vec<i64> {
    all.sort_unstable();
    all.dedup();
    all
}

fn place(cuts: &[i64], value: i64) -> Option<u16> {
    cuts.binary_search(&value).ok().and_then(|i| u16::try_from(i).ok())
}

/// A product: plain where nothing can overflow.
fn product(small: bool, [a, b, c]: [i128; 3]) -> Option<i128> {
    if small { Some(a * b * c) } else { a.checked_mul(b)?.checked_mul(c) }
}

impl Cuts {
    /// The planes of blocks, of further levels, and of a margin of one millimetre round everything; `None` where the
    /// numbers grow too large.
    #[must_use]
    pub fn of<'a>(
        blocks: impl Iterator<Item = &'a Block> + Clone,
        mut levels: impl Iterator<Item = &'a Z> + Clone,
        floor: &'a Floor,
    ) -> Option<Self> {
        let lens = |b: &'a Block| b.x.iter().chain(&b.y).chain(b.z.iter().map(|z| &z.off));
        let own = [&floor.outlet, &floor.fall, &floor.length];
        let all = blocks.clone().flat_map(lens).chain(levels.clone().map(|z| &z.off)).chain(own);
        let scale = Scale::of(all.map(crate::Len::value))?;
        let whole = |l: &crate::Len| scale.whole(l.value());
        let sloping = !floor.fall.is_zero();
        let [outlet, fall, length] = own.map(whole);
        let (outlet, fall, length) = (outlet?, fall?, length?);
        let margin = i64::try_from(scale.0.checked_mul(10)?).ok()?;
        let (mut x, mut y) = (vec![0, length], Vec::new());
        let (mut follow, mut flat) = (Vec::new(), Vec::new());
        let mut level = |z: &Z| {
            let off = whole(&z.off)?;
            match z.follows {
                true if sloping => follow.push(off),
                true => flat.push(off.checked_add(outlet)?),
                false => flat.push(off),
            }
            Some(())
        };
        for block in blocks {
            for end in 0..2 {
                x.push(whole(&block.x[end])?);
                y.push(whole(&block.y[end])?);
                level(&block.z[end])?;
            }
        }
        levels.try_for_each(level)?;
        let with_margin = |all: Vec<i64>| {
            let mut all = sorted(all);
            if let (Some(low), Some(high)) = (all.first().copied(), all.last().copied()) {
                all.insert(0, low.checked_sub(margin)?);
                all.push(high.checked_add(margin)?);
            }
            Some(all)
        };
        let (x, y, mut z, flat) = (with_margin(x)?, with_margin(y)?, sorted(follow), sorted(flat));
        let follow = u16::try_from(z.len()).ok()?;
        z.extend(flat);
        let all = x.iter().chain(&y).chain(&z).chain([&outlet, &fall, &length]);
        let small = all.map(|v| v.unsigned_abs()).max().is_some_and(|m| m < 1 << 26);
        let mut cuts =
            Self { scale: scale.0, x, y, z, follow, sloping, outlet, length: 1, floor: Vec::new(), small };
        if sloping {
            cuts.length = i128::from(length);
            cuts.floor_falls(fall)?;
        }
        Some(cuts)
    }

    fn floor_falls(&mut self, fall: i64) -> Option<()> {
        let (outlet, fall) = (i128::from(self.outlet), i128::from(fall));
        let (mut before, mut sum): (Option<(i128, i128)>, i128) = (None, 0);
        for x in &self.x {
            let x = i128::from(*x);
            let run = (self.length - x).clamp(0, self.length);
            let level = self.length.checked_mul(outlet)?.checked_sub(fall.checked_mul(run)?)?;
            if let Some((at, last)) = before {
                sum = sum.checked_add((x - at).checked_mul(level.checked_add(last)?)?)?;
            }
            before = Some((x, level));
            self.floor.push([level, sum]);
        }
        Some(())
    }

    /// Number of cells along x, y and z, and how many levels follow the floor.
    #[must_use]
    pub fn size(&self) -> ([usize; 3], u16) {
        ([&self.x, &self.y, &self.z].map(|c| c.len().saturating_sub(1)), self.follow)
    }

    /// The planes along x (0) or y (1), or the offsets of the levels (2), tenths of a millimetre.
    pub fn planes(&self, axis: usize) -> impl Iterator<Item = Ratio> {
        let planes = [&self.x, &self.y, &self.z].get(axis).map_or(&[][..], |p| p);
        planes.iter().map(|p| Ratio::of(i128::from(*p), self.scale))
    }

    fn whole(&self, value: Ratio) -> Option<i64> {
        let d = value.denom();
        let exact = d == 1 || d == self.scale || (d != 0 && self.scale % d == 0);
        if exact { Scale(self.scale).whole(value) } else { None }
    }

    /// Where a cut across an axis lies, tenths of a millimetre: along z, above the floor for those that follow it.
    #[must_use]
    pub fn at(&self, axis: usize, cut: usize) -> Option<Ratio> {
        let cuts = [&self.x, &self.y, &self.z];
        cuts.get(axis)?.get(cut).map(|c| Ratio::of(i128::from(*c), self.scale))
    }

    /// Where a level lies among the cuts; `None` where it is no cut.
    #[must_use]
    pub fn level(&self, z: &Z) -> Option<u16> {
        let off = self.whole(z.off.value())?;
        if z.follows && self.sloping {
            return place(&self.z[..usize::from(self.follow)], off);
        }
        let off = if z.follows { off.checked_add(self.outlet)? } else { off };
        place(&self.z[usize::from(self.follow)..], off).map(|i| i + self.follow)
    }

    /// A slab of levels; empty where one of them is no cut.
    #[must_use]
    pub fn slab(&self, z: &[Z; 2]) -> Run {
        match (self.level(&z[0]), self.level(&z[1])) {
            (Some(low), Some(high)) => [low, high],
            _ => [0, 0],
        }
    }

    /// The box of a block; `None` where it is none of those that the cuts were made of.
    #[must_use]
    pub fn part(&self, block: &Block) -> Option<Part> {
        let along = |cuts: &[i64], s: &[crate::Len; 2]| {
            let find = |l: &crate::Len| place(cuts, self.whole(l.value())?);
            Some([find(&s[0])?, find(&s[1])?])
        };
        let z = [self.level(&block.z[0])?, self.level(&block.z[1])?];
        Some([along(&self.x, &block.x)?, along(&self.y, &block.y)?, z])
    }

    /// The cells wholly within a rectangle on plan: x from, x to, y from, y to.
    #[must_use]
    pub fn within(&self, r: [Ratio; 4]) -> [Run; 2] {
        let run = |cuts: &[i64], from: Ratio, to: Ratio| {
            let (from, to) = (from * Ratio::int(self.scale), to * Ratio::int(self.scale));
            let before = |v: Ratio, with: bool| {
                let below = |c: &i64| if with { Ratio::from(*c) <= v } else { Ratio::from(*c) < v };
                cuts.partition_point(below)
            };
            let (low, high) = (before(from, false), before(to, true).saturating_sub(1));
            [low, high.max(low)].map(|i| u16::try_from(i).unwrap_or(u16::MAX))
        };
        [run(&self.x, r[0], r[1]), run(&self.y, r[2], r[3])]
    }

    /// The first flat level that is not below this one.
    #[must_use]
    pub fn from_level(&self, level: Ratio) -> u16 {
        let flat = &self.z[usize::from(self.follow)..];
        let level = level * Ratio::int(self.scale);
        self.follow + u16::try_from(flat.partition_point(|c| Ratio::from(*c) < level)).unwrap_or(u16::MAX)
    }

    /// The flat level on top of a layer, tenths of a millimetre; none where that follows the floor.
    #[must_use]
    pub fn top(&self, layer: usize) -> Option<Ratio> {
        let top = layer.checked_add(1).filter(|i| *i >= usize::from(self.follow))?;
        self.z.get(top).map(|z| Ratio::of(i128::from(*z), self.scale))
    }

    fn gap(cuts: &[i64], run: Run) -> Option<i128> {
        Some(i128::from(*cuts.get(usize::from(run[1]))?) - i128::from(*cuts.get(usize::from(run[0]))?))
    }

    /// Twice `length` times the area of a slab between two cuts of x, seen from the side.
    fn side(&self, [x, _, z]: &Part) -> Option<i128> {
        let (dx, dz) = (Self::gap(&self.x, *x)?, Self::gap(&self.z, *z)?);
        let rise = product(self.small, [2 * self.length, dz, dx])?;
        let follows = |i: u16| i128::from(self.sloping && i < self.follow);
        match follows(z[1]) - follows(z[0]) {
            0 => Some(rise),
            sign => {
                let under = self.floor.get(usize::from(x[1]))?[1] - self.floor.get(usize::from(x[0]))?[1];
                rise.checked_add(sign * under)
            }
        }
    }

    /// Volume of a box, in [`Self::cubic`] parts; heights are signed where a flat level dips under the floor.
    #[must_use]
    pub fn volume(&self, part: &Part) -> Option<i128> {
        product(self.small, [self.side(part)?, Self::gap(&self.y, part[1])?, 1])
    }

    /// Area of a face, in [`Self::square`] parts: the axis across it has no extent.
    #[must_use]
    pub fn area(&self, part: &Part, axis: usize) -> Option<i128> {
        let [x, y, z] = part;
        match axis {
            0 => {
                let follows = |i: u16| i128::from(self.sloping && i < self.follow);
                let rise = product(self.small, [self.length, Self::gap(&self.z, *z)?, 1])?;
                let floor = match follows(z[1]) - follows(z[0]) {
                    0 => 0,
                    sign => sign * self.floor.get(usize::from(x[0]))?[0],
                };
                product(self.small, [2, Self::gap(&self.y, *y)?, rise.checked_add(floor)?])
            }
            1 => self.side(part),
            _ => product(self.small, [Self::gap(&self.x, *x)?, Self::gap(&self.y, *y)?, 2 * self.length]),
        }
    }

    /// How many parts of a volume make a cubic tenth of a millimetre.
    #[must_use]
    pub fn cubic(&self) -> Option<i128> {
        self.square()?.checked_mul(self.scale)
    }

    /// How many parts of an area make a square tenth of a millimetre.
    #[must_use]
    pub fn square(&self) -> Option<i128> {
        self.length.checked_mul(2)?.checked_mul(self.scale)?.checked_mul(self.scale)
    }
}

/// The same space in fewer boxes: those that stand side by side become one.
#[must_use]
pub fn merged(mut parts: Vec<Part>) -> Vec<Part> {
    for axis in [2, 1, 0] {
        let others = [(axis + 1) % 3, (axis + 2) % 3];
        parts.sort_unstable_by_key(|p| (p[others[0]], p[others[1]], p[axis]));
        let mut fewer: Vec<Part> = Vec::with_capacity(parts.len());
        for part in parts {
            match fewer.last_mut() {
                Some(last)
                    if others.iter().all(|o| last[*o] == part[*o])
                        && last[axis][1] == part[axis][0]
                        && last[axis][0] < last[axis][1]
                        && part[axis][0] < part[axis][1] =>
                {
                    last[axis][1] = part[axis][1];
                }
                _ => fewer.push(part),
            }
        }
        parts = fewer;
    }
    parts
}
