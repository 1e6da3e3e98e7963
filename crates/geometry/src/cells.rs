//! Space cut into cells along every plane that any block has: the proof of volumes and faces.
//!
//! It knows blocks by their number only. Each cell belongs to the block of the lowest rank that fills it.

use crate::{Block, Floor, Ratio, Z};

/// A block as painted.
#[derive(Clone, Debug)]
pub struct Painted<'a> {
    /// The block.
    pub block: &'a Block,
    /// Who wins: the lower; among equals the earlier.
    pub rank: u16,
    /// A cylinder inscribed in the block: it shares its cells with the next in rank.
    pub round: bool,
}

/// What fills a cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fill {
    /// Number of the block, or none.
    pub owner: Option<usize>,
    /// Of a round owner: who has the corners.
    pub corners: Option<usize>,
}

/// The cut space.
#[derive(Debug)]
pub struct Cells {
    x: Vec<Ratio>,
    y: Vec<Ratio>,
    /// Offsets of the levels that follow the floor, then flat levels.
    follow: Vec<Ratio>,
    flat: Vec<Ratio>,
    /// Height of each layer at each x cut.
    heights: Vec<Vec<Ratio>>,
    fill: Vec<Fill>,
}

fn cuts(mut all: Vec<Ratio>) -> Vec<Ratio> {
    all.sort();
    all.dedup();
    all
}

impl Cells {
    /// Paints the blocks. `levels` are further cuts; a margin of one millimetre lies round everything.
    #[must_use]
    pub fn paint(blocks: &[Painted<'_>], levels: &[Z], floor: &Floor) -> Self {
        let margin = Ratio::int(10);
        let with_margin = |mut all: Vec<Ratio>| {
            let (low, high) = (all.iter().min().copied(), all.iter().max().copied());
            all.extend(low.map(|v| v - margin));
            all.extend(high.map(|v| v + margin));
            cuts(all)
        };
        let ends = [Ratio::ZERO, floor.length.value()];
        let x = blocks.iter().flat_map(|b| b.block.x.iter().map(|l| l.value()));
        let y = blocks.iter().flat_map(|b| b.block.y.iter().map(|l| l.value()));
        let (x, y) = (with_margin(x.chain(ends).collect()), with_margin(y.collect()));
        // Without a fall the floor is one flat level and needs no layers of its own.
        let sloping = !floor.fall.is_zero();
        let level = |z: &Z| {
            let follows = z.follows && sloping;
            let value =
                if z.follows && !sloping { z.off.value() + floor.outlet.value() } else { z.off.value() };
            (follows, value)
        };
        let all: Vec<_> = blocks.iter().flat_map(|b| &b.block.z).chain(levels).map(level).collect();
        let pick = |f: bool| cuts(all.iter().filter(|(follows, _)| *follows == f).map(|(_, v)| *v).collect());
        let (follow, flat) = (pick(true), pick(false));
        let at = |x: Ratio| {
            let (fall, length) = (floor.fall.value(), floor.length.value());
            let run = (length - x).max(Ratio::ZERO).min(length);
            floor.outlet.value() - if sloping { fall * run / length } else { Ratio::ZERO }
        };
        let count = (follow.len() + flat.len()).saturating_sub(1);
        let height = |k: usize, x: Ratio| {
            let level = |i: usize| match follow.get(i) {
                Some(off) => *off + at(x),
                None => flat.get(i - follow.len()).copied().unwrap_or(Ratio::UNKNOWN),
            };
            level(k + 1) - level(k)
        };
        let heights = (0..count).map(|k| x.iter().map(|x| height(k, *x)).collect()).collect();
        let mut cells = Self { x, y, follow, flat, heights, fill: Vec::new() };
        cells.fill = vec![Fill { owner: None, corners: None }; cells.columns() * count];
        let mut order: Vec<usize> = (0..blocks.len()).collect();
        order.sort_by_key(|i| std::cmp::Reverse((blocks[*i].rank, *i)));
        for i in order {
            let b = &blocks[i];
            let span = |cuts: &[Ratio], s: &[crate::Len; 2]| {
                let find = |l: &crate::Len| cuts.binary_search(&l.value()).unwrap_or(0);
                find(&s[0])..find(&s[1])
            };
            let z = |z: &Z| {
                let (follows, value) = level(z);
                let (list, base) =
                    if follows { (&cells.follow, 0) } else { (&cells.flat, cells.follow.len()) };
                base + list.binary_search(&value).unwrap_or(0)
            };
            let (xs, ys, zs) =
                (span(&cells.x, &b.block.x), span(&cells.y, &b.block.y), z(&b.block.z[0])..z(&b.block.z[1]));
            for cx in xs {
                for cy in ys.clone() {
                    for cz in zs.clone() {
                        let at = cells.index([cx, cy, cz]);
                        let corners = if b.round { cells.fill[at].owner } else { None };
                        cells.fill[at] = Fill { owner: Some(i), corners };
                    }
                }
            }
        }
        cells
    }

    fn columns(&self) -> usize {
        (self.x.len() - 1) * (self.y.len() - 1)
    }

    /// Number of cells along x, y and z.
    #[must_use]
    pub fn size(&self) -> [usize; 3] {
        [self.x.len() - 1, self.y.len() - 1, self.heights.len()]
    }

    fn index(&self, [x, y, z]: [usize; 3]) -> usize {
        (x * (self.y.len() - 1) + y) * self.heights.len() + z
    }

    /// What fills a cell.
    #[must_use]
    pub fn fill(&self, cell: [usize; 3]) -> Fill {
        self.fill[self.index(cell)]
    }

    /// Volume of a cell, cubic tenths of a millimetre; heights are signed where a flat level dips under the floor.
    #[must_use]
    pub fn volume(&self, cell: [usize; 3]) -> Ratio {
        self.plan(cell) * self.height(cell)
    }

    /// Area of a cell on plan.
    #[must_use]
    pub fn plan(&self, [x, y, _]: [usize; 3]) -> Ratio {
        (self.x[x + 1] - self.x[x]) * (self.y[y + 1] - self.y[y])
    }

    fn height(&self, [x, _, z]: [usize; 3]) -> Ratio {
        (self.heights[z][x] + self.heights[z][x + 1]) * Ratio::of(1, 2)
    }

    /// Area of the face of a cell towards larger x.
    #[must_use]
    pub fn face_x(&self, [x, y, z]: [usize; 3]) -> Ratio {
        (self.y[y + 1] - self.y[y]) * self.heights[z][x + 1]
    }

    /// Area of the face of a cell towards larger y.
    #[must_use]
    pub fn face_y(&self, cell @ [x, _, _]: [usize; 3]) -> Ratio {
        (self.x[x + 1] - self.x[x]) * self.height(cell)
    }

    /// Is the whole cell at or above a flat level that is one of the cuts?
    #[must_use]
    pub fn above(&self, z: usize, level: Ratio) -> bool {
        z.checked_sub(self.follow.len()).and_then(|i| self.flat.get(i)).is_some_and(|v| *v >= level)
    }

    /// The flat level on top of a layer; none where that follows the floor.
    #[must_use]
    pub fn top(&self, z: usize) -> Option<Ratio> {
        self.flat.get((z + 1).checked_sub(self.follow.len())?).copied()
    }

    /// Does the cell lie between two levels (bottom, top), both cuts of this space?
    #[must_use]
    pub fn between(&self, z: usize, slab: &[Z; 2], floor: &Floor) -> bool {
        let place = |l: &Z| {
            if l.follows && !self.follow.is_empty() {
                return self.follow.binary_search(&l.off.value());
            }
            let value = if l.follows { l.off.value() + floor.outlet.value() } else { l.off.value() };
            self.flat.binary_search(&value).map(|i| i + self.follow.len())
        };
        matches!((place(&slab[0]), place(&slab[1])), (Ok(low), Ok(high)) if (low..high).contains(&z))
    }

    /// Does the cell lie within this rectangle on plan (x from, x to, y from, y to; all of them cuts)?
    #[must_use]
    pub fn within(&self, [x, y, _]: [usize; 3], r: [Ratio; 4]) -> bool {
        self.x[x] >= r[0] && self.x[x + 1] <= r[1] && self.y[y] >= r[2] && self.y[y + 1] <= r[3]
    }

    /// Every cell.
    pub fn all(&self) -> impl Iterator<Item = [usize; 3]> + use<> {
        let [nx, ny, nz] = self.size();
        (0..nx).flat_map(move |x| (0..ny).flat_map(move |y| (0..nz).map(move |z| [x, y, z])))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Len;

    fn block(x: [i64; 2], y: [i64; 2], z: [Z; 2]) -> Block {
        Block { x: x.map(Len::fixed), y: y.map(Len::fixed), z }
    }

    #[test]
    fn the_lower_rank_wins_and_volumes_add_up_over_a_sloping_floor() {
        let floor = Floor { outlet: Len::fixed(-1000), fall: Len::fixed(100), length: Len::fixed(1000) };
        let space = block([0, 1000], [0, 500], [Z::floor(Len::ZERO), Z::flat(Len::ZERO)]);
        let post = block([400, 500], [0, 100], [Z::floor(Len::ZERO), Z::flat(Len::fixed(-300))]);
        let painted = |block, rank| Painted { block, rank, round: false };
        let cells = Cells::paint(&[painted(&space, 9), painted(&post, 1)], &[], &floor);
        let of = |n| {
            cells.all().filter(|c| cells.fill(*c).owner == Some(n)).map(|c| cells.volume(c)).sum::<Ratio>()
        };
        // Mean height over 400 to 500: 1000 + 100 x 0.55 - 300.
        assert_eq!(of(1), Ratio::int(100 * 100 * 755));
        assert_eq!(of(0) + of(1), Ratio::int(1000 * 500 * 1050));
    }
}
