//! A sheet as rows of cells, and as lines of text that messages can quote.

use std::collections::BTreeSet;

/// A cell with something in it, or nothing.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Cell {
    /// As read, on one line; empty where the cell is.
    pub text: String,
    /// The spreadsheet holds it as a number: it has a decimal point and nothing between thousands.
    pub number: bool,
}

/// A sheet. Row 1 of the spreadsheet is `rows[0]`; empty rows before and between are kept.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sheet {
    /// Its name.
    pub name: String,
    /// Cells by row and column, without empty ones at the ends of rows. Each cell of a merged range holds its text.
    pub rows: Vec<Vec<Cell>>,
}

impl Sheet {
    /// One line a row, cells parted by commas as in CSV: line n is row n.
    #[must_use]
    pub fn csv(&self) -> String {
        let mut text = String::new();
        for row in &self.rows {
            for (i, cell) in row.iter().enumerate() {
                if i > 0 {
                    text.push(',');
                }
                if cell.text.contains([',', '"']) {
                    text.push_str(&format!("\"{}\"", cell.text.replace('"', "\"\"")));
                } else {
                    text.push_str(&cell.text);
                }
            }
            text.push('\n');
        }
        text
    }

    /// Row (from 1) and column (from 0) of the cells that hold numbers.
    #[must_use]
    pub fn numbers(&self) -> BTreeSet<(usize, usize)> {
        let of_row = |(i, row): (usize, &Vec<Cell>)| {
            let at: Vec<_> =
                row.iter().enumerate().filter(|(_, c)| c.number).map(|(j, _)| (i + 1, j)).collect();
            at
        };
        self.rows.iter().enumerate().flat_map(of_row).collect()
    }
}

/// The name of a cell, row and column from 1: `C7`.
#[must_use]
pub fn address(row: usize, column: usize) -> String {
    let mut letters = Vec::new();
    let mut left = column;
    while left > 0 {
        let letter = u8::try_from((left - 1) % 26).unwrap_or(0);
        letters.push(char::from(b'A' + letter));
        left = (left - 1) / 26;
    }
    letters.iter().rev().collect::<String>() + &row.to_string()
}
