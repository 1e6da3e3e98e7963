//! Bars over an opening: cut across, and from the face of the wall.

use tankwright_quantities::sketch::{Over, Span};

use super::detail::{Bars, each};
use super::member::One;
use crate::cut::View;
use crate::paper::{Fill, Paper, Pen};
use crate::sheet::{Callout, scaled};

/// Masonry beside the outermost bars: common practice, no source.
const BESIDE: i64 = 250;

fn holds([a, b]: Span, planes: &[i64]) -> Option<usize> {
    planes.windows(2).position(|w| a <= w[0] && w[1] <= b && w[0] < w[1])
}

impl One<'_> {
    /// Through the opening: the bars in their bed.
    pub(super) fn over(&self, paper: &mut Paper, says: &mut Vec<String>, over: Over) {
        let [u, v] = self.detail.rect;
        let mut notes = Vec::new();
        if let Some(at) = holds(over.width, &self.desk.space.y) {
            notes = self.round(paper, View::Long, at);
        }
        let n = self.bars.main.iter().map(|m| each(m)).max().unwrap_or(0);
        let (radius, level) = (Bars::diameter(&self.bars.main) / 2, i64::midpoint(v[0], v[1]));
        let ends = [u[0] + BESIDE, u[1] - BESIDE];
        let mut last = [ends[1], level];
        for i in 0..n {
            let x =
                if n == 1 { i64::midpoint(u[0], u[1]) } else { ends[0] + (ends[1] - ends[0]) * i / (n - 1) };
            last = [x, level];
            let on_paper = scaled(radius, self.placing.scale).max(35);
            paper.circle(self.placing.point(last), on_paper, Fill::Black, None);
        }
        notes.extend(self.bars.main.iter().map(|mark| self.note(last, mark)));
        self.chains(paper, says, [vec![u.to_vec()], vec![vec![over.sill, v[0]]]]);
        self.put(paper, notes);
    }

    /// The face of the wall: how far the bars bear on it beside the opening.
    pub(super) fn face(&self, paper: &mut Paper, says: &mut Vec<String>) {
        let ([u, v], run) = (self.detail.rect, self.detail.run);
        let Some(over) = self.detail.over else { return };
        let mut notes = Vec::new();
        if let Some(at) = holds(u, &self.desk.space.x) {
            notes = self.round(paper, View::Cross, at);
        }
        let level = i64::midpoint(v[0], v[1]);
        paper.line(&run.map(|y| self.placing.point([y, level])), Pen::Bar);
        notes.extend(self.bars.main.iter().map(|mark: &&_| -> Callout { self.note([run[1], level], mark) }));
        let along = vec![run[0], over.width[0], over.width[1], run[1]];
        self.chains(paper, says, [vec![along], vec![vec![over.sill, v[0]]]]);
        self.put(paper, notes);
    }
}
