//! Reads a price list from CSV (RFC 4180), collecting every problem with its row and cell.

use std::collections::BTreeMap;
use std::ops::Range;

use rust_decimal::Decimal;

use super::entry::is_date;
use super::read::is_currency;
use super::{PriceKind, PriceList, PriceRow};
use crate::placed::{PlacedRow as Row, cell_span, rows};
use crate::problem::{Place, Problem, Severity, in_order};

/// The longest price list read, in bytes.
const LONGEST: usize = 10_000_000;
/// The most rows read.
const MOST_ROWS: usize = 20_000;

const COLUMNS: [&str; 8] = ["kind", "code", "description", "unit", "rate", "currency", "date", "source"];
// Positions in COLUMNS.
const KIND: usize = 0;
const CODE: usize = 1;
const DESCRIPTION: usize = 2;
const UNIT: usize = 3;
const RATE: usize = 4;
const CURRENCY: usize = 5;
const DATE: usize = 6;
const SOURCE: usize = 7;

/// Reads a price list. `name` is the built-in path or the path as the user gave it.
///
/// Columns may stand in any order. An empty rate is kept as `None`: it counts only when the row is used.
///
/// # Errors
/// All problems of the list, codes `R001` to `R019` (see [`super::CODES`]).
pub fn read_prices(name: &str, text: &str) -> Result<PriceList, Vec<Problem>> {
    let mut reader = Reader { name, text, problems: Vec::new() };
    let list = reader.list();
    let mut problems = reader.problems;
    in_order(&mut problems);
    let cautions_only = problems.iter().all(|p| p.severity == Severity::Caution);
    match list {
        Some(list) if cautions_only => Ok(PriceList { cautions: problems, ..list }),
        _ => Err(problems),
    }
}

struct Reader<'a> {
    name: &'a str,
    text: &'a str,
    problems: Vec<Problem>,
}

/// The row's own cells, by our columns.
struct Named<'r> {
    row: &'r Row,
    columns: &'r [usize; 8],
}

impl<'r> Named<'r> {
    fn cell(&self, column: usize) -> &'r str {
        self.columns.get(column).and_then(|i| self.row.cells.get(*i)).unwrap_or_default().trim()
    }
}

impl Reader<'_> {
    fn report(&mut self, code: &'static str, row: &Row, span: Range<usize>, words: [&str; 3]) {
        let [message, label, hint] = words;
        let place = Place { file: self.name.to_owned(), span, line: row.line };
        let mut problem = Problem::error(code, Some(place), message).label(label);
        problem.hint = (!hint.is_empty()).then(|| hint.to_owned());
        self.problems.push(problem);
    }

    /// Reports at one cell of a row.
    fn at(&mut self, code: &'static str, named: &Named<'_>, column: usize, words: [&str; 3]) {
        let position = named.columns.get(column).copied().unwrap_or_default();
        let span = self.cell_span(named.row, position);
        self.report(code, named.row, span, words);
    }

    fn list(&mut self) -> Option<PriceList> {
        let top = Row { line: 1, ..Row::default() };
        if self.text.len() > LONGEST {
            let message = "the price list is larger than 10 MB";
            self.report("R015", &top, 0..0, [message, "", "keep only the rows that jobs need"]);
            return None;
        }
        let mut rows = rows(self.text);
        if rows.is_empty() {
            let hint =
                "the first row names the columns: kind,code,description,unit,rate,currency,date,source";
            self.report("R001", &top, 0..0, ["the price list is empty", "", hint]);
            return None;
        }
        let head = rows.remove(0);
        let columns = self.head(&head)?;
        if rows.is_empty() {
            let hint = "`tankwright rates --blank JOB` writes every row a job needs";
            self.report(
                "R001",
                &head,
                head.span.clone(),
                ["the price list has no rows", "only the head", hint],
            );
        }
        if rows.len() > MOST_ROWS {
            let message = "the price list has more than 20 000 rows";
            self.report("R016", &head, head.span.clone(), [message, "", "keep only the rows that jobs need"]);
            return None;
        }
        let mut seen = BTreeMap::new();
        let mut currency: Option<(String, usize)> = None;
        let mut kept = Vec::with_capacity(rows.len());
        for row in &rows {
            kept.extend(self.row(row, head.cells.len(), &columns, &mut seen, &mut currency));
        }
        let currency = currency.map(|(code, _)| code).unwrap_or_default();
        Some(PriceList { name: self.name.to_owned(), currency, rows: kept, cautions: Vec::new() })
    }

    fn cell_span(&self, row: &Row, position: usize) -> Range<usize> {
        cell_span(self.text, row, position)
    }

    /// Where each of our columns stands.
    fn head(&mut self, head: &Row) -> Option<[usize; 8]> {
        let names: Vec<String> = head.cells.iter().map(|c| c.trim().to_lowercase()).collect();
        for (i, name) in names.iter().enumerate() {
            let span = self.cell_span(head, i);
            if names.iter().take(i).any(|n| n == name) && !name.is_empty() {
                let hint = "keep one of the two";
                self.report("R004", head, span, [&format!("two columns are called `{name}`"), "again", hint]);
            } else if !COLUMNS.contains(&name.as_str()) && names.len() > 1 {
                let message = format!("nothing reads the column `{name}`");
                self.report(
                    "R003",
                    head,
                    span,
                    [&message, "", "it may stay; a misspelt name should be mended"],
                );
                if let Some(last) = self.problems.last_mut() {
                    last.severity = Severity::Caution;
                }
            }
        }
        let mut columns = [0; 8];
        let mut missing = Vec::new();
        for (slot, column) in columns.iter_mut().zip(COLUMNS) {
            match names.iter().position(|n| n == column) {
                Some(i) => *slot = i,
                None => missing.push(column),
            }
        }
        if missing.is_empty() {
            return Some(columns);
        }
        let separator = head.cells.iter().next().filter(|c| names.len() == 1 && c.contains([';', '\t']));
        let hint = match separator {
            Some(_) => {
                "cells here are parted by semicolons or tabs: save it as CSV again and choose the comma between cells"
            }
            None => "the first row names them: kind,code,description,unit,rate,currency,date,source",
        };
        let message = format!("columns missing: {}", missing.join(", "));
        self.report("R002", head, head.span.clone(), [&message, "the head of the list", hint]);
        None
    }

    fn row(
        &mut self,
        row: &Row,
        width: usize,
        columns: &[usize; 8],
        seen: &mut BTreeMap<(PriceKind, String, String), usize>,
        currency: &mut Option<(String, usize)>,
    ) -> Option<PriceRow> {
        if row.cells.iter().any(|c| c.contains(char::is_control)) {
            let label = "one cell goes on over the end of the line, or holds a control character";
            let hint =
                "write each cell on one line; a quotation mark that is not closed also looks like this";
            let end =
                self.text.get(row.span.clone()).and_then(|t| t.find(['\r', '\n'])).unwrap_or(row.span.len());
            let first_line = row.span.start..row.span.start + end;
            self.report("R014", row, first_line, ["a line break inside a cell", label, hint]);
            return None;
        }
        if row.cells.len() != width {
            let label = format!("{} cells, the head has {width}", row.cells.len());
            let hint = "a comma inside a text or a rate parts it: put the text in quotes, write rates without commas";
            let message = "a row with more or fewer cells than the head";
            self.report("R005", row, row.span.clone(), [message, &label, hint]);
            return None;
        }
        let named = Named { row, columns };
        let (kind, rate) = (self.kind(&named), self.rate(&named));
        let code = self.code(&named);
        let unit = named.cell(UNIT).to_owned();
        if unit.is_empty() {
            self.at(
                "R017",
                &named,
                UNIT,
                ["a row without a unit", "empty", "m3, m2, m, kg, nr, item; or a pack, as bag"],
            );
        }
        let priced = !matches!(rate, Some(None));
        self.dated(&named, priced);
        self.currency(&named, currency);
        let (kind, code, rate) = (kind?, code?, rate?);
        if let Some(earlier) = seen.insert((kind, code.clone(), unit.clone()), row.line) {
            let message = format!("`{code}` in {unit} stands twice, on lines {earlier} and {}", row.line);
            self.at("R011", &named, CODE, [&message, "again", "keep one of the two"]);
        }
        Some(PriceRow {
            kind,
            code,
            description: named.cell(DESCRIPTION).to_owned(),
            unit,
            rate,
            date: named.cell(DATE).to_owned(),
            source: named.cell(SOURCE).to_owned(),
            line: row.line,
            span: row.span.clone(),
        })
    }

    fn kind(&mut self, named: &Named<'_>) -> Option<PriceKind> {
        let text = named.cell(KIND).to_lowercase();
        let kind = PriceKind::ALL.into_iter().find(|k| k.id() == text);
        if kind.is_none() {
            let hint = "one of: work, material, labour, plant";
            self.at("R006", named, KIND, [&format!("`{text}` is not a kind of price"), "not known", hint]);
        }
        kind
    }

    fn code(&mut self, named: &Named<'_>) -> Option<String> {
        let code = named.cell(CODE);
        if code.is_empty() || code.contains(char::is_whitespace) {
            let message = if code.is_empty() { "a row without a code" } else { "a code with blanks in it" };
            let hint = "a work, or a work and its specification: concrete-base/1:2:4";
            self.at("R007", named, CODE, [message, "", hint]);
            return None;
        }
        Some(code.to_owned())
    }

    /// `None`: wrong and reported. `Some(None)`: left empty.
    fn rate(&mut self, named: &Named<'_>) -> Option<Option<Decimal>> {
        let text = named.cell(RATE);
        if text.is_empty() {
            return Some(None);
        }
        match number(text) {
            Ok(rate) => Some(Some(rate)),
            Err((code, message, label)) => {
                let hint = "digits and at most one point: 12500 or 12500.50";
                self.at(code, named, RATE, [message, label, hint]);
                None
            }
        }
    }

    /// Date and source: asked of a row with a rate; a date that is given must be one.
    fn dated(&mut self, named: &Named<'_>, priced: bool) {
        let date = named.cell(DATE);
        if (priced || !date.is_empty()) && !is_date(date) {
            let label = if date.is_empty() { "empty" } else { "" };
            let hint = "year-month-day, as 2026-10-01; a spreadsheet may have changed how it is written";
            self.at("R013", named, DATE, ["a date that is not year-month-day", label, hint]);
        }
        if priced && named.cell(SOURCE).is_empty() {
            let hint = "who said so: a shop, a quotation, your last job";
            self.at("R018", named, SOURCE, ["a row without a source", "empty", hint]);
        }
    }

    fn currency(&mut self, named: &Named<'_>, first: &mut Option<(String, usize)>) {
        let code = named.cell(CURRENCY);
        if !is_currency(code) {
            let message = "a currency is three capital letters";
            self.at(
                "R019",
                named,
                CURRENCY,
                [message, if code.is_empty() { "empty" } else { "" }, "as UGX (ISO 4217)"],
            );
            return;
        }
        let Some((earlier, line)) = first else {
            *first = Some((code.to_owned(), named.row.line));
            return;
        };
        if earlier.as_str() != code {
            let label = format!("{earlier} on line {line}");
            self.at(
                "R012",
                named,
                CURRENCY,
                ["two currencies in one list", &label, "one list for each currency"],
            );
        }
    }
}

/// A rate: digits with at most one point.
fn number(text: &str) -> Result<Decimal, (&'static str, &'static str, &'static str)> {
    let digits =
        |t: &str, most: usize| (1..=most).contains(&t.len()) && t.bytes().all(|b| b.is_ascii_digit());
    let (whole, part) = text.split_once('.').unwrap_or((text, "0"));
    if digits(whole, 15) && digits(part, 6) {
        return Decimal::from_str_exact(text).map_err(|_| ("R008", "a rate that is not a number", ""));
    }
    if let Some(rest) = text
        .strip_prefix(['-', '\u{2212}'])
        .filter(|r| r.trim_start().starts_with(|c: char| c.is_ascii_digit()))
    {
        let zero = rest.bytes().all(|b| !b.is_ascii_digit() || b == b'0');
        let label = if zero { "write 0 without a sign" } else { "less than nothing" };
        return Err(("R010", "a negative rate", label));
    }
    let separators = [',', ' ', '\u{a0}', '\u{202f}', '\'', '\u{2019}', '_'];
    let points = text.matches('.').count();
    if text.starts_with(|c: char| c.is_ascii_digit())
        && text.chars().all(|c| c.is_ascii_digit() || c == '.' || separators.contains(&c))
        && (points > 1 || text.contains(separators))
    {
        return Err((
            "R009",
            "a rate with a thousands separator",
            "thousands and decimals cannot be told apart",
        ));
    }
    let numeric = text.bytes().all(|b| b.is_ascii_digit() || b == b'.') && points < 2;
    let label = if numeric {
        "at most 15 digits before the point and 6 behind it, one at least"
    } else {
        "not digits alone"
    };
    Err(("R008", "a rate that is not a number", label))
}
