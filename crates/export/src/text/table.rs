//! Pages of plain text, at most 100 columns: lines that wrap, and tables whose columns fit.

use crate::format::{NO_BREAK, clean, word};

/// No line is longer, unless a single figure is.
pub(crate) const WIDTH: usize = 100;
const GAP: usize = 2;
/// A column that wraps is never narrower.
const NARROWEST: usize = 16;
/// How far text across a table is set in: past the multipliers of a dimension line.
const ACROSS: usize = 11;

/// How a column stands, and how wide it is at least.
#[derive(Clone, Copy, Debug)]
pub enum Col {
    /// To the left.
    Left(usize),
    /// To the right: figures.
    Right(usize),
    /// To the left, wrapped into what room is left.
    Fill(usize),
}

impl Col {
    const fn least(self) -> usize {
        match self {
            Self::Left(n) | Self::Right(n) | Self::Fill(n) => n,
        }
    }
}

/// Rows of cells; columns are as wide as their widest cell.
#[derive(Clone, Debug)]
pub struct Table {
    indent: usize,
    cols: Vec<Col>,
    rows: Vec<Row>,
}

/// A row of a table.
#[derive(Clone, Debug)]
pub enum Row {
    /// Heads of the columns.
    Head(Vec<String>),
    /// Cells; those that are missing are empty.
    Cells(Vec<String>),
    /// Text right across, set in so far under the row before.
    Across(usize, String),
}

impl Table {
    pub(crate) fn new(indent: usize, cols: &[Col]) -> Self {
        Self { indent, cols: cols.to_vec(), rows: Vec::new() }
    }

    /// Adds a row; cells that are missing are empty.
    pub(crate) fn row<S: AsRef<str>>(&mut self, cells: impl IntoIterator<Item = S>) {
        self.rows.push(Row::Cells(cells.into_iter().map(|c| clean(c.as_ref())).collect()));
    }

    /// Adds the heads of the columns, words of these keys; an empty key is an empty head.
    pub(crate) fn heads<'k>(&mut self, keys: impl IntoIterator<Item = &'k str>) {
        self.rows.push(Row::Head(keys.into_iter().map(|key| clean(word(key))).collect()));
    }

    /// Adds text right across the table, wrapped.
    pub(crate) fn across(&mut self, text: &str) {
        self.across_at(ACROSS, text);
    }

    /// The same, set in otherwise.
    pub(crate) fn across_at(&mut self, indent: usize, text: &str) {
        self.rows.push(Row::Across(indent, clean(text)));
    }

    /// Adds the rows of a table with the same columns.
    pub(crate) fn append(&mut self, other: Self) {
        self.rows.extend(other.rows);
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// How each column stands.
    #[must_use]
    pub fn cols(&self) -> &[Col] {
        &self.cols
    }

    /// The rows, heads first where the table has heads.
    #[must_use]
    pub fn rows(&self) -> &[Row] {
        &self.rows
    }

    fn widths(&self) -> Vec<usize> {
        let cell = |row: &Row, i: usize| match row {
            Row::Cells(cells) | Row::Head(cells) => cells.get(i).map_or(0, |c| width(c)),
            Row::Across(..) => 0,
        };
        let widest = |i: usize| self.rows.iter().map(|r| cell(r, i)).max().unwrap_or(0);
        let mut widths: Vec<usize> =
            self.cols.iter().enumerate().map(|(i, c)| widest(i).max(c.least())).collect();
        let all = |w: &[usize]| self.indent + w.iter().sum::<usize>() + GAP * w.len().saturating_sub(1);
        for i in 0..widths.len() {
            let over = all(&widths).saturating_sub(WIDTH);
            if over > 0 && matches!(self.cols.get(i), Some(Col::Fill(_))) {
                widths[i] = widths[i].saturating_sub(over).max(NARROWEST);
            }
        }
        widths
    }

    fn print(&self, out: &mut String) {
        let widths = self.widths();
        for row in &self.rows {
            let row = match row {
                Row::Cells(row) | Row::Head(row) => row,
                Row::Across(indent, text) => {
                    indented(out, self.indent + indent, self.indent + indent + GAP, text);
                    continue;
                }
            };
            let cells: Vec<Vec<String>> = self
                .cols
                .iter()
                .enumerate()
                .map(|(i, col)| {
                    let cell = row.get(i).map_or("", String::as_str);
                    if matches!(col, Col::Fill(_)) {
                        wrap(cell, widths[i], widths[i])
                    } else {
                        vec![cell.to_owned()]
                    }
                })
                .collect();
            for n in 0..cells.iter().map(Vec::len).max().unwrap_or(0) {
                let mut line = " ".repeat(self.indent);
                for ((i, col), cell) in self.cols.iter().enumerate().zip(&cells) {
                    let text = cell.get(n).map_or("", String::as_str);
                    let pad = " ".repeat(widths[i].saturating_sub(width(text)));
                    let (before, after) = if matches!(col, Col::Right(_)) {
                        (pad, String::new())
                    } else {
                        (String::new(), pad)
                    };
                    line.push_str(&before);
                    line.push_str(text);
                    line.push_str(&after);
                    line.push_str(&" ".repeat(GAP));
                }
                put(out, &line);
            }
        }
    }
}

/// A part of a page, as every writer receives it.
#[derive(Clone, Debug)]
pub enum Part {
    /// Room between parts; never two, and none at the top.
    Blank,
    /// A heading of its own.
    Heading(String),
    /// Text that wraps, set in by columns: its first line, and the others.
    Line(usize, usize, String),
    /// Text in small letters where the paper has them.
    Small(String),
    /// Text to the left and to the right.
    Apart(String, String),
    /// A table.
    Table(Table),
}

/// A page under way: what stands on it, whoever prints it.
#[derive(Clone, Debug, Default)]
pub struct Page(Vec<Part>);

impl Page {
    /// An empty line; never two, and none at the top.
    pub(crate) fn blank(&mut self) {
        if !matches!(self.0.last(), None | Some(Part::Blank)) {
            self.0.push(Part::Blank);
        }
    }

    /// Text, wrapped; what follows on stands `hang` columns in.
    pub(crate) fn line(&mut self, indent: usize, hang: usize, text: &str) {
        self.0.push(Part::Line(indent, hang, clean(text)));
    }

    /// A heading of its own, after an empty line.
    pub(crate) fn heading(&mut self, text: &str) {
        self.blank();
        self.0.push(Part::Heading(clean(text)));
    }

    /// A table.
    pub(crate) fn table(&mut self, table: &Table) {
        self.0.push(Part::Table(table.clone()));
    }

    /// Text to the left and to the right of one line; two lines where they do not fit.
    pub(crate) fn apart(&mut self, left: &str, right: &str) {
        self.0.push(Part::Apart(clean(left), clean(right)));
    }

    /// Text in small letters where the paper has them.
    pub(crate) fn small(&mut self, text: &str) {
        self.0.push(Part::Small(clean(text)));
    }

    /// Its parts, from the top.
    #[must_use]
    pub fn parts(&self) -> &[Part] {
        &self.0
    }

    /// As plain text.
    pub(crate) fn done(self) -> String {
        let mut out = String::new();
        for part in &self.0 {
            match part {
                Part::Blank if out.is_empty() || out.ends_with("\n\n") => {}
                Part::Blank => out.push('\n'),
                Part::Heading(text) => indented(&mut out, 0, 0, text),
                Part::Line(indent, hang, text) => indented(&mut out, *indent, *hang, text),
                Part::Small(text) => indented(&mut out, 0, 2, text),
                Part::Table(table) => table.print(&mut out),
                Part::Apart(left, right) => {
                    let used = width(left) + width(right);
                    if used + GAP > WIDTH {
                        indented(&mut out, 0, 0, left);
                        indented(&mut out, 0, 0, right);
                    } else {
                        put(&mut out, &format!("{left}{}{right}", " ".repeat(WIDTH - used)));
                    }
                }
            }
        }
        out
    }
}

fn indented(out: &mut String, indent: usize, hang: usize, text: &str) {
    let pieces = wrap(text, WIDTH.saturating_sub(indent), WIDTH.saturating_sub(hang));
    for (i, piece) in pieces.iter().enumerate() {
        put(out, &format!("{}{piece}", " ".repeat(if i == 0 { indent } else { hang })));
    }
}

fn put(out: &mut String, line: &str) {
    let plain = line.replace(NO_BREAK, " ");
    out.push_str(plain.trim_end());
    out.push('\n');
}

pub(crate) fn width(text: &str) -> usize {
    text.chars().count()
}

/// Breaks at spaces, and inside a word only where it is longer than a line. Spaces inside a line are kept.
fn wrap(text: &str, first: usize, others: usize) -> Vec<String> {
    let (mut lines, mut line) = (Vec::new(), String::new());
    let mut room = first.max(1);
    for word in text.split(' ') {
        let joined = if line.is_empty() { width(word) } else { width(&line) + 1 + width(word) };
        if joined > room && !line.is_empty() {
            lines.push(std::mem::take(&mut line));
            room = others.max(1);
        } else if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(word);
        while width(&line) > room {
            let at = line.char_indices().nth(room).map_or(line.len(), |(i, _)| i);
            let rest = line.split_off(at);
            lines.push(std::mem::replace(&mut line, rest));
            room = others.max(1);
        }
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_fit_and_long_text_wraps() {
        let mut table = Table::new(2, &[Col::Left(0), Col::Fill(0), Col::Right(8)]);
        table.row(["A1", &"word ".repeat(30), "1\u{a0}000"]);
        table.row(["A12", "short", "5"]);
        let mut page = Page::default();
        page.table(&table);
        let text = page.done();
        assert!(text.lines().all(|l| l.chars().count() <= WIDTH), "{text}");
        assert_eq!(text.lines().next().map(|l| l.chars().count()), Some(WIDTH));
        assert!(text.lines().next().is_some_and(|l| l.ends_with("   1 000")), "{text}");
        assert!(
            text.lines().last().is_some_and(|l| l.starts_with("  A12  short ") && l.ends_with("       5")),
            "{text}"
        );
    }

    #[test]
    fn what_a_terminal_would_obey_is_replaced() {
        let mut page = Page::default();
        page.line(0, 0, "a\u{1b}[31m b\n\tc\u{202e}");
        assert_eq!(page.done(), "a\u{fffd}[31m b\u{fffd}\u{fffd}c\u{fffd}\n");
    }

    #[test]
    fn a_word_longer_than_the_line_is_cut_and_nothing_is_lost() {
        assert_eq!(wrap("ab cdefgh i", 4, 4), ["ab", "cdef", "gh i"]);
        assert_eq!(wrap("", 4, 4), [""]);
        assert_eq!(wrap("a\u{a0}b c", 3, 3), ["a\u{a0}b", "c"]);
    }
}
