//! What drawings show of the bars: where they lie on plan, where a member is cut across, the marks of both.

use tankwright_geometry::Len;

use super::bench::Bench;
use super::schedule::Laid;
use crate::sketch::{Detail, Over, Span, Upright, span};
use crate::words::Phrase;

/// Where a member can be cut across.
#[derive(Clone, Debug)]
pub struct Place {
    /// What it is.
    pub title: Phrase,
    /// Along which axis it runs: 0, 1 or 2.
    pub axis: usize,
    /// From where to where.
    pub run: [Len; 2],
    /// Its section: the other two axes in their order.
    pub rect: [[Len; 2]; 2],
}

/// Details in the making: each with the marks that were added for it.
#[derive(Debug, Default)]
pub(super) struct Details(Vec<(Detail, [usize; 2])>);

impl Bench<'_> {
    /// Keeps a member's place: its bars are those added since there were `from` of them. Without bars it has no detail.
    pub(super) fn detail(&mut self, from: usize, place: &Place, upright: Option<Upright>) {
        self.kept(from, place, upright, None);
    }

    /// The same of bars over an opening.
    pub(crate) fn detail_over(&mut self, from: usize, place: &Place, over: Over) {
        self.kept(from, place, None, Some(over));
    }

    fn kept(&mut self, from: usize, place: &Place, upright: Option<Upright>, over: Option<Over>) {
        let to = self.added();
        if from == to {
            return;
        }
        let run = span(&place.run);
        let rect: [Span; 2] = [span(&place.rect[0]), span(&place.rect[1])];
        let (title, axis, marks) = (place.title.clone(), place.axis, Vec::new());
        let cover = crate::space::tenths(&self.cover);
        let detail = Detail { title, axis, run, rect, upright, over, cover, marks };
        self.details.0.push((detail, [from, to]));
    }

    /// Where each mark stands among those that were added, in the order of the schedule.
    pub(super) fn in_order(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.marks.len()).collect();
        order.sort_by_key(|n| self.marks.get(*n).map(|(order, mark)| (mark.stage, *order)));
        order
    }

    /// How many kinds of bar were added.
    pub(crate) const fn added(&self) -> usize {
        self.marks.len()
    }

    /// Bars that lie where a drawing can show them, by their marks.
    pub(super) fn laid(&self) -> Vec<Laid> {
        let lines = |(i, n): (usize, usize)| {
            let bars = self.laid.as_ref()?.get(n).filter(|bars| !bars.is_empty())?.clone();
            Some(Laid { mark: (i + 1).to_string(), bars })
        };
        self.in_order().into_iter().enumerate().filter_map(lines).collect()
    }

    /// Every member with its marks, in the order of the schedule.
    #[must_use]
    pub fn details(&self) -> Vec<Detail> {
        let order = self.in_order();
        let marks = |[from, to]: [usize; 2]| {
            let own = order.iter().enumerate().filter(|(_, n)| (from..to).contains(*n));
            own.map(|(i, _)| (i + 1).to_string()).collect()
        };
        let first = |of: &(Detail, [usize; 2])| order.iter().position(|n| (of.1[0]..of.1[1]).contains(n));
        let mut found: Vec<_> = self.details.0.iter().collect();
        found.sort_by_key(|of| first(of));
        found.into_iter().map(|(d, of)| Detail { marks: marks(*of), ..d.clone() }).collect()
    }
}
