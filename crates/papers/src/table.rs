//! Tables: columns as wide as their widest cell, text columns wrapped into what is left.

use tankwright_export::page::{Col, Row as Source, Table as Plain};

use crate::Hundredths;
use crate::fonts::width;

/// Room between columns; less where words would be broken else.
const GAPS: [Hundredths; 3] = [300, 200, 120];
/// Per cent of the letters beside it, tried one after the other where a table is tight.
const SMALLER: [Hundredths; 5] = [100, 95, 90, 85, 80];
/// A text has this part of the room at least, or as much as it needs.
const TEXT: Hundredths = 6;
/// A column that wraps is never narrower.
const NARROWEST: Hundredths = 2_200;

/// How a column stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    /// To the left.
    Left,
    /// To the right: figures.
    Right,
    /// To the left, wrapped.
    Fill,
}

/// A row.
#[derive(Clone, Debug)]
pub enum Row {
    /// Heads: repeated where the table goes on on another page.
    Head(Vec<String>),
    /// Cells; those that are missing are empty.
    Cells(Vec<String>),
    /// A sum: a line above it, heavy letters.
    Sum(Vec<String>),
    /// Text right across, set in under the first column.
    Across(String),
}

/// A table.
#[derive(Clone, Debug)]
pub struct Table {
    /// Columns.
    pub cols: Vec<Align>,
    /// Rows.
    pub rows: Vec<Row>,
}

impl Table {
    /// A table of a plain-text paper.
    pub(crate) fn of(table: &Plain) -> Self {
        let align = |col: &Col| match col {
            Col::Left(_) => Align::Left,
            Col::Right(_) => Align::Right,
            Col::Fill(_) => Align::Fill,
        };
        let row = |row: &Source| match row {
            Source::Head(cells) => Row::Head(cells.clone()),
            Source::Cells(cells) => Row::Cells(cells.clone()),
            Source::Across(_, text) => Row::Across(text.clone()),
        };
        Self { cols: table.cols().iter().map(align).collect(), rows: table.rows().iter().map(row).collect() }
    }

    /// The widest of a cell's words, which are parted by blanks that may be broken at.
    fn longest_word(row: &Row, n: usize, size: Hundredths) -> Hundredths {
        let (cell, bold) = match row {
            Row::Head(cells) | Row::Sum(cells) => (cells.get(n), true),
            Row::Cells(cells) => (cells.get(n), false),
            Row::Across(_) => (None, false),
        };
        cell.into_iter().flat_map(|c| c.split(' ')).map(|w| width(w, size, bold)).max().unwrap_or(0)
    }

    /// The largest letters, up to a size, with which no word is broken and a text has its share of the room.
    pub(crate) fn letters(&self, size: Hundredths, least: Hundredths, room: Hundredths) -> Hundredths {
        let eased = |size: &Hundredths| {
            let columns = self.columns(*size, room);
            columns.iter().enumerate().all(|(n, [_, wide])| {
                let cells = self.rows.iter().map(|r| Self::cell(r, n, *size)).max().unwrap_or(0);
                let words = self.rows.iter().map(|r| Self::longest_word(r, n, *size)).max().unwrap_or(0);
                let share = if self.cols.get(n) == Some(&Align::Fill) { room / TEXT } else { 0 };
                *wide >= words.max(share.min(cells))
            })
        };
        let sizes = || SMALLER.map(|percent| (size * percent / 100).max(least.min(size))).into_iter();
        sizes().find(eased).or_else(|| sizes().last()).unwrap_or(size)
    }

    /// How wide a cell is on one line.
    fn cell(row: &Row, n: usize, size: Hundredths) -> Hundredths {
        match row {
            Row::Head(cells) | Row::Sum(cells) => cells.get(n).map_or(0, |c| width(c, size, true)),
            Row::Cells(cells) => cells.get(n).map_or(0, |c| width(c, size, false)),
            Row::Across(_) => 0,
        }
    }

    /// Left edge and width of each column in so much room.
    pub(crate) fn columns(&self, size: Hundredths, room: Hundredths) -> Vec<[Hundredths; 2]> {
        let widest = |n: usize| self.rows.iter().map(|r| Self::cell(r, n, size)).max().unwrap_or(0);
        let mut wide: Vec<Hundredths> = (0..self.cols.len()).map(widest).collect();
        let word = |n: usize| self.rows.iter().map(|r| Self::longest_word(r, n, size)).max().unwrap_or(0);
        let words: Vec<Hundredths> = (0..wide.len()).map(|n| word(n).max(NARROWEST).min(wide[n])).collect();
        let between = Hundredths::try_from(wide.len().saturating_sub(1)).unwrap_or(0);
        let fits = |gap: &Hundredths| words.iter().sum::<Hundredths>() + gap * between <= room;
        let gap = GAPS.into_iter().find(fits).unwrap_or(GAPS[2]);
        let gaps = gap * between;
        let over = |wide: &[Hundredths]| wide.iter().sum::<Hundredths>() + gaps - room;
        // Text columns give way first, the widest first, and words stay whole; figures, and words, only where nothing
        // else is left.
        for (whole, fills) in [(true, true), (true, false), (false, true), (false, false)] {
            let mut order: Vec<usize> =
                (0..wide.len()).filter(|n| fills == (self.cols.get(*n) == Some(&Align::Fill))).collect();
            order.sort_by_key(|n| std::cmp::Reverse(wide[*n]));
            for n in order {
                let less = over(&wide).max(0);
                let least = if whole { words[n] } else { NARROWEST };
                wide[n] = (wide[n] - less).max(least.min(wide[n]));
            }
        }
        if let Some(n) = self.cols.iter().position(|c| *c == Align::Fill) {
            wide[n] += (-over(&wide)).max(0);
        }
        let mut at = 0;
        let place = |w: Hundredths| {
            let from = at;
            at += w + gap;
            [from, w]
        };
        wide.into_iter().map(place).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::blocks::{Block, Paper};
    use crate::layout::lay;
    use crate::marks::Mark;

    #[test]
    fn columns_fill_the_room_and_text_gives_way() {
        let cells = ["A1", &"words and ".repeat(40), "12 345.00"].map(str::to_owned).to_vec();
        let table = Table {
            cols: vec![Align::Left, Align::Fill, Align::Right],
            rows: vec![Row::Cells(cells.clone())],
        };
        let columns = table.columns(350, 17_000);
        assert_eq!(columns[2][0] + columns[2][1], 17_000);
        assert_eq!(columns[0], [0, width("A1", 350, false)]);
        assert_eq!(columns[2][1], width("12 345.00", 350, false));
        // Two texts that share too little room: each keeps its longest word whole.
        let two = ["polyethylene ".repeat(9), "waterproofing ".repeat(9)].to_vec();
        let both = Table { cols: vec![Align::Fill, Align::Fill], rows: vec![Row::Cells(two)] };
        let columns = both.columns(350, 6_000);
        assert!(columns[0][1] >= width("polyethylene", 350, false), "{columns:?}");
        assert!(columns[1][1] >= width("waterproofing", 350, false), "{columns:?}");
        // A tight table has smaller letters before a word is broken or its text is squeezed; others keep theirs.
        let tight = Table {
            cols: vec![Align::Fill, Align::Right, Align::Left],
            rows: vec![Row::Cells(
                ["waterproofer for plaster", "12 345.678 kg", "= 123.45 packets"].map(str::to_owned).to_vec(),
            )],
        };
        let size = tight.letters(350, 247, 6_500);
        assert!((247..350).contains(&size), "{size}");
        assert!(tight.columns(size, 6_500)[0][1] >= width("waterproofer", size, false));
        assert_eq!(
            [
                tight.letters(350, 247, 17_000),
                tight.letters(350, 350, 6_500),
                table.letters(350, 247, 17_000)
            ],
            [350; 3]
        );
        let short = Table { rows: vec![Row::Cells(vec!["a".into(), "b".into(), "1".into()])], ..table };
        assert_eq!(short.columns(350, 17_000)[2].iter().sum::<Hundredths>(), 17_000);
    }

    #[test]
    fn a_sum_stands_with_a_row_before_it_and_its_words() {
        for above in 50..110 {
            let mut blocks: Vec<Block> = (0..above).map(|_| Block::text("above")).collect();
            let row = |n: usize| Row::Cells(vec![format!("row {n}"), "1".to_owned()]);
            let head = Row::Head(vec!["work".to_owned(), "UGX".to_owned()]);
            let sum = Row::Sum(vec!["total".to_owned(), "3".to_owned()]);
            let rows = std::iter::once(head).chain((1..=3).map(row)).chain([sum]).collect();
            blocks.push(Block::Table(Table { cols: vec![Align::Fill, Align::Right], rows }));
            blocks.push(Block::text("three"));
            let laid = lay(&Paper { blocks, ..Paper::default() }, &|n, of| format!("{n} of {of}"));
            let says = |page: &Vec<Mark>, what: &str| {
                page.iter().any(|m| matches!(m, Mark::Text { text, .. } if text == what))
            };
            let page = laid.pages.iter().find(|page| says(page, "total"));
            assert!(
                page.is_some_and(|page| says(page, "row 3") && says(page, "three")),
                "{above} lines above"
            );
        }
    }
}
