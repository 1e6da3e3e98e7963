//! Plans: cut through the walls at floor level, and seen from above at cover level.

use tankwright_quantities::space::Space;
use tankwright_quantities::words::look_up;

use super::paint::{self, Looks, is_solid, is_void};
use super::section::spoken;
use super::{Desk, Made, dims, note_of};
use crate::cut::{Cut, Eye, Grid, cross_at, floor_at, long_at, outlines, top};
use crate::paper::{Anchor, Fill, Paper, Pen, Point, Text};
use crate::sheet::{
    Along, Callout, FIELD, Margins, PITCH, Placing, callouts, chain, lines_of, scaled, sheet,
};

/// Room about a plan for the ends of cutting planes.
const ROUND: i64 = 900;

/// The plan at floor level.
pub(crate) fn floor(desk: Desk<'_>) -> Made {
    let space = &desk.space;
    let plane = floor_at(space);
    let cut = plane.cut();
    let notes = notes(space, &cut);
    let sheet_of = Plan::on(desk, &cut, notes, 2);
    let mut paper = sheet();
    sheet_of.digs(&mut paper, desk);
    paint::clear(&mut paper, &sheet_of.placing, &cut);
    paint::solids(&mut paper, &sheet_of.placing, space, &cut);
    paint::seen(&mut paper, &sheet_of.placing, &below(&plane), Eye::Down);
    sheet_of.pipes(&mut paper, desk);
    let mut says = vec![look_up("draw-plan-floor").to_owned()];
    sheet_of.chains(&mut paper, desk, &cut, &mut says);
    sheet_of.planes(&mut paper, desk);
    for room in &desk.sketch.rooms {
        let [x, y] = room.plan.map(|s| i64::midpoint(s[0], s[1]));
        let [a, b] = sheet_of.placing.point([x, y]);
        let places = (0..6).flat_map(|i| [[a, b + i * 300], [a, b - i * 300]]);
        let text = Text { clear: true, ..Text::note([0, 0], room.title.to_string(), Anchor::Middle) };
        paper.try_text(text, places);
    }
    sheet_of.finish(paper, "plan-floor", "draw-plan-floor", says)
}

/// The plan at cover level, what lies under the cover dashed.
pub(crate) fn cover(desk: Desk<'_>) -> Made {
    let space = &desk.space;
    let seen = top(space);
    let looks = seen.map(|_, c| c.map(|(look, _)| look));
    let notes = notes(space, &looks);
    let sheet_of = Plan::on(desk, &looks, notes, 2);
    let mut paper = sheet();
    sheet_of.digs(&mut paper, desk);
    let placing = &sheet_of.placing;
    let all = outlines(&seen, |c| c.is_some());
    paper.area(placing.outlines(&all), Fill::White, Some(Pen::Pipe), "cover");
    for line in seen.edges(|_| true) {
        paper.line(&line.map(|p| placing.point(p)), Pen::Pipe);
    }
    under(&mut paper, placing, space, &seen);
    let mut says = vec![look_up("draw-plan-cover").to_owned()];
    let holes = seen.map(|_, c| c.map(|_| 0));
    sheet_of.chains_of_holes(&mut paper, desk, space, &holes, &mut says);
    sheet_of.planes(&mut paper, desk);
    sheet_of.finish(paper, "plan-cover", "draw-plan-cover", says)
}

/// The plane of a plan for what is seen under it.
fn below<'a>(plane: &Cut<'a>) -> Cut<'a> {
    plane.clone()
}

/// Walls and beams under the cover, dashed where the cover hides them.
fn under(paper: &mut Paper, placing: &Placing, space: &Space, seen: &Grid<Option<(usize, usize)>>) {
    let plane = floor_at(space);
    let cut = plane.cut();
    let solid = cut.map(|at, look| {
        let hidden = seen.cell(at).flatten().is_some();
        (hidden, is_solid(space, look))
    });
    let hidden = solid.map(|_, (hidden, solid)| hidden.then_some(solid));
    for line in hidden.edges(|c| c.is_some()) {
        paper.line(&line.map(|p| placing.point(p)), Pen::Hidden);
    }
}

/// Each part once, at its largest cell.
fn notes(space: &Space, cut: &Looks) -> Vec<Callout> {
    let mut notes = Vec::new();
    for (n, look) in space.looks.iter().enumerate().filter(|(_, l)| !l.is_void()) {
        let own = cut.all().filter(|(_, c)| *c == Some(n));
        let best = own.max_by_key(|([u, v], _)| {
            let ([a, b], [c, d]) = (cut.corner([*u, *v]), cut.corner([u + 1, v + 1]));
            (a + c, (c - a) * (d - b))
        });
        if let Some(([u, v], _)) = best {
            let ([a, b], [c, d]) = (cut.corner([u, v]), cut.corner([u + 1, v + 1]));
            notes.push(Callout {
                at: [i64::midpoint(a, c), i64::midpoint(b, d)],
                text: note_of(look),
                level: false,
            });
        }
    }
    notes
}

/// A plan on its sheet.
pub(crate) struct Plan {
    pub(crate) placing: Placing,
    /// Bounds on paper: of the tank and its dig.
    pub(crate) low: Point,
    pub(crate) high: Point,
    notes: Vec<Callout>,
}

impl Plan {
    pub(crate) fn on<T: Copy + PartialEq>(
        desk: Desk<'_>,
        cut: &Grid<Option<T>>,
        notes: Vec<Callout>,
        rows: i64,
    ) -> Self {
        let [mut low, mut high] = cut.bounds(|c| c.is_some()).unwrap_or([[0, 0], [1, 1]]);
        for dig in &desk.sketch.digs {
            let [x, y] = dig.top;
            (low, high) = ([low[0].min(x[0]), low[1].min(y[0])], [high[0].max(x[1]), high[1].max(y[1])]);
        }
        let (wide, _) = lines_of(&notes);
        let side = if notes.is_empty() { 500 } else { wide + 900 };
        let margins =
            Margins([ROUND + rows * PITCH + 500, ROUND + 300, ROUND + side, ROUND + rows * PITCH + 700]);
        let placing = Placing::fitted([low, high], false, margins);
        Self { low: placing.point(low), high: placing.point(high), placing, notes }
    }

    /// Edges of the dig: its bottom, and its top where its sides lean.
    fn digs(&self, paper: &mut Paper, desk: Desk<'_>) {
        for dig in desk.sketch.digs.iter().filter(|d| d.filled) {
            for [x, y] in [dig.bottom, dig.top] {
                let corners = [[x[0], y[0]], [x[1], y[0]], [x[1], y[1]], [x[0], y[1]], [x[0], y[0]]];
                paper.line(&corners.map(|p| self.placing.point(p)), Pen::Thin);
            }
        }
    }

    /// Pipes and tees, which lie higher than the plane.
    fn pipes(&self, paper: &mut Paper, desk: Desk<'_>) {
        for pipe in &desk.sketch.pipes {
            let half = scaled(pipe.diameter, self.placing.scale) / 2;
            let [p, q] = pipe.ends.map(|[x, y, _]| self.placing.point([x, y]));
            if p == q {
                paper.circle(p, half, Fill::None, Some(Pen::Before));
                continue;
            }
            let clip = |p: Point| [p[0].clamp(self.low[0] - ROUND, self.high[0] + ROUND), p[1]];
            let ([a, y], [b, _]) = (clip(p), clip(q));
            for y in [y - half, y + half] {
                paper.line(&[[a, y], [b, y]], Pen::Before);
            }
        }
    }

    /// Chains under the plan and left of it.
    fn chains(&self, paper: &mut Paper, desk: Desk<'_>, cut: &Looks, says: &mut Vec<String>) {
        let space = &desk.space;
        let Some([low, high]) = cut.bounds(|c| c.is_some()) else { return };
        let turned = turned(cut);
        let (along, across) = (dims::row(space, cut), dims::row(space, &turned));
        let holes = across_walls(space, cut);
        self.both(paper, desk, [low, high], vec![along], vec![across, holes], says);
    }

    fn chains_of_holes(
        &self,
        paper: &mut Paper,
        desk: Desk<'_>,
        space: &Space,
        cut: &Looks,
        says: &mut Vec<String>,
    ) {
        let Some([low, high]) = cut.bounds(|c| c.is_some()) else { return };
        // Here what is seen counts as solid, and holes as nothing.
        let all = cut.map(|_, c| c.is_some());
        let along = planes_of(&all, [low[0], high[0]]);
        let across = planes_of(&turned(&all), [low[1], high[1]]);
        let _ = space;
        self.both(paper, desk, [low, high], vec![along], vec![across], says);
    }

    fn both(
        &self,
        paper: &mut Paper,
        desk: Desk<'_>,
        [low, high]: [[i64; 2]; 2],
        along: Vec<Vec<i64>>,
        across: Vec<Vec<i64>>,
        says: &mut Vec<String>,
    ) {
        let right = |a: i64| (self.placing.point([a, 0])[0], a);
        let down = |b: i64| (self.placing.point([0, b])[1], b);
        let dig =
            |axis: usize| desk.sketch.digs.iter().filter(|d| d.filled).flat_map(move |d| d.bottom[axis]);
        let ends = |axis: usize, low: i64, high: i64| dig(axis).chain([low, high]).collect::<Vec<_>>();
        let mut line = self.high[1] + ROUND;
        let whole = ends(0, low[0], high[0]);
        for (i, mut stops) in along.into_iter().chain([whole]).enumerate() {
            if i == 0 {
                stops.extend([low[0], high[0]]);
            }
            let found = chain(paper, Along::Right, line, &stops.into_iter().map(right).collect::<Vec<_>>());
            says.push(spoken("draw-alt-across", &found));
            line += PITCH;
        }
        let mut line = self.low[0] - ROUND;
        let whole = ends(1, low[1], high[1]);
        let mut before = Vec::new();
        for mut stops in across.into_iter().chain([whole]) {
            if stops.is_empty() {
                continue;
            }
            stops.extend([low[1], high[1]]);
            stops.sort_unstable();
            stops.dedup();
            if stops == before {
                continue;
            }
            let found = chain(paper, Along::Up, line, &stops.iter().map(|b| down(*b)).collect::<Vec<_>>());
            says.push(spoken("draw-alt-down", &found));
            line -= PITCH;
            before = stops;
        }
    }

    /// Where the sections are cut: the plane with its steps, thick ends, letters.
    fn planes(&self, paper: &mut Paper, desk: Desk<'_>) {
        let space = &desk.space;
        let long = long_at(space);
        let middle = |planes: &[i64], i: usize| {
            planes.get(i).zip(planes.get(i + 1)).map_or(0, |(a, b)| i64::midpoint(*a, *b))
        };
        let mut points: Vec<Point> = Vec::new();
        let [first, last] = [self.low[0] - 500, self.high[0] + 500];
        for (x, y) in long.at.iter().enumerate() {
            let b = self.placing.point([0, middle(&space.y, *y)])[1];
            let a = self.placing.point([space.x.get(x).copied().unwrap_or(0), 0])[0].max(self.low[0]);
            match points.last() {
                None => points.push([first, b]),
                Some(last) if last[1] != b => points.extend([[a, last[1]], [a, b]]),
                Some(_) => {}
            }
        }
        points.extend(points.last().map(|p| [last, p[1]]));
        self.plane(paper, &points, "A", [0, -1]);
        let at = cross_at(space).at.first().copied().unwrap_or(0);
        let a = self.placing.point([middle(&space.x, at), 0])[0];
        self.plane(paper, &[[a, self.low[1] - 500], [a, self.high[1] + 500]], "B", [1, 0]);
    }

    fn plane(&self, paper: &mut Paper, points: &[Point], letter: &str, sight: [i64; 2]) {
        paper.line(points, Pen::Chain);
        let ends = [(points.first(), points.get(1)), (points.last(), points.iter().rev().nth(1))];
        for (end, next) in ends {
            let (Some(end), Some(next)) = (end, next) else { continue };
            let away = [0, 1].map(|i| (end[i] - next[i]).signum());
            paper.line(&[*end, [end[0] - away[0] * 350, end[1] - away[1] * 350]], Pen::Ground);
            // An arrow in the way of sight.
            let tip = [end[0] + sight[0] * 420, end[1] + sight[1] * 420];
            paper.line(&[*end, tip], Pen::Thin);
            let side = [sight[1] * 80, sight[0] * 80];
            let back = [tip[0] - sight[0] * 240, tip[1] - sight[1] * 240];
            let head =
                vec![tip, [back[0] + side[0], back[1] + side[1]], [back[0] - side[0], back[1] - side[1]]];
            paper.area(vec![head], Fill::Black, None, "");
            let [a, b] = [end[0] + away[0] * 260, end[1] + away[1] * 260 + 125];
            let around = [[a, b], [a - sight[0] * 300, b - sight[1] * 300], [a, b + away[1] * 200]];
            paper.try_text(Text::note([0, 0], letter, Anchor::Middle), around);
        }
    }

    fn finish(mut self, mut paper: Paper, id: &str, title: &'static str, says: Vec<String>) -> Made {
        for note in &mut self.notes {
            note.at = self.placing.point(note.at);
        }
        let edge = self.high[0] + ROUND + 100;
        callouts(&mut paper, self.notes, edge, edge + 550, [FIELD.0[1], FIELD.0[3]]);
        let scale = Some(self.placing.scale);
        Made { id: id.to_owned(), title: look_up(title).to_owned(), alt: says.join(". "), paper, scale }
    }
}

/// Rows for columns.
pub(crate) fn turned<T: Copy + PartialEq>(grid: &Grid<T>) -> Grid<T> {
    let [nu, nv] = grid.size;
    let corners = (0..=nv).flat_map(|v| (0..=nu).map(move |u| [u, v]));
    let cells = (0..nv).flat_map(|v| (0..nu).map(move |u| [u, v]));
    Grid {
        size: [nv, nu],
        corners: corners.map(|at| grid.corner(at)).map(|[a, b]| [b, a]).collect(),
        cells: cells.filter_map(|at| grid.cell(at)).collect(),
    }
}

/// Planes across, in the column of walls within the tank that has most holes: openings in partitions.
fn across_walls(space: &Space, cut: &Looks) -> Vec<i64> {
    let [nu, nv] = cut.size;
    let planes = |u: usize| -> Vec<usize> {
        let kind = |v: usize| cut.cell([u, v]).flatten().map(|l| is_void(space, Some(l)));
        let before = |v: usize| v.checked_sub(1).and_then(kind);
        (0..=nv).filter(|v| before(*v) != kind(*v)).collect()
    };
    // A partition: solid somewhere between the rooms.
    let partly = |u: &usize| {
        let solid = (0..nv).filter(|v| is_solid(space, cut.cell([*u, *v]).flatten())).count();
        let voids = (0..nv).filter(|v| is_void(space, cut.cell([*u, *v]).flatten())).count();
        solid > 0 && voids > 0
    };
    let most = (0..nu).filter(partly).map(planes).max_by_key(Vec::len).filter(|p| p.len() > 4);
    most.unwrap_or_default().into_iter().map(|v| cut.corner([0, v])[1]).collect()
}

/// Planes along the row where solid and empty change most often, with both ends.
fn planes_of(grid: &Grid<bool>, ends: [i64; 2]) -> Vec<i64> {
    let [nu, nv] = grid.size;
    let of = |v: usize| -> Vec<usize> {
        let is = |u: usize| grid.cell([u, v]).unwrap_or(false);
        (0..=nu).filter(|u| (*u > 0 && is(u - 1)) != is(*u)).collect()
    };
    let most = (0..nv).map(of).max_by_key(Vec::len).unwrap_or_default();
    most.into_iter().map(|u| grid.corner([u, 0])[0]).chain(ends).collect()
}
