//! Bars of slabs on plan, one sheet a slab: every bar where the schedule counts it, its mark, number and spacing from the
//! schedule itself.

use tankwright_quantities::space::Space;
use tankwright_quantities::stage::Stage;
use tankwright_quantities::steel::{Laid, Mark};
use tankwright_quantities::words::{Phrase, look_up};
use tankwright_quantities::works::Drawn;

use super::paint::is_solid;
use super::plan::Plan;
use super::{Desk, Made, Sheet};
use crate::cut::{Cut, View, outlines};
use crate::paper::{Anchor, Fill, Paper, Pen, Text};
use crate::sheet::{Callout, FIELD, caution, list, list_height, sheet};

/// The slabs that are drawn: stage, id, title, and whether the slab lies over the rooms.
const SLABS: [(Stage, &str, &str, bool); 2] = [
    (Stage::Base, "base-steel", "draw-base-steel", false),
    (Stage::Cover, "cover-steel", "draw-cover-steel", true),
];

/// A sheet for each slab with bars.
pub(crate) fn sheets(desk: Desk<'_>) -> Vec<Sheet<'_>> {
    let sheet = |(stage, id, title, over): &(Stage, &'static str, &'static str, bool)| {
        let (laid, layer) = (laid(desk, *stage), layer(&desk.space, *over)?);
        let [id, title] = [*id, *title];
        (!laid.is_empty())
            .then(|| Sheet::new(id, look_up(title), move || sheet_of(desk, [id, title], &laid, layer)))
    };
    SLABS.iter().filter_map(sheet).collect()
}

/// Bars of a stage that lie where a plan can show them.
fn laid(desk: Desk<'_>, stage: Stage) -> Vec<(&Laid, &Mark)> {
    let marked = |laid: &Laid| desk.steel.marks.iter().find(|m| m.mark == laid.mark && m.stage == stage);
    desk.steel.laid.iter().filter_map(|l| Some((l, marked(l)?))).collect()
}

fn sheet_of(desk: Desk<'_>, [id, title]: [&'static str; 2], laid: &[(&Laid, &Mark)], layer: usize) -> Made {
    let space = &desk.space;
    let cut = Cut::flat(space, View::Plan, layer).cut();
    let solid = cut.map(|_, c| c.filter(|_| is_solid(space, c)));
    let notes: Vec<Callout> = laid.iter().map(|(l, m)| note(l, m)).collect();
    let plan = Plan::alone(&solid, list_height(&notes, FIELD.0[2] - FIELD.0[0]), 2);
    let mut paper = sheet();
    let slab = outlines(&solid, |c| c.is_some());
    paper.area(plan.placing.outlines(&slab), Fill::White, Some(Pen::Seen), "slab");
    // Bars thicker than the thinnest are drawn so.
    let thin = laid.iter().map(|(_, m)| m.bar.diameter).min().unwrap_or(0);
    let pen = |diameter: u32| if diameter > thin { Pen::Bar } else { Pen::Pipe };
    for (laid, mark) in laid {
        for bar in &laid.bars {
            paper.line(&bar.map(|end| plan.placing.point(end)), pen(mark.bar.diameter));
        }
    }
    // Few bars have few places: their marks are written first.
    let mut by_room: Vec<&Laid> = laid.iter().map(|(l, _)| *l).collect();
    by_room.sort_by_key(|l| l.bars.len());
    for (i, laid) in by_room.into_iter().enumerate() {
        write_mark(&mut paper, &plan, i, laid);
    }
    list(&mut paper, &notes, FIELD);
    caution(&mut paper, "draw-engineer");
    let mut says = vec![look_up(title).to_owned()];
    let said = |m: &Mark| Phrase::with("draw-mark", &[&m.mark, &words(m), &m.member.to_string()]).to_string();
    says.extend(laid.iter().map(|(_, mark)| said(mark)));
    plan.holes(&mut paper, desk, &solid.map(|_, c| c.map(|_| 0)), &mut says);
    plan.finish(paper, [id, "steel"], title, says)
}

/// The layer of the slab over the rooms, or under them.
fn layer(space: &Space, over: bool) -> Option<usize> {
    let [nx, ny, nz] = space.size();
    let room = |z: &usize| {
        let drawn = |x, y| space.look([x, y, *z]).and_then(|l| space.looks.get(l)).map(|l| l.drawn);
        (0..nx).any(|x| (0..ny).any(|y| drawn(x, y) == Some(Drawn::Room)))
    };
    if over { (0..nz).rev().find(room).map(|z| z + 1) } else { (0..nz).find(room)?.checked_sub(1) }
}

/// `12 Y10, 3475 long, at 148.8`: where they lie is seen.
fn words(mark: &Mark) -> String {
    let count = format!("{} {}", mark.count, mark.bar.id());
    let says = Phrase::with("draw-long", &[&count, &mark.length_mm.to_string()]).to_string();
    let spacing = mark.remarks.iter().find(|r| r.key == "bars-spacing");
    match spacing.and_then(|s| s.args.first()) {
        Some(spacing) => Phrase::with("draw-spaced", &[&says, spacing]).to_string(),
        None => says,
    }
}

/// What a mark is, for the list.
fn note(laid: &Laid, mark: &Mark) -> Callout {
    let text = Phrase::with("draw-and", &[&words(mark), &mark.member.to_string()]).to_string();
    Callout { number: Some(laid.mark.clone()), ..Callout::thing([0, 0], text) }
}

/// Its mark on one of its bars, along it: the middle one first, at places of their own so that marks beside each other
/// do not stand in a row.
fn write_mark(paper: &mut Paper, plan: &Plan, i: usize, laid: &Laid) {
    let middle = laid.bars.len() / 2;
    let (before, behind) = laid.bars.split_at(middle);
    let bars = behind.iter().chain(before.iter().rev());
    let parts = [6, 4, 8, 3, 9, 5, 7, 2, 10, 1, 11];
    let parts = parts.iter().cycle().skip(i % 5).take(parts.len());
    let places = bars.flat_map(|bar| {
        let [a, b] = bar.map(|end| plan.placing.point(end));
        parts.clone().map(move |part| {
            let at = [0, 1].map(|axis| a[axis] + (b[axis] - a[axis]) * part / 12);
            let turned = a[0] == b[0];
            // The bar runs through the middle of the figures.
            let at = if turned { [at[0] + 125, at[1]] } else { [at[0], at[1] + 125] };
            Text { turned, clear: true, ..Text::note(at, laid.mark.clone(), Anchor::Middle) }
        })
    });
    paper.try_ways(places.collect::<Vec<_>>());
}
