//! What a stage adds to a section: its cells, pipes, plastered faces and boards, bold on what stands already.

use tankwright_quantities::sketch::Formed;

use super::levels::spoken;
use super::paint::{Looks, is_solid};
use super::section::Section;
use crate::cut::outlines;
use crate::paper::{Fill, Paper, Pen, Rect};
use crate::sheet::{Along, PITCH, Placing, chain};

/// Thickness of a board that forms a face, as drawn: common practice, no source.
const BOARD: i64 = 250;

impl Section<'_> {
    /// What stands of a cut: all of it where no stage is shown.
    pub(super) fn standing(&self, cut: &Looks) -> Looks {
        let space = &self.desk.space;
        let Some(now) = space.now else { return cut.clone() };
        let stands = cut.map(|at, look| {
            is_solid(space, look) && space.stage(self.cut.cell(at)).is_some_and(|s| s <= now)
        });
        // Between what stands in a row there is a room, whatever comes into it later.
        let ends = |v: usize| {
            let own = |u: &usize| stands.cell([*u, v]) == Some(true);
            (0..cut.size[0]).find(own).zip((0..cut.size[0]).rev().find(own))
        };
        let ends: Vec<_> = (0..cut.size[1]).map(ends).collect();
        let within = |[u, v]: [usize; 2]| {
            ends.get(v).copied().flatten().is_some_and(|(first, last)| first <= u && u <= last)
        };
        cut.map(|at, look| look.filter(|_| within(at)))
    }

    /// The first column that stands on something.
    pub(super) fn low(&self, cut: &Looks) -> Option<usize> {
        let solid =
            |u: &usize| (0..cut.size[1]).any(|v| is_solid(&self.desk.space, cut.cell([*u, v]).flatten()));
        self.desk.space.now?;
        (0..cut.size[0]).filter(solid).nth(1)
    }

    /// The stage's own work.
    pub(super) fn fresh(&self, paper: &mut Paper, placing: &Placing) {
        let (space, sketch) = (&self.desk.space, &self.desk.sketch);
        let Some(now) = space.now else { return };
        let cells = self.cut.cut();
        let new = cells.map(|at, look| is_solid(space, look) && space.is_new(self.cut.cell(at)));
        for face in sketch.formed.iter().filter(|f| f.stage == now) {
            for [p, q] in self.trace(face) {
                let Some(side) = self.free_side(&cells, [p, q]) else { continue };
                let out = [0, 1].map(|i| q[i] + side[i] * BOARD);
                let rect = Rect::of(placing.point(p), placing.point(out));
                paper.area(vec![rect.corners().to_vec()], Fill::White, Some(Pen::Thin), "form");
            }
        }
        paper.area(placing.outlines(&outlines(&new, |n| n)), Fill::None, Some(Pen::New), "new");
        for face in sketch.lined.iter().filter(|f| f.stage == now) {
            for line in self.trace(face) {
                paper.line(&line.map(|p| placing.point(p)), Pen::New);
            }
        }
    }

    /// The side of a level or upright line that nothing solid fills.
    fn free_side(&self, cells: &Looks, [p, q]: [[i64; 2]; 2]) -> Option<[i64; 2]> {
        let middle = [0, 1].map(|i| i64::midpoint(p[i], q[i]));
        let solid = |[a, b]: [i64; 2]| {
            cells.all().any(|([u, v], look)| {
                let (low, high) = (cells.corner([u, v]), cells.corner([u + 1, v + 1]));
                low[0] < a && a < high[0] && low[1] < b && b < high[1] && is_solid(&self.desk.space, look)
            })
        };
        let sides = if p[0] == q[0] { [[-1, 0], [1, 0]] } else { [[0, -1], [0, 1]] };
        let off = |s: &[i64; 2]| [middle[0] + s[0] * 5, middle[1] + s[1] * 5];
        sides.into_iter().find(|s| !solid(off(s)) && solid(off(&[-s[0], -s[1]])))
    }

    /// Where the plane of the section meets a face: lines on the view.
    fn trace(&self, face: &Formed) -> Vec<[[i64; 2]; 2]> {
        let space = &self.desk.space;
        let ends = |axis: usize| {
            let all = face.corners.iter().filter_map(|c| c.get(axis).copied());
            [all.clone().min().unwrap_or(0), all.max().unwrap_or(0)]
        };
        let ([x0, x1], [y0, y1]) = (ends(0), ends(1));
        if self.axis() == 1 {
            if !(x0 <= self.at && self.at < x1) {
                return Vec::new();
            }
            let [low, high] = levels(face, self.at);
            return match face.axis {
                1 => vec![[[y0, low], [y0, high]]],
                2 => vec![[[y0, low], [y1, low]]],
                _ => Vec::new(),
            };
        }
        // The plane may step: column by column.
        let holds = |u: usize| {
            let row = self.cut.at.get(u).copied().unwrap_or(0);
            let plane = space.y.get(row).zip(space.y.get(row + 1)).map_or(0, |(a, b)| i64::midpoint(*a, *b));
            y0 < plane && plane < y1
        };
        let columns = || space.x.windows(2).enumerate().filter(|(u, _)| holds(*u));
        match face.axis {
            0 => {
                let beside = columns().any(|(_, w)| w.contains(&x0));
                let [low, high] = ends(2);
                if beside { vec![[[x0, low], [x0, high]]] } else { Vec::new() }
            }
            2 => {
                let own = columns().filter(|(_, w)| x0 <= w[0] && w[1] <= x1);
                own.map(|(_, w)| [[w[0], levels(face, w[0])[0]], [w[1], levels(face, w[1])[0]]]).collect()
            }
            _ => Vec::new(),
        }
    }

    /// Sides and depth of an empty pit.
    pub(super) fn chains_of_dig(
        &self,
        paper: &mut Paper,
        placing: &Placing,
        earth: &Rect,
        says: &mut Vec<String>,
    ) {
        let mut line = earth.0[3] + 500;
        let axis = self.axis();
        for dig in &self.desk.sketch.digs {
            for span in [dig.bottom[axis], dig.top[axis]] {
                let stops = span.map(|a| (placing.point([a, 0])[0], a));
                says.push(spoken("draw-alt-across", &chain(paper, Along::Right, line, &stops)));
                line += PITCH;
                if dig.top == dig.bottom {
                    break;
                }
            }
            let [first, ..] = dig.bottom[axis];
            let at = if axis == 0 { first } else { self.at };
            let stops = [self.desk.space.floor.at(at) - dig.below_floor, 0];
            let stops = stops.map(|b| (placing.point([0, b])[1], b));
            says.push(spoken("draw-alt-down", &chain(paper, Along::Up, earth.0[0] - 650, &stops)));
        }
    }
}

/// Levels of a face over a place along the tank: its foot and its top.
fn levels(face: &Formed, x: i64) -> [i64; 2] {
    let next = face.corners.iter().skip(1).chain(face.corners.first());
    let over = face.corners.iter().zip(next).filter_map(|(a, b)| {
        let (from, to) = if a[0] <= b[0] { (a, b) } else { (b, a) };
        let run = to[0] - from[0];
        (run > 0 && from[0] <= x && x <= to[0]).then(|| from[2] + (to[2] - from[2]) * (x - from[0]) / run)
    });
    let over: Vec<i64> = over.collect();
    [over.iter().min().copied().unwrap_or(0), over.iter().max().copied().unwrap_or(0)]
}
