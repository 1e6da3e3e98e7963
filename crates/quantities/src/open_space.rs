//! Open space of a tank: which cells nothing fills, and how much of them lies over a plan between two levels.

use std::rc::Rc;

use tankwright_geometry::cells::Painted;
use tankwright_geometry::cuts::{Part, merged};
use tankwright_geometry::{Cells, Cuts, Len, Ratio, Z};

use crate::ledger::{Claim, SetOut};
use crate::site::Site;
use crate::works::voids;

/// What is asked: from and to along and across, and two levels.
#[derive(Clone, Debug)]
pub(crate) struct Room {
    pub(crate) x: [Len; 2],
    pub(crate) y: [Len; 2],
    pub(crate) z: [Z; 2],
}

/// Which cells are open, in boxes: it hangs on the order of the planes alone, and not on cells beyond every block.
#[derive(Debug)]
struct Open {
    blocks: Vec<Painted>,
    clear: Vec<bool>,
    parts: Vec<Part>,
}

/// Open spaces painted before, the latest first.
#[derive(Debug, Default)]
pub(crate) struct Spaces(Vec<Rc<Open>>);

/// So many are kept.
const KEPT: usize = 256;

impl Spaces {
    fn of(&mut self, cuts: &Cuts, set: &SetOut) -> Option<Rc<Open>> {
        let painted =
            |c: &Claim| Some(Painted { part: cuts.part(&c.block)?, rank: c.rank.0, round: c.round });
        let blocks = set.claims.iter().map(painted).collect::<Option<Vec<_>>>()?;
        let clear = |c: &Claim| c.spec.work == &voids::CLEAR_SPACE;
        let same = |o: &Open| o.blocks == blocks && set.claims.iter().map(clear).eq(o.clear.iter().copied());
        if let Some(at) = self.0.iter().position(|o| same(o)) {
            self.0.swap(0, at);
        } else {
            let clear: Vec<bool> = set.claims.iter().map(clear).collect();
            let cells = Cells::paint(&blocks, cuts.size().0);
            let open = |c: &[usize; 3]| cells.fill(*c).owner.is_some_and(|o| clear.get(o) == Some(&true));
            let parts = merged(cells.all().filter(open).map(|c| Cells::part(c, None)).collect());
            self.0.truncate(KEPT - 1);
            self.0.insert(0, Rc::new(Open { blocks, clear, parts }));
        }
        self.0.first().cloned()
    }
}

/// The open space of a site, cut at every level that is asked for.
#[derive(Debug)]
pub(crate) struct Space {
    pub(crate) cuts: Cuts,
    open: Rc<Open>,
}

impl Space {
    /// `None` where the numbers grow too large to be held.
    pub(crate) fn paint(
        site: &Site<'_>,
        set: &SetOut,
        spaces: &mut Spaces,
        levels: impl Iterator<Item = Z>,
    ) -> Option<Self> {
        let planes: Vec<Z> = levels.collect();
        let cuts = Cuts::of(set.claims.iter().map(|c| &c.block), planes.iter(), &site.floor)?;
        let open = spaces.of(&cuts, set)?;
        Some(Self { cuts, open })
    }

    /// The open boxes of a room.
    pub(crate) fn parts(&self, room: &Room) -> impl Iterator<Item = Part> {
        let ([x0, x1], [y0, y1]) = (&room.x, &room.y);
        let [x, y] = self.cuts.within([x0, x1, y0, y1].map(Len::value));
        let within = [x, y, self.cuts.slab(&room.z)];
        self.open.parts.iter().filter_map(move |part| {
            let mut part = *part;
            for (run, limit) in part.iter_mut().zip(within) {
                *run = [run[0].max(limit[0]), run[1].min(limit[1])];
            }
            part.iter().all(|[from, to]| from < to).then_some(part)
        })
    }

    /// Open space in a room, cubic tenths of a millimetre.
    pub(crate) fn volume(&self, room: &Room) -> Ratio {
        let add = |sum: i128, part: Part| sum.checked_add(self.cuts.volume(&part)?);
        let sum = self.parts(room).try_fold(0, add);
        sum.zip(self.cuts.cubic()).map_or(Ratio::UNKNOWN, |(n, d)| Ratio::of(n, d))
    }
}
