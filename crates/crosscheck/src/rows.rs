//! Rows of text with their lines: what every kind of file is turned into before it is read.

use std::collections::BTreeSet;

use tankwright_quantities::placed;

use crate::columns;
use crate::wording::{Column, Wording};

/// A spreadsheet drops zeros at the end of a number; no more of them than this are put back.
const ZEROS: usize = 3;

/// A row of cells.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Row {
    /// Cells as texts, blanks around them taken off.
    pub cells: Vec<String>,
    /// Line of the file, from 1.
    pub line: usize,
}

/// Rows of a CSV text; cells may be parted by commas, semicolons or tabs, whichever stands in most lines.
#[must_use]
pub fn of_csv(text: &str) -> Vec<Row> {
    let of = |mark: char| text.lines().filter(|l| l.contains(mark)).count();
    let mark = if of('\t') > of(',') && of('\t') >= of(';') {
        '\t'
    } else if of(';') > of(',') {
        ';'
    } else {
        ','
    };
    let text = if mark == ',' { text.to_owned() } else { quoted(text, mark) };
    let cells = |r: &placed::PlacedRow| r.cells.iter().map(|c| c.trim().to_owned()).collect();
    placed::rows(&text).iter().map(|r| Row { cells: cells(r), line: r.line }).collect()
}

/// Rows of a sheet as text, cells parted by commas; `numbers`: line and place of cells that hold numbers. These have lost
/// the zeros at their ends (2.40 comes as 2.4): in the column of quantities they get them back, as far as the others have
/// places, so that 2.4 is not taken for a figure known to one place only. Words merged over several columns are words
/// of the first of them.
#[must_use]
pub fn of_sheet(text: &str, numbers: &BTreeSet<(usize, usize)>, words: &Wording) -> Vec<Row> {
    let cells = |r: &placed::PlacedRow| r.cells.iter().map(|c| c.trim().to_owned()).collect();
    let mut rows: Vec<Row> =
        placed::rows(text).iter().map(|r| Row { cells: cells(r), line: r.line }).collect();
    let Some(found) = columns::find(&rows, words) else { return rows };
    for row in &mut rows {
        let words = found.cell(row, Column::Description).to_owned();
        let merged = |i: usize, c: &String| found.at.get(&Column::Description) != Some(&i) && *c == words;
        if words.chars().any(char::is_alphabetic) {
            row.cells.iter_mut().enumerate().filter(|(i, c)| merged(*i, c)).for_each(|(_, c)| c.clear());
        }
    }
    let Some(&at) = found.at.get(&Column::Quantity) else { return rows };
    let counted = |row: &Row| {
        words.unit(found.cell(row, Column::Unit)).is_some_and(|u| matches!(u.is.as_str(), "nr" | "item"))
    };
    let measured: Vec<bool> = rows.iter().map(|r| numbers.contains(&(r.line, at)) && !counted(r)).collect();
    let places = |cell: &String| cell.split_once('.').map_or(0, |(_, part)| part.len());
    let of_rows = rows.iter().zip(&measured).filter(|(_, m)| **m).filter_map(|(r, _)| r.cells.get(at));
    let usual = of_rows.map(places).max().unwrap_or(0).min(ZEROS);
    for (row, _) in rows.iter_mut().zip(&measured).filter(|(_, m)| **m) {
        let Some(cell) =
            row.cells.get_mut(at).filter(|c| c.bytes().all(|b| matches!(b, b'0'..=b'9' | b'.' | b'-')))
        else {
            continue;
        };
        let lacks = usual.saturating_sub(places(cell));
        if lacks > 0 && !cell.contains('.') {
            cell.push('.');
        }
        cell.push_str(&"0".repeat(lacks));
    }
    rows
}

/// How well rows look like a take-off or a bill: 2 by the heads of their columns, 1 by the shape of their cells, 0 not.
#[must_use]
pub fn looks_like_a_list(rows: &[Row], words: &Wording) -> u8 {
    columns::find(rows, words).map_or(0, |found| if found.head.is_some() { 2 } else { 1 })
}

/// With commas between the cells: a cell that has one gets quotes.
fn quoted(text: &str, mark: char) -> String {
    let mut out = String::with_capacity(text.len());
    let mut inside = false;
    for line in text.split_inclusive('\n') {
        let end = line.trim_end_matches(['\r', '\n']);
        let mut cells = vec![String::new()];
        for c in end.chars() {
            if c == '"' {
                inside = !inside;
            }
            match cells.last_mut() {
                _ if c == mark && !inside => cells.push(String::new()),
                Some(cell) => cell.push(c),
                None => {}
            }
        }
        let cell = |c: &String| {
            if c.contains(',') && !c.starts_with('"') { format!("\"{c}\"") } else { c.clone() }
        };
        out.push_str(&cells.iter().map(cell).collect::<Vec<_>>().join(","));
        out.push_str(line.get(end.len()..).unwrap_or_default());
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wording::builtin;

    #[test]
    fn numbers_of_a_sheet_get_their_zeros_back() {
        let text = "Item,Unit,Qty\n\nWalls,m2,2.4\nBase,m3,0.341\nPipe,m,15\nTees,nr,2\nFloor,m2,1.5\n";
        let numbers = BTreeSet::from([(3, 2), (4, 2), (5, 2), (6, 2)]);
        let rows = of_sheet(text, &numbers, builtin());
        let cells: Vec<(usize, &str)> = rows.iter().skip(1).map(|r| (r.line, r.cells[2].as_str())).collect();
        // Row 7 is a text: it stays as its writer wrote it.
        assert_eq!(cells, [(3, "2.400"), (4, "0.341"), (5, "15.000"), (6, "2"), (7, "1.5")]);
        assert_eq!(looks_like_a_list(&rows, builtin()), 2);
        assert_eq!(looks_like_a_list(&of_sheet("Kato Builders\n", &numbers, builtin()), builtin()), 0);
    }

    #[test]
    fn semicolons_and_decimal_commas() {
        let rows = of_csv("item;unit;quantity\n\nwalls; m2 ;13,65\n");
        assert_eq!(rows.len(), 2);
        assert_eq!(rows[1], Row { cells: vec!["walls".into(), "m2".into(), "13,65".into()], line: 3 });
        assert_eq!(of_csv("a,\"b, c\",2\n")[0].cells, ["a", "b, c", "2"]);
    }
}
