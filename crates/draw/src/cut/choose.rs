//! Where to cut: where most holes are cut, so that a section shows manholes, openings and pipes. It steps as a
//! draughtsman's cutting plane does; the plan shows where.

use tankwright_quantities::space::{Round, Space};
use tankwright_quantities::works::Drawn;

use super::View;
use super::look::Cut;

fn gap(planes: &[i64], i: usize) -> i64 {
    match (planes.get(i), planes.get(i + 1)) {
        (Some(a), Some(b)) => b - a,
        _ => 0,
    }
}

fn drawn(space: &Space, cell: [usize; 3]) -> Option<Drawn> {
    let within = |r: &&Round| r.cells.iter().zip(cell).all(|([a, b], i)| (*a..*b).contains(&i));
    let round = space.rounds.iter().find(within).map(|r| r.look);
    let look = round.or_else(|| space.look(cell))?;
    space.looks.get(look).map(|l| l.drawn)
}

/// Height of a layer at a place along the tank.
fn high(space: &Space, layer: usize, x: i64) -> i64 {
    space.level(layer + 1, x) - space.level(layer, x)
}

/// Height of holes cut at each place across, column by column along the tank.
fn holes(space: &Space) -> Vec<Vec<i64>> {
    let [nx, ny, nz] = space.size();
    let count = |x: usize, y: usize| {
        let at = space.x.get(x).copied().unwrap_or(0);
        (0..nz).filter(|z| drawn(space, [x, y, *z]) == Some(Drawn::Hole)).map(|z| high(space, z, at)).sum()
    };
    (0..nx).map(|x| (0..ny).map(|y| count(x, y)).collect()).collect()
}

/// The first of the largest.
fn best(of: impl Iterator<Item = (usize, i64)>) -> Option<usize> {
    of.fold(None, |found: Option<(usize, i64)>, (i, n)| match found {
        Some((_, most)) if most >= n => found,
        _ => Some((i, n)),
    })
    .map(|(i, _)| i)
}

/// The plane of the long section. Its main part lies where most of the holes are (in the middle of the tank if there is
/// none); in a column with larger holes elsewhere it steps there.
pub(crate) fn long_at(space: &Space) -> Cut<'_> {
    let [nx, ny, _] = space.size();
    let holes = holes(space);
    let wide = |y: usize| gap(&space.y, y);
    let area = |y: usize| {
        let sum: i64 =
            holes.iter().enumerate().map(|(x, h)| h.get(y).map_or(0, |h| h * gap(&space.x, x))).sum();
        sum
    };
    let middle = space.y.first().zip(space.y.last()).map_or(0, |(a, b)| (a + b) / 2);
    let central = (0..ny).position(|y| space.y.get(y + 1).is_some_and(|p| *p > middle)).unwrap_or(0);
    let most = (0..ny).map(area).max().unwrap_or(0);
    // Among equals the widest.
    let main = if most == 0 {
        central
    } else {
        best((0..ny).filter(|y| area(*y) == most).map(|y| (y, wide(y)))).unwrap_or(central)
    };
    let step = |x: usize| {
        let of = |y: usize| holes.get(x).and_then(|h| h.get(y)).copied().unwrap_or(0);
        let most = (0..ny).map(of).max().unwrap_or(0);
        if of(main) == most {
            return main;
        }
        // Through the middle of the first such hole.
        let first = (0..ny).find(|y| of(*y) == most).unwrap_or(main);
        let end = (first..ny).find(|y| of(*y) != most).unwrap_or(ny);
        let middle = space.y.get(first).zip(space.y.get(end)).map_or(0, |(a, b)| i64::midpoint(*a, *b));
        (first..end).rev().find(|y| space.y.get(*y).is_some_and(|p| *p <= middle)).unwrap_or(first)
    };
    let mut at: Vec<usize> = (0..nx).map(step).collect();
    // Beyond the tank the plane goes on as it leaves it.
    let built = |x: &usize| (0..ny).any(|y| (0..space.size()[2]).any(|z| space.look([*x, y, z]).is_some()));
    let ends = (0..nx).find(built).zip((0..nx).rev().find(built));
    if let Some((first, last)) = ends {
        let (a, b) = (at.get(first).copied(), at.get(last).copied());
        for (x, own) in at.iter_mut().enumerate() {
            let end = if x < first { a } else { b };
            *own = end.filter(|_| x < first || x > last).unwrap_or(*own);
        }
    }
    Cut { space, view: View::Long, at }
}

/// The plane of the cross section: through a room, where its largest hole is, else in the middle of the longest room.
pub(crate) fn cross_at(space: &Space) -> Cut<'_> {
    let [nx, ny, nz] = space.size();
    let score = |x: usize| {
        let at = space.x.get(x).copied().unwrap_or(0);
        let (mut room, mut hole) = (0, 0);
        for y in 0..ny {
            for z in 0..nz {
                let area = gap(&space.y, y) * high(space, z, at);
                match drawn(space, [x, y, z]) {
                    Some(Drawn::Room) => room += area,
                    Some(Drawn::Hole) => hole += area,
                    _ => {}
                }
            }
        }
        (room, hole)
    };
    let scores: Vec<_> = (0..nx).map(score).collect();
    let roomy = scores.iter().map(|s| s.0).max().unwrap_or(0);
    // Not where a column or a beam takes most of the room.
    let open = |s: &(i64, i64)| s.0 * 10 >= roomy * 8;
    let value = |(x, s): (usize, &(i64, i64))| (x, if open(s) { s.1 * 1_000 + gap(&space.x, x) } else { -1 });
    let at = best(scores.iter().enumerate().map(value)).unwrap_or(0);
    Cut::flat(space, View::Cross, at)
}

/// The plane of the plan at floor level: in the walls, through their openings where there are any.
pub(crate) fn floor_at(space: &Space) -> Cut<'_> {
    let [nx, ny, nz] = space.size();
    let round = |cell: [usize; 3]| {
        space.rounds.iter().any(|r| r.cells.iter().zip(cell).all(|([a, b], i)| (*a..*b).contains(&i)))
    };
    let score = |z: usize| {
        let (mut room, mut hole, mut masonry) = (0, 0, 0);
        for x in 0..nx {
            for y in 0..ny {
                let area = gap(&space.x, x) * gap(&space.y, y);
                match drawn(space, [x, y, z]) {
                    Some(Drawn::Room) => room += area,
                    Some(Drawn::Hole) if !round([x, y, z]) => hole += area,
                    Some(Drawn::Masonry) => masonry += area,
                    _ => {}
                }
            }
        }
        (room, hole, masonry)
    };
    let scores: Vec<_> = (0..nz).map(score).collect();
    let roomy = scores.iter().map(|s| s.0).max().unwrap_or(0);
    let value = |(z, s): (usize, &(i64, i64, i64))| {
        // Where walls are still to be built there is nothing to see yet.
        let idle = s.0 * 2 < roomy || space.now.is_some() && s.2 == 0;
        let value = if idle { -1 } else { s.1.signum() * 4 + i64::from(s.2 > 0) };
        (z, value)
    };
    // Among equals the lowest, where the walls carry most.
    let all: Vec<_> = scores.iter().enumerate().map(value).collect();
    let most = all.iter().map(|v| v.1).max().unwrap_or(0);
    let at =
        best(all.into_iter().filter(|v| v.1 == most).map(|(z, _)| (z, scores.get(z).map_or(0, |s| s.2))));
    Cut::flat(space, View::Plan, at.unwrap_or(0))
}
