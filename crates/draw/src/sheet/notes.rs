//! Notes and levels beside a view, in one column, each with its leader. They keep the order of what they point at, so
//! that no two leaders cross.

use crate::letters::{NOTE, width, wrapped};
use crate::paper::{Anchor, Fill, Paper, Pen, Point, Text};

/// A note with what it points at.
#[derive(Clone, Debug)]
pub(crate) struct Callout {
    /// What it points at.
    pub(crate) at: Point,
    /// Its words.
    pub(crate) text: String,
    /// A level: it has a triangle, and points at a height, not at a thing.
    pub(crate) level: bool,
}

/// From line to line.
const PITCH: i64 = 440;
/// Between two notes.
const BETWEEN: i64 = 90;
/// Room of a level's triangle.
const MARK: i64 = 420;
/// The widest column.
const WIDEST: i64 = 5_600;

/// Width of a column of notes, and how many lines it has.
pub(crate) fn lines_of(notes: &[Callout]) -> (i64, i64) {
    let all = notes.iter().map(|n| (n.level, wrapped(&n.text, NOTE, WIDEST)));
    let (mut widest, mut high) = (0, 0);
    for (level, lines) in all {
        let own = lines.iter().map(|l| width(l, NOTE)).max().unwrap_or(0);
        widest = widest.max(own + if level { MARK } else { 0 });
        high += i64::try_from(lines.len()).unwrap_or(0) * PITCH + BETWEEN;
    }
    (widest, high)
}

/// The notes in a column that begins at `x`, between `top` and `bottom`; leaders run level to `edge` and then to them.
pub(crate) fn callouts(
    paper: &mut Paper,
    mut notes: Vec<Callout>,
    edge: i64,
    x: i64,
    [top, bottom]: [i64; 2],
) {
    notes.sort_by_key(|n| (n.at[1], n.at[0]));
    let notes: Vec<_> = notes.into_iter().map(|n| (wrapped(&n.text, NOTE, WIDEST), n)).collect();
    let high = |lines: &[String]| i64::try_from(lines.len()).unwrap_or(0) * PITCH + BETWEEN;
    let mut places = Vec::new();
    let mut next = top;
    for (lines, note) in &notes {
        let at = (note.at[1] - high(lines) / 2).max(next);
        places.push(at);
        next = at + high(lines);
    }
    let mut limit = bottom;
    for (place, (lines, _)) in places.iter_mut().zip(&notes).rev() {
        *place = (*place).min(limit - high(lines));
        limit = *place;
    }
    for (place, (lines, note)) in places.into_iter().zip(notes) {
        let middle = place + high(&lines) / 2;
        let turn = [edge, note.at[1]];
        let mut points = vec![note.at, turn, [x - 100, middle]];
        points.dedup();
        paper.line(&points, Pen::Thin);
        let from = if note.level { x + MARK } else { x };
        if note.level {
            let (a, b) = (x - 40, middle + 110);
            let triangle = vec![[a, b - 240], [a + 280, b - 240], [a + 140, b]];
            paper.area(vec![triangle], Fill::Black, None, "");
            paper.line(&[[a - 60, b], [a + 340, b]], Pen::Thin);
        } else {
            paper.circle(note.at, 45, Fill::Black, None);
        }
        for (i, line) in (0..).zip(lines) {
            let y = place + BETWEEN / 2 + 320 + i * PITCH;
            paper.text(Text::note([from, y], line, Anchor::Start));
        }
    }
}
