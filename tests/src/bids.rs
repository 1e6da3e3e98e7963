//! Priced copies of the bill of a job: the form's own workbook filled in and worked out, slips planted in its cells.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use tankwright_account::returned::form::{MARK, Sum};
use tankwright_account::returned::{Copy, Form, Given, read};
use tankwright_crosscheck::rows::Row;
use tankwright_crosscheck::wording;
use tankwright_export::book::Book;
use tankwright_export::cells::{At, Content, PageId, Show};
use tankwright_export::evaluate::{Value, evaluate};
use tankwright_export::returned::form_book;
use tankwright_quantities::decimal;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::problem::Problem;

/// Columns of the form.
pub const WORDS: usize = 1;
/// See [`WORDS`].
pub const UNIT: usize = 2;
/// See [`WORDS`].
pub const QUANTITY: usize = 3;
/// See [`WORDS`].
pub const RATE: usize = 4;
/// See [`WORDS`].
pub const AMOUNT: usize = 5;
/// See [`WORDS`].
pub const MARKS: usize = 7;

/// The workbook of the form with these rates in it, by id of the row; others stay empty.
#[must_use]
pub fn filled(form: &Form, rates: &BTreeMap<String, Decimal>) -> Book {
    let mut book = form_book(form);
    let Some(page) = book.pages.iter_mut().find(|p| p.id == PageId::ToPrice) else { return book };
    let marks: Vec<(u32, String)> = page
        .cells
        .iter()
        .filter_map(|((row, col), cell)| match &cell.content {
            Content::Text(text) if usize::from(*col) == MARKS => {
                Some((*row, text.strip_prefix(MARK)?.to_owned()))
            }
            _ => None,
        })
        .collect();
    for (row, id) in marks {
        if let (Some(rate), Some(cell)) = (rates.get(&id), page.cells.get_mut(&(row, RATE as u16))) {
            // What is not free stays, and the sums show it.
            if cell.content == Content::Blank {
                cell.content = Content::Number(*rate);
            }
        }
    }
    book
}

/// The bill of a filled workbook as rows of text, as a file of it would be read.
#[must_use]
pub fn rows(book: &Book) -> Vec<Row> {
    let values = evaluate(book).unwrap_or_default();
    let mut rows: BTreeMap<u32, Row> = BTreeMap::new();
    for page in book.pages.iter().filter(|p| p.id == PageId::ToPrice) {
        for ((row, col), cell) in &page.cells {
            let at = At { page: page.id, row: *row, col: *col };
            let text = match values.get(&at) {
                Some(Value::Text(text)) => text.clone(),
                Some(Value::Number(n)) => match cell.show {
                    // Money and quantities as a file holds them: no more than their own places.
                    Show::Fixed(places) => decimal::rounded(*n, places).unwrap_or_default().to_string(),
                    _ => decimal::plain(*n),
                },
                _ => String::new(),
            };
            let line = usize::try_from(*row).unwrap_or_default() + 1;
            let entry =
                rows.entry(*row).or_insert_with(|| Row { cells: vec![String::new(); MARKS + 1], line });
            entry.cells[usize::from(*col)] = text;
        }
    }
    rows.into_values().collect()
}

/// The copy that these rows are.
///
/// # Errors
/// Where they are none.
pub fn copy(form: &Form, estimate: &Estimate, rows: &[Row]) -> Result<Copy, Vec<Problem>> {
    let given = Given { file: "copy.xlsx", rows, unread: &[] };
    read(form, &estimate.sheet, wording::builtin(), given).map(|(copy, _)| copy)
}

/// The mark of a row without what stands before it.
#[must_use]
pub fn id(row: &Row) -> &str {
    row.cells.get(MARKS).and_then(|m| m.strip_prefix(MARK)).unwrap_or_default()
}

/// The sum in total as printed.
#[must_use]
pub fn printed(copy: &Copy) -> Option<Decimal> {
    copy.sums.get(&Sum::Total).map(|(_, f)| f.decimal())
}
