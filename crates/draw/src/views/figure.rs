//! What stands by itself, each on its sheet: a section through its axis and a plan. Bodies become a grid of cells as the
//! tank is one, so that hatching and dimensions follow the same rules.

use tankwright_quantities::sketch::{Figure, Lies, Plan};
use tankwright_quantities::words::{Phrase, look_up};
use tankwright_quantities::works::Drawn;

use super::levels::{metres, spoken};
use super::{Desk, Made, Sheet, nth};
use crate::cut::{Grid, outlines};
use crate::letters::TITLE;
use crate::paper::{Anchor, Fill, Paper, Pen, Point, Rect, Text};
use crate::sheet::{
    Along, Arranged, Callout, FIELD, Margins, PITCH, Placing, caution, chain, mm, scaled, sheet,
};

/// Ground shown beside and under the dig.
const EARTH: i64 = 900;
const UNDER: i64 = 500;
/// Where the plan begins: a third of the field is its own.
const PLAN: i64 = 9_300;

/// Bodies as cells: the number of the one that lies over the others.
type Bodies = Grid<Option<usize>>;

fn grid(figure: &Figure) -> Bodies {
    let mut x: Vec<i64> =
        figure.bodies.iter().flat_map(|b| [b.half[0], b.half[1], -b.half[0], -b.half[1]]).collect();
    let mut z: Vec<i64> = figure.bodies.iter().flat_map(|b| b.z).collect();
    for planes in [&mut x, &mut z] {
        planes.sort_unstable();
        planes.dedup();
    }
    let of = |u: usize, v: usize| {
        let middle = |planes: &[i64], i: usize| planes.get(i).zip(planes.get(i + 1)).map(|(a, b)| a + b);
        let (x, z) = (middle(&x, u)?.abs(), middle(&z, v)?);
        let holds = |b: &tankwright_quantities::sketch::Body| {
            b.half[0] * 2 < x && x < b.half[1] * 2 && b.z[0] * 2 < z && z < b.z[1] * 2
        };
        figure.bodies.iter().rposition(holds)
    };
    let size = [x.len().saturating_sub(1), z.len().saturating_sub(1)];
    let corners = x.iter().flat_map(|x| z.iter().map(|z| [*x, *z])).collect();
    let cells = (0..size[0]).flat_map(|u| (0..size[1]).map(move |v| (u, v))).map(|(u, v)| of(u, v)).collect();
    Grid { size, corners, cells }
}

/// A sheet for each figure.
pub(crate) fn sheets(desk: Desk<'_>) -> Vec<Sheet<'_>> {
    let figures = &desk.sketch.figures;
    let same = |i: usize, id: &str| figures.iter().take(i).filter(|f| f.id == id).count() + 1;
    let all = figures.iter().enumerate().map(|(i, figure)| (same(i, figure.id), figure));
    all.map(|(n, figure)| Sheet {
        stage: Some(figure.stage),
        ..Sheet::new(&nth(figure.id, n), &title(figure), move || draw(figure, n))
    })
    .collect()
}

/// What it is, and how many there are of it.
fn title(figure: &Figure) -> String {
    let title = figure.title.to_string();
    match figure.number {
        1 => title,
        n => Phrase::with("draw-number-of", &[&title, &n.to_string()]).to_string(),
    }
}

/// The sheet of a figure; `n`: which of those with its id, from 1.
fn draw(figure: &Figure, n: usize) -> Made {
    let cells = grid(figure);
    let [low, high] = cells.bounds(|_| true).unwrap_or([[0, 0], [1, 1]]);
    let bounds = [low, [high[0], high[1].max(0)]];
    let rows = rows(&cells);
    let under = i64::try_from(rows.len()).unwrap_or(1) * PITCH + UNDER + 900;
    let beside = i64::try_from(columns(&cells).len()).unwrap_or(1) * PITCH + 500;
    let margins = Margins([EARTH + beside, 500, EARTH + PLAN, under]);
    let arranged = Arranged::of(bounds, true, margins, notes(figure, &cells), FIELD);
    let placing = arranged.placing;
    let mut paper = sheet();
    let (a, b) = (placing.point(low), placing.point(high));
    let ground = placing.point([0, 0])[1];
    let earth = Rect([a[0] - EARTH, ground, b[0] + EARTH, a[1] + UNDER]);
    section(&mut paper, &placing, figure, &cells, &earth);
    let mut says = vec![figure.title.to_string(), look_up("draw-section-plan").to_owned()];
    let mut line = earth.0[3] + 450;
    for row in &rows {
        let stops: Vec<_> = row.iter().map(|x| (placing.point([*x, 0])[0], *x)).collect();
        says.push(spoken("draw-alt-across", &chain(&mut paper, Along::Right, line, &stops)));
        line += PITCH;
    }
    let mut left = earth.0[0] - 650;
    for levels in columns(&cells) {
        let stops: Vec<_> = levels.iter().map(|z| (placing.point([0, *z])[1], *z)).collect();
        says.push(spoken("draw-alt-down", &chain(&mut paper, Along::Up, left, &stops)));
        left -= PITCH;
    }
    named(&mut paper, [i64::midpoint(a[0], b[0]), line - 150], "draw-section-at", placing.scale);
    arranged.put(&mut paper, [earth.0[2], earth.0[2] + 250]);
    if figure.bodies.iter().any(|b| b.drawn == Drawn::Stone) {
        caution(&mut paper, "draw-soakage");
    }
    let of_plan = plan(&mut paper, figure, &cells, placing.scale);
    let title = title(figure);
    let id = nth(figure.id, n);
    let scale = Some(placing.scale).filter(|s| of_plan == *s);
    // What stands by itself is named as its table is.
    let shows = figure.id.replace('-', "_");
    Made { id, shows, title, alt: says.join(". "), paper, scale }
}

fn named(paper: &mut Paper, at: Point, key: &'static str, scale: i64) {
    let words = Phrase::with(key, &[&scale.to_string()]).to_string();
    let places = (0..4).map(|i| [at[0], at[1] + 450 + i * 400]);
    paper.try_text(Text { size: TITLE, ..Text::note([0, 0], words, Anchor::Middle) }, places);
}

/// Planes along the tallest row, then along the one with most of them where it has others.
fn rows(cells: &Bodies) -> Vec<Vec<i64>> {
    let [nu, nv] = cells.size;
    let of = |v: usize| -> Vec<usize> {
        let own = |u: usize| cells.cell([u, v]).flatten();
        (0..=nu).filter(|u| u.checked_sub(1).and_then(own) != own(*u)).collect()
    };
    let high = |v: usize| cells.corner([0, v + 1])[1] - cells.corner([0, v])[1];
    let tall = (0..nv).filter(|v| of(*v).len() > 1).max_by_key(|v| high(*v)).map(of).unwrap_or_default();
    let most = (0..nv).map(of).max_by_key(Vec::len).unwrap_or_default();
    let more = most.iter().any(|u| !tall.contains(u));
    let found = if more { vec![tall, most] } else { vec![tall] };
    found.into_iter().map(|row| row.into_iter().map(|u| cells.corner([u, 0])[0]).collect()).collect()
}

/// Levels at the axis and where most of them are; the whole depth last.
fn columns(cells: &Bodies) -> Vec<Vec<i64>> {
    let [nu, nv] = cells.size;
    let of = |u: usize| -> Vec<i64> {
        let own = |v: usize| cells.cell([u, v]).flatten();
        let levels = (0..=nv).filter(|v| v.checked_sub(1).and_then(own) != own(*v));
        levels.map(|v| cells.corner([u, v])[1]).collect()
    };
    let axis = of(nu / 2);
    let most = (0..nu).map(of).max_by_key(Vec::len).unwrap_or_default();
    let whole = vec![cells.corner([0, 0])[1], cells.corner([0, nv])[1]];
    let mut found = vec![axis];
    for more in [most, whole] {
        if !found.contains(&more) {
            found.push(more);
        }
    }
    found
}

fn notes(figure: &Figure, cells: &Bodies) -> Vec<Callout> {
    let mut notes = Vec::new();
    for (n, body) in figure.bodies.iter().enumerate() {
        let title = body.title.to_string();
        let told = notes.iter().any(|note: &Callout| note.text == title);
        if body.drawn == Drawn::Sheet {
            notes.push(Callout::thing([body.half[1] / 2, body.z[0]], title));
            continue;
        }
        // The part of its own that lies farthest to the right.
        let own = cells.all().filter(|(_, c)| *c == Some(n));
        let Some(([u, v], _)) =
            own.max_by_key(|([u, v], _)| (*u, cells.corner([0, v + 1])[1] - cells.corner([0, *v])[1]))
        else {
            continue;
        };
        let ([a, b], [c, d]) = (cells.corner([u, v]), cells.corner([u + 1, v + 1]));
        if !told {
            notes.push(Callout::thing([i64::midpoint(a, c), i64::midpoint(b, d)], title));
        }
    }
    for pipe in &figure.pipes {
        let half = pipe.diameter / 2;
        let at = match pipe.lies {
            Lies::In(_) => continue,
            Lies::Upright([low, high]) => [half, (3 * high + low) / 4],
            Lies::Through(invert) => [0, invert + half],
        };
        notes.push(Callout::thing(at, pipe.title.to_string()));
    }
    for ([along, across], level) in &figure.lids {
        let text = Phrase::with("draw-lid", &[&mm(*along), &mm(*across)]).to_string();
        notes.push(Callout::thing([along / 4, *level], text));
    }
    let ground = Callout::level([0, 0], metres(0), look_up("draw-ground").to_owned());
    notes.push(ground);
    for mark in &figure.marks {
        notes.push(Callout::level([0, mark.level], metres(mark.level), mark.title.to_string()));
    }
    notes
}

fn section(paper: &mut Paper, placing: &Placing, figure: &Figure, cells: &Bodies, earth: &Rect) {
    paper.area(vec![earth.corners().to_vec()], Fill::Earth, None, "");
    let half = match figure.plan {
        Plan::Round(across) => across / 2,
        Plan::Run { .. } | Plan::Box(_) => cells.bounds(|_| true).map_or(0, |b| b[1][0]),
    };
    let dig = Rect::of(placing.point([-half, -figure.depth]), placing.point([half, 0]));
    paper.area(vec![dig.corners().to_vec()], Fill::White, Some(Pen::Seen), "");
    let [left, right] = [dig.0[0], dig.0[2]];
    for ends in [[earth.0[0], left], [right, earth.0[2]]] {
        paper.line(&ends.map(|x| [x, earth.0[1]]), Pen::Ground);
    }
    for (n, body) in figure.bodies.iter().enumerate() {
        let found = outlines(cells, |c| c == Some(n));
        let pen =
            if matches!(body.drawn, Drawn::Stone | Drawn::Soil | Drawn::Hole) { Pen::Seen } else { Pen::Cut };
        let fill = if body.drawn == Drawn::Hole { Fill::White } else { Fill::Of(body.drawn) };
        if body.drawn == Drawn::Sheet {
            let ends = [-body.half[1], body.half[1]].map(|x| placing.point([x, body.z[0]]));
            paper.line(&ends, Pen::Sheet);
        } else {
            paper.area(placing.outlines(&found), fill, Some(pen), body.title.key);
        }
    }
    pipes(paper, placing, figure, earth);
    // A lid as thick as it is drawn: its thickness is not given.
    for ([along, _], level) in &figure.lids {
        let ([a, y], [b, _]) =
            (placing.point([-along / 2, *level]), placing.point([along - along / 2, *level]));
        paper.area(
            vec![Rect([a, y - 35, b, y + 35]).corners().to_vec()],
            Fill::Black,
            Some(Pen::Thin),
            "lid",
        );
    }
    let [_, y] = placing.point([0, 0]);
    let bottom = placing.point([0, -figure.depth])[1];
    paper.line(
        &[[i64::midpoint(left, right), y - 400], [i64::midpoint(left, right), bottom + 300]],
        Pen::Chain,
    );
}

fn pipes(paper: &mut Paper, placing: &Placing, figure: &Figure, earth: &Rect) {
    for pipe in &figure.pipes {
        let half = pipe.diameter / 2;
        let rect = match pipe.lies {
            Lies::In(invert) => {
                // Up to the room inside a lining, else to the axis.
                let lining =
                    figure.bodies.iter().filter(|b| b.drawn == Drawn::Masonry).map(|b| b.half[0]).min();
                let end = lining.map_or(-half, |inside| -inside + half);
                let [_, top] = placing.point([0, invert + pipe.diameter]);
                let [x, low] = placing.point([end, invert]);
                let [y, _] = [top, low];
                let note = pipe.title.to_string();
                let places = [-120, 560, -560].map(|down| [x + 150, y + down]);
                let text = Text { clear: true, ..Text::note([0, 0], note, Anchor::Start) };
                let upright = [560, 1_000].map(|aside| Text {
                    at: [x + aside, i64::midpoint(top, low) + 1_300],
                    turned: true,
                    anchor: Anchor::Middle,
                    ..text.clone()
                });
                paper.try_ways(places.map(|at| Text { at, ..text.clone() }).into_iter().chain(upright));
                Rect([earth.0[0], top, x, low])
            }
            Lies::Upright([low, high]) => Rect::of(placing.point([-half, low]), placing.point([half, high])),
            Lies::Through(invert) => {
                let middle = placing.point([0, invert + half]);
                paper.circle(middle, scaled(half, placing.scale), Fill::White, Some(Pen::Pipe));
                continue;
            }
        };
        paper.area(vec![rect.corners().to_vec()], Fill::White, Some(Pen::Pipe), "pipe");
    }
}

/// The plan, cut in its tallest row, with the holes of its lid; its scale.
fn plan(paper: &mut Paper, figure: &Figure, cells: &Bodies, wanted: i64) -> i64 {
    let (long, wide) = match figure.plan {
        Plan::Round(across) => (across, across),
        Plan::Box([along, across]) => (along, across),
        Plan::Run { length, diameter } => (length, diameter),
    };
    let Rect([_, top, right, bottom]) = FIELD;
    let field = Rect([right - PLAN, top, right, bottom]);
    let margins = [PITCH + 700, 700, 700, 3_500];
    let room = PLAN - margins[0] - margins[2];
    // A long trench is shown cut short, at the scale of its section; its dimension is the whole one.
    let (whole, short) = (long, scaled(long, wanted) > room && long > 4 * wide);
    let long = if short { room * wanted / 10 } else { long };
    let bounds = [[-long / 2, -wide / 2], [long - long / 2, wide - wide / 2]];
    let own = Placing::at(bounds, false, Margins(margins), field, None);
    // The scale of the section where it fits.
    let fits = short || own.scale <= wanted;
    let placing = if fits { Placing::at(bounds, false, Margins(margins), field, Some(wanted)) } else { own };
    let [nu, nv] = cells.size;
    let high = |v: &usize| cells.corner([0, v + 1])[1] - cells.corner([0, *v])[1];
    let row = (0..nv).max_by_key(high).unwrap_or(0);
    let half = cells.corner([nu, 0])[0];
    for u in (0..nu).rev().take(nu.div_ceil(2)) {
        let out = cells.corner([u + 1, 0])[0];
        let body = cells.cell([u, row]).flatten().and_then(|n| figure.bodies.get(n));
        let drawn = body.map_or(Drawn::Hole, |b| b.drawn);
        let fill = if drawn == Drawn::Hole { Fill::White } else { Fill::Of(drawn) };
        let pen = if matches!(drawn, Drawn::Masonry | Drawn::Concrete | Drawn::Reinforced) {
            Pen::Cut
        } else {
            Pen::Seen
        };
        if let Plan::Round(_) = figure.plan {
            paper.circle(placing.point([0, 0]), scaled(out, placing.scale), fill, Some(pen));
            continue;
        }
        let inset = half - out;
        // Of a trench the section runs across it, and its ends are cut square.
        let along = if half * 2 == long { inset } else { 0 };
        let (a, b) = ([-long / 2 + along, -wide / 2 + inset], [long / 2 - along, wide / 2 - inset]);
        paper.area(
            vec![Rect::of(placing.point(a), placing.point(b)).corners().to_vec()],
            fill,
            Some(pen),
            "",
        );
    }
    for [along, across] in &figure.holes {
        let rect = Rect::of(placing.point([-along / 2, -across / 2]), placing.point([along / 2, across / 2]));
        paper.area(vec![rect.corners().to_vec()], Fill::None, Some(Pen::Before), "");
    }
    for pipe in &figure.pipes {
        let half = pipe.diameter / 2;
        match pipe.lies {
            Lies::Through(_) => {
                for y in [-half, half] {
                    let ends = [-long / 2, long / 2].map(|x| placing.point([x, y]));
                    paper.line(&ends, Pen::Hidden);
                }
            }
            Lies::Upright(_) => {
                paper.circle(
                    placing.point([0, 0]),
                    scaled(half, placing.scale),
                    Fill::White,
                    Some(Pen::Pipe),
                );
            }
            Lies::In(_) => {
                for y in [-half, half] {
                    let [x, y] = placing.point([-long / 2, y]);
                    paper.line(&[[x - 700, y], [x, y]], Pen::Pipe);
                }
            }
        }
    }
    let (a, b) = (placing.point(bounds[0]), placing.point(bounds[1]));
    if short {
        broken(paper, [a, b]);
    }
    let stops = |of: [i64; 2], axis: usize| {
        of.map(|at| (placing.point(if axis == 0 { [at, 0] } else { [0, at] })[axis], at)).to_vec()
    };
    let across = stops([bounds[0][0], bounds[1][0]], 0);
    let y = [bounds[0][1], bounds[1][1]];
    let ends = [(a[0], 0), (b[0], whole)];
    chain(paper, Along::Right, b[1] + 800, if short { &ends } else { &across });
    if !matches!(figure.plan, Plan::Round(_)) {
        chain(paper, Along::Up, a[0] - 800, &stops(y, 1));
    }
    named(paper, [i64::midpoint(a[0], b[0]), b[1] + 1_300], "draw-plan-at", placing.scale);
    placing.scale
}

/// Two lines of a break across the middle of a plan, paper between them.
fn broken(paper: &mut Paper, [[a, top], [b, bottom]]: [Point; 2]) {
    let (middle, high) = (i64::midpoint(a, b), i64::midpoint(top, bottom));
    let line = |x: i64| {
        vec![
            [x, top - 250],
            [x, high - 200],
            [x - 180, high - 80],
            [x + 180, high + 80],
            [x, high + 200],
            [x, bottom + 250],
        ]
    };
    let (left, right) = (line(middle - 150), line(middle + 150));
    let between: Vec<Point> = left.iter().copied().chain(right.iter().rev().copied()).collect();
    paper.area(vec![between], Fill::White, None, "");
    paper.line(&left, Pen::Thin);
    paper.line(&right, Pen::Thin);
}
