//! A member cut across: where nothing stands in its way, what is shown about it, where its bars stand.

use tankwright_quantities::sketch::{Detail, Span};
use tankwright_quantities::space::Space;

use super::paint::is_solid;
use crate::cut::{Grid, View};

/// Where so many bars stand in a section: in its corners first; further ones along the bottom and the top of a beam in
/// turn, along all sides of a column. Which bars stand where else is the designer's.
pub(super) fn places(n: i64, [u, v]: [Span; 2], upright: bool) -> Vec<[i64; 2]> {
    let middle = i64::midpoint(u[0], u[1]);
    match n {
        i64::MIN..=0 => return Vec::new(),
        1 => return vec![[middle, v[0]]],
        2 => return vec![[u[0], v[0]], [u[1], v[0]]],
        3 => return vec![[u[0], v[0]], [u[1], v[0]], [middle, v[1]]],
        _ => {}
    }
    let mut found = vec![[u[0], v[0]], [u[1], v[0]], [u[1], v[1]], [u[0], v[1]]];
    // Bottom, top, left, right.
    let sides = if upright { 4 } else { 2 };
    let more = n - 4;
    for side in 0..sides {
        let own = (more + sides - 1 - side) / sides;
        for i in 1..=own {
            let along = |s: Span| s[0] + (s[1] - s[0]) * i / (own + 1);
            found.push(match side {
                0 => [along(u), v[0]],
                1 => [along(u), v[1]],
                2 => [u[0], along(v)],
                _ => [u[1], along(v)],
            });
        }
    }
    found
}

/// The longest stretch of a member where its section is whole.
pub(super) fn free(space: &Space, detail: &Detail, view: View) -> Option<usize> {
    let [a, b, sight] = view.axes();
    let x = if a == 0 { detail.rect[0][0] } else { detail.run[0] };
    let planes = |axis: usize| -> Vec<i64> {
        match axis {
            0 => space.x.clone(),
            1 => space.y.clone(),
            _ => (0..space.z.len()).map(|z| space.level(z, x)).collect(),
        }
    };
    let within = |axis: usize, s: Span| -> Vec<usize> {
        let planes = planes(axis);
        let own = planes.windows(2).enumerate();
        own.filter(|(_, w)| w[0] < w[1] && w[0] >= s[0] - 1 && w[1] <= s[1] + 1).map(|(i, _)| i).collect()
    };
    let (us, vs) = (within(a, detail.rect[0]), within(b, detail.rect[1]));
    let whole = |i: usize| {
        let mut looks = us.iter().flat_map(|u| vs.iter().map(|v| space.look(view.cell([*u, *v], i))));
        let first = looks.next().flatten();
        is_solid(space, first) && looks.all(|l| l == first)
    };
    let along = planes(sight);
    let long = |i: usize| along.get(i + 1).zip(along.get(i)).map_or(0, |(b, a)| b - a);
    within(sight, detail.run).into_iter().filter(|i| whole(*i)).max_by_key(|i| long(*i))
}

/// The cells within a window, cut at its edges; none beyond it.
pub(super) fn windowed(cut: &Grid<Option<usize>>, [low, high]: [[i64; 2]; 2]) -> Grid<Option<Option<usize>>> {
    let clamped = |[a, b]: [i64; 2]| [a.clamp(low[0], high[0]), b.clamp(low[1], high[1])];
    let corners: Vec<_> = cut.corners.iter().map(|c| clamped(*c)).collect();
    let shape = Grid { size: cut.size, corners, cells: cut.cells.clone() };
    shape.map(|[u, v], c| {
        let (p, q) = (shape.corner([u, v]), shape.corner([u + 1, v + 1]));
        (p[0] < q[0] && p[1] < q[1]).then_some(c)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bars_stand_in_the_corners_first() {
        let at = |n, upright| places(n, [[0, 60], [0, 40]], upright);
        assert_eq!(at(4, false), [[0, 0], [60, 0], [60, 40], [0, 40]]);
        assert_eq!(at(5, false)[4], [30, 0]);
        assert_eq!(at(7, false)[4..], [[20, 0], [40, 0], [30, 40]]);
        assert_eq!(at(8, true)[4..], [[30, 0], [30, 40], [0, 20], [60, 20]]);
        assert!((0..12).all(|n| i64::try_from(at(n, true).len()) == Ok(n)));
    }
}
