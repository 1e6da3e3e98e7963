//! Notes and levels beside a view, in one column, each with its leader. They keep the order of what they point at, so
//! that no two leaders cross. Where their words would take room from a wide view, the column has numbers and bare levels,
//! and the words stand in a list under the drawing.

use crate::letters::{NOTE, width, wrapped};
use crate::paper::{Anchor, Fill, Paper, Pen, Point, Rect, Text};

/// A note with what it points at.
#[derive(Clone, Debug)]
pub(crate) struct Callout {
    /// What it points at.
    pub(crate) at: Point,
    /// Its words.
    pub(crate) text: String,
    /// A level as printed: it has a triangle, and points at a height, not at a thing.
    pub(crate) level: Option<String>,
    /// A number of its own, as the mark of a bar; else notes are numbered as they stand.
    pub(crate) number: Option<String>,
}

/// Where the words of notes stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Words {
    /// Beside the view.
    Beside,
    /// In a list under it.
    Below,
}

/// From line to line, and the least.
const PITCH: i64 = 440;
const CLOSEST: i64 = 390;
/// Between two notes.
const BETWEEN: i64 = 90;
/// Room of a level's triangle, and of a number's circle.
const MARK: i64 = 420;
/// The widest column.
const WIDEST: i64 = 5_600;
/// Columns of a list, and the gap between them.
const COLUMNS: i64 = 3;
const GAP: i64 = 500;

impl Callout {
    /// A note on a thing.
    pub(crate) fn thing(at: Point, text: String) -> Self {
        Self { at, text, level: None, number: None }
    }

    /// A level, as printed, with its name.
    pub(crate) fn level(at: Point, level: String, text: String) -> Self {
        Self { at, text, level: Some(level), number: None }
    }

    fn words(&self) -> String {
        match (&self.level, &self.number) {
            (Some(level), _) => format!("{level} {}", self.text),
            (None, Some(number)) => format!("{number}: {}", self.text),
            (None, None) => self.text.clone(),
        }
    }

    /// What stands in the column: words, or a level, or nothing beside the number.
    fn lines(&self, words: Words) -> Vec<String> {
        match words {
            Words::Beside => wrapped(&self.words(), NOTE, WIDEST),
            Words::Below => vec![self.level.clone().unwrap_or_default()],
        }
    }

    fn marked(&self, words: Words) -> bool {
        self.level.is_some() || words == Words::Below
    }
}

/// Width of a column of notes.
pub(crate) fn column_width(notes: &[Callout], words: Words) -> i64 {
    let own = |n: &Callout| {
        let widest = n.lines(words).iter().map(|l| width(l, NOTE)).max().unwrap_or(0);
        widest + if n.marked(words) { MARK } else { 0 }
    };
    notes.iter().map(own).max().unwrap_or(0)
}

/// Height of a list of notes in a field of this width.
pub(crate) fn list_height(notes: &[Callout], wide: i64) -> i64 {
    let rows: Vec<i64> = listed(notes).iter().map(|(mark, text)| rows_of(mark, text, wide)).collect();
    columns_of(&rows).into_iter().map(|c| c.iter().sum::<i64>()).max().unwrap_or(0) * PITCH + 200
}

fn column_room(wide: i64) -> i64 {
    (wide - (COLUMNS - 1) * GAP) / COLUMNS
}

fn rows_of(mark: &str, text: &str, wide: i64) -> i64 {
    let room = column_room(wide) - indent(mark);
    i64::try_from(wrapped(text, NOTE, room).len()).unwrap_or(1)
}

fn indent(mark: &str) -> i64 {
    width(mark, NOTE).max(500) + 150
}

fn numbered(i: usize, note: &Callout) -> String {
    note.number.clone().unwrap_or_else(|| i.to_string())
}

/// Height of a column of notes.
pub(crate) fn column_height(notes: &[Callout], words: Words) -> i64 {
    let lines = |n: &Callout| i64::try_from(n.lines(words).len()).unwrap_or(1) * PITCH + gap(words);
    notes.iter().map(lines).sum()
}

const fn gap(words: Words) -> i64 {
    if matches!(words, Words::Below) { 60 } else { BETWEEN }
}

/// Entries of the list: numbers first, then levels from above.
fn listed(notes: &[Callout]) -> Vec<(String, String)> {
    let parts = notes.iter().filter(|n| n.level.is_none());
    let numbered = (1..).zip(parts).map(|(i, n): (usize, _)| (numbered(i, n), n.text.clone()));
    let levels = notes.iter().filter_map(|n| Some((n.level.clone()?, n.text.clone())));
    numbered.chain(levels).collect()
}

/// Rows dealt out to columns, one column after the other.
fn columns_of(rows: &[i64]) -> Vec<Vec<i64>> {
    let all: i64 = rows.iter().sum();
    let each = (all + COLUMNS - 1) / COLUMNS;
    let mut columns: Vec<Vec<i64>> = vec![Vec::new()];
    for row in rows {
        let full = columns.last().is_some_and(|c| c.iter().sum::<i64>() + row > each.max(*row));
        let free = i64::try_from(columns.len()).unwrap_or(COLUMNS) < COLUMNS;
        if full && free {
            columns.push(Vec::new());
        }
        if let Some(last) = columns.last_mut() {
            last.push(*row);
        }
    }
    columns
}

/// Sorts notes as their column shows them: numbers follow it.
pub(crate) fn in_order(notes: &mut [Callout]) {
    notes.sort_by_key(|n| (n.at[1], n.at[0]));
}

/// The list under a drawing, its last line on the lower edge of the field.
pub(crate) fn list(paper: &mut Paper, notes: &[Callout], field: Rect) {
    let Rect([left, _, right, bottom]) = field;
    let wide = right - left;
    let entries = listed(notes);
    let rows: Vec<i64> = entries.iter().map(|(mark, text)| rows_of(mark, text, wide)).collect();
    let top = bottom - list_height(notes, wide) + 200;
    let mut entries = entries.into_iter();
    for (i, column) in (0..).zip(columns_of(&rows)) {
        let x = left + i * (column_room(wide) + GAP);
        let mut y = top + 320;
        for (mark, text) in entries.by_ref().take(column.len()) {
            let from = x + indent(&mark);
            for line in wrapped(&text, NOTE, column_room(wide) - indent(&mark)) {
                paper.text(Text::note([from, y], line, Anchor::Start));
                y += PITCH;
            }
            let rows = rows_of(&mark, &text, wide);
            paper.text(Text::note([x, y - rows * PITCH], mark, Anchor::Start));
        }
    }
}

/// Places of boxes one under the other, each as near as can be to where it is wanted: those that would overlap are put
/// together about the middle of what they want.
fn spread(wanted: &[(i64, i64)], [top, bottom]: [i64; 2]) -> Vec<i64> {
    // Runs of boxes: number, height, and the sum of what each wants for the run's beginning.
    let mut runs: Vec<(usize, i64, i64)> = Vec::new();
    let begins = |(n, high, sum): (usize, i64, i64)| {
        let middle = sum / i64::try_from(n.max(1)).unwrap_or(1);
        middle.min(bottom - high).max(top)
    };
    for (at, high) in wanted {
        let mut own = (1, *high, *at);
        while let Some(last) = runs.last().copied().filter(|last| begins(*last) + last.1 > begins(own)) {
            runs.pop();
            let shift = i64::try_from(own.0).unwrap_or(0) * last.1;
            own = (last.0 + own.0, last.1 + own.1, last.2 + own.2 - shift);
        }
        runs.push(own);
    }
    let mut places = Vec::with_capacity(wanted.len());
    let mut boxes = wanted.iter();
    for run in runs {
        let mut at = begins(run);
        for (_, high) in boxes.by_ref().take(run.0) {
            places.push(at);
            at += high;
        }
    }
    places
}

/// The notes in a column that begins at `x`, between `top` and `bottom`; leaders run level to `edge` and then to them.
pub(crate) fn callouts(
    paper: &mut Paper,
    notes: &[Callout],
    words: Words,
    [edge, x]: [i64; 2],
    ends: [i64; 2],
) {
    let notes: Vec<_> = notes.iter().map(|n| (n.lines(words), n)).collect();
    let gap = gap(words);
    let tall = |lines: &[String]| i64::try_from(lines.len()).unwrap_or(0) * PITCH + gap;
    // A column of numbers and levels that is too high is set closer.
    let closer = (ends[1] - ends[0]) / i64::try_from(notes.len().max(1)).unwrap_or(1);
    let high = |lines: &[String]| match words {
        Words::Below => tall(lines).min(closer.max(CLOSEST)),
        Words::Beside => tall(lines),
    };
    let wanted: Vec<_> = notes.iter().map(|(lines, n)| (n.at[1] - high(lines) / 2, high(lines))).collect();
    let mut number = 0;
    for (place, (lines, note)) in spread(&wanted, ends).into_iter().zip(notes) {
        let middle = place + high(&lines) / 2;
        let mut points = vec![note.at, [edge, note.at[1]], [x - 100, middle]];
        points.dedup();
        paper.line(&points, Pen::Thin);
        let from = if note.marked(words) { x + MARK } else { x };
        if note.level.is_some() {
            let (a, b) = (x - 40, middle + 110);
            let triangle = vec![[a, b - 240], [a + 280, b - 240], [a + 140, b]];
            paper.area(vec![triangle], Fill::Black, None, "");
            paper.line(&[[a - 60, b], [a + 340, b]], Pen::Thin);
        } else {
            paper.circle(note.at, 45, Fill::Black, None);
        }
        if note.level.is_none() && words == Words::Below {
            number += 1;
            paper.text(Text::note([x, middle + 125], numbered(number, note), Anchor::Start));
            continue;
        }
        for (i, line) in (0..).zip(lines) {
            let y = middle - tall(&note.lines(words)) / 2 + gap / 2 + 320 + i * PITCH;
            paper.text(Text::note([from, y], line, Anchor::Start));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn boxes_stand_where_they_are_wanted_or_about_the_middle_of_it() {
        assert_eq!(spread(&[(10, 4), (50, 4)], [0, 100]), [10, 50]);
        // Both want 20: one from 18, one from 22.
        assert_eq!(spread(&[(20, 4), (20, 4)], [0, 100]), [18, 22]);
        // Against the ends they are pushed back, in their order.
        assert_eq!(spread(&[(-5, 4), (0, 4), (98, 4), (99, 4)], [0, 100]), [0, 4, 92, 96]);
    }

    #[test]
    fn rows_are_dealt_out_to_columns() {
        assert_eq!(columns_of(&[1, 1, 1, 1, 1, 1]), [[1, 1], [1, 1], [1, 1]]);
        assert_eq!(columns_of(&[1]), [[1]]);
    }
}
