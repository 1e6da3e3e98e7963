//! Lists of what is known: for people, for programs, for spreadsheets.

use serde_json::{Map, Value};

use tankwright_export::csv::figure;

use crate::args::Format;
use crate::show::clean;

/// A list with a name, heads and rows of texts.
pub(crate) struct List {
    /// Key in JSON, first column in CSV, heading in text.
    pub(crate) name: &'static str,
    /// Heads.
    pub(crate) head: Vec<&'static str>,
    /// Rows; as many texts as heads.
    pub(crate) rows: Vec<Vec<String>>,
}

/// Prints lists.
pub(crate) fn print(lists: &[List], format: Format) -> String {
    match format {
        Format::Text => lists.iter().map(text).collect::<Vec<_>>().join("\n"),
        Format::Json => json(lists),
        Format::Csv => lists.iter().map(csv).collect::<Vec<_>>().join("\n"),
    }
}

/// Widest a column gets before the last one, and the whole line.
const WIDEST: usize = 44;
const LINE: usize = 100;

/// Columns under their heads, empty ones left out; long sources stand below their row.
fn text(list: &List) -> String {
    let cell = |row: &[String], i: usize| clean(row.get(i).map_or("", String::as_str));
    let long = list.head.last() == Some(&"source")
        && list.rows.iter().any(|r| r.last().is_some_and(|s| s.chars().count() > WIDEST));
    let columns = list.head.len() - usize::from(long);
    let head: Vec<String> = list.head.iter().map(|h| (*h).to_owned()).collect();
    let width = |i: usize| {
        let used = list.rows.iter().map(|r| cell(r, i).chars().count()).max().unwrap_or(0);
        if used == 0 { 0 } else { used.max(cell(&head, i).chars().count()).min(WIDEST) }
    };
    let widths: Vec<usize> = (0..columns).map(width).collect();
    let mut out = format!("{}\n", list.name.to_uppercase());
    for row in std::iter::once(&head).chain(&list.rows) {
        let mut line = String::from(" ");
        for (i, width) in widths.iter().enumerate().filter(|(_, w)| **w > 0) {
            line.push_str(&format!(" {:<width$} ", cell(row, i)));
        }
        out.push_str(line.trim_end());
        out.push('\n');
        if long {
            below(&mut out, &cell(row, columns));
        }
    }
    out
}

/// A long text below its row, in lines of words.
fn below(out: &mut String, text: &str) {
    let mut width = LINE;
    for word in text.split_whitespace() {
        let n = word.chars().count();
        if width + 1 + n > LINE {
            if width < LINE {
                out.push('\n');
            }
            out.push_str("      ");
            width = 6;
        } else {
            out.push(' ');
            width += 1;
        }
        out.push_str(word);
        width += n;
    }
    out.push('\n');
}

fn json(lists: &[List]) -> String {
    let object = |list: &List, row: &Vec<String>| {
        let pairs = list.head.iter().zip(row).map(|(h, t)| ((*h).to_owned(), Value::from(t.as_str())));
        Value::Object(pairs.collect())
    };
    let mut all = Map::new();
    all.insert("format".to_owned(), Value::from(1));
    for list in lists {
        all.insert(list.name.to_owned(), list.rows.iter().map(|r| object(list, r)).collect());
    }
    format!("{:#}\n", Value::Object(all))
}

fn csv(list: &List) -> String {
    let mut writer = csv::WriterBuilder::new().from_writer(Vec::new());
    let head = std::iter::once("list").chain(list.head.iter().copied());
    // Writing to memory does not fail.
    let _ = writer.write_record(head);
    for row in &list.rows {
        let _ =
            writer.write_record(std::iter::once(list.name.to_owned()).chain(row.iter().map(|c| figure(c))));
    }
    writer.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_list_three_ways() {
        let row = |a: &str, b: &str| vec![a.to_owned(), b.to_owned()];
        let list = [List {
            name: "soils",
            head: vec!["id", "swell"],
            rows: vec![row("loam", "1.2, so"), row("clay-firm", "")],
        }];
        assert_eq!(
            print(&list, Format::Text),
            "SOILS\n  id         swell\n  loam       1.2, so\n  clay-firm\n"
        );
        assert_eq!(print(&list, Format::Csv), "list,id,swell\nsoils,loam,\"1.2, so\"\nsoils,clay-firm,\n");
        let json = print(&list, Format::Json);
        let back: Value = serde_json::from_str(&json).unwrap_or_default();
        assert_eq!(back.pointer("/soils/0/swell"), Some(&Value::from("1.2, so")));
        assert_eq!(back.get("format"), Some(&Value::from(1)));
    }
}
