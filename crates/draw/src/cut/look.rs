//! What the eye meets: cells cut by the plane, the first solid behind it, and round things end on.

use tankwright_quantities::space::{Round, Space};
use tankwright_quantities::works::Drawn;

use super::View;
use super::grid::Grid;

/// A view of the cells: a plane that may step, one depth for each column.
#[derive(Clone, Debug)]
pub(crate) struct Cut<'a> {
    pub(crate) space: &'a Space,
    pub(crate) view: View,
    /// Depth of the plane in each column.
    pub(crate) at: Vec<usize>,
}

/// Which way the eye looks from the plane.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Eye {
    /// Towards smaller coordinates.
    Down,
    /// Towards larger ones.
    Up,
}

impl<'a> Cut<'a> {
    /// A plane without steps.
    pub(crate) fn flat(space: &'a Space, view: View, depth: usize) -> Self {
        let columns = space.size()[view.axes()[0]];
        Self { space, view, at: vec![depth; columns] }
    }

    fn depth(&self, u: usize) -> usize {
        self.at.get(u).copied().unwrap_or(0)
    }

    /// The cell of the space that the plane cuts at a place on the view.
    pub(crate) fn cell(&self, at: [usize; 2]) -> [usize; 3] {
        self.view.cell(at, self.depth(at[0]))
    }

    /// Middle of the plane in its first column, for levels that follow the floor.
    fn stands_at(&self) -> i64 {
        let at = self.depth(0);
        match (self.view, self.space.x.get(at), self.space.x.get(at + 1)) {
            (View::Cross, Some(a), Some(b)) => (a + b) / 2,
            _ => 0,
        }
    }

    pub(crate) fn grid<T>(&self, of: impl Fn([usize; 2]) -> T) -> Grid<T> {
        let size = self.space.size();
        let [a, b, _] = self.view.axes();
        let (nu, nv) = (size[a], size[b]);
        let x = self.stands_at();
        let corners = (0..=nu).flat_map(|u| (0..=nv).map(move |v| [u, v]));
        let cells = (0..nu).flat_map(|u| (0..nv).map(move |v| [u, v]));
        Grid {
            size: [nu, nv],
            corners: corners.map(|at| self.view.corner(self.space, at, x)).collect(),
            cells: cells.map(of).collect(),
        }
    }

    /// What fills each cell of the plane, round holes left out.
    pub(crate) fn solid(&self) -> Grid<Option<usize>> {
        self.grid(|at| self.space.look(self.view.cell(at, self.depth(at[0]))))
    }

    /// What fills each cell of the plane; a round thing along the plane fills its cells.
    pub(crate) fn cut(&self) -> Grid<Option<usize>> {
        let sight = self.view.axes()[2];
        self.grid(|at| {
            let cell = self.view.cell(at, self.depth(at[0]));
            let within = |r: &&Round| {
                r.axis != sight && r.cells.iter().zip(cell).all(|([from, to], i)| (*from..*to).contains(&i))
            };
            let round = self.space.rounds.iter().find(within);
            round.map_or_else(|| self.space.look(cell), |r| Some(r.look))
        })
    }

    /// The first solid met from the plane: what it is and how deep it lies; nothing where a cell is cut, or where the
    /// eye meets none. `stop`: what ends the sight.
    pub(crate) fn seen(&self, eye: Eye, stop: impl Fn(Drawn) -> bool) -> Grid<Option<(usize, usize)>> {
        let deep = self.space.size()[self.view.axes()[2]];
        let drawn = |look: usize| self.space.looks.get(look).map_or(Drawn::Nothing, |l| l.drawn);
        let solid = |look: usize| !matches!(drawn(look), Drawn::Hole | Drawn::Room);
        let cut = self.cut();
        cut.map(|at, own| {
            if own.is_some_and(solid) {
                return None;
            }
            let from = self.depth(at[0]);
            let mut way: Box<dyn Iterator<Item = usize>> = match eye {
                Eye::Down => Box::new((0..from).rev()),
                Eye::Up => Box::new(from + 1..deep),
            };
            if own.is_some_and(|o| stop(drawn(o))) {
                return None;
            }
            way.find_map(|depth| match self.space.look(self.view.cell(at, depth)) {
                Some(look) if solid(look) => Some(Some((look, depth))),
                Some(look) if stop(drawn(look)) => Some(None),
                _ => None,
            })?
            .map(|(look, depth)| (look, face(depth, eye)))
        })
    }
}

/// Depth of the face that the eye meets: the plane before the cell.
const fn face(depth: usize, eye: Eye) -> usize {
    match eye {
        Eye::Down => depth + 1,
        Eye::Up => depth,
    }
}

/// From above, nothing cut: what the eye meets, and how high it lies. The rooms under holes are not looked into.
pub(crate) fn top(space: &Space) -> Grid<Option<(usize, usize)>> {
    let layers = space.size()[2];
    let cut = Cut::flat(space, View::Plan, layers);
    let seen = cut.seen(Eye::Down, |drawn| drawn == Drawn::Room);
    // What lies lower than the rooms reach is under the ground beside the tank.
    let room = |z: &usize| {
        let [nx, ny, _] = space.size();
        (0..nx).any(|x| {
            (0..ny).any(|y| {
                space
                    .look([x, y, *z])
                    .and_then(|l| space.looks.get(l))
                    .is_some_and(|l| l.drawn == Drawn::Room)
            })
        })
    };
    let highest = (0..layers).rev().find(room).map_or(0, |z| z + 1);
    seen.map(|_, c| c.filter(|(_, depth)| *depth > highest))
}

/// Round things whose ends the eye meets: middle and diameter on the view.
pub(crate) fn rounds(cut: &Cut<'_>, seen: &Grid<Option<(usize, usize)>>) -> Vec<([i64; 2], i64)> {
    let [a, b, sight] = cut.view.axes();
    let of = |r: &Round| {
        let place = [r.cells[a][0], r.cells[b][0]];
        let end = r.cells[sight];
        let (_, depth) = seen.cell(place)??;
        if r.axis != sight || !end.contains(&depth) {
            return None;
        }
        let low = seen.corner(place);
        let high = seen.corner([r.cells[a][1], r.cells[b][1]]);
        Some(([(low[0] + high[0]) / 2, (low[1] + high[1]) / 2], high[0] - low[0]))
    };
    cut.space.rounds.iter().filter_map(of).collect()
}
