//! Plans: cut through the walls at floor level, and seen from above at cover level.

use tankwright_quantities::space::Space;
use tankwright_quantities::words::{Phrase, look_up};
use tankwright_quantities::works::Drawn;

use super::levels::spoken;
use super::paint::{self, Looks, is_solid};
use super::{Desk, Made, dims, fittings, note_of};
use crate::cut::{Eye, Grid, cross_at, floor_at, long_at, outlines, top};
use crate::letters::{NOTE, width};
use crate::paper::{Anchor, Fill, Paper, Pen, Point, Text};
use crate::sheet::{Along, Arranged, Callout, FIELD, Margins, PITCH, Placing, chain, mm, scaled, sheet};

/// Room about a plan for the ends of cutting planes.
const ROUND: i64 = 1_250;

/// The plan at floor level.
pub(crate) fn floor(desk: Desk<'_>) -> Made {
    let space = &desk.space;
    let plane = floor_at(space);
    let cut = plane.cut();
    let notes = [notes(space, &cut), fittings::vents_named(desk)].concat();
    let sheet_of = Plan::on(desk, &cut, notes, 2);
    let mut paper = sheet();
    sheet_of.digs(&mut paper, desk);
    paint::clear(&mut paper, &sheet_of.placing, &cut);
    paint::solids(&mut paper, &sheet_of.placing, space, &cut);
    paint::seen(&mut paper, &sheet_of.placing, &plane, Eye::Down);
    let new = cut.map(|at, look| is_solid(space, look) && space.is_new(plane.cell(at)));
    let new = outlines(&new, |n| n);
    paper.area(sheet_of.placing.outlines(&new), Fill::None, Some(Pen::New), "new");
    sheet_of.pipes(&mut paper, desk);
    fittings::vents(&mut paper, &sheet_of.placing, desk, true);
    let mut says = vec![look_up("draw-plan-floor").to_owned()];
    // The planes are those of the finished tank.
    if space.now.is_none() {
        sheet_of.planes(&mut paper, desk);
    }
    sheet_of.chains(&mut paper, desk, &cut, &mut says);
    for room in &desk.sketch.rooms {
        // Away from the middle, where beams, pipes and planes are.
        let [x, y] = room.plan;
        let [a, b] = sheet_of.placing.point([i64::midpoint(x[0], x[1]), (y[0] + 3 * y[1]) / 4]);
        let text = Text { clear: true, ..Text::note([0, 0], room.title.to_string(), Anchor::Middle) };
        let upright = width(&text.text, NOTE) + 100 > scaled(x[1] - x[0], sheet_of.placing.scale);
        let ways = [upright, !upright].into_iter().flat_map(|turned| {
            let text = text.clone();
            let places = (0..6)
                .flat_map(move |i| [0, 300, -300].map(|c| [[a + c, b + i * 300], [a + c, b - i * 300]]));
            places.flatten().map(move |at| Text { at, turned, ..text.clone() })
        });
        if paper.try_open(ways.collect::<Vec<_>>()).is_none() {
            // No room for words: its number alone.
            let number = text.text.rsplit(' ').next().unwrap_or_default().to_owned();
            let places = (0..6).flat_map(|i| [[a, b + i * 300], [a, b - i * 300]]);
            paper.try_open(places.map(|at| Text { at, text: number.clone(), ..text.clone() }));
        }
    }
    sheet_of.finish(paper, ["plan-floor", "tank"], "draw-plan-floor", says)
}

/// The plan at cover level, what lies under the cover dashed.
pub(crate) fn cover(desk: Desk<'_>) -> Made {
    let space = &desk.space;
    let seen = top(space);
    let looks = seen.map(|_, c| c.map(|(look, _)| look));
    let notes = [notes(space, &looks), names_of_holes(desk, &seen), fittings::vents_named(desk)].concat();
    let sheet_of = Plan::on(desk, &looks, notes, 2);
    let mut paper = sheet();
    sheet_of.digs(&mut paper, desk);
    let placing = &sheet_of.placing;
    let all = outlines(&seen, |c| c.is_some());
    paper.area(placing.outlines(&all), Fill::White, Some(Pen::Pipe), "cover");
    for line in seen.edges(|_| true) {
        paper.line(&line.map(|p| placing.point(p)), Pen::Pipe);
    }
    let new = seen.map(|[u, v], c| c.is_some_and(|(_, z)| z > 0 && space.is_new([u, v, z - 1])));
    paper.area(placing.outlines(&outlines(&new, |n| n)), Fill::None, Some(Pen::New), "new");
    under(&mut paper, placing, space, &seen);
    fittings::lids(&mut paper, placing, desk);
    fittings::vents(&mut paper, placing, desk, false);
    let mut says = vec![look_up("draw-plan-cover").to_owned()];
    let holes = seen.map(|_, c| c.map(|_| 0));
    sheet_of.planes(&mut paper, desk);
    sheet_of.holes(&mut paper, desk, &holes, &mut says);
    sheet_of.finish(paper, ["plan-cover", "tank"], "draw-plan-cover", says)
}

/// Names and sizes of the holes that one looks into from above; equal ones are named once.
fn names_of_holes(desk: Desk<'_>, seen: &Grid<Option<(usize, usize)>>) -> Vec<Callout> {
    let space = &desk.space;
    let hole = seen.map(|[u, v], own| {
        let first = (0..space.size()[2]).rev().find_map(|z| space.look([u, v, z]));
        first.filter(|l| own.is_none() && space.looks.get(*l).is_some_and(|l| l.drawn == Drawn::Hole))
    });
    let mut found: Vec<(String, usize, [i64; 2])> = Vec::new();
    for (n, look) in space.looks.iter().enumerate() {
        for outline in outlines(&hole, |l| l == Some(n)) {
            let ends = |axis: usize| {
                let all = outline.iter().filter_map(|p| p.get(axis).copied());
                (all.clone().min().unwrap_or(0), all.max().unwrap_or(0))
            };
            let ((a, c), (b, d)) = (ends(0), ends(1));
            let words = [look_up(look.part), &mm(c - a), &mm(d - b)];
            let lid = desk.sketch.lids.iter().any(|l| fittings::covers(l, [[a, c], [b, d]]));
            let text = Phrase::with(if lid { "draw-hole-lid" } else { "draw-hole" }, &words).to_string();
            // Off its middle, where the plane of the section runs.
            let at = [i64::midpoint(a, c), (b + 3 * d) / 4];
            match found.iter_mut().find(|f| f.0 == text) {
                Some(same) => (same.1, same.2) = (same.1 + 1, same.2.max(at)),
                None => found.push((text, 1, at)),
            }
        }
    }
    let note = |(text, n, at): (String, usize, [i64; 2])| {
        let text =
            if n == 1 { text } else { Phrase::with("draw-times", &[&n.to_string(), &text]).to_string() };
        Callout::thing(at, text)
    };
    found.into_iter().map(note).collect()
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
        // At heights of their own, so that leaders do not lie on each other.
        let fraction = i64::try_from(n % 4).unwrap_or(0) + 2;
        let best = own.max_by_key(|([u, v], _)| {
            let ([a, b], [c, d]) = (cut.corner([*u, *v]), cut.corner([u + 1, v + 1]));
            (a + c, (c - a) * (d - b))
        });
        if let Some(([u, v], _)) = best {
            let ([a, b], [c, d]) = (cut.corner([u, v]), cut.corner([u + 1, v + 1]));
            notes.push(Callout::thing([i64::midpoint(a, c), b + (d - b) * fraction / 6], note_of(look)));
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
    arranged: Arranged,
    /// Are the ends of its dig measured?
    dug: bool,
}

impl Plan {
    /// Of the tank with its dig.
    fn on<T: Copy + PartialEq>(
        desk: Desk<'_>,
        cut: &Grid<Option<T>>,
        notes: Vec<Callout>,
        rows: i64,
    ) -> Self {
        let tops = desk.sketch.digs.iter().map(|d| d.top);
        let bounds = cut.bounds(|c| c.is_some()).unwrap_or([[0, 0], [1, 1]]);
        let grown = |[low, high]: [[i64; 2]; 2], [x, y]: [[i64; 2]; 2]| {
            [[low[0].min(x[0]), low[1].min(y[0])], [high[0].max(x[1]), high[1].max(y[1])]]
        };
        Self { dug: true, ..Self::within(tops.fold(bounds, grown), notes, rows, 0) }
    }

    /// Of a slab alone, with so much room for a list under it.
    pub(crate) fn alone<T: Copy + PartialEq>(cut: &Grid<Option<T>>, under: i64, rows: i64) -> Self {
        Self::within(cut.bounds(|c| c.is_some()).unwrap_or([[0, 0], [1, 1]]), Vec::new(), rows, under)
    }

    fn within([low, high]: [[i64; 2]; 2], notes: Vec<Callout>, rows: i64, under: i64) -> Self {
        // Over a slab alone there are no ends of cutting planes.
        let over = if under > 0 { 500 } else { ROUND };
        let margins = Margins([ROUND + rows * PITCH + 400, over, ROUND, ROUND + rows * PITCH + 200 + under]);
        let arranged = Arranged::of([low, high], false, margins, notes, FIELD);
        let placing = arranged.placing;
        Self { low: placing.point(low), high: placing.point(high), placing, arranged, dug: false }
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
        let (along, mut across) = (dims::rows(space, cut), dims::rows(space, &turned));
        let holes = openings(space, cut);
        if let Some(walls) = across.first().filter(|_| !holes.is_empty()).cloned() {
            across = vec![[walls.clone(), holes].concat(), walls];
        }
        self.both(paper, desk, [low, high], along, across, says);
    }

    /// Chains of a slab: its holes and its edges.
    pub(crate) fn holes(&self, paper: &mut Paper, desk: Desk<'_>, cut: &Looks, says: &mut Vec<String>) {
        let Some([low, high]) = cut.bounds(|c| c.is_some()) else { return };
        // What is seen counts as solid, and holes as nothing.
        let all = cut.map(|_, c| c.is_some());
        let along = planes_of(&all, [low[0], high[0]]);
        let across = planes_of(&turned(&all), [low[1], high[1]]);
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
        let dig = |axis: usize| {
            desk.sketch.digs.iter().filter(|d| d.filled && self.dug).flat_map(move |d| d.bottom[axis])
        };
        let ends = |axis: usize, low: i64, high: i64| dig(axis).chain([low, high]).collect::<Vec<_>>();
        let mut line = self.high[1] + ROUND;
        let whole = ends(0, low[0], high[0]);
        let mut before = Vec::new();
        for mut stops in along.into_iter().chain([whole]) {
            stops.extend([low[0], high[0]]);
            stops.sort_unstable();
            stops.dedup();
            if stops == before {
                continue;
            }
            let found =
                chain(paper, Along::Right, line, &stops.iter().map(|a| right(*a)).collect::<Vec<_>>());
            says.push(spoken("draw-alt-across", &found));
            line += PITCH;
            before = stops;
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
        let holes = |y: usize, x: usize| {
            let layers = 0..space.size()[2];
            let look = |z: usize| space.look([x, y, z]).and_then(|l| space.looks.get(l));
            let round = space.rounds.iter().any(|r| {
                (r.cells[0][0]..r.cells[0][1]).contains(&x) && (r.cells[1][0]..r.cells[1][1]).contains(&y)
            });
            layers.filter(|z| look(*z).is_some_and(|l| l.drawn == Drawn::Hole)).count() + usize::from(round)
        };
        let mut points: Vec<Point> = Vec::new();
        let [first, last] = [self.low[0] - 500, self.high[0] + 500];
        for (x, y) in long.at.iter().enumerate() {
            let b = self.placing.point([0, middle(&space.y, *y)])[1];
            let a = self.placing.point([space.x.get(x).copied().unwrap_or(0), 0])[0].max(self.low[0]);
            match points.last() {
                None => points.push([first, b]),
                Some(last) if last[1] != b => {
                    // Beside the face that it steps at, so that it can be told from it: before a step into a hole,
                    // behind one out of it.
                    let into = holes(*y, x) > 0;
                    let a = if into { a - 150 } else { a + 150 };
                    points.extend([[a, last[1]], [a, b]]);
                }
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
            let text = Text { clear: true, ..Text::note([0, 0], letter, Anchor::Middle) };
            paper.try_text(text, around);
        }
    }

    pub(crate) fn finish(
        self,
        mut paper: Paper,
        [id, shows]: [&str; 2],
        title: &'static str,
        says: Vec<String>,
    ) -> Made {
        let edge = self.high[0] + ROUND;
        self.arranged.put(&mut paper, [edge, edge]);
        let (title, scale) = (look_up(title).to_owned(), Some(self.placing.scale));
        let [id, shows] = [id, shows].map(str::to_owned);
        Made { id, shows, title, alt: says.join(". "), paper, scale }
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

/// Sides of the openings across, in the column that has most of them.
fn openings(space: &Space, cut: &Looks) -> Vec<i64> {
    let [nu, nv] = cut.size;
    let hole = |u: usize, v: usize| {
        let look = cut.cell([u, v]).flatten().and_then(|l| space.looks.get(l));
        look.is_some_and(|l| l.drawn == Drawn::Hole)
    };
    let planes = |u: usize| -> Vec<usize> { (1..nv).filter(|v| hole(u, v - 1) != hole(u, *v)).collect() };
    let most =
        (0..nu).map(planes).fold(Vec::new(), |best, own| if own.len() > best.len() { own } else { best });
    most.into_iter().map(|v| cut.corner([0, v])[1]).collect()
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
