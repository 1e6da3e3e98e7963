//! Which planes a chain of dimensions measures: those where the cut goes from solid to empty, in the row or column that
//! has most of them.

use tankwright_quantities::space::Space;
use tankwright_quantities::works::Drawn;

use super::paint::{Looks, is_solid, is_void};

/// Planes along the tallest row that has a room (of walls and rooms), then along the row with most of them where it has
/// others.
pub(crate) fn rows(space: &Space, cut: &Looks) -> Vec<Vec<i64>> {
    let [nu, nv] = cut.size;
    let of = |v: usize| -> Vec<usize> {
        let kind = |u: usize| {
            u.checked_sub(1).and_then(|u| cut.cell([u, v])).flatten().map(|l| is_void(space, Some(l)))
        };
        let next = |u: usize| cut.cell([u, v]).flatten().map(|l| is_void(space, Some(l)));
        (0..=nu).filter(|u| kind(*u) != next(*u)).collect()
    };
    let high = |v: usize| cut.corner([0, v + 1])[1] - cut.corner([0, v])[1];
    let rows: Vec<(Vec<usize>, i64)> = (0..nv).map(|v| (of(v), high(v))).collect();
    // A row through walls and a room has four planes at least.
    let tall = rows.iter().filter(|r| r.0.len() > 3).max_by_key(|r| r.1).map(|r| r.0.clone());
    let most = rows.iter().max_by_key(|r| (r.0.len(), r.1)).map(|r| r.0.clone()).unwrap_or_default();
    let tall = tall.unwrap_or_else(|| most.clone());
    let more = most.iter().any(|u| !tall.contains(u));
    let found = if more { vec![tall, most] } else { vec![tall] };
    let planes = |row: Vec<usize>| row.into_iter().map(|u| cut.corner([u, 0])[0]).collect();
    found.into_iter().map(planes).collect()
}

/// The first column whose room is the highest.
pub(crate) fn roomy(space: &Space, cut: &Looks) -> Option<usize> {
    let [nu, nv] = cut.size;
    let room = |look: usize| space.looks.get(look).is_some_and(|l| l.drawn == Drawn::Room);
    let high = |u: usize| -> i64 {
        let rooms = (0..nv).filter(|v| cut.cell([u, *v]).flatten().is_some_and(room));
        rooms.map(|v| cut.corner([u, v + 1])[1] - cut.corner([u, v])[1]).sum()
    };
    let most = (0..nu).map(high).max().filter(|most| *most > 0)?;
    (0..nu).find(|u| high(*u) == most)
}

/// The last column before this one that is solid from its foot to its top.
pub(crate) fn walled(space: &Space, cut: &Looks, before: usize) -> Option<usize> {
    let nv = cut.size[1];
    let solid = |u: &usize| {
        let mut looks = (0..nv).filter_map(|v| cut.cell([*u, v]).flatten()).peekable();
        looks.peek().is_some() && looks.all(|l| is_solid(space, Some(l)))
    };
    (0..before).rev().find(solid)
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
