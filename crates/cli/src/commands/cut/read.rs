//! Reads a list of pieces from CSV (RFC 4180), collecting every problem with its row and cell.

use std::ops::Range;

use tankwright_quantities::placed::{PlacedRow as Record, cell_span, rows};
use tankwright_quantities::problem::{Place, Problem, Severity};

use super::given::{NoLength, millimetres};

/// No bar is sold shorter, mm.
const SHORT_STOCK: i64 = 100;
/// The most rows read.
const MOST_ROWS: usize = 100_000;
/// A length in mm below which a number without a unit looks like a slip.
const SLIP: i64 = 50;
/// The most pieces of one row.
const MOST_COUNT: u64 = 1_000_000_000;

const LENGTH: usize = 0;
const COUNT: usize = 1;
const MARK: usize = 2;
const COLUMNS: [&str; 3] = ["length", "count", "mark"];

/// A row of the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Row {
    /// Length in mm.
    pub(super) mm: i64,
    /// How many.
    pub(super) count: u64,
    /// The user's mark; empty where there is none.
    pub(super) mark: String,
}

/// Reads a list. `longest` is the longest stock that can be bought in any number, in mm.
///
/// # Errors
/// All problems of the list, codes `K001` to `K015`. Cautions stand beside the rows.
pub(super) fn read(name: &str, text: &str, longest: i64) -> Result<(Vec<Row>, Vec<Problem>), Vec<Problem>> {
    let mut reader = Reader { name, text, longest, slip: None, problems: Vec::new() };
    let rows = reader.list();
    let wrong = reader.problems.iter().any(|p| p.severity == Severity::Error);
    // What is refused comes first: the caution is told once the list can be read.
    if let Some(mut slip) = reader.slip.take().filter(|_| !wrong) {
        slip.severity = Severity::Caution;
        reader.problems.push(slip);
    }
    match rows {
        Some(rows) if !wrong => Ok((rows, reader.problems)),
        _ => Err(reader.problems),
    }
}

struct Reader<'a> {
    name: &'a str,
    text: &'a str,
    longest: i64,
    /// A length that looks like a slip was told.
    slip: Option<Problem>,
    problems: Vec<Problem>,
}

impl Reader<'_> {
    /// `words`: what is wrong, what stands there, what to do.
    fn report(&mut self, code: &'static str, record: &Record, span: Range<usize>, words: [&str; 3]) {
        let [message, label, hint] = words;
        let place = Place { file: self.name.to_owned(), span, line: record.line };
        self.problems.push(Problem::error(code, Some(place), message).label(label).hint(hint));
    }

    fn list(&mut self) -> Option<Vec<Row>> {
        let mut records = rows(self.text);
        let hint = "the first row names the columns: length,count,mark; then one row for each length";
        if records.is_empty() {
            let top = Record { line: 1, ..Record::default() };
            self.report("K001", &top, 0..0, ["the list is empty", "", hint]);
            return None;
        }
        let head = records.remove(0);
        let columns = self.head(&head)?;
        if records.is_empty() {
            self.report("K001", &head, head.span.clone(), ["the list has no rows", "only the head", hint]);
            return None;
        }
        if records.len() > MOST_ROWS {
            let words = ["the list has more than 100 000 rows", "", "put equal lengths into one row"];
            self.report("K002", &head, head.span.clone(), words);
            return None;
        }
        Some(records.iter().filter_map(|r| self.row(r, head.cells.len(), &columns)).collect())
    }

    fn cell_span(&self, record: &Record, position: usize) -> Range<usize> {
        cell_span(self.text, record, position)
    }

    /// Where each of our columns stands.
    fn head(&mut self, head: &Record) -> Option<[Option<usize>; 3]> {
        let names: Vec<String> = head.cells.iter().map(|c| c.trim().to_lowercase()).collect();
        if names.len() > 1 && names.iter().take(2).all(|n| n.starts_with(|c: char| c.is_ascii_digit())) {
            let hint = "put a row above it that names the columns: length,count,mark (mark may be left out)";
            let words = ["columns missing: length, count", "the first row is a piece already", hint];
            self.report("K003", head, head.span.clone(), words);
            return None;
        }
        for (i, name) in names.iter().enumerate() {
            let span = self.cell_span(head, i);
            if names.iter().take(i).any(|n| n == name) && !name.is_empty() {
                let message = format!("two columns are called `{name}`");
                self.report("K005", head, span, [&message, "again", "keep one of the two"]);
            } else if !COLUMNS.contains(&name.as_str()) && names.len() > 1 {
                let message = format!("nothing reads the column `{name}`");
                let hint = "it may stay; a misspelt name should be mended";
                self.report("K004", head, span, [&message, "", hint]);
                if let Some(last) = self.problems.last_mut() {
                    last.severity = Severity::Caution;
                }
            }
        }
        let columns = COLUMNS.map(|column| names.iter().position(|n| n == column));
        let missing: Vec<_> = [LENGTH, COUNT].into_iter().filter(|&c| columns[c].is_none()).collect();
        if missing.is_empty() {
            return Some(columns);
        }
        let parted = names.len() == 1 && names.iter().any(|c| c.contains([';', '\t']));
        let hint = if parted {
            "cells here are parted by semicolons or tabs: save the list with commas"
        } else {
            "the first row names them: length,count,mark (mark may be left out)"
        };
        let message = format!(
            "columns missing: {}",
            missing.iter().map(|&c| COLUMNS[c]).collect::<Vec<_>>().join(", ")
        );
        self.report("K003", head, head.span.clone(), [&message, "the head of the list", hint]);
        None
    }

    fn row(&mut self, record: &Record, width: usize, columns: &[Option<usize>; 3]) -> Option<Row> {
        if record.cells.iter().any(|c| c.contains(char::is_control)) {
            let label = "one cell goes on over the end of the line, or holds a control character";
            let hint =
                "write each cell on one line; a quotation mark that is not closed also looks like this";
            let text = self.text.get(record.span.clone()).unwrap_or_default();
            let end = record.span.start + text.find(['\r', '\n']).unwrap_or(text.len());
            self.report("K007", record, record.span.start..end, ["a line break inside a cell", label, hint]);
            return None;
        }
        if record.cells.len() != width {
            let label = format!("{} cells, the head has {width}", record.cells.len());
            let hint = "a comma inside a mark parts it: put the mark in quotes; write numbers without commas";
            let message = "a row with more or fewer cells than the head";
            self.report("K006", record, record.span.clone(), [message, &label, hint]);
            return None;
        }
        let cell =
            |column: usize| columns[column].and_then(|i| record.cells.get(i)).unwrap_or_default().trim();
        let span =
            |reader: &Self, column: usize| reader.cell_span(record, columns[column].unwrap_or(usize::MAX));
        let (length_at, count_at) = (span(self, LENGTH), span(self, COUNT));
        let mm = self.length(record, cell(LENGTH), length_at);
        let count = self.count(record, cell(COUNT), count_at);
        Some(Row { mm: mm?, count: count?, mark: cell(MARK).to_owned() })
    }

    fn length(&mut self, record: &Record, text: &str, span: Range<usize>) -> Option<i64> {
        if text.is_empty() {
            let words =
                ["a row without a length", "empty", "whole millimetres, or a length with its unit: 2.4 m"];
            self.report("K008", record, span, words);
            return None;
        }
        match millimetres(text) {
            Ok(mm) if mm <= 0 => {
                let hint = "leave the row out, or mend the length";
                self.report("K010", record, span, ["a length that is not more than 0", "", hint]);
            }
            Ok(mm) if mm > self.longest => {
                let label = format!("{mm} mm; the longest stock that can be bought is {} mm", self.longest);
                // Bars of 12 mm are bars of 12 m without their unit.
                let hint = if self.longest < SHORT_STOCK {
                    "a stock without its unit is read in mm: write --stock 12m"
                } else {
                    "lap the bar and list its parts, or give a longer --stock"
                };
                self.report("K014", record, span, ["a piece longer than every stock", &label, hint]);
            }
            Ok(mm) => {
                let bare = text.bytes().all(|b| b.is_ascii_digit());
                if bare && mm < SLIP && self.slip.is_none() {
                    let message = format!("a piece of {mm} mm: a number without a unit is millimetres");
                    let hint =
                        format!("write {mm} m if metres are meant; or have length and count changed places?");
                    self.report("K015", record, span, [&message, "said once for the list", &hint]);
                    self.slip = self.problems.pop();
                }
                return Some(mm);
            }
            Err(e) => {
                let finer = e == NoLength::Finer || e.words() == NoLength::Finer.words();
                let (code, hint) = if finer {
                    ("K009", "round it yourself: up where the piece may be longer, down where it must fit")
                } else {
                    ("K008", "whole millimetres, or a length with its unit: 2400, 2.4 m, 7 ft 6 in")
                };
                self.report(code, record, span, [&format!("a length {}", e.words()), "", hint]);
            }
        }
        None
    }

    fn count(&mut self, record: &Record, text: &str, span: Range<usize>) -> Option<u64> {
        let digits = !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
        let count = if digits { text.parse::<u64>().unwrap_or(u64::MAX) } else { 0 };
        let words = match (digits, count) {
            (true, 1..=MOST_COUNT) => return Some(count),
            (true, 0) => ("K012", ["a count of 0", "", "leave the row out, or mend the count"]),
            (true, _) => ("K013", ["a count over 1 000 000 000", "", "is it a length?"]),
            _ => {
                let label = if text.is_empty() { "empty" } else { "" };
                ("K011", ["a count that is not a whole number", label, "digits only: 12"])
            }
        };
        self.report(words.0, record, span, words.1);
        None
    }
}
