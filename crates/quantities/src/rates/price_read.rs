//! Reads a price list: in our own form, or as people keep theirs. Every problem is told with its row and cell.
//!
//! A list in our own form has the eight columns of [`Column::own`] in its first row; each row says all of itself. Any
//! other list has a row somewhere that heads a description or code, a unit and a rate. What lines outside the table say
//! (currency, day, source, tax) holds for all of it.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

use rust_decimal::Decimal;

use super::lists::Asked;
use super::lists::cells::Given;
use super::lists::columns::Columns;
use super::lists::heads::{Column, Headed, Heads};
use super::lists::map::{Map, Unmatched};
use super::lists::names::Names;
use super::lists::notes::Notes;
use super::lists::numbers::Mark;
use super::{PriceKind, PriceList, PriceRow};
use crate::placed::{PlacedRow as Row, cell_span_by, rows_by};
use crate::problem::{Place, Problem, Severity, in_order};

/// The longest price list read, in bytes.
const LONGEST: usize = 10_000_000;
/// The most rows read.
const MOST_ROWS: usize = 20_000;

/// What is known of a list besides its text.
#[derive(Clone, Debug, Default)]
pub struct Reading<'a> {
    /// Line and place in the row (from 0) of cells that a spreadsheet holds as numbers: no spelling to doubt.
    pub numbers: BTreeSet<(usize, usize)>,
    /// ISO 4217 code, where the list names none.
    pub currency: Option<String>,
    /// Day, where the list names none.
    pub date: Option<String>,
    /// Source, where the list names none.
    pub source: Option<String>,
    /// Its rates have this per cent of tax in them, where the list says nothing.
    pub tax: Option<Decimal>,
    /// Its decimal mark, where the list does not show it.
    pub mark: Option<Mark>,
    /// What rows may price.
    pub names: Option<&'a Names>,
    /// What the job that the list is read for asks of it, in its own words; nothing where it is read for none.
    pub asked: Vec<Asked>,
    /// The user's map from words to codes.
    pub map: Option<&'a Map>,
    /// What the user says of heads.
    pub heads: Heads,
}

/// A price list with how it was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadList {
    /// The list.
    pub list: PriceList,
    /// How.
    pub how: How,
}

/// How a list was read: what is in it and prices nothing, and which rates were worked out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct How {
    /// In our own form.
    pub own_form: bool,
    /// Lines outside the table and headings in it.
    pub headings: usize,
    /// Totals and subtotals.
    pub totals: usize,
    /// Its columns.
    pub heads: Vec<Headed>,
    /// By what the rows were known, by line; nothing of a list in our own form.
    pub by: BTreeMap<usize, By>,
    /// Rows that the map leaves out.
    pub left_out: Vec<Unmatched>,
    /// Rows known by their words and sizes: line, where it stands, code.
    pub sized: Vec<(usize, Range<usize>, String)>,
    /// Rows that price nothing for want of a code.
    pub unmatched: Vec<Unmatched>,
    /// Rates that are not what the list writes.
    pub worked: Vec<Worked>,
    /// The list says whether its rates have tax in them.
    pub tax_said: bool,
}

/// By what a row was known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum By {
    /// The user's map.
    Map,
    /// Our code beside it.
    Code,
    /// Words that are ours.
    Words,
    /// Words and sizes.
    Sizes,
}

impl By {
    /// In one word.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Map => "map",
            Self::Code => "code",
            Self::Words => "words",
            Self::Sizes => "sizes",
        }
    }
}

/// A list as far as it could be read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Looked {
    /// Rows that could be read; nothing where the table is not found.
    pub list: Option<PriceList>,
    /// How.
    pub how: How,
    /// Errors and cautions, in order.
    pub problems: Vec<Problem>,
}

impl Looked {
    /// The list where nothing is wrong with it.
    ///
    /// # Errors
    /// As [`read_prices`].
    pub fn in_order(self) -> Result<ReadList, Vec<Problem>> {
        let Self { list, how, problems } = self;
        let cautions_only = problems.iter().all(|p| p.severity == Severity::Caution);
        match list {
            Some(list) if cautions_only => {
                Ok(ReadList { list: PriceList { cautions: problems, ..list }, how })
            }
            _ => Err(problems),
        }
    }
}

/// A rate worked out from what the list writes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Worked {
    /// Line of the list.
    pub line: usize,
    /// Code of the row.
    pub code: String,
    /// As the list writes it.
    pub written: String,
    /// For how many units.
    pub per: u32,
    /// Per cent of tax in it.
    pub tax: Option<Decimal>,
    /// For one unit, without tax; rounded to six places where it does not end before.
    pub rate: Decimal,
}

/// Reads a price list. `name` is the built-in path or the path as the user gave it.
///
/// Columns may stand in any order. An empty rate is kept as `None`: it counts only when the row is used.
///
/// # Errors
/// All problems of the list, codes `R001` to `R019` and `R056` to `R064` (see [`super::CODES`]).
pub fn read_prices(name: &str, text: &str) -> Result<PriceList, Vec<Problem>> {
    read_list(name, text, &Reading::default()).map(|read| read.list)
}

/// Does a row of a text, parted by commas, head the columns of a price list?
#[must_use]
pub fn heads_a_list(text: &str) -> bool {
    Columns::find(&rows_by(text, b','), &Heads::new()).is_some()
}

/// Reads a price list, with what is known besides, and tells how.
///
/// # Errors
/// As [`read_prices`].
pub fn read_list(name: &str, text: &str, reading: &Reading<'_>) -> Result<ReadList, Vec<Problem>> {
    look_at(name, text, reading).in_order()
}

/// The same, with what could be read of a list that is wrong somewhere.
#[must_use]
pub fn look_at(name: &str, text: &str, reading: &Reading<'_>) -> Looked {
    let mut reader = Reader {
        name,
        text,
        reading,
        sign: b',',
        problems: Vec::new(),
        how: How::default(),
        notes: Notes::default(),
        mark: reading.mark,
        kind: None,
        unit: String::new(),
        unclear: Vec::new(),
    };
    let list = reader.list();
    let Reader { mut problems, how, .. } = reader;
    in_order(&mut problems);
    Looked { list, how, problems }
}

pub(super) struct Reader<'a> {
    name: &'a str,
    pub(super) text: &'a str,
    pub(super) reading: &'a Reading<'a>,
    /// What parts the cells.
    sign: u8,
    pub(super) problems: Vec<Problem>,
    pub(super) how: How,
    /// What is said of the whole list.
    pub(super) notes: Notes,
    /// The decimal mark of the list, where known.
    pub(super) mark: Option<Mark>,
    /// The kind that the last heading names.
    pub(super) kind: Option<PriceKind>,
    /// The unit of the row before: `ditto`.
    pub(super) unit: String,
    /// Rates of two readings that nothing settles: line, where it stands, both.
    pub(super) unclear: Vec<(usize, Range<usize>, [Decimal; 2])>,
}

/// The row's own cells, by our columns.
pub(super) struct Named<'r> {
    pub(super) row: &'r Row,
    pub(super) columns: &'r Columns,
}

impl<'r> Named<'r> {
    pub(super) fn cell(&self, column: Column) -> &'r str {
        self.columns.at(column).and_then(|i| self.row.cells.get(i)).unwrap_or_default().trim()
    }
}

impl Reader<'_> {
    pub(super) fn report(&mut self, code: &'static str, row: &Row, span: Range<usize>, words: [&str; 3]) {
        let [message, label, hint] = words;
        let place = Place { file: self.name.to_owned(), span, line: row.line };
        let mut problem = Problem::error(code, Some(place), message).label(label);
        problem.hint = (!hint.is_empty()).then(|| hint.to_owned());
        self.problems.push(problem);
    }

    pub(super) fn caution(&mut self, code: &'static str, row: &Row, span: Range<usize>, words: [&str; 3]) {
        self.report(code, row, span, words);
        if let Some(last) = self.problems.last_mut() {
            last.severity = Severity::Caution;
        }
    }

    /// Where a cell of a row stands; the row, where the list has no such column.
    pub(super) fn span(&self, named: &Named<'_>, column: Column) -> Range<usize> {
        let at = named.columns.at(column);
        at.map_or_else(|| named.row.span.clone(), |i| self.cell_span(named.row, i))
    }

    /// Reports at one cell of a row.
    pub(super) fn at(&mut self, code: &'static str, named: &Named<'_>, column: Column, words: [&str; 3]) {
        let span = self.span(named, column);
        self.report(code, named.row, span, words);
    }

    pub(super) fn cell_span(&self, row: &Row, position: usize) -> Range<usize> {
        cell_span_by(self.text, row, position, self.sign)
    }

    fn list(&mut self) -> Option<PriceList> {
        let top = Row { line: 1, ..Row::default() };
        if self.text.len() > LONGEST {
            let message = "the price list is larger than 10 MB";
            self.report("R015", &top, 0..0, [message, "", "keep only the rows that jobs need"]);
            return None;
        }
        // Commas first; semicolons and tabs where no row so parted heads the columns.
        let (mut found, mut parted) = (None, Vec::new());
        for sign in [b',', b';', b'\t'] {
            let rows = rows_by(self.text, sign);
            if let Some(at) = Columns::find(&rows, &self.reading.heads) {
                found = Some((sign, rows, at));
                break;
            }
            parted.push(rows);
        }
        let Some((sign, rows, at)) = found else {
            if let Some(comma) = parted.first() {
                self.no_head(comma, &top);
            }
            self.may_head(&parted);
            return None;
        };
        self.sign = sign;
        let (head, table) = (rows.get(at)?, rows.get(at + 1..).unwrap_or_default());
        for row in rows.get(..at).unwrap_or_default() {
            self.note(row);
        }
        let columns = self.columns(head, table.first(), at == 0);
        self.samples(table);
        let (columns, second) = columns?;
        let table = table.get(usize::from(second)..).unwrap_or_default();
        self.how.own_form = columns.own_form;
        if table.is_empty() {
            let hint = "`tankwright rates --blank JOB` writes every row a job needs";
            self.report(
                "R001",
                head,
                head.span.clone(),
                ["the price list has no rows", "only the head", hint],
            );
        }
        if table.len() > MOST_ROWS {
            let message = "the price list has more than 20 000 rows";
            self.report("R016", head, head.span.clone(), [message, "", "keep only the rows that jobs need"]);
            return None;
        }
        // Notes below the table hold for all of it too: they are read before its rows.
        for row in table.iter().filter(|_| !columns.own_form) {
            if self.is_heading(&Named { row, columns: &columns }) {
                self.note(row);
            }
        }
        self.marks(table, &columns);
        self.said(head, &columns);
        let mut given = Given::default();
        let mut kept = Vec::with_capacity(table.len());
        for row in table {
            kept.extend(self.row(row, head, &columns, &mut given));
        }
        self.of_two_readings();
        self.without_a_code();
        self.known_by_size();
        let rows = self.once(kept, &columns, table);
        let currency = given.currency.map(|(code, _)| code).unwrap_or_default();
        Some(PriceList { name: self.name.to_owned(), currency, rows, cautions: Vec::new() })
    }

    /// Tells of rows that price the same thing twice.
    fn once(&mut self, kept: Vec<PriceRow>, columns: &Columns, table: &[Row]) -> Vec<PriceRow> {
        let mut seen = BTreeMap::new();
        for row in &kept {
            let key = (row.kind, row.code.as_str(), row.unit.as_str());
            let Some(earlier) = seen.insert(key, row.line) else { continue };
            let message =
                format!("`{}` in {} stands twice, on lines {earlier} and {}", row.code, row.unit, row.line);
            if let Some(placed) = table.iter().find(|r| r.line == row.line) {
                let column = if columns.own_form { Column::Code } else { Column::Description };
                self.at(
                    "R011",
                    &Named { row: placed, columns },
                    column,
                    [&message, "again", "keep one of the two"],
                );
            }
        }
        kept
    }

    /// One caution for all rows that price nothing.
    fn without_a_code(&mut self) {
        let open = std::mem::take(&mut self.how.unmatched);
        if let Some(first) = open.first() {
            let lines: Vec<String> = open.iter().take(12).map(|u| u.line.to_string()).collect();
            let more = if open.len() > lines.len() { " ..." } else { "" };
            let words = match open.len() {
                1 => "row has no code of ours and prices nothing: line",
                _ => "rows have no code of ours and price nothing: lines",
            };
            let message = format!("{} {words} {}{more}", open.len(), lines.join(", "));
            let row = Row { line: first.line, span: first.span.clone(), ..Row::default() };
            let hint = "write the words of the job's own bill (`tankwright rates --blank JOB`), our codes into a column `code`, \
                        or into the map that `tankwright rates LIST --map FILE` writes";
            self.caution("R060", &row, first.span.clone(), [&message, &first.why, hint]);
        }
        self.how.unmatched = open;
    }

    /// One caution for all rows whose work was told by sizes.
    fn known_by_size(&mut self) {
        let Some((line, span, _)) = self.how.sized.first().cloned() else { return };
        let told = self.how.sized.iter().take(12).map(|(line, _, code)| format!("{line} {code}"));
        let told: Vec<String> = told.collect();
        let more = if self.how.sized.len() > told.len() { " ..." } else { "" };
        let message = format!("rows known by their words and sizes: lines {}{more}", told.join(", "));
        let row = Row { line, span: span.clone(), ..Row::default() };
        let hint =
            "what is taken wrongly, write with our code into the map of the list, or `-` to leave it out";
        self.caution("R098", &row, span, [&message, "by words and sizes", hint]);
    }

    /// Nothing heads the columns.
    fn no_head(&mut self, rows: &[Row], top: &Row) {
        let form = "kind,code,description,unit,rate,currency,date,source";
        let Some(head) = rows.first() else {
            let hint = format!("the first row names the columns: {form}");
            return self.report("R001", top, 0..0, ["the price list is empty", "", &hint]);
        };
        self.twice(head, true);
        let hint = format!(
            "one row must head a column each for the description or code, the unit and the rate, parted by commas, semicolons or tabs; our own form is {form}"
        );
        let message = "columns missing: no row heads a description or code and a rate";
        self.report("R002", head, head.span.clone(), [message, "the first row", &hint]);
    }
}
