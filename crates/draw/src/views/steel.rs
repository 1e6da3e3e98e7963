//! Bars of slabs on plan, one sheet a slab: every bar where the schedule counts it, its mark, number and spacing from the
//! schedule itself.

use tankwright_quantities::space::Space;
use tankwright_quantities::stage::Stage;
use tankwright_quantities::steel::{Laid, Mark};
use tankwright_quantities::words::{Phrase, look_up};
use tankwright_quantities::works::Drawn;

use super::paint::is_solid;
use super::plan::Plan;
use super::{Desk, Made};
use crate::cut::{Cut, View, outlines};
use crate::paper::{Fill, Pen};
use crate::sheet::{Callout, caution, sheet};

/// The slabs that are drawn: stage, id, title, and whether the slab lies over the rooms.
const SLABS: [(Stage, &str, &str, bool); 2] = [
    (Stage::Base, "base-steel", "draw-base-steel", false),
    (Stage::Cover, "cover-steel", "draw-cover-steel", true),
];

/// A sheet for each slab with bars.
pub(crate) fn draw(desk: Desk<'_>) -> Vec<Made> {
    SLABS.iter().filter_map(|slab| sheet_of(desk, slab)).collect()
}

fn sheet_of(desk: Desk<'_>, (stage, id, title, over): &(Stage, &str, &'static str, bool)) -> Option<Made> {
    let space = &desk.space;
    let marked = |laid: &Laid| desk.steel.marks.iter().find(|m| m.mark == laid.mark && m.stage == *stage);
    let laid: Vec<(&Laid, &Mark)> = desk.steel.laid.iter().filter_map(|l| Some((l, marked(l)?))).collect();
    let cut = Cut::flat(space, View::Plan, layer(space, *over)?).cut();
    if laid.is_empty() {
        return None;
    }
    let solid = cut.map(|_, c| c.filter(|_| is_solid(space, c)));
    let notes = laid.iter().enumerate().filter_map(|(i, (l, m))| note(i, l, m)).collect();
    let plan = Plan::alone(&solid, notes, 2);
    let mut paper = sheet();
    let slab = outlines(&solid, |c| c.is_some());
    paper.area(plan.placing.outlines(&slab), Fill::White, Some(Pen::Seen), "slab");
    for (laid, _) in &laid {
        for bar in &laid.bars {
            paper.line(&bar.map(|end| plan.placing.point(end)), Pen::Pipe);
        }
    }
    caution(&mut paper, "draw-engineer");
    let mut says = vec![look_up(title).to_owned()];
    let said = |m: &Mark| Phrase::with("draw-mark", &[&m.mark, &words(m), &m.member.to_string()]).to_string();
    says.extend(laid.iter().map(|(_, mark)| said(mark)));
    plan.holes(&mut paper, desk, &solid.map(|_, c| c.map(|_| 0)), &mut says);
    Some(plan.finish(paper, id, title, says))
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

/// At a bar in the middle of its mark; those that run along the tank near their right end.
fn note(i: usize, laid: &Laid, mark: &Mark) -> Option<Callout> {
    let [[x0, y0], [x1, y1]] = *laid.bars.get(laid.bars.len() / 2)?;
    // At places of their own along the bar, so that leaders do not lie on each other.
    let part = i64::try_from(i % 5).unwrap_or(0) + 2;
    let at = if y0 == y1 { [x1 - (x1 - x0) / 8, y0] } else { [x0, y0 + (y1 - y0) * part / 8] };
    Some(Callout { number: Some(laid.mark.clone()), ..Callout::thing(at, words(mark)) })
}
