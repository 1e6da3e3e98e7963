//! The rows of a returned copy, cell by cell, whatever its columns are called and wherever they stand.

use tankwright_crosscheck::columns::{self, Columns};
use tankwright_crosscheck::rows::Row;
use tankwright_crosscheck::wording::{Column, Wording};

use super::form::MARK;

/// A row of the copy.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Cells {
    /// Line of the file.
    pub(super) line: usize,
    /// Mark, without [`MARK`].
    pub(super) id: String,
    pub(super) reference: String,
    pub(super) words: String,
    pub(super) unit: String,
    pub(super) quantity: String,
    pub(super) rate: String,
    pub(super) amount: String,
    pub(super) remark: String,
    /// Cells of columns that the form does not have.
    pub(super) rest: Vec<String>,
}

impl Cells {
    /// What stands beside the words, in order: the answers of the bidder about himself.
    pub(super) fn beside(&self) -> String {
        let cells = [&self.unit, &self.quantity, &self.rate, &self.amount, &self.remark];
        let cells = cells.into_iter().chain(&self.rest).map(|c| c.trim());
        cells.filter(|c| !c.is_empty()).collect::<Vec<_>>().join(" ")
    }

    /// All of it in one line.
    pub(super) fn whole(&self) -> String {
        let cells = [self.reference.trim(), self.words.trim(), &self.beside()].map(str::to_owned);
        cells.into_iter().filter(|c| !c.is_empty()).collect::<Vec<_>>().join("  ")
    }
}

/// A copy as cells.
#[derive(Clone, Debug, Default)]
pub(super) struct Sheet {
    /// Rows under the heads.
    pub(super) rows: Vec<Cells>,
    /// What stands above them: line and text.
    pub(super) above: Vec<(usize, String)>,
    /// Stamp of the form it was made from.
    pub(super) stamp: Option<String>,
}

/// Reads the rows; `None` where the columns cannot be told.
pub(super) fn read(rows: &[Row], words: &Wording) -> Option<Sheet> {
    let columns = columns::find(rows, words)?;
    let mut sheet = Sheet::default();
    let remarks = columns.head.and_then(|h| rows.get(h)).and_then(remarks);
    for (i, row) in rows.iter().enumerate() {
        let marks = row.cells.iter().find_map(|c| c.strip_prefix(MARK));
        if let Some(stamp) = marks.and_then(|m| m.strip_prefix("form/")) {
            sheet.stamp = Some(stamp.to_owned());
        }
        let heads = columns.head == Some(i) || columns::heads(row, words).len() >= 3;
        if heads || row.cells.iter().all(String::is_empty) {
            continue;
        }
        if columns.head.is_some_and(|head| i < head) {
            let text: Vec<&str> = row.cells.iter().map(String::as_str).filter(|c| !c.is_empty()).collect();
            sheet.above.push((row.line, text.join(" ")));
            continue;
        }
        sheet.rows.push(cells(row, &columns, remarks, marks.unwrap_or_default()));
    }
    Some(sheet)
}

/// The column of remarks, by its head.
fn remarks(head: &Row) -> Option<usize> {
    let is = |cell: &String| {
        let text = cell.to_lowercase();
        ["remark", "comment", "note"].iter().any(|w| text.contains(w))
    };
    head.cells.iter().position(is)
}

fn cells(row: &Row, columns: &Columns, remarks: Option<usize>, id: &str) -> Cells {
    let cell = |c| columns.cell(row, c).to_owned();
    let known = |i: &usize| Some(*i) == remarks || columns.at.values().any(|at| at == i);
    let rest =
        row.cells.iter().enumerate().filter(|(i, c)| !known(i) && !c.is_empty() && !c.starts_with(MARK));
    Cells {
        line: row.line,
        id: id.to_owned(),
        reference: cell(Column::Reference),
        words: cell(Column::Description),
        unit: cell(Column::Unit),
        quantity: cell(Column::Quantity),
        rate: cell(Column::Rate),
        amount: cell(Column::Amount),
        remark: remarks.and_then(|i| row.cells.get(i)).cloned().unwrap_or_default(),
        rest: rest.map(|(_, c)| c.clone()).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use tankwright_crosscheck::rows::of_csv;
    use tankwright_crosscheck::wording::builtin;

    #[test]
    fn columns_in_another_order_and_words_above_them() {
        let csv = "Kato Builders,,,,\nrate (UGX),ref,description,unit,quantity,amount,remarks,tw:form/ab\n\
                   5,A1,dig,m3,2,10,by hand,tw:row/x/\n";
        let sheet = read(&of_csv(csv), builtin()).unwrap_or_default();
        assert_eq!((sheet.above, sheet.stamp), (vec![(1, "Kato Builders".into())], Some("ab".into())));
        let row = &sheet.rows[0];
        assert_eq!((row.id.as_str(), row.rate.as_str(), row.reference.as_str()), ("row/x/", "5", "A1"));
        assert_eq!((row.remark.as_str(), row.rest.len(), row.line), ("by hand", 0, 3));
        assert!(read(&of_csv("only words\nand more\n"), builtin()).is_none());
    }
}
