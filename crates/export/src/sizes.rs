//! Column widths and row heights that fit, in characters and points, reckoned in whole numbers.

use std::collections::BTreeMap;

use tankwright_quantities::decimal;

use crate::cells::{At, Cell, Content, Look, Page, Show};
use crate::evaluate::{Value, Values};

/// Height of one line of text, points.
pub(crate) const LINE: u32 = 15;

/// Sizes of a page.
pub(crate) struct Sizes {
    /// Characters a cell shows.
    shown: BTreeMap<(u32, u16), u32>,
    /// Width of each column.
    columns: BTreeMap<u16, u32>,
    /// Columns that hold more numbers than texts.
    numbers: BTreeMap<u16, i64>,
}

impl Sizes {
    /// Measures a page.
    pub(crate) fn of(page: &Page, values: &Values) -> Self {
        let mut sizes = Self { shown: BTreeMap::new(), columns: BTreeMap::new(), numbers: BTreeMap::new() };
        for (&(row, col), cell) in &page.cells {
            let value = values.get(&At { page: page.id, row, col });
            let shown = length(cell, value);
            sizes.shown.insert((row, col), shown);
            if runs_over(cell) {
                continue;
            }
            let limit = page.widest.get(usize::from(col)).copied().unwrap_or(60).into();
            let text = matches!(value, Some(Value::Text(_)) | None);
            // Heads wrap between words and texts at the page's limit; numbers are never cut.
            let need = match (&cell.content, cell.look) {
                (Content::Text(head), Look::Head) => head.split(' ').map(chars).max().unwrap_or(0),
                _ if text => shown.min(limit),
                _ => shown,
            };
            let width = sizes.columns.entry(col).or_insert(4);
            *width = (*width).max(need);
            if cell.look != Look::Head {
                *sizes.numbers.entry(col).or_default() += if text { -1 } else { 1 };
            }
        }
        sizes
    }

    /// Width of each column in characters, with air.
    pub(crate) fn widths(&self) -> impl Iterator<Item = (u16, u32)> + '_ {
        self.columns.iter().map(|(col, width)| (*col, (width + 3).min(255)))
    }

    /// Does a cell's text need more lines than one?
    pub(crate) fn wraps(&self, at: At, cell: &Cell) -> bool {
        self.lines((at.row, at.col), cell) > 1
    }

    /// Is it a column of numbers?
    pub(crate) fn numbers(&self, col: u16) -> bool {
        self.numbers.get(&col).is_some_and(|n| *n > 0)
    }

    /// Heights of the rows that need more than one line, points.
    pub(crate) fn heights(&self, page: &Page) -> BTreeMap<u32, u32> {
        let mut heights = BTreeMap::new();
        for (&(row, col), cell) in &page.cells {
            let points = self.lines((row, col), cell) * LINE;
            if points > LINE {
                let height = heights.entry(row).or_insert(points);
                // A spreadsheet row is at most 409 points high.
                *height = (*height).max(points).min(405);
            }
        }
        heights
    }

    fn lines(&self, place: (u32, u16), cell: &Cell) -> u32 {
        if runs_over(cell) {
            return 1;
        }
        // Running text is narrower than figures, by which columns are measured.
        let width = (self.columns.get(&place.1).copied().unwrap_or(1) + 1) * 11 / 10;
        let shown = self.shown.get(&place).copied().unwrap_or(0);
        match &cell.content {
            // The longest line fits, so none of them breaks: most cells.
            Content::Text(text) if shown <= width => {
                u32::try_from(text.lines().count()).unwrap_or(u32::MAX / 4).max(1)
            }
            Content::Text(text) => text.lines().map(|line| wrapped(line, width)).sum::<u32>().max(1),
            _ => shown.div_ceil(width).max(1),
        }
    }
}

/// Lines a text takes when it breaks between words.
fn wrapped(text: &str, width: u32) -> u32 {
    let (mut lines, mut used) = (1, 0);
    for word in text.split(' ') {
        let long = chars(word);
        if used > 0 && used + 1 + long > width {
            lines += 1;
            used = 0;
        }
        used += long + u32::from(used > 0);
        lines += used.saturating_sub(1) / width;
        used = if used > width { used % width } else { used };
    }
    lines
}

fn runs_over(cell: &Cell) -> bool {
    matches!(cell.look, Look::Title | Look::Remark | Look::Heading)
}

/// Characters a cell shows.
fn length(cell: &Cell, value: Option<&Value>) -> u32 {
    match value {
        Some(Value::Text(text)) => text.lines().map(chars).max().unwrap_or(0),
        Some(Value::Truth(_)) => 5,
        Some(number) => {
            let number = number.decimal().unwrap_or_default();
            let places = match cell.show {
                Show::General | Show::Truth => number.scale().min(10),
                Show::Fixed(places) | Show::UpTo(_, places) => places.min(12),
            };
            let digits = decimal::shown(number, places).len();
            let whole = number.abs().trunc().to_string().len();
            u32::try_from(digits + whole.saturating_sub(1) / 3).unwrap_or(20)
        }
        None => 0,
    }
}

fn chars(text: &str) -> u32 {
    u32::try_from(text.chars().count()).unwrap_or(u32::MAX / 4)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_break_between_words() {
        assert_eq!(wrapped("one two three", 7), 2);
        assert_eq!(wrapped("one two three", 5), 3);
        assert_eq!(wrapped("", 5), 1);
        assert_eq!(wrapped("aaaaaaaaaaaa", 5), 3);
    }
}
