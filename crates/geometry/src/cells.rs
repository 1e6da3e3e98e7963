//! Space cut into cells along every plane that any block has: the proof of volumes and faces.
//!
//! It knows blocks by their number only. Each cell belongs to the block of the lowest rank that fills it.

use crate::cuts::Part;

/// A block as painted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Painted {
    /// The block, as a box between cuts.
    pub part: Part,
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
    size: [usize; 3],
    fill: Vec<Fill>,
}

impl Cells {
    /// Paints the blocks into a space of so many cells along x, y and z.
    #[must_use]
    pub fn paint(blocks: &[Painted], size: [usize; 3]) -> Self {
        let none = Fill { owner: None, corners: None };
        let mut cells = Self { size, fill: vec![none; size.iter().product()] };
        let mut order: Vec<usize> = (0..blocks.len()).collect();
        order.sort_by_key(|i| std::cmp::Reverse((blocks[*i].rank, *i)));
        for i in order {
            let b = &blocks[i];
            let [xs, ys, zs] = b.part.map(|[from, to]| usize::from(from)..usize::from(to));
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

    /// Number of cells along x, y and z.
    #[must_use]
    pub const fn size(&self) -> [usize; 3] {
        self.size
    }

    const fn index(&self, [x, y, z]: [usize; 3]) -> usize {
        (x * self.size[1] + y) * self.size[2] + z
    }

    /// What fills a cell.
    #[must_use]
    pub fn fill(&self, cell: [usize; 3]) -> Fill {
        self.fill[self.index(cell)]
    }

    /// Every cell.
    pub fn all(&self) -> impl Iterator<Item = [usize; 3]> + use<> {
        let [nx, ny, nz] = self.size;
        (0..nx).flat_map(move |x| (0..ny).flat_map(move |y| (0..nz).map(move |z| [x, y, z])))
    }

    /// A cell as a box; with an axis, its face towards larger coordinates.
    #[must_use]
    pub fn part(cell: [usize; 3], face: Option<usize>) -> Part {
        let place = |i: usize| u16::try_from(i).unwrap_or(u16::MAX);
        let mut part = cell.map(|c| [place(c), place(c + 1)]);
        if let Some(run) = face.and_then(|axis| part.get_mut(axis)) {
            run[0] = run[1];
        }
        part
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test stops where it fails")]
mod tests {
    use super::*;
    use crate::cuts::{Cuts, merged};
    use crate::{Block, Floor, Len, Ratio, Z};

    fn block(x: [i64; 2], y: [i64; 2], z: [Z; 2]) -> Block {
        Block { x: x.map(Len::fixed), y: y.map(Len::fixed), z }
    }

    #[test]
    fn the_lower_rank_wins_and_volumes_add_up_over_a_sloping_floor() {
        let floor = Floor { outlet: Len::fixed(-1000), fall: Len::fixed(100), length: Len::fixed(1000) };
        let space = block([0, 1000], [0, 500], [Z::floor(Len::ZERO), Z::flat(Len::ZERO)]);
        let post = block([400, 500], [0, 100], [Z::floor(Len::ZERO), Z::flat(Len::fixed(-300))]);
        let cuts = Cuts::of([&space, &post].into_iter(), std::iter::empty(), &floor).unwrap();
        let painted = |block, rank| Painted { part: cuts.part(block).unwrap(), rank, round: false };
        let cells = Cells::paint(&[painted(&space, 9), painted(&post, 1)], cuts.size().0);
        assert_eq!(cells.size(), [4 + 2 - 1, 3 + 2 - 1, 3 - 1]);
        let of = |n| {
            let own: Vec<_> = cells.all().filter(|c| cells.fill(*c).owner == Some(n)).collect();
            let parts: Vec<_> = own.into_iter().map(|c| Cells::part(c, None)).collect();
            let sum = |parts: &[Part]| parts.iter().map(|p| cuts.volume(p).unwrap()).sum::<i128>();
            let fewer = merged(parts.clone());
            assert!(fewer.len() < parts.len() || parts.len() == 1);
            assert_eq!(sum(&parts), sum(&fewer));
            Ratio::of(sum(&fewer), cuts.cubic().unwrap())
        };
        // Mean height over 400 to 500: 1000 + 100 x 0.55 - 300.
        assert_eq!(of(1), Ratio::int(100 * 100 * 755));
        assert_eq!(of(0) + of(1), Ratio::int(1000 * 500 * 1050));
    }

    #[test]
    fn faces_of_a_box_over_a_sloping_floor() {
        let half = Len::fixed(1).half();
        let floor = Floor { outlet: Len::fixed(-1000), fall: Len::fixed(100), length: Len::fixed(1000) };
        let mut space = block([0, 1000], [0, 500], [Z::floor(Len::ZERO), Z::flat(Len::ZERO)]);
        space.y[0] = half;
        let cuts = Cuts::of([&space].into_iter(), std::iter::empty(), &floor).unwrap();
        let [x, y, z] = cuts.part(&space).unwrap();
        let area = |part, axis| Ratio::of(cuts.area(&part, axis).unwrap(), cuts.square().unwrap());
        let wide = Ratio::of(999, 2); // 500 - 0.5
        assert_eq!(area([[x[0]; 2], y, z], 0), wide * Ratio::int(1100));
        assert_eq!(area([[x[1]; 2], y, z], 0), wide * Ratio::int(1000));
        assert_eq!(area([x, [y[0]; 2], z], 1), Ratio::int(1000 * 1050));
        assert_eq!(area([x, y, [z[0]; 2]], 2), wide * Ratio::int(1000));
    }
}
