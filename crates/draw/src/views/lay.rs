//! Where things of the site stand on its sheet: to scale where that leaves them large enough, else with pipes and clear
//! ground between them shortened, and of many equal things the first two and the last.

use tankwright_quantities::sketch::{Along, Plan, Stop};

use crate::paper::Point;
use crate::sheet::scaled;

/// A thing in its place: from and to along the line, and where the middles of its equals lie across it.
pub(super) struct Placed<'a> {
    pub(super) stop: &'a Stop,
    pub(super) x: [i64; 2],
    pub(super) y: Vec<i64>,
    /// Are some of its equals left out, before the last?
    pub(super) left_out: bool,
}

/// Half of what a thing takes across the line.
pub(super) const fn half_across(plan: Plan) -> i64 {
    match plan {
        Plan::Run { .. } => 0,
        Plan::Box([_, across]) | Plan::Round(across) => across / 2,
    }
}

pub(super) const fn along(plan: Plan) -> i64 {
    match plan {
        Plan::Run { length, .. } => length,
        Plan::Box([along, _]) | Plan::Round(along) => along,
    }
}

/// Everything one after the other; equal things of the ground beside each other.
pub(super) fn placed(stops: &[Stop]) -> Vec<Placed<'_>> {
    let mut all: Vec<Placed<'_>> = Vec::new();
    let mut x = 0;
    let mut lowest: Option<i64> = None;
    for stop in stops.iter().filter(|s| s.along != Along::Beside) {
        let long = along(stop.plan);
        if stop.along == Along::Inspected {
            continue;
        }
        let deep = 2 * half_across(stop.plan);
        let pitch = deep + stop.apart.unwrap_or(deep.max(17_000));
        let n = i64::from(stop.number.max(1));
        let ground = stop.along == Along::Ground;
        // A second kind lies beside the first, clear of all of it.
        let first = match lowest {
            Some(lowest) if ground => lowest + pitch - deep / 2,
            _ if ground => -(n - 1) * pitch / 2,
            _ => 0,
        };
        let y = (0..n).map(|i| first + i * pitch).collect();
        all.push(Placed { stop, x: [x, x + long], y, left_out: false });
        if ground {
            lowest = Some(first + (n - 1) * pitch + deep / 2);
        } else {
            x += long;
        }
    }
    inspected(stops, &mut all);
    all
}

/// Chambers in the line of the drain from the house, evenly: where, the job does not say.
fn inspected<'a>(stops: &'a [Stop], all: &mut Vec<Placed<'a>>) {
    let chambers = stops.iter().filter(|s| s.along == Along::Inspected);
    let chambers: Vec<_> = chambers.flat_map(|s| (0..s.number).map(move |_| s)).collect();
    let [from, to] = all.iter().find(|p| p.stop.along == Along::In).map_or([0, 0], |p| p.x);
    let spaces = i64::try_from(chambers.len() + 1).unwrap_or(1);
    let after = all.iter().position(|p| p.stop.along != Along::In).unwrap_or(all.len());
    for i in (1..spaces).rev() {
        let Some(stop) = usize::try_from(i - 1).ok().and_then(|i| chambers.get(i)) else { continue };
        let long = along(stop.plan);
        // Without a length of pipe they stand before the tank; on a short one they are drawn no longer than it has room.
        let (middle, half) = if from == to {
            (from - (spaces - i) * 2 * long, long / 2)
        } else {
            (from + (to - from) * i / spaces, (long / 2).min((to - from) * 2 / (5 * spaces)))
        };
        all.insert(after, Placed { stop, x: [middle - half, middle + half], y: vec![0], left_out: false });
    }
}

/// Of many equal things the first, the second where so many are kept, and the last.
fn fewer(all: &mut [Placed<'_>], kept: usize) {
    for one in all.iter_mut().filter(|p| p.y.len() > kept) {
        if let Some(last) = one.y.pop() {
            one.y.truncate(kept - 1);
            one.y.push(last);
            one.left_out = true;
        }
    }
}

/// From site to paper along one axis: places that keep their order.
#[derive(Clone, Debug, Default)]
pub(super) struct Axis {
    /// On site and on paper.
    stops: Vec<[i64; 2]>,
    /// Middles on paper of what is shortened.
    pub(super) breaks: Vec<i64>,
    /// Is anything longer or shorter than to scale?
    pub(super) altered: bool,
}

impl Axis {
    fn of(spans: &[([i64; 2], bool)], scale: i64, least: i64, most: Option<i64>) -> Self {
        let mut planes: Vec<i64> = spans.iter().flat_map(|(s, _)| *s).collect();
        planes.sort_unstable();
        planes.dedup();
        let mut axis = Self::default();
        let mut at = 0;
        axis.stops.extend(planes.first().map(|p| [*p, at]));
        for (a, b) in planes.iter().zip(planes.iter().skip(1)) {
            let solid = spans.iter().any(|(s, solid)| *solid && s[0] <= *a && *b <= s[1]);
            let own = scaled(b - a, scale);
            let long = if solid { own } else { own.max(least).min(most.unwrap_or(i64::MAX).max(least)) };
            axis.altered |= long != own;
            if long < own {
                axis.breaks.push(at + long / 2);
            }
            at += long;
            axis.stops.push([*b, at]);
        }
        axis
    }

    fn long(&self) -> i64 {
        self.stops.last().map_or(0, |s| s[1])
    }

    /// A place on paper.
    fn at(&self, site: i64) -> i64 {
        let next = self.stops.iter().position(|s| s[0] >= site).unwrap_or(self.stops.len());
        match (next.checked_sub(1).and_then(|i| self.stops.get(i)), self.stops.get(next)) {
            (Some([a, p]), Some([b, q])) if a < b => p + (q - p) * (site - a) / (b - a),
            (_, Some(s)) | (Some(s), None) => s[1],
            (None, None) => 0,
        }
    }

    fn moved(mut self, by: i64) -> Self {
        self.stops.iter_mut().for_each(|s| s[1] += by);
        self.breaks.iter_mut().for_each(|b| *b += by);
        self
    }
}

/// From site to paper.
#[derive(Clone, Debug)]
pub(super) struct Map {
    /// Scale of the things themselves.
    pub(super) scale: i64,
    pub(super) axes: [Axis; 2],
}

/// Pipes are shown at least and, shortened, at most so long; ground between things beside each other.
const LEAST: i64 = 1_500;
const MOST: i64 = 4_000;
const BETWEEN: i64 = 750;
const APART: i64 = 750;

impl Map {
    fn of(all: &[Placed<'_>], scale: i64, short: bool) -> Self {
        // A trench is a run of its own; only its ends matter.
        let solid = |p: &Placed<'_>| match p.stop.plan {
            Plan::Run { .. } => false,
            Plan::Box([along, across]) => along <= 4 * across,
            Plan::Round(_) => true,
        };
        let along: Vec<_> = all.iter().map(|p| (p.x, solid(p))).collect();
        let across = |p: &Placed<'_>| {
            let half = half_across(p.stop.plan);
            p.y.iter().map(move |y| ([y - half, y + half], true)).collect::<Vec<_>>()
        };
        let across: Vec<_> = all.iter().flat_map(across).collect();
        let chambers = all.iter().any(|p| p.stop.along == Along::Inspected);
        let most = if chambers { MOST / 2 } else { MOST };
        let x = Axis::of(&along, scale, LEAST, short.then_some(most));
        let mut y = Axis::of(&across, scale, BETWEEN, short.then_some(APART));
        // Where no distance is given, none is shortened.
        if all.iter().all(|p| p.stop.apart.is_none()) {
            (y.altered, y.breaks) = (false, Vec::new());
        }
        Self { scale, axes: [x, y] }
    }

    /// A place on paper.
    pub(super) fn point(&self, [x, y]: [i64; 2]) -> Point {
        [self.axes[0].at(x), self.axes[1].at(y)]
    }

    /// Is all of it to scale?
    pub(super) fn is_true(&self) -> bool {
        self.axes.iter().all(|a| !a.altered)
    }
}

/// The clearest way to show it in a room on paper, in its middle: left, top, right, bottom.
pub(super) fn laid(all: &mut [Placed<'_>], [left, top, right, bottom]: [i64; 4]) -> Map {
    let fits = |m: &Map| m.axes[0].long() <= right - left && m.axes[1].long() <= bottom - top;
    let first = |all: &[Placed<'_>], scales: &[i64], short: bool| {
        scales.iter().map(|s| Map::of(all, *s, short)).find(|m| fits(m))
    };
    let map = first(all, &[50, 100, 200], false).or_else(|| first(all, &[50, 100], true));
    let mut map = map;
    for kept in [3, 2] {
        if map.is_none() {
            fewer(all, kept);
            map = first(all, &[50, 100, 200], true);
        }
    }
    let map = map.or_else(|| first(all, &[500], true)).unwrap_or_else(|| Map::of(all, 1_000, true));
    let [x, y] = map.axes;
    let spare = [right - left - x.long(), bottom - top - y.long()].map(|n| n.max(0) / 2);
    Map { scale: map.scale, axes: [x.moved(left + spare[0]), y.moved(top + spare[1])] }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_solid_keeps_its_scale_and_the_rest_is_shortened() {
        // A pipe of 64 m, a tank of 3 m, at 1:100: 640 mm shortened to 40, and 30 mm.
        let spans = [([0, 640_000], false), ([640_000, 670_000], true)];
        let axis = Axis::of(&spans, 100, LEAST, Some(MOST));
        assert_eq!((axis.at(0), axis.at(640_000), axis.at(670_000)), (0, 4_000, 7_000));
        assert_eq!((axis.breaks.as_slice(), axis.altered), ([2_000].as_slice(), true));
        let whole = Axis::of(&spans, 500, LEAST, None);
        assert_eq!((whole.at(320_000), whole.altered), (6_400, false));
    }
}
