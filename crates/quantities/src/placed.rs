//! A CSV text as rows that know where they stand: price lists and lists of pieces are read through it.

use std::ops::Range;

use csv::StringRecord;

/// A row with its place.
#[derive(Clone, Debug, Default)]
pub struct PlacedRow {
    /// Its cells, unquoted.
    pub cells: StringRecord,
    /// Its bytes in the text, without the line's end.
    pub span: Range<usize>,
    /// Its line, from 1.
    pub line: usize,
}

/// Every row that is not blank. A byte-order mark is passed over; text after the last good record is left out.
#[must_use]
pub fn rows(text: &str) -> Vec<PlacedRow> {
    rows_by(text, b',')
}

/// The same, of cells that another sign parts.
#[must_use]
pub fn rows_by(text: &str, sign: u8) -> Vec<PlacedRow> {
    let start = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    let bytes = text.get(start..).unwrap_or_default().as_bytes();
    let mut csv =
        csv::ReaderBuilder::new().has_headers(false).flexible(true).delimiter(sign).from_reader(bytes);
    let newline = |at: &usize| matches!(bytes.get(*at), Some(b'\r' | b'\n'));
    let at = |csv: &csv::Reader<&[u8]>| usize::try_from(csv.position().byte()).unwrap_or(bytes.len());
    let (mut rows, mut line, mut counted) = (Vec::new(), 1, 0);
    let mut cells = StringRecord::new();
    loop {
        let mut from = at(&csv);
        if !matches!(csv.read_record(&mut cells), Ok(true)) {
            return rows;
        }
        // The reader leaves the second half of a CRLF, and blank lines, to the next record.
        while newline(&from) {
            from += 1;
        }
        let mut to = at(&csv).min(bytes.len());
        while to > from && newline(&(to - 1)) {
            to -= 1;
        }
        line += bytes.get(counted..from).map_or(0, |b| b.iter().filter(|b| **b == b'\n').count());
        counted = from;
        if cells.iter().any(|c| !c.trim().is_empty()) {
            rows.push(PlacedRow { cells: cells.clone(), span: start + from..start + to, line });
        }
    }
}

/// Bytes of one cell, quotes and all; the row's where it has no such cell.
#[must_use]
pub fn cell_span(text: &str, row: &PlacedRow, position: usize) -> Range<usize> {
    cell_span_by(text, row, position, b',')
}

/// The same, of cells that another sign parts.
#[must_use]
pub fn cell_span_by(text: &str, row: &PlacedRow, position: usize, sign: u8) -> Range<usize> {
    let cells = text.get(row.span.clone()).unwrap_or_default();
    let (mut quoted, mut from, mut nth) = (false, 0, 0);
    for (i, b) in cells.bytes().enumerate() {
        match b {
            // Only a cell that begins with a quote is quoted; a doubled one closes and opens it again.
            b'"' if cells.as_bytes().get(from) == Some(&b'"') => quoted = !quoted,
            b if b == sign && !quoted => {
                if nth == position {
                    return row.span.start + from..row.span.start + i;
                }
                (from, nth) = (i + 1, nth + 1);
            }
            _ => {}
        }
    }
    if nth == position { row.span.start + from..row.span.end } else { row.span.clone() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_know_their_line_and_cells_their_bytes() {
        let text = "\u{feff}a,b\r\n\r\n\"x, y\",2\r\n";
        let rows = rows(text);
        assert_eq!(rows.iter().map(|r| r.line).collect::<Vec<_>>(), [1, 3]);
        assert_eq!(text.get(rows[1].span.clone()), Some("\"x, y\",2"));
        assert_eq!(text.get(cell_span(text, &rows[1], 0)), Some("\"x, y\""));
        assert_eq!(text.get(cell_span(text, &rows[1], 1)), Some("2"));
        assert_eq!(cell_span(text, &rows[1], 7), rows[1].span);
    }

    #[test]
    fn a_mark_of_inches_in_a_plain_cell_quotes_nothing() {
        let text = "pipe 4\",2,\"x \"\"y\"\", z\";3\n";
        let row = PlacedRow { cells: StringRecord::new(), span: 0..text.len() - 1, line: 1 };
        let cell = |n| text.get(cell_span(text, &row, n));
        assert_eq!((cell(0), cell(1)), (Some("pipe 4\""), Some("2")));
        assert_eq!(cell(2), Some("\"x \"\"y\"\", z\";3"));
        assert_eq!(text.get(cell_span_by(text, &row, 1, b';')), Some("3"));
    }
}
