//! Rows of text with their lines: what every kind of file is turned into before it is read.

use tankwright_quantities::placed;

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

    #[test]
    fn semicolons_and_decimal_commas() {
        let rows = of_csv("item;unit;quantity\n\nwalls; m2 ;13,65\n");
        assert_eq!(rows.len(), 2);
        assert_eq!(rows[1], Row { cells: vec!["walls".into(), "m2".into(), "13,65".into()], line: 3 });
        assert_eq!(of_csv("a,\"b, c\",2\n")[0].cells, ["a", "b, c", "2"]);
    }
}
