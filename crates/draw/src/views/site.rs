//! The site, in order along the drain: house, chambers, tank, where the water leaves; with the distances that the job
//! gives. What the job does not say of directions is drawn in a straight line.

use tankwright_quantities::sketch::{Along, Plan, Stop};
use tankwright_quantities::words::{Phrase, look_up};

use super::section::spoken;
use super::{Desk, Made};
use crate::paper::{Anchor, Fill, Paper, Pen, Point, Rect, Text};
use crate::sheet::{
    Along as Chain, Callout, FIELD, Margins, PITCH, Placing, caution, chain, list, list_height, mm, scaled,
    sheet,
};

/// A thing in its place: from and to along the line, and where its middle lies across it.
struct Placed<'a> {
    stop: &'a Stop,
    x: [i64; 2],
    y: Vec<i64>,
}

/// Half of what a thing takes across the line.
const fn half_across(plan: Plan) -> i64 {
    match plan {
        Plan::Run { .. } => 0,
        Plan::Box([_, across]) | Plan::Round(across) => across / 2,
    }
}

const fn along(plan: Plan) -> i64 {
    match plan {
        Plan::Run { length, .. } => length,
        Plan::Box([along, _]) | Plan::Round(along) => along,
    }
}

/// Everything one after the other; equal things of the ground beside each other.
fn placed(stops: &[Stop]) -> Vec<Placed<'_>> {
    let mut all: Vec<Placed<'_>> = Vec::new();
    let mut x = 0;
    let mut across = 0;
    for stop in stops.iter().filter(|s| s.along != Along::Beside) {
        let long = along(stop.plan);
        if stop.along == Along::Inspected {
            continue;
        }
        let deep = 2 * half_across(stop.plan);
        let pitch = deep + stop.apart.unwrap_or(deep.max(10_000));
        let n = i64::from(stop.number.max(1));
        let first = if stop.along == Along::Ground { across - (n - 1) * pitch / 2 } else { 0 };
        let y = (0..n).map(|i| first + i * pitch).collect();
        all.push(Placed { stop, x: [x, x + long], y });
        if stop.along == Along::Ground {
            // A second kind lies beside the first.
            across += n * pitch;
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
        let (middle, half) = (from + (to - from) * i / spaces, along(stop.plan) / 2);
        all.insert(after, Placed { stop, x: [middle - half, middle + half], y: vec![0] });
    }
}

/// The sheet; nothing where the tank stands alone.
pub(crate) fn draw(desk: Desk<'_>) -> Option<Made> {
    let sketch = &desk.sketch;
    let all = placed(&sketch.stops);
    if all.len() < 2 {
        return None;
    }
    let [mut low, mut high] = [[0, 0], [1, 1]];
    for one in &all {
        let half = half_across(one.stop.plan);
        for y in &one.y {
            low = [low[0].min(one.x[0]), low[1].min(y - half)];
            high = [high[0].max(one.x[1]), high[1].max(y + half)];
        }
    }
    let notes = notes(desk, &all);
    let under = list_height(&notes, FIELD.0[2] - FIELD.0[0]);
    let margins = Margins([1_800, 1_400, 800, 2 * PITCH + 1_300 + under]);
    let placing = Placing::fitted([low, high], false, margins);
    let mut paper = sheet();
    let mut says = vec![look_up("draw-site").to_owned()];
    house(&mut paper, &placing, &all);
    let many = all.iter().filter(|p| p.stop.along == Along::Ground).map(|p| p.y.len()).sum::<usize>() > 1;
    for one in &all {
        thing(&mut paper, &placing, one, if many { FORK } else { 0 });
    }
    joined(&mut paper, &placing, &all);
    numbers(&mut paper, &placing, &all, &notes);
    let line = placing.point(high)[1] + 1_000;
    let mut stops: Vec<i64> =
        all.iter().filter(|p| p.stop.along != Along::Inspected).flat_map(|p| p.x).collect();
    stops.sort_unstable();
    stops.dedup();
    let at: Vec<_> = stops.iter().map(|x| (placing.point([*x, 0])[0], *x)).collect();
    says.push(spoken("draw-alt-across", &chain(&mut paper, Chain::Right, line, &at)));
    if at.len() > 2 {
        let ends: Vec<_> = at.first().into_iter().chain(at.last()).copied().collect();
        chain(&mut paper, Chain::Right, line + PITCH, &ends);
    }
    caution(&mut paper, "draw-directions");
    list(&mut paper, &notes, FIELD);
    let title = look_up("draw-site").to_owned();
    Some(Made { id: "site".to_owned(), title, alt: says.join(". "), paper, scale: Some(placing.scale) })
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
    let far = desk.sketch.distances.iter();
    notes.extend(
        far.map(|(what, far)| {
            note(Phrase::with("draw-distance", &[&what.to_string(), &mm(*far)]).to_string())
        }),
    );
    notes
}

fn house(paper: &mut Paper, placing: &Placing, all: &[Placed<'_>]) {
    if !all.first().is_some_and(|first| first.stop.along == Along::In) {
        return;
    }
    let [x, y] = placing.point([0, 0]);
    let wall = Rect([x - 250, y - 900, x, y + 900]);
    paper.area(vec![wall.corners()], Fill::White, Some(Pen::Cut), "");
    let name = Text { turned: true, ..Text::note([x - 500, y], look_up("draw-to-house"), Anchor::Middle) };
    paper.text(name);
}

/// Where a pipe forks to several pits, before them.
const FORK: i64 = 350;

fn thing(paper: &mut Paper, placing: &Placing, one: &Placed<'_>, fork: i64) {
    for y in &one.y {
        let [a, b] = one.x;
        match one.stop.plan {
            Plan::Run { .. } => {
                let [from, [x, y]] = [a, b].map(|x| placing.point([x, *y]));
                let short = if one.stop.along == Along::Out { fork } else { 0 };
                arrow(paper, [from, [(x - short).max(from[0]), y]]);
            }
            Plan::Round(across) => {
                let middle = placing.point([i64::midpoint(a, b), *y]);
                paper.circle(middle, scaled(across / 2, placing.scale), Fill::White, Some(Pen::Cut));
            }
            Plan::Box([_, across]) => {
                let rect = Rect::of(placing.point([a, y - across / 2]), placing.point([b, y + across / 2]));
                paper.area(vec![rect.corners()], Fill::White, Some(Pen::Cut), "");
            }
        }
    }
}

/// A pipe with the way of its water.
fn arrow(paper: &mut Paper, [from, to]: [Point; 2]) {
    paper.line(&[from, to], Pen::Pipe);
    let [x, y] = [i64::midpoint(from[0], to[0]), from[1]];
    paper.area(vec![vec![[x + 200, y], [x - 150, y - 110], [x - 150, y + 110]]], Fill::Black, None, "");
}

/// Pipes to several pits or trenches beside each other.
fn joined(paper: &mut Paper, placing: &Placing, all: &[Placed<'_>]) {
    let ground: Vec<_> = all.iter().filter(|p| p.stop.along == Along::Ground).collect();
    let ys: Vec<i64> = ground.iter().flat_map(|p| p.y.iter().copied()).collect();
    let (Some(first), Some(low), Some(high)) = (ground.first(), ys.iter().min(), ys.iter().max()) else {
        return;
    };
    if low == high {
        return;
    }
    let gap = FORK;
    // The pipe from the tank comes in at the line's own middle.
    let [x, top] = placing.point([first.x[0], (*low).min(0)]);
    let [_, bottom] = placing.point([first.x[0], (*high).max(0)]);
    paper.line(&[[x - gap, top], [x - gap, bottom]], Pen::Pipe);
    for y in ys {
        let [x, y] = placing.point([first.x[0], y]);
        // A circle is met at its side, a trench at its end.
        paper.line(&[[x - gap, y], [x, y]], Pen::Pipe);
    }
}

/// The number of its note beside each thing.
fn numbers(paper: &mut Paper, placing: &Placing, all: &[Placed<'_>], notes: &[Callout]) {
    let mut n = 0;
    let mut last: Option<&Stop> = None;
    for one in all {
        if last != Some(one.stop) {
            n += 1;
            last = Some(one.stop);
        }
        if n > notes.len() {
            return;
        }
        let half = half_across(one.stop.plan);
        for y in &one.y {
            let [x, top] = placing.point([i64::midpoint(one.x[0], one.x[1]), y - half]);
            let places =
                [-250, -600, -1_000].into_iter().flat_map(|up| [0, 350, -350].map(|a| [x + a, top + up]));
            let text = Text { clear: true, ..Text::note([0, 0], n.to_string(), Anchor::Middle) };
            paper.try_text(text, places);
        }
    }
}
