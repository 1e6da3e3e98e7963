//! A grid of cells on a view, and the outlines of those of one kind.

/// Cells on a view, with the corners between them, tenths of a millimetre to the right and up (a plan: down).
#[derive(Clone, Debug)]
pub(crate) struct Grid<T> {
    /// Cells to the right and up.
    pub(crate) size: [usize; 2],
    /// Corners, column by column: one more than cells either way.
    pub(crate) corners: Vec<[i64; 2]>,
    /// Cells, column by column.
    pub(crate) cells: Vec<T>,
}

impl<T: Copy + PartialEq> Grid<T> {
    /// A cell; nothing beyond the grid.
    pub(crate) fn cell(&self, [u, v]: [usize; 2]) -> Option<T> {
        let within = u < self.size[0] && v < self.size[1];
        within.then(|| self.cells.get(u * self.size[1] + v).copied()).flatten()
    }

    /// A corner.
    pub(crate) fn corner(&self, [u, v]: [usize; 2]) -> [i64; 2] {
        self.corners.get(u * (self.size[1] + 1) + v).copied().unwrap_or([0, 0])
    }

    /// Every cell with its place.
    pub(crate) fn all(&self) -> impl Iterator<Item = ([usize; 2], T)> {
        let n = self.size[1].max(1);
        self.cells.iter().enumerate().map(move |(i, c)| ([i / n, i % n], *c))
    }

    /// The same grid of other cells.
    pub(crate) fn map<S>(&self, of: impl Fn([usize; 2], T) -> S) -> Grid<S> {
        let cells = self.all().map(|(at, c)| of(at, c)).collect();
        Grid { size: self.size, corners: self.corners.clone(), cells }
    }

    /// Smallest and largest corner of the cells that are asked for.
    pub(crate) fn bounds(&self, of: impl Fn(T) -> bool) -> Option<[[i64; 2]; 2]> {
        let corners = self.all().filter(|(_, c)| of(*c)).flat_map(|([u, v], _)| {
            [[u, v], [u + 1, v], [u, v + 1], [u + 1, v + 1]].map(|at| self.corner(at))
        });
        corners.fold(None, |found, [a, b]| {
            let [[a0, b0], [a1, b1]] = found.unwrap_or([[a, b]; 2]);
            Some([[a0.min(a), b0.min(b)], [a1.max(a), b1.max(b)]])
        })
    }

    /// Lines between cells that differ where either is asked for, end to end as far as they run straight.
    pub(crate) fn edges(&self, counts: impl Fn(T) -> bool) -> Vec<[[i64; 2]; 2]> {
        let [nu, nv] = self.size;
        let differ = |a: Option<T>, b: Option<T>| match (a, b) {
            (Some(a), Some(b)) => a != b && counts(a) && counts(b),
            _ => false,
        };
        let mut lines = Vec::new();
        for u in 1..nu {
            let mut from = None;
            for v in 0..=nv {
                let is = v < nv && differ(self.cell([u - 1, v]), self.cell([u, v]));
                run(&mut from, is, v, |a| lines.push([self.corner([u, a]), self.corner([u, v])]));
            }
        }
        for v in 1..nv {
            let mut from = None;
            for u in 0..=nu {
                let is = u < nu && differ(self.cell([u, v - 1]), self.cell([u, v]));
                run(&mut from, is, u, |a| {
                    // Where the floor bends, the line does.
                    let points: Vec<_> = (a..=u).map(|i| self.corner([i, v])).collect();
                    let points = straightened(points, false);
                    lines.extend(points.windows(2).filter_map(|w| Some([*w.first()?, *w.get(1)?])));
                });
            }
        }
        lines.retain(|[a, b]| a != b);
        lines
    }
}

fn run(from: &mut Option<usize>, is: bool, at: usize, mut end: impl FnMut(usize)) {
    match (*from, is) {
        (None, true) => *from = Some(at),
        (Some(a), false) => {
            end(a);
            *from = None;
        }
        _ => {}
    }
}

/// Outlines of the cells that are asked for: closed, with holes as outlines of their own.
pub(crate) fn outlines<T: Copy + PartialEq>(grid: &Grid<T>, of: impl Fn(T) -> bool) -> Vec<Vec<[i64; 2]>> {
    let [nu, nv] = grid.size;
    let stride = nv + 1;
    let inside = |u: usize, v: usize| grid.cell([u, v]).is_some_and(&of);
    // Edges from corner to corner with the inside on their left; at most two leave a corner.
    let mut next: Vec<Vec<usize>> = vec![Vec::new(); (nu + 1) * stride];
    let at = |u: usize, v: usize| u * stride + v;
    let mut add = |from: usize, to: usize| {
        if let Some(edges) = next.get_mut(from) {
            edges.push(to);
        }
    };
    for u in 0..nu {
        for v in 0..nv {
            if !inside(u, v) {
                continue;
            }
            if v == 0 || !inside(u, v - 1) {
                add(at(u, v), at(u + 1, v));
            }
            if !inside(u + 1, v) {
                add(at(u + 1, v), at(u + 1, v + 1));
            }
            if !inside(u, v + 1) {
                add(at(u + 1, v + 1), at(u, v + 1));
            }
            if u == 0 || !inside(u - 1, v) {
                add(at(u, v + 1), at(u, v));
            }
        }
    }
    let mut found = Vec::new();
    for start in 0..next.len() {
        while let Some(mut to) = next.get_mut(start).and_then(Vec::pop) {
            let mut loop_of = vec![start];
            while to != start {
                loop_of.push(to);
                let Some(on) = next.get_mut(to).and_then(Vec::pop) else { break };
                to = on;
            }
            let points = loop_of.into_iter().map(|i| grid.corner([i / stride, i % stride])).collect();
            let points = straightened(points, true);
            if points.len() > 2 {
                found.push(points);
            }
        }
    }
    found
}

/// Without points that lie on the line between their neighbours, to the tenth of a millimetre.
fn straightened(points: Vec<[i64; 2]>, closed: bool) -> Vec<[i64; 2]> {
    let mut kept: Vec<[i64; 2]> = Vec::with_capacity(points.len());
    for p in points {
        if kept.last() == Some(&p) {
            continue;
        }
        while let [.., a, b] = kept[..] {
            if !between(a, b, p) {
                break;
            }
            kept.pop();
        }
        kept.push(p);
    }
    while closed && kept.len() > 2 {
        let n = kept.len();
        let (first, second, last, before) = (kept[0], kept[1], kept[n - 1], kept[n - 2]);
        if last == first || between(before, last, first) {
            kept.pop();
        } else if between(last, first, second) {
            kept.remove(0);
        } else {
            break;
        }
    }
    kept
}

/// Does `b` lie on the straight way from `a` to `c`, to a tenth of a millimetre?
fn between(a: [i64; 2], b: [i64; 2], c: [i64; 2]) -> bool {
    let (dx, dy) = (c[0] - a[0], c[1] - a[1]);
    let (ex, ey) = (b[0] - a[0], b[1] - a[1]);
    let off = dx * ey - dy * ex;
    let forward = dx * ex + dy * ey;
    off.abs() <= dx.abs().max(dy.abs()) && (0..=dx * dx + dy * dy).contains(&forward)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grid(rows: [&str; 3]) -> Grid<char> {
        // Rows from above; columns of the grid go up.
        let of = |u: usize, v: usize| rows[2 - v].chars().nth(u).unwrap_or(' ');
        let corners = (0..=3).flat_map(|u| (0..=3).map(move |v| [u * 10, v * 10])).collect();
        let cells = (0..3).flat_map(|u| (0..3).map(move |v| (u, v))).map(|(u, v)| of(u, v)).collect();
        Grid { size: [3, 3], corners, cells }
    }

    #[test]
    fn a_ring_has_an_outline_and_a_hole() {
        let found = outlines(&grid(["###", "#.#", "###"]), |c| c == '#');
        let mut sizes: Vec<_> = found.iter().map(|o| o.iter().map(|p| p[0]).max()).collect();
        sizes.sort_unstable();
        assert_eq!(sizes, [Some(20), Some(30)]);
        assert!(found.iter().all(|o| o.len() == 4), "{found:?}");
    }

    #[test]
    fn cells_that_touch_at_a_corner_are_outlined_once_each() {
        let found = outlines(&grid(["#..", ".#.", "..."]), |c| c == '#');
        let edges: usize = found.iter().map(Vec::len).sum();
        assert_eq!(edges, 8);
    }

    #[test]
    fn edges_run_between_cells_that_differ() {
        let found = grid(["aab", "aab", "aab"]).edges(|_| true);
        assert_eq!(found, [[[20, 0], [20, 30]]]);
    }
}
