//! A file as sheets.

use std::io::Cursor;
use std::panic::{AssertUnwindSafe, catch_unwind};

use calamine::{Dimensions, Reader, SheetType, Xlsx, XlsxError};

use crate::unpack::look_over;
use crate::{Cell, Limits, Sheet, Trouble, cell};

/// How files of before 2007, and locked ones, begin.
const OLD: [u8; 4] = [0xd0, 0xcf, 0x11, 0xe0];

/// Reads every sheet of a spreadsheet file (XLSX), in order.
///
/// # Errors
/// See [`Trouble`].
pub fn read(bytes: &[u8], limits: &Limits) -> Result<Vec<Sheet>, Trouble> {
    if bytes.len() > limits.file {
        return Err(Trouble::TooLarge("bytes", u64::try_from(limits.file).unwrap_or(u64::MAX)));
    }
    if bytes.starts_with(&OLD) {
        return Err(Trouble::OldOrLocked);
    }
    let largest = look_over(bytes, limits)?;
    // The library has not promised to take every file calmly.
    let read = catch_unwind(AssertUnwindSafe(|| sheets(bytes, largest, limits)));
    read.unwrap_or_else(|_| Err(Trouble::Damaged(String::new())))
}

/// One part can be named as many sheets, and is read for each: so often the limit of what is unpacked.
const AGAIN: u64 = 10;
/// Places in rows to a cell with something in it: rows are as long as their last cell.
const PLACES: usize = 4;

/// What is left of the limits.
struct Left {
    cells: usize,
    text: usize,
    /// Rows and places in rows, empty ones too.
    places: usize,
    /// Places that merged ranges go over.
    merged: usize,
}

impl Left {
    fn new(limits: &Limits) -> Self {
        let places = limits.cells.saturating_mul(PLACES);
        Self { cells: limits.cells, text: limits.text, places, merged: places }
    }

    fn take(&mut self, cell: &Cell, limits: &Limits) -> Result<(), Trouble> {
        spend(&mut self.cells, 1, "cells", limits.cells)?;
        spend(&mut self.text, cell.text.len(), "bytes of text", limits.text)
    }
}

fn spend(left: &mut usize, cost: usize, what: &'static str, limit: usize) -> Result<(), Trouble> {
    let large = || Trouble::TooLarge(what, u64::try_from(limit).unwrap_or(u64::MAX));
    *left = left.checked_sub(cost).ok_or_else(large)?;
    Ok(())
}

fn sheets(bytes: &[u8], largest: u64, limits: &Limits) -> Result<Vec<Sheet>, Trouble> {
    let damaged = |e: XlsxError| Trouble::Damaged(e.to_string());
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).map_err(damaged)?;
    let known = book.sheets_metadata().iter().filter(|s| s.typ == SheetType::WorkSheet);
    let names: Vec<String> = known.map(|s| s.name.clone()).collect();
    let again = u64::try_from(names.len()).unwrap_or(u64::MAX).saturating_mul(largest);
    let most = limits.unpacked.saturating_mul(AGAIN);
    if again > most {
        return Err(Trouble::TooLarge("bytes, sheet by sheet", most));
    }
    let mut left = Left::new(limits);
    let mut sheets = Vec::new();
    for name in names {
        let mut sheet = Sheet { name, rows: Vec::new() };
        let mut cells = book.worksheet_cells_reader(&sheet.name).map_err(damaged)?;
        while let Some(found) = cells.next_cell().map_err(damaged)? {
            let Some(cell) = cell::of(found.get_value()) else { continue };
            left.take(&cell, limits)?;
            let (row, column) = found.get_position();
            put(&mut sheet, (row, column), cell, &mut left, limits)?;
        }
        drop(cells);
        let merged = book.merge_cells_by_sheet_name(&sheet.name).map_err(damaged)?;
        let width = sheet.rows.iter().map(Vec::len).max().unwrap_or(0);
        for range in merged {
            fill(&mut sheet, &range, width, &mut left, limits)?;
        }
        sheets.push(sheet);
    }
    Ok(sheets)
}

fn put(
    sheet: &mut Sheet,
    (row, column): (u32, u32),
    cell: Cell,
    left: &mut Left,
    limits: &Limits,
) -> Result<(), Trouble> {
    let at = |n: u32| usize::try_from(n).unwrap_or(usize::MAX);
    let large = |what, n: usize| Trouble::TooLarge(what, u64::try_from(n).unwrap_or(u64::MAX));
    let (row, column) = (at(row), at(column));
    if row >= limits.rows {
        return Err(large("rows", limits.rows));
    }
    if column >= limits.columns {
        return Err(large("columns", limits.columns));
    }
    let places = (limits.cells.saturating_mul(PLACES), "cells, empty ones between them too");
    if let Some(more) = (row + 1).checked_sub(sheet.rows.len()) {
        spend(&mut left.places, more, places.1, places.0)?;
        sheet.rows.resize_with(row + 1, Vec::new);
    }
    if let Some(cells) = sheet.rows.get_mut(row) {
        if let Some(more) = (column + 1).checked_sub(cells.len()) {
            spend(&mut left.places, more, places.1, places.0)?;
            cells.resize_with(column + 1, Cell::default);
        }
        cells.get_mut(column).into_iter().for_each(|c| *c = cell.clone());
    }
    Ok(())
}

/// Each cell of a merged range reads as the range does; only as far as the sheet is used.
fn fill(
    sheet: &mut Sheet,
    range: &Dimensions,
    width: usize,
    left: &mut Left,
    limits: &Limits,
) -> Result<(), Trouble> {
    let at = |n: u32| usize::try_from(n).unwrap_or(usize::MAX);
    let first = sheet.rows.get(at(range.start.0)).and_then(|r| r.get(at(range.start.1))).cloned();
    let Some(first) = first.filter(|c| !c.text.is_empty()) else { return Ok(()) };
    let last_row = range.end.0.min(u32::try_from(sheet.rows.len()).unwrap_or(u32::MAX).saturating_sub(1));
    let last_column = range.end.1.min(u32::try_from(width).unwrap_or(u32::MAX).saturating_sub(1));
    for row in range.start.0..=last_row {
        for column in range.start.1..=last_column {
            spend(&mut left.merged, 1, "merged cells", limits.cells.saturating_mul(PLACES))?;
            let empty =
                sheet.rows.get(at(row)).and_then(|r| r.get(at(column))).is_none_or(|c| c.text.is_empty());
            if empty {
                left.take(&first, limits)?;
                put(sheet, (row, column), first.clone(), left, limits)?;
            }
        }
    }
    Ok(())
}
