//! Lids over manholes and vents over the cover: on plan, and in a section where it cuts or meets them.

use tankwright_quantities::sketch::{Lid, Vent};
use tankwright_quantities::space::Space;
use tankwright_quantities::stage::Stage;
use tankwright_quantities::words::Phrase;

use super::Desk;
use super::section::Section;
use crate::paper::{Fill, Paper, Pen, Rect};
use crate::sheet::{Callout, Placing, mm, scaled};

/// So much of a vent is shown in a section, tenths of a millimetre.
const SHOWN: i64 = 5_000;
/// A lid in a section, as thick as it is drawn: its thickness is not given.
const THICK: i64 = 70;
/// From the edge of a lid to its frame, on paper.
const FRAME: i64 = 60;

/// What is built in the stage that is shown is bold.
pub(crate) fn pen(space: &Space, stage: Stage, usual: Pen) -> Pen {
    if space.now == Some(stage) { Pen::New } else { usual }
}

/// Does a lid lie over this outline?
pub(crate) fn covers(lid: &Lid, [x, y]: [[i64; 2]; 2]) -> bool {
    lid.plan == [x, y]
}

/// Lids with their frames and lifting eyes.
pub(crate) fn lids(paper: &mut Paper, placing: &Placing, desk: Desk<'_>) {
    for lid in &desk.sketch.lids {
        let [x, y] = lid.plan;
        let rect = Rect::of(placing.point([x[0], y[0]]), placing.point([x[1], y[1]]));
        let outline = pen(&desk.space, lid.stage, Pen::Pipe);
        paper.area(vec![rect.corners().to_vec()], Fill::White, Some(outline), "lid");
        paper.area(vec![rect.grown(-FRAME).corners().to_vec()], Fill::None, Some(Pen::Thin), "");
        let Rect([a, b, c, d]) = rect;
        for eye in [a + (c - a) / 4, c - (c - a) / 4] {
            paper.circle([eye, i64::midpoint(b, d)], 45, Fill::White, Some(Pen::Thin));
        }
    }
}

/// Vents from above; on a plan below the cover they lie before it.
pub(crate) fn vents(paper: &mut Paper, placing: &Placing, desk: Desk<'_>, before: bool) {
    for vent in &desk.sketch.vents {
        let radius = scaled(vent.diameter, placing.scale) / 2;
        let (fill, usual) = if before { (Fill::None, Pen::Before) } else { (Fill::White, Pen::Pipe) };
        paper.circle(placing.point(vent.at), radius, fill, Some(pen(&desk.space, vent.stage, usual)));
    }
}

/// Each vent on plan, at its edge.
pub(crate) fn vents_named(desk: Desk<'_>) -> Vec<Callout> {
    let note =
        |v: &Vent| Callout::thing([v.at[0] + v.diameter / 3, v.at[1] - v.diameter / 3], v.title.to_string());
    desk.sketch.vents.iter().map(note).collect()
}

impl Section<'_> {
    /// Vents on the far side of a cross section; a long section shows them all.
    fn vents(&self) -> impl Iterator<Item = &Vent> {
        self.desk.sketch.vents.iter().filter(|v| self.axis() == 0 || v.at[0] >= self.at)
    }

    /// Lids that the plane cuts.
    fn lids(&self) -> impl Iterator<Item = &Lid> {
        self.desk.sketch.lids.iter().filter(|l| self.cuts(l.plan))
    }

    /// Does the plane cut this plan?
    pub(super) fn cuts(&self, [x, y]: [[i64; 2]; 2]) -> bool {
        if self.axis() == 1 {
            return x[0] <= self.at && self.at < x[1];
        }
        let planes = &self.desk.space;
        let column = planes.x.iter().rposition(|p| *p <= i64::midpoint(x[0], x[1]));
        let row = column.and_then(|u| self.cut.at.get(u)).copied().unwrap_or(0);
        let ends = planes.y.get(row).zip(planes.y.get(row + 1));
        ends.is_some_and(|(a, b)| y[0] <= *a && *b <= y[1])
    }

    /// The highest that lids and vents reach.
    pub(super) fn fitted_top(&self) -> i64 {
        let vents = self.vents().map(|v| v.z[1].min(v.z[0] + SHOWN));
        vents.chain(self.desk.sketch.lids.iter().map(|l| l.level)).max().unwrap_or(0)
    }

    /// Vents from their side, lids as the plane cuts them.
    pub(super) fn fittings(&self, paper: &mut Paper, placing: &Placing) {
        let space = &self.desk.space;
        for vent in self.vents() {
            let (at, half) = (vent.at[self.axis()], vent.diameter / 2);
            let top = vent.z[1].min(vent.z[0] + SHOWN);
            let rect = Rect::of(placing.point([at - half, vent.z[0]]), placing.point([at + half, top]));
            let outline = pen(space, vent.stage, Pen::Pipe);
            let Rect([a, b, c, d]) = rect;
            paper.area(vec![rect.corners().to_vec()], Fill::White, None, "vent");
            if top == vent.z[1] {
                paper.area(vec![rect.corners().to_vec()], Fill::None, Some(outline), "");
                continue;
            }
            // Cut short: open at its top, under a break.
            paper.line(&[[a, b], [a, d], [c, d], [c, b]], outline);
            let middle = i64::midpoint(a, c);
            let zigzag = [
                [a - 80, b],
                [middle - 60, b],
                [middle - 25, b - 100],
                [middle + 25, b + 100],
                [middle + 60, b],
                [c + 80, b],
            ];
            paper.line(&zigzag, Pen::Thin);
        }
        for lid in self.lids() {
            let ends = lid.plan[self.axis()].map(|a| placing.point([a, lid.level]));
            let rect = Rect([ends[0][0], ends[0][1] - THICK / 2, ends[1][0], ends[1][1] + THICK / 2]);
            paper.area(
                vec![rect.corners().to_vec()],
                Fill::Black,
                Some(pen(space, lid.stage, Pen::Thin)),
                "lid",
            );
        }
    }

    /// What is said of them; equal lids are named once.
    pub(super) fn fittings_named(&self) -> Vec<Callout> {
        let axis = self.axis();
        let mut notes: Vec<Callout> = Vec::new();
        for vent in self.vents() {
            let z = i64::midpoint(vent.z[0], vent.z[1].min(vent.z[0] + SHOWN));
            notes.push(Callout::thing([vent.at[axis] + vent.diameter / 4, z], vent.title.to_string()));
        }
        // The one farthest to the right is pointed at.
        for lid in self.lids() {
            let [w, h] = lid.plan.map(|s| mm(s[1] - s[0]));
            let text = Phrase::with("draw-lid", &[&w, &h]).to_string();
            let [a, b] = lid.plan[axis];
            let at = [a + (b - a) * 2 / 3, lid.level];
            match notes.iter_mut().find(|n| n.text == text) {
                Some(same) => same.at = if at[0] > same.at[0] { at } else { same.at },
                None => notes.push(Callout::thing(at, text)),
            }
        }
        notes
    }
}
