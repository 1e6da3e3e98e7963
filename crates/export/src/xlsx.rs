//! The spreadsheet file: the only place where a decimal becomes a binary number.

use rust_decimal::Decimal;
use rust_xlsxwriter::{
    DataValidation, DataValidationRule, DocProperties, ExcelDateTime, Format, Formula, Workbook, Worksheet,
    XlsxError,
};
use tankwright_quantities::halves::in_halves;
use tankwright_quantities::problem::Problem;

use crate::book::{Book, word};
use crate::cells::{Allow, At, Cell, Content, Look, Page};
use crate::evaluate::{Value, Values};
use crate::figures;
use crate::paper::set_up;
use crate::sizes::{Sizes, valued};

mod looks;

pub(crate) use looks::money_mask;
use looks::{How, Looks};

/// Most characters a spreadsheet holds in a cell, and in a formula.
const LONGEST_TEXT: usize = 32_767;
const LONGEST_FORMULA: usize = 8_192;
/// Of 1 to 9. Half the time of the usual 6 for a file a tenth larger.
const COMPRESSION: u8 = 2;

/// Writes the book with its evaluated cells; the same book gives the same bytes.
///
/// # Errors
/// X103 where the job's date, a name or a formula cannot stand in a spreadsheet file.
pub fn write(book: &Book, values: &Values) -> Result<Vec<u8>, Vec<Problem>> {
    illustrated(book, values, &[])
}

/// The same with the dots of its pictures, as PNG, in the order in which the book was given them.
///
/// # Errors
/// As [`write()`]; and where a picture is no PNG.
pub fn illustrated(book: &Book, values: &Values, dots: &[Vec<u8>]) -> Result<Vec<u8>, Vec<Problem>> {
    file(book, values, dots).map_err(|e| {
        let text = format!("the workbook cannot be written: {e}");
        vec![Problem::error("X103", None, text)]
    })
}

fn file(book: &Book, values: &Values, dots: &[Vec<u8>]) -> Result<Vec<u8>, XlsxError> {
    let mut file = Workbook::new();
    let made = ExcelDateTime::parse_from_str(&book.date)?;
    let title: String = book.title.chars().take(200).collect();
    file.set_properties(&DocProperties::new().set_title(title).set_creation_datetime(&made));
    file.set_zip_compression_level(COMPRESSION);
    // No sheet knows of another.
    let sheets = in_halves(&book.pages, |page| page.cells.len(), |page| sheet(page, values, book));
    for (page, sheet) in book.pages.iter().zip(sheets) {
        let mut sheet = sheet?;
        figures::put(&mut sheet, page, dots, book.grouping)?;
        file.push_worksheet(sheet);
    }
    for (name, at) in &book.names {
        file.define_name(name.as_str(), &format!("={}", at.fixed()))?;
    }
    file.save_to_buffer()
}

fn sheet(page: &Page, values: &Values, book: &Book) -> Result<Worksheet, XlsxError> {
    let mut sheet = Worksheet::new();
    sheet.set_name(page.id.tab())?;
    let sizes = Sizes::of(page, values);
    set_up(&mut sheet, page, &sizes, &book.title)?;
    let mut looks = Looks::default();
    for ((row, col), cell, value) in valued(page, values) {
        let quoted = matches!(&cell.content, Content::Text(t) if t.starts_with(['=', '+', '-', '@']));
        let how = How {
            look: cell.look,
            show: cell.show,
            text: matches!(cell.content, Content::Text(_)),
            wrap: sizes.wraps(row, col),
            right: cell.look == Look::Head && sizes.numbers(col),
            quoted,
            grouping: book.grouping,
        };
        put(&mut sheet, At { page: page.id, row, col }, cell, value)?;
        looks.add(&mut sheet, row, col, how)?;
    }
    looks.end(&mut sheet)?;
    for (col, width) in sizes.widths() {
        sheet.set_column_width(col, width)?;
    }
    for (row, points) in sizes.heights() {
        sheet.set_row_height(*row, *points)?;
    }
    if let Some(col) = page.hidden {
        sheet.set_column_hidden(col)?;
    }
    if page.locked {
        sheet.protect();
    }
    Ok(sheet)
}

fn put(sheet: &mut Worksheet, at: At, cell: &Cell, value: Option<&Value>) -> Result<(), XlsxError> {
    let (row, col) = (at.row, at.col);
    match &cell.content {
        Content::Text(text) if !text.is_empty() => {
            sheet.write_string(row, col, fitting(text))?;
        }
        Content::Blank | Content::Text(_) => {
            sheet.write_blank(row, col, &Format::default())?;
        }
        Content::Number(number) => {
            sheet.write_number(row, col, binary(*number))?;
        }
        Content::Formula(expr) => {
            let text = expr.text(at.page);
            if text.len() >= LONGEST_FORMULA {
                return Err(XlsxError::ParameterError(format!("the formula of {} is too long", at.fixed())));
            }
            let result = match value {
                Some(Value::Text(text)) => text.clone(),
                Some(Value::Truth(true)) => "TRUE".to_owned(),
                Some(Value::Truth(false)) => "FALSE".to_owned(),
                Some(number) => binary(number.decimal().unwrap_or_default()).to_string(),
                None => String::new(),
            };
            let formula = Formula::new(format!("={text}")).set_result(result);
            sheet.write_formula(row, col, formula)?;
        }
    }
    if let Some(allow) = cell.allow.filter(|a| *a != Allow::Free) {
        sheet.add_data_validation(row, col, row, col, &validation(allow)?)?;
    }
    Ok(())
}

/// The nearest binary number, by way of the digits.
fn binary(number: Decimal) -> f64 {
    number.normalize().to_string().parse().unwrap_or_default()
}

/// A text cut to what a cell holds, and saying so.
fn fitting(text: &str) -> String {
    if text.encode_utf16().count() <= LONGEST_TEXT {
        return text.to_owned();
    }
    let tail = word("book-cut");
    let mut room = LONGEST_TEXT.saturating_sub(tail.encode_utf16().count());
    let kept = text.chars().take_while(|c| match room.checked_sub(c.len_utf16()) {
        Some(left) => {
            room = left;
            true
        }
        None => false,
    });
    let mut kept: String = kept.collect();
    kept.push_str(&tail);
    kept
}

fn validation(allow: Allow) -> Result<DataValidation, XlsxError> {
    let number = DataValidation::new().ignore_blank(false).set_error_title(word("book-refused"))?;
    let (rule, message) = match allow {
        Allow::Positive => (DataValidationRule::GreaterThan(0.0), "book-above-zero"),
        Allow::NotNegative => (DataValidationRule::GreaterThanOrEqualTo(0.0), "book-not-below-zero"),
        Allow::Zero => (DataValidationRule::EqualTo(0.0), "book-zero-is-structure"),
        Allow::Any | Allow::Free => (DataValidationRule::Between(-1e12, 1e12), "book-any-sign"),
    };
    number.allow_decimal_number(rule).set_error_message(word(message))
}

#[cfg(test)]
mod tests {
    use std::io::Cursor;

    use calamine::{Data, Reader, Xlsx};

    use super::*;
    use crate::evaluate::evaluate;

    fn written(book: &Book) -> Result<Vec<u8>, Vec<Problem>> {
        write(book, &evaluate(book)?)
    }
    use crate::book::workbook;
    use crate::cells::{PageId, Show};
    use crate::fixture::estimate;

    type Outcome = Result<(), Box<dyn std::error::Error>>;

    fn book() -> Book {
        workbook(&estimate()).unwrap_or_default()
    }

    #[test]
    fn formulas_and_stored_results_come_back_as_the_tree_has_them() -> Outcome {
        let book = book();
        let values = evaluate(&book).map_err(|p| format!("{p:?}"))?;
        let bytes = written(&book).map_err(|p| format!("{p:?}"))?;
        let mut file: Xlsx<_> = Xlsx::new(Cursor::new(bytes))?;
        assert_eq!(file.sheet_names(), book.pages.iter().map(|p| p.id.tab()).collect::<Vec<_>>());
        let mut seen = 0;
        for page in &book.pages {
            let (cells, formulas) =
                (file.worksheet_range(page.id.tab())?, file.worksheet_formula(page.id.tab())?);
            for (&(row, col), cell) in &page.cells {
                let place = (row, u32::from(col));
                let at = At { page: page.id, row, col };
                let formula = formulas.get_value(place).map_or("", |f| f.as_str());
                let expected = match &cell.content {
                    Content::Formula(expr) => expr.text(page.id),
                    _ => String::new(),
                };
                assert_eq!(formula, expected, "{}", at.fixed());
                let stored = cells.get_value(place).unwrap_or(&Data::Empty);
                match values.get(&at) {
                    Some(Value::Text(text)) => assert_eq!(stored, &Data::String(text.clone())),
                    Some(Value::Truth(truth)) => assert_eq!(stored, &Data::Bool(*truth)),
                    Some(number) => {
                        let number = number.decimal().ok_or("a number")?;
                        assert_eq!(stored, &Data::Float(binary(number)), "{}", at.fixed());
                    }
                    None => return Err(format!("{} has no value", at.fixed()).into()),
                }
                seen += 1;
            }
        }
        assert!(seen > 300);
        Ok(())
    }

    #[test]
    fn a_cell_to_be_filled_in_is_there_though_nothing_stands_in_it() -> Outcome {
        let mut book = book();
        let rates = book.pages.iter_mut().find(|p| p.id == PageId::Rates).ok_or("rates")?;
        let row = rates.cells.keys().map(|k| k.0).max().unwrap_or(0) + 3;
        let col = rates.cells.keys().map(|k| k.1).max().unwrap_or(0) + 1;
        rates.cells.insert((row, col), Cell::blank(Allow::NotNegative, Show::Money(2)));
        let bytes = written(&book).map_err(|p| format!("{p:?}"))?;
        let mut file: Xlsx<_> = Xlsx::new(Cursor::new(bytes))?;
        let reader = file.worksheet_cells_reader(PageId::Rates.tab())?;
        assert_eq!(reader.dimensions().end, (row, u32::from(col)));
        Ok(())
    }

    #[test]
    fn names_stand_in_the_file() -> Outcome {
        let bytes = written(&book()).map_err(|p| format!("{p:?}"))?;
        let file: Xlsx<_> = Xlsx::new(Cursor::new(bytes))?;
        let names = file.defined_names();
        for (name, place) in [
            ("in_tank_chambers_0", "Inputs!$B$4"),
            ("rate_A1", "Rates!$E$4"),
            ("pi_declared", "Inputs!$B$20"),
        ] {
            assert!(names.iter().any(|(n, p)| n == name && p == place), "{name}: {names:?}");
        }
        Ok(())
    }

    #[test]
    fn the_same_job_gives_the_same_bytes() {
        let first = written(&book());
        assert!(first.is_ok());
        assert_eq!(first, written(&book()));
    }

    #[test]
    fn a_date_that_is_none_is_reported() {
        for date in ["", "2026-13-01", "tomorrow"] {
            let book = Book { date: date.into(), ..book() };
            assert_eq!(written(&book).err().and_then(|p| p.first().map(|p| p.code)), Some("X103"), "{date}");
        }
    }

    #[test]
    fn a_text_too_long_says_that_it_was_cut() {
        let text = fitting(&"\u{1F600}".repeat(20_000));
        assert!(text.encode_utf16().count() <= LONGEST_TEXT);
        assert!(text.ends_with(word("book-cut").as_str()));
        let mut book = book();
        if let Some(page) = book.pages.iter_mut().find(|p| p.id == PageId::Summary) {
            page.text(99, 0, "x".repeat(40_000));
        }
        assert!(written(&book).is_ok());
    }
}
