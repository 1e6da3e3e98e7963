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

/// Widest a column gets where others need the room, the narrowest it is made, and the whole line.
const WIDEST: usize = 44;
const NARROWEST: usize = 12;
const LINE: usize = 100;

/// Columns under their heads, empty ones left out, long cells in lines of words; long sources stand below their row.
fn text(list: &List) -> String {
    let cell = |row: &[String], i: usize| clean(row.get(i).map_or("", String::as_str));
    let long = list.head.last() == Some(&"source")
        && list.rows.iter().any(|r| r.last().is_some_and(|s| s.chars().count() > WIDEST));
    let columns = list.head.len() - usize::from(long);
    let head: Vec<String> = list.head.iter().map(|h| (*h).to_owned()).collect();
    let width = |i: usize| {
        let used = list.rows.iter().map(|r| cell(r, i).chars().count()).max().unwrap_or(0);
        if used == 0 { 0 } else { used.max(cell(&head, i).chars().count()) }
    };
    let widths = fitted((0..columns).map(width).collect());
    let mut out = format!("{}\n", list.name.to_uppercase());
    for row in std::iter::once(&head).chain(&list.rows) {
        let cells = |(i, w): (usize, &usize)| lines(&cell(row, i), *w);
        let cells: Vec<Vec<String>> = widths.iter().enumerate().map(cells).collect();
        for n in 0..cells.iter().map(Vec::len).max().unwrap_or(1).max(1) {
            let mut line = String::from(" ");
            for (part, width) in cells.iter().zip(&widths).filter(|(_, w)| **w > 0) {
                line.push_str(&format!(" {:<width$} ", part.get(n).map_or("", String::as_str)));
            }
            out.push_str(line.trim_end());
            out.push('\n');
        }
        if long {
            words(&mut out, &cell(row, columns), [6, 6]);
        }
    }
    out
}

/// Widths of columns that go into a line, the widest made narrower first.
fn fitted(mut widths: Vec<usize>) -> Vec<usize> {
    while widths.iter().filter(|w| **w > 0).map(|w| w + 2).sum::<usize>() > LINE {
        match widths.iter_mut().max() {
            Some(widest) if *widest > NARROWEST => *widest -= 1,
            _ => break,
        }
    }
    widths
}

/// A text in lines of words no longer than a width; a word that is longer stands alone.
fn lines(text: &str, width: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// A text in lines of words, the first and the others set in.
pub(crate) fn words(out: &mut String, text: &str, [first, others]: [usize; 2]) {
    for (i, line) in lines(text, LINE - others).iter().enumerate() {
        let indent = if i == 0 { first } else { others };
        out.push_str(&format!("{:indent$}{line}\n", ""));
    }
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
        let many = "many words ".repeat(20);
        let wide = List { name: "soils", head: vec!["id", "says"], rows: vec![row("loam", many.trim())] };
        let printed = print(&[wide], Format::Text);
        assert!(
            printed.lines().count() == 5 && printed.lines().all(|l| l.chars().count() <= LINE),
            "{printed}"
        );
        assert_eq!(printed.matches("many").count(), 20);
        let json = print(&list, Format::Json);
        let back: Value = serde_json::from_str(&json).unwrap_or_default();
        assert_eq!(back.pointer("/soils/0/swell"), Some(&Value::from("1.2, so")));
        assert_eq!(back.get("format"), Some(&Value::from(1)));
    }
}
