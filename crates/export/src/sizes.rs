//! Column widths and row heights that fit, in characters and points, reckoned in whole numbers.

use std::collections::{BTreeMap, BTreeSet};

use tankwright_quantities::decimal;

use crate::cells::{At, Cell, Content, Look, Page, Show};
use crate::evaluate::{Value, Values};

/// Height of one line of text, points.
pub(crate) const LINE: u32 = 15;

/// Sizes of a page.
pub(crate) struct Sizes {
    /// Width of each column.
    columns: BTreeMap<u16, u32>,
    /// Columns that hold more numbers than texts.
    numbers: BTreeMap<u16, i64>,
    /// Heights of the rows that need more than one line, points.
    heights: BTreeMap<u32, u32>,
    /// Cells whose text needs more lines than one.
    wrapped: BTreeSet<(u32, u16)>,
}

impl Sizes {
    /// Measures a page.
    pub(crate) fn of(page: &Page, values: &Values) -> Self {
        let mut sizes = Self {
            columns: (0..).zip(page.least.iter().copied().map(u32::from)).collect(),
            numbers: BTreeMap::new(),
            heights: BTreeMap::new(),
            wrapped: BTreeSet::new(),
        };
        let mut lengths = Vec::with_capacity(page.cells.len());
        for ((row, col), cell, value) in valued(page, values) {
            if runs_over(cell) || cell.content == Content::Blank || page.hidden == Some(col) {
                continue;
            }
            let shown = length(cell, value);
            lengths.push(((row, col), cell, shown));
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
        for (place, cell, shown) in lengths {
            let lines = sizes.lines(place.1, cell, shown);
            if lines > 1 {
                sizes.wrapped.insert(place);
                // A spreadsheet row is at most 409 points high.
                let height = sizes.heights.entry(place.0).or_insert(LINE);
                *height = (*height).max(lines * LINE).min(405);
            }
        }
        sizes
    }

    /// Width of each column in characters, with air.
    pub(crate) fn widths(&self) -> impl Iterator<Item = (u16, u32)> + '_ {
        self.columns.iter().map(|(col, width)| (*col, (width + 3).min(255)))
    }

    /// Does a cell's text need more lines than one?
    pub(crate) fn wraps(&self, row: u32, col: u16) -> bool {
        self.wrapped.contains(&(row, col))
    }

    /// Is it a column of numbers?
    pub(crate) fn numbers(&self, col: u16) -> bool {
        self.numbers.get(&col).is_some_and(|n| *n > 0)
    }

    /// Heights of the rows that need more than one line, points.
    pub(crate) const fn heights(&self) -> &BTreeMap<u32, u32> {
        &self.heights
    }

    fn lines(&self, col: u16, cell: &Cell, shown: u32) -> u32 {
        // Running text is narrower than figures, by which columns are measured.
        let width = (self.columns.get(&col).copied().unwrap_or(1) + 1) * 11 / 10;
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

/// Cells with their values: both stand in the order of rows and columns.
pub(crate) fn valued<'a>(
    page: &'a Page,
    values: &'a Values,
) -> impl Iterator<Item = ((u32, u16), &'a Cell, Option<&'a Value>)> {
    let at = |row, col| At { page: page.id, row, col };
    let mut found = values.range(at(0, 0)..=at(u32::MAX, u16::MAX)).peekable();
    page.cells.iter().map(move |(&(row, col), cell)| {
        while found.next_if(|(place, _)| **place < at(row, col)).is_some() {}
        let value = found.next_if(|(place, _)| **place == at(row, col)).map(|(_, value)| value);
        ((row, col), cell, value)
    })
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
                Show::Fixed(places) | Show::Money(places) | Show::UpTo(_, places) => places.min(12),
            };
            let digits = decimal::shown(number, places).len();
            let whole = number.abs().trunc().to_string().len();
            // Lakh and crore have more commas.
            let comma = if matches!(cell.show, Show::Money(_)) { 2 } else { 3 };
            u32::try_from(digits + whole.saturating_sub(1) / comma).unwrap_or(20)
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
