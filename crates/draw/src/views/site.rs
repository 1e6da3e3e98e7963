//! The site, in order along the drain: house, chambers, tank, where the water leaves; with the distances that the job
//! gives. What the job does not say of directions is drawn in a straight line.

use tankwright_quantities::sketch::{Along, Plan, Stop};
use tankwright_quantities::words::{Phrase, look_up};

use super::lay::{Map, Placed, half_across, laid, placed};
use super::levels::spoken;
use super::{Desk, Made, Sheet};
use crate::letters::{NOTE, fitted, width};
use crate::paper::{Anchor, Fill, Paper, Pen, Point, Rect, Text};
use crate::sheet::{Along as Chain, Callout, FIELD, PITCH, chain, list, list_height, mm, say, scaled, sheet};

/// Where a pipe forks to several pits, before them.
const FORK: i64 = 350;
/// Boxes of what lies round: their size, and room for the lines from them.
const BOX: [i64; 2] = [2_450, 960];
const FAN: i64 = 1_500;

/// The sheet; nothing where the tank stands alone.
pub(crate) fn sheet_of(desk: Desk<'_>) -> Option<Sheet<'_>> {
    let sketch = &desk.sketch;
    let far = !sketch.distances.is_empty() || !sketch.soak_distances.is_empty();
    let things = placed(&sketch.stops).len();
    (things > 1 || far && things > 0).then(|| Sheet::new("site", look_up("draw-site"), move || draw(desk)))
}

fn draw(desk: Desk<'_>) -> Made {
    let sketch = &desk.sketch;
    let mut all = placed(&sketch.stops);
    let far = !sketch.distances.is_empty() || !sketch.soak_distances.is_empty();
    let notes = notes(desk, &all);
    let [left, top, right, bottom] = FIELD.0;
    let under = list_height(&notes, right - left);
    let over = if far { BOX[1] + FAN } else { 500 };
    let apart = all.iter().any(|p| p.stop.apart.is_some() && p.y.len() > 1);
    let beside = if apart { 1_500 } else { 600 };
    let room = [left + 1_800, top + over, right - beside, bottom - 2 * PITCH - 1_300 - under];
    let map = laid(&mut all, room);
    let mut paper = sheet();
    let mut says = vec![look_up("draw-site").to_owned()];
    house(&mut paper, &map, &all);
    for one in all.iter().filter(|p| matches!(p.stop.plan, Plan::Run { .. })) {
        run(&mut paper, &map, one, &all);
    }
    joined(&mut paper, &map, &all);
    around(&mut paper, desk, &map, &all);
    for one in &all {
        thing(&mut paper, &map, one);
    }
    numbers(&mut paper, &map, &all, &notes);
    let low =
        all.iter().flat_map(|p| p.y.iter().map(|y| map.point([0, y + half_across(p.stop.plan)])[1])).max();
    let line = low.unwrap_or(top) + 1_000;
    let mut stops: Vec<i64> =
        all.iter().filter(|p| p.stop.along != Along::Inspected).flat_map(|p| p.x).collect();
    stops.sort_unstable();
    stops.dedup();
    let at: Vec<_> = stops.iter().map(|x| (map.point([*x, 0])[0], *x)).collect();
    says.push(spoken("draw-alt-across", &chain(&mut paper, Chain::Right, line, &at)));
    if at.len() > 2 {
        let ends: Vec<_> = at.first().into_iter().chain(at.last()).copied().collect();
        chain(&mut paper, Chain::Right, line + PITCH, &ends);
    }
    for one in all.iter().filter(|p| p.stop.apart.is_some() && p.y.len() > 1) {
        let half = half_across(one.stop.plan);
        let ends = one.y.iter().flat_map(|y| [y - half, y + half]);
        let stops: Vec<_> = ends.map(|y| (map.point([0, y])[1], y)).collect();
        says.push(spoken(
            "draw-alt-down",
            &chain(&mut paper, Chain::Up, map.point([one.x[1], 0])[0] + 900, &stops),
        ));
    }
    let scale = map.scale.to_string();
    match map.is_true() {
        true => say(&mut paper, look_up("draw-directions")),
        false => say(&mut paper, &Phrase::with("draw-directions-broken", &[&scale]).to_string()),
    }
    list(&mut paper, &notes, FIELD);
    let title = look_up("draw-site").to_owned();
    let scale = map.is_true().then_some(map.scale);
    let [id, shows] = ["site", "site"].map(str::to_owned);
    Made { id, shows, title, alt: says.join(". "), paper, scale }
}

/// One note a kind of thing, then further lines of pipes, then distances.
fn notes(desk: Desk<'_>, all: &[Placed<'_>]) -> Vec<Callout> {
    let says = |stop: &Stop| {
        let mut words = stop.title.to_string();
        if stop.number > 1 {
            words = Phrase::with("draw-times", &[&stop.number.to_string(), &words]).to_string();
        }
        if let Plan::Run { length, .. } = stop.plan {
            words = Phrase::with("draw-long", &[&words, &mm(length)]).to_string();
        }
        if let Some(apart) = stop.apart.filter(|_| stop.number > 1) {
            words = Phrase::with("draw-apart", &[&words, &mm(apart)]).to_string();
        }
        for more in &stop.says {
            words = Phrase::with("draw-and", &[&words, &more.to_string()]).to_string();
        }
        words
    };
    let note = |text| Callout::thing([0, 0], text);
    let mut notes: Vec<Callout> = Vec::new();
    for one in all {
        let text = says(one.stop);
        if !notes.iter().any(|n| n.text == text) {
            notes.push(note(text));
        }
    }
    let beside = desk.sketch.stops.iter().filter(|s| s.along == Along::Beside);
    notes.extend(beside.map(|s| note(Phrase::with("draw-beside", &[&says(s)]).to_string())));
    let ways =
        [("draw-distance", &desk.sketch.distances), ("draw-distance-soak", &desk.sketch.soak_distances)];
    for (key, all) in ways {
        notes.extend(
            all.iter()
                .map(|(what, far)| note(Phrase::with(key, &[&what.to_string(), &mm(*far)]).to_string())),
        );
    }
    notes
}

fn house(paper: &mut Paper, map: &Map, all: &[Placed<'_>]) {
    if all.first().is_none_or(|first| first.stop.along != Along::In) {
        return;
    }
    let [x, y] = map.point([0, 0]);
    let wall = Rect([x - 250, y - 900, x, y + 900]);
    paper.area(vec![wall.corners().to_vec()], Fill::White, Some(Pen::Cut), "");
    let name = Text { turned: true, ..Text::note([x - 500, y], look_up("draw-to-house"), Anchor::Middle) };
    paper.text(name);
}

/// What is shown of a pipe between its ends: behind its last chamber, before its fork.
fn stretch(map: &Map, one: &Placed<'_>, all: &[Placed<'_>]) -> [i64; 2] {
    let chambers = all.iter().filter(|p| p.stop.along == Along::Inspected && one.stop.along == Along::In);
    let from = chambers.map(|p| p.x[1]).max().unwrap_or(one.x[0]);
    [from, one.x[1]].map(|x| map.point([x, 0])[0])
}

/// A pipe with the way of its water, broken where it is shortened.
fn run(paper: &mut Paper, map: &Map, one: &Placed<'_>, all: &[Placed<'_>]) {
    let many = all.iter().filter(|p| p.stop.along == Along::Ground).map(|p| p.y.len()).sum::<usize>() > 1;
    let [from, to] = one.x.map(|x| map.point([x, 0]));
    let end = if many && one.stop.along == Along::Out { to[0] - FORK } else { to[0] };
    paper.line(&[from, [end.max(from[0]), from[1]]], Pen::Pipe);
    let [a, b] = stretch(map, one, all);
    let (x, y) = (a + (b - a) * 3 / 4, from[1]);
    paper.area(vec![vec![[x + 200, y], [x - 150, y - 110], [x - 150, y + 110]]], Fill::Black, None, "");
    for x in map.axes[0].breaks.iter().filter(|x| (from[0]..to[0]).contains(*x)) {
        broken(paper, [*x, y], [1, 0], 250);
    }
}

/// Two strokes across a line that is shown shorter than it is, nothing between them.
fn broken(paper: &mut Paper, [x, y]: Point, along: [i64; 2], half: i64) {
    let at = |a: i64, b: i64| [x + along[0] * a + along[1] * b, y + along[1] * a + along[0] * b];
    let stroke = |a: i64| [at(a + 80, -half), at(a - 80, half)];
    let (left, right) = (stroke(-110), stroke(110));
    paper.area(vec![vec![left[0], right[0], right[1], left[1]]], Fill::White, None, "");
    paper.line(&left, Pen::Thin);
    paper.line(&right, Pen::Thin);
}

fn thing(paper: &mut Paper, map: &Map, one: &Placed<'_>) {
    for y in &one.y {
        let [a, b] = one.x;
        match one.stop.plan {
            Plan::Run { .. } => {}
            Plan::Round(across) => {
                let [[x0, y], [x1, _]] = [a, b].map(|x| map.point([x, *y]));
                let middle = [i64::midpoint(x0, x1), y];
                paper.circle(middle, scaled(across / 2, map.scale), Fill::White, Some(Pen::Cut));
            }
            Plan::Box([_, across]) => {
                let rect = Rect::of(map.point([a, y - across / 2]), map.point([b, y + across / 2]));
                paper.area(vec![rect.corners().to_vec()], Fill::White, Some(Pen::Cut), "");
                let half = (rect.0[3] - rect.0[1]) / 2 + 200;
                for x in map.axes[0].breaks.iter().filter(|x| (rect.0[0]..rect.0[2]).contains(*x)) {
                    broken(paper, [*x, i64::midpoint(rect.0[1], rect.0[3])], [1, 0], half);
                }
            }
        }
    }
}

/// Pipes to several pits or trenches beside each other.
fn joined(paper: &mut Paper, map: &Map, all: &[Placed<'_>]) {
    let ground: Vec<_> = all.iter().filter(|p| p.stop.along == Along::Ground).collect();
    let ys: Vec<i64> = ground.iter().flat_map(|p| p.y.iter().copied()).collect();
    let (Some(first), Some(low), Some(high)) = (ground.first(), ys.iter().min(), ys.iter().max()) else {
        return;
    };
    if low == high {
        return;
    }
    // The pipe from the tank comes in at the line's own middle.
    let [x, top] = map.point([first.x[0], (*low).min(0)]);
    let [_, bottom] = map.point([first.x[0], (*high).max(0)]);
    let x = x - FORK;
    paper.line(&[[x, top], [x, bottom]], Pen::Pipe);
    for y in map.axes[1].breaks.iter().filter(|y| (top..bottom).contains(*y)) {
        broken(paper, [x, *y], [0, 1], 250);
    }
    for y in ys {
        // A circle is met at its side, a trench at its end.
        let end = map.point([first.x[0], y]);
        paper.line(&[[x, end[1]], end], Pen::Pipe);
    }
    for one in ground.iter().filter(|p| p.left_out) {
        // Where some are left out.
        if let [.., before, last] = one.y[..] {
            let [p, q] = [before, last].map(|y| map.point([i64::midpoint(one.x[0], one.x[1]), y]));
            let half = scaled(half_across(one.stop.plan), map.scale);
            let ends = [p[1] + half, q[1] - half];
            for part in 1..4 {
                let at = [p[0], ends[0] + (ends[1] - ends[0]) * part / 4];
                paper.circle(at, 60, Fill::Black, None);
            }
        }
    }
}

/// What lies round the tank, and round where the water leaves: boxes over them, each line broken, as no direction is
/// known.
fn around(paper: &mut Paper, desk: Desk<'_>, map: &Map, all: &[Placed<'_>]) {
    let middle = |p: &Placed<'_>| map.point([i64::midpoint(p.x[0], p.x[1]), 0])[0];
    let top = |p: &Placed<'_>| {
        let first = p.y.iter().min().copied().unwrap_or(0);
        [middle(p), map.point([p.x[0], first - half_across(p.stop.plan)])[1]]
    };
    let of = |along| all.iter().find(|p| p.stop.along == along).map(top);
    let own = [(of(Along::Tank), &desk.sketch.distances), (of(Along::Ground), &desk.sketch.soak_distances)];
    let boxes: Vec<(Point, &(Phrase, i64))> = own
        .into_iter()
        .flat_map(|(at, far)| at.into_iter().flat_map(|at| far.iter().map(move |f| (at, f))))
        .collect();
    let pitch = BOX[0] + 200;
    let n = i64::try_from(boxes.len()).unwrap_or(0);
    // Each group about its own thing, none over another, all on the sheet.
    let mut next = FIELD.0[0];
    for (i, (at, (what, far))) in (0..).zip(&boxes) {
        let group: Vec<i64> = (0..).zip(&boxes).filter(|(_, b)| b.0 == *at).map(|(i, _)| i).collect();
        let (first, many) = (group.first().copied().unwrap_or(0), i64::try_from(group.len()).unwrap_or(1));
        let wanted = at[0] - many * pitch / 2 + (i - first) * pitch;
        let x = wanted.max(next).min(FIELD.0[2] - (n - i) * pitch);
        next = x + pitch;
        let rect = Rect([x, FIELD.0[1], x + BOX[0], FIELD.0[1] + BOX[1]]);
        let from = [i64::midpoint(rect.0[0], rect.0[2]), rect.0[3]];
        let to = [at[0] + (i - first) * 160 - (many - 1) * 80, at[1]];
        paper.line(&[from, to], Pen::Thin);
        broken(paper, [i64::midpoint(from[0], to[0]), i64::midpoint(from[1], to[1])], [0, 1], 220);
        paper.area(vec![rect.corners().to_vec()], Fill::White, Some(Pen::Seen), "");
        let word = fitted(&what.to_string(), NOTE, BOX[0] - 200);
        paper.text(Text::note([from[0], rect.0[1] + 380], word, Anchor::Middle));
        paper.text(Text::note([from[0], rect.0[1] + 820], mm(*far), Anchor::Middle));
    }
}

/// The number of its note in each thing, or over it.
fn numbers(paper: &mut Paper, map: &Map, all: &[Placed<'_>], notes: &[Callout]) {
    let mut n = 0;
    let mut last: Option<&Stop> = None;
    let mut over = Vec::new();
    for one in all {
        if last != Some(one.stop) {
            n += 1;
            last = Some(one.stop);
        }
        if n > notes.len() {
            return;
        }
        let half = half_across(one.stop.plan);
        let text = Text { clear: true, ..Text::note([0, 0], n.to_string(), Anchor::Middle) };
        for y in &one.y {
            let Rect([a, b, c, d]) =
                Rect::of(map.point([one.x[0], y - half]), map.point([one.x[1], y + half]));
            let (x, middle) = (i64::midpoint(a, c), i64::midpoint(b, d));
            let whole = !map.axes[0].breaks.iter().any(|x| (a..c).contains(x));
            if half > 0 && whole && c - a > width(&text.text, NOTE) + 250 && d - b > 620 {
                paper.text(Text { at: [x, middle + 125], ..text.clone() });
            } else if half > 0 {
                over.push((text.clone(), [x, b]));
            } else {
                let [a, c] = stretch(map, one, all);
                over.push((text.clone(), [a + (c - a) / 4, b]));
            }
            paper.taken.push(Rect([a, b, c, d]).grown(if half > 0 { 60 } else { 30 }));
        }
    }
    for (text, [x, top]) in over {
        let places = [-180, -600, -1_000]
            .into_iter()
            .flat_map(|up| [0, 350, -350, 900, -900].map(|a| [x + a, top + up]));
        paper.try_text(text, places);
    }
}
