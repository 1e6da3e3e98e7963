//! Cutting the painted space by a plane: what is cut, what is seen behind it and before it. All from the same cells
//! that prove the quantities; no part is known by name.

mod choose;
mod grid;
mod look;

pub(crate) use choose::{cross_at, floor_at, long_at};
pub(crate) use grid::{Grid, outlines};
pub(crate) use look::{Cut, Eye, rounds, top};

use tankwright_quantities::space::Space;

/// Across which axis one looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum View {
    /// From above: x to the right, y down.
    Plan,
    /// Along y: x to the right, z up.
    Long,
    /// Along x, downstream: y to the right, z up.
    Cross,
}

impl View {
    /// Axes: to the right, down or up, of sight.
    pub(crate) const fn axes(self) -> [usize; 3] {
        match self {
            Self::Plan => [0, 1, 2],
            Self::Long => [0, 2, 1],
            Self::Cross => [1, 2, 0],
        }
    }

    /// A cell by its place on the view and its depth.
    pub(crate) const fn cell(self, [u, v]: [usize; 2], depth: usize) -> [usize; 3] {
        match self {
            Self::Plan => [u, v, depth],
            Self::Long => [u, depth, v],
            Self::Cross => [depth, u, v],
        }
    }

    /// A corner of the grid on the view, tenths of a millimetre to the right and up (a plan: down). `x`: where the
    /// plane stands, for levels that follow the floor.
    pub(crate) fn corner(self, space: &Space, [u, v]: [usize; 2], x: i64) -> [i64; 2] {
        let at = |planes: &[i64], i: usize| planes.get(i).copied().unwrap_or(0);
        match self {
            Self::Plan => [at(&space.x, u), at(&space.y, v)],
            Self::Long => [at(&space.x, u), space.level(v, at(&space.x, u))],
            // Where the floor falls, the plane cuts it at no round level: to the millimetre.
            Self::Cross => [at(&space.y, u), (space.level(v, x) + 5).div_euclid(10) * 10],
        }
    }
}
