//! Which planes a chain of dimensions measures: those where the cut goes from solid to empty, in the row or column that
//! has most of them.

use tankwright_quantities::space::Space;

use super::paint::{Looks, is_solid, is_void};

/// Planes along a row: of walls and rooms, from one end of what is built to the other.
pub(crate) fn row(space: &Space, cut: &Looks) -> Vec<i64> {
    let [nu, nv] = cut.size;
    let of = |v: usize| -> Vec<usize> {
        let kind = |u: usize| {
            u.checked_sub(1).and_then(|u| cut.cell([u, v])).flatten().map(|l| is_void(space, Some(l)))
        };
        let next = |u: usize| cut.cell([u, v]).flatten().map(|l| is_void(space, Some(l)));
        (0..=nu).filter(|u| kind(*u) != next(*u)).collect()
    };
    let high = |v: usize| cut.corner([0, v + 1])[1] - cut.corner([0, v])[1];
    let rows = (0..nv).map(|v| (of(v), high(v)));
    let best =
        rows.fold(
            (Vec::new(), 0),
            |best: (Vec<usize>, i64), row| {
                if (row.0.len(), row.1) > (best.0.len(), best.1) { row } else { best }
            },
        );
    best.0.into_iter().map(|u| cut.corner([u, 0])[0]).collect()
}

/// The first and the last column that has a room.
pub(crate) fn roomy(space: &Space, cut: &Looks) -> Option<[usize; 2]> {
    let [nu, nv] = cut.size;
    let has = |u: &usize| (0..nv).any(|v| is_void(space, cut.cell([*u, v]).flatten()));
    let first = (0..nu).find(has)?;
    Some([first, (0..nu).rev().find(has)?])
}

/// Levels in a column, part by part, at one of its sides (0: left, 1: right); rooms count as one.
pub(crate) fn column(space: &Space, cut: &Looks, u: usize, side: usize) -> Vec<i64> {
    let nv = cut.size[1];
    let part = |v: usize| {
        let look = cut.cell([u, v]).flatten();
        let solid = is_solid(space, look);
        look.map(|l| if solid { Some(l) } else { None })
    };
    let before = |v: usize| v.checked_sub(1).and_then(part);
    let levels = (0..=nv).filter(|v| before(*v) != part(*v)).map(|v| cut.corner([u + side, v])[1]);
    let mut levels: Vec<i64> = levels.collect();
    levels.dedup();
    levels
}
