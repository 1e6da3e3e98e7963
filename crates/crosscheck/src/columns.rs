//! Which column of a second take-off holds what: by its heads, or by the shape of its cells.

use std::collections::BTreeMap;

use crate::figure;
use crate::rows::Row;
use crate::wording::{Column, Wording};

/// Columns by what they hold, and the row of heads.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Columns {
    /// Places in a row, from 0.
    pub at: BTreeMap<Column, usize>,
    /// Index of the row of heads.
    pub head: Option<usize>,
}

impl Columns {
    /// The cell of a column; empty where there is none.
    #[must_use]
    pub fn cell<'r>(&self, row: &'r Row, column: Column) -> &'r str {
        self.at.get(&column).and_then(|i| row.cells.get(*i)).map_or("", |c| c.as_str())
    }
}

/// How far down heads may stand.
const HEADS_WITHIN: usize = 25;

/// Finds the columns; `None` where neither heads nor shape tell the words and a figure.
#[must_use]
pub fn find(rows: &[Row], words: &Wording) -> Option<Columns> {
    by_heads(rows, words).or_else(|| by_shape(rows, words))
}

/// The columns a row of heads names; the first of two that have the same head.
#[must_use]
pub fn heads(row: &Row, words: &Wording) -> BTreeMap<Column, usize> {
    let mut at = BTreeMap::new();
    for (i, cell) in row.cells.iter().enumerate() {
        if let Some(column) = words.head(cell) {
            at.entry(column).or_insert(i);
        }
    }
    // "Item" heads the words where nothing else does.
    if !at.contains_key(&Column::Description)
        && let Some(i) = at.remove(&Column::Reference)
    {
        at.insert(Column::Description, i);
    }
    at
}

fn by_heads(rows: &[Row], words: &Wording) -> Option<Columns> {
    let figured = |at: &BTreeMap<Column, usize>| {
        at.len() >= 2
            && at.contains_key(&Column::Description)
            && [Column::Quantity, Column::Amount, Column::Length].iter().any(|c| at.contains_key(c))
    };
    let found = rows.iter().take(HEADS_WITHIN).enumerate().map(|(i, row)| (i, heads(row, words)));
    let (i, at) = found.into_iter().find(|(_, at)| figured(at))?;
    Some(Columns { at, head: Some(i) })
}

fn by_shape(rows: &[Row], words: &Wording) -> Option<Columns> {
    let width = rows.iter().map(|r| r.cells.len()).max()?;
    let cells = |i: usize| rows.iter().filter_map(move |r| r.cells.get(i)).filter(|c| !c.is_empty());
    let figures = |i: usize| cells(i).filter(|c| figure::read(c).is_some()).count();
    let letters = |i: usize| {
        let words = |c: &String| c.chars().filter(|c| c.is_alphabetic()).count();
        cells(i).map(words).sum::<usize>()
    };
    let mut at = BTreeMap::new();
    let units = |i: usize| cells(i).filter(|c| words.unit(c).is_some()).count();
    let unit = (0..width).filter(|i| units(*i) * 2 > cells(*i).count()).max_by_key(|i| units(*i));
    let text = (0..width).filter(|i| Some(*i) != unit).max_by_key(|i| letters(*i));
    let text = text.filter(|i| letters(*i) > 0)?;
    at.insert(Column::Description, text);
    at.extend(unit.map(|i| (Column::Unit, i)));
    let numeric: Vec<usize> = (0..width)
        .filter(|i| *i != text && Some(*i) != unit && figures(*i) > 0 && figures(*i) * 2 > cells(*i).count())
        .filter(|i| *i > text || !numbering(rows, *i))
        .collect();
    let after: Vec<usize> = numeric.iter().copied().filter(|i| unit.is_none_or(|u| *i > u)).collect();
    let of = if after.is_empty() { numeric } else { after };
    at.extend([Column::Quantity, Column::Rate, Column::Amount].into_iter().zip(of));
    at.contains_key(&Column::Quantity).then_some(Columns { at, head: None })
}

/// Whole numbers that only grow are somebody's numbering.
fn numbering(rows: &[Row], i: usize) -> bool {
    let all: Vec<_> = rows.iter().filter_map(|r| figure::read(r.cells.get(i)?)).collect();
    all.iter().all(|f| f.value.denom() == 1) && all.windows(2).all(|w| w[0].value < w[1].value)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rows::of_csv;
    use crate::wording::builtin;

    #[test]
    fn by_heads_in_any_order_below_a_title() {
        let rows = of_csv("BILL No. 2,,,\nQty,Unit,Description,Rate\n13.65,m2,walls,5\n");
        let found = find(&rows, builtin()).unwrap_or_default();
        assert_eq!(found.head, Some(1));
        let at = [Column::Quantity, Column::Unit, Column::Description, Column::Rate].map(|c| found.at[&c]);
        assert_eq!(at, [0, 1, 2, 3]);
    }

    #[test]
    fn by_shape_where_nobody_wrote_heads() {
        let rows = of_csv("1,Walls of bricks,m2,13.65,100,1365\n2,Concrete in base,m3,1.03,500,515\n");
        let found = find(&rows, builtin()).unwrap_or_default();
        let order = [Column::Description, Column::Unit, Column::Quantity, Column::Rate, Column::Amount];
        assert_eq!(order.map(|c| found.at[&c]), [1, 2, 3, 4, 5]);
        assert!(find(&of_csv("only,words\nhere,too\n"), builtin()).is_none());
    }
}
