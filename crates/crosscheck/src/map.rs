//! The map: how each line was understood, as a file that its reader corrects and gives back.

use std::collections::BTreeMap;

use tankwright_quantities::problem::{Place, Problem};

use crate::report::Mapped;
use crate::rows::of_csv;
use crate::world::Pick;

/// Columns as written.
const COLUMNS: [&str; 6] = ["line", "work", "sure", "perhaps", "quantity", "text"];
/// What is written for a line that is to be left out.
pub const LEAVE_OUT: &str = "-";

/// What a map says of lines: what each is, `None` to leave it out. Lines without a work are understood anew.
pub type Map = BTreeMap<usize, Option<Vec<Pick>>>;

/// The map as CSV.
#[must_use]
pub fn write(lines: &[Mapped]) -> String {
    let mut out = format!("{}\r\n", COLUMNS.join(","));
    for l in lines {
        let sure = if l.sure { "yes" } else { "no" };
        let (perhaps, line) = (l.perhaps.join(" | "), l.line.to_string());
        let cells = [line.as_str(), &l.works, sure, &perhaps, &l.quantity, &l.text];
        let cells: Vec<String> = cells.iter().enumerate().map(|(i, c)| cell(c, i > 2)).collect();
        out.push_str(&format!("{}\r\n", cells.join(",")));
    }
    out
}

/// Quoted where it must be; a text that a spreadsheet would take for a formula gets a quote before it.
fn cell(text: &str, free: bool) -> String {
    let text = text.replace(['\r', '\n'], " ");
    let risky = free && text.starts_with(['=', '+', '-', '@', '\t']);
    let text = if risky { format!("'{text}") } else { text };
    if text.contains([',', '"']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text }
}

/// Reads a map; `lines` are those of the list, `known` says whether the job has a work.
///
/// # Errors
/// `T004` to `T006`, all of them.
pub fn read(
    file: &str,
    text: &str,
    lines: &[usize],
    known: &dyn Fn(&str) -> bool,
) -> Result<Map, Vec<Problem>> {
    let rows = of_csv(text);
    let place = |line| Some(Place { file: file.to_owned(), span: 0..0, line });
    let head: Vec<String> =
        rows.first().map(|r| r.cells.iter().map(|c| c.to_lowercase()).collect()).unwrap_or_default();
    let [line, work] = ["line", "work"].map(|name| head.iter().position(|h| h == name));
    let (Some(line), Some(work)) = (line, work) else {
        let problem = Problem::error("T004", place(1), "the map has no columns `line` and `work`");
        return Err(vec![problem.hint("leave the file away: the program writes a new one")]);
    };
    let (mut map, mut problems) = (Map::new(), Vec::new());
    for row in rows.iter().skip(1) {
        let cell = |i: usize| row.cells.get(i).map_or("", |c| c.as_str());
        let number = cell(line).parse::<usize>().ok().filter(|n| lines.contains(n));
        let Some(number) = number else {
            let message = format!("the list has no line `{}`", cell(line));
            let problem = Problem::error("T005", place(row.line), message);
            problems.push(problem.hint("was the list changed since? then write a new map"));
            continue;
        };
        let said = cell(work);
        let parts: Vec<&str> = said.split('+').map(str::trim).filter(|p| !p.is_empty()).collect();
        if said == LEAVE_OUT {
            map.insert(number, None);
        } else if let Some(wrong) = parts.iter().find(|p| !known(p)) {
            let message = format!("this job has no work `{wrong}`");
            let problem = Problem::error("T006", place(row.line), message);
            let hint = "ids as `tankwright rules works` lists them, `work/specification` for one of several, `-` to leave the line out";
            problems.push(problem.hint(hint));
        } else if !parts.is_empty() {
            map.insert(number, Some(parts.iter().map(|p| pick(p)).collect()));
        }
    }
    if problems.is_empty() { Ok(map) } else { Err(problems) }
}

/// `work` or `work/specification`.
fn pick(text: &str) -> Pick {
    match text.split_once('/') {
        Some((work, spec)) => Pick { work: work.to_owned(), spec: Some(spec.to_owned()) },
        None => Pick { work: text.to_owned(), spec: None },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_written_is_read_again() {
        let line = |line, works: &str, sure| Mapped {
            line,
            works: works.to_owned(),
            sure,
            perhaps: vec!["screed".into()],
            text: "=floor, \"smooth\"".into(),
            quantity: "4.50 m2".into(),
        };
        let text = write(&[
            line(3, "screed", true),
            line(4, "", false),
            line(9, "pipe/110", true),
            line(12, "-", true),
        ]);
        assert!(text.contains("\"'=floor, \"\"smooth\"\"\""), "{text}");
        let map = read("map.csv", &text, &[3, 4, 9, 12], &|_| true).unwrap_or_default();
        assert_eq!(map.keys().copied().collect::<Vec<_>>(), [3, 9, 12]);
        assert_eq!(map[&12], None);
        assert_eq!(map[&9], Some(vec![Pick { work: "pipe".into(), spec: Some("110".into()) }]));
    }

    #[test]
    fn every_mistake_of_a_map_is_told() {
        let codes = |text: &str| -> Vec<&str> {
            let read = read("map.csv", text, &[3], &|w| w == "screed");
            read.err().unwrap_or_default().iter().map(|p| p.code).collect()
        };
        assert_eq!(codes("row,what\n1,2\n"), ["T004"]);
        assert_eq!(codes("line,work\n7,screed\n3,floor\n3,screed\n"), ["T005", "T006"]);
    }
}
