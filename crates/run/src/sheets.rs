//! A price list or a second take-off in a spreadsheet file: which sheet, and its rows as a text that messages can quote.

use std::collections::BTreeSet;

use tankwright_quantities::problem::{Place, Problem, Severity};
use tankwright_quantities::rates::heads_a_list;
use tankwright_sheets::{Limits, Sheet, Trouble, address, read};

/// A sheet as text: its name in messages, its lines, which of its cells are numbers.
#[derive(Clone, Debug)]
pub struct SheetText {
    /// `prices.xlsx#Materials`.
    pub name: String,
    /// Line n is row n.
    pub text: String,
    /// Line and place in the row.
    pub numbers: BTreeSet<(usize, usize)>,
    /// Other sheets that may be meant.
    pub caution: Option<Problem>,
    /// Sheets with something in them, in the order of the file.
    pub all: Vec<String>,
}

/// `prices.xlsx#Materials` in file and sheet; nothing where the name is not that of a spreadsheet file.
#[must_use]
pub fn parts(name: &str) -> Option<(&str, Option<&str>)> {
    let lower = name.to_ascii_lowercase();
    let is_book = |n: &str| [".xlsx", ".xlsm"].iter().any(|e| n.ends_with(e));
    if is_book(&lower) {
        return Some((name, None));
    }
    let at = [".xlsx#", ".xlsm#"].iter().find_map(|e| lower.find(e).map(|i| i + e.len()))?;
    Some((name.get(..at - 1)?, Some(name.get(at..)?)))
}

/// Of all sheets those that are not read, by the name of what is: `prices.xlsx#Materials`.
#[must_use]
pub fn unread(name: &str, all: &[String]) -> Vec<String> {
    let read = parts(name).and_then(|(_, sheet)| sheet);
    all.iter().filter(|sheet| Some(sheet.as_str()) != read).cloned().collect()
}

/// Is a place's file a sheet?
#[must_use]
pub fn is_sheet(file: &str) -> bool {
    matches!(parts(file), Some((_, Some(_))))
}

/// The cell, or the row, that a place of a sheet points at: `C7`, `row 7`.
#[must_use]
pub fn cell_of(place: &Place, text: &str) -> String {
    let start = text.get(..place.span.start).map_or(0, |t| t.rfind('\n').map_or(0, |i| i + 1));
    let before = text.get(start..place.span.start).unwrap_or_default();
    let pointed = text.get(place.span.clone()).unwrap_or_default();
    let commas = |t: &str| {
        let mut quoted = false;
        let outside = |c: &char| {
            quoted ^= *c == '"';
            *c == ',' && !quoted
        };
        t.chars().filter(outside).count()
    };
    if commas(pointed) > 0 || place.span.is_empty() && before.is_empty() {
        return format!("row {}", place.line);
    }
    address(place.line, commas(before) + 1)
}

/// What a sheet is looked for as.
pub struct Wanted<'a> {
    /// How well the text of a sheet looks like it: 0 not at all.
    pub looks: &'a dyn Fn(&str) -> u8,
    /// `a price list`.
    pub what: &'static str,
    /// What such a sheet must have.
    pub needs: &'static str,
}

impl std::fmt::Debug for Wanted<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.what)
    }
}

impl Wanted<'_> {
    /// A price list.
    pub const PRICES: Self = Self {
        looks: &|text| if heads_a_list(text) { 1 } else { 0 },
        what: "a price list",
        needs: "one row must head a column each for the description or code, the unit and the rate",
    };
}

/// Reads the sheet that is asked for, else the first that looks most like what is wanted.
///
/// # Errors
/// A file that cannot be read, or has no such sheet: codes R070 to R073, R092.
pub fn open(
    shown: &str,
    bytes: &[u8],
    sheet: Option<&str>,
    wanted: &Wanted<'_>,
) -> Result<SheetText, Problem> {
    let sheets = read(bytes, &Limits::USUAL).map_err(|t| trouble(shown, &t))?;
    let names = || sheets.iter().map(|s| s.name.as_str()).collect::<Vec<_>>().join(", ");
    let looks = |(s, text): (&Sheet, &String)| match sheet {
        Some(name) => u8::from(name == s.name),
        None => (wanted.looks)(text),
    };
    let texts: Vec<String> = sheets.iter().map(Sheet::csv).collect();
    let ranked: Vec<(u8, &Sheet, &String)> =
        sheets.iter().zip(&texts).map(|(s, t)| (looks((s, t)), s, t)).collect();
    let best = ranked.iter().map(|(rank, ..)| *rank).max().unwrap_or(0);
    let found: Vec<(&Sheet, &String)> =
        ranked.iter().filter(|(rank, ..)| *rank == best && best > 0).map(|(_, s, t)| (*s, *t)).collect();
    let Some((first, text)) = found.first() else {
        return Err(match sheet {
            Some(name) => Problem::error("R072", None, format!("`{shown}` has no sheet `{name}`"))
                .hint(format!("its sheets: {}", names())),
            None => Problem::error("R073", None, format!("no sheet of `{shown}` is {}", wanted.what))
                .hint(format!("{}; its sheets: {}", wanted.needs, names())),
        });
    };
    let others: Vec<&str> = found.iter().skip(1).map(|(s, _)| s.name.as_str()).collect();
    let caution = (!others.is_empty()).then(|| {
        let text = format!("of `{shown}` the sheet `{}` is read, and not {}", first.name, others.join(", "));
        let hint = format!("another is named as {shown}#{}", others.first().copied().unwrap_or_default());
        Problem { severity: Severity::Caution, ..Problem::error("R074", None, text).hint(hint) }
    });
    let name = format!("{shown}#{}", first.name);
    let all: Vec<String> = sheets.iter().filter(|s| !s.rows.is_empty()).map(|s| s.name.clone()).collect();
    Ok(SheetText { name, text: (*text).clone(), numbers: first.numbers(), caution, all })
}

/// Sheets with something in them; none of a file that cannot be read.
#[must_use]
pub fn names(bytes: &[u8]) -> Vec<String> {
    let sheets = read(bytes, &Limits::USUAL).unwrap_or_default();
    sheets.into_iter().filter(|s| !s.rows.is_empty()).map(|s| s.name).collect()
}

fn trouble(shown: &str, trouble: &Trouble) -> Problem {
    match trouble {
        Trouble::Damaged(_) => {
            Problem::error("R070", None, format!("`{shown}` cannot be read as a spreadsheet file"))
                .hint("open it in a spreadsheet program and save it again as XLSX, or the sheet as CSV")
        }
        Trouble::OldOrLocked => Problem::error(
            "R092",
            None,
            format!("`{shown}` is a spreadsheet file of before 2007, or locked by a password"),
        )
        .hint("save it as XLSX without a password, or the sheet as CSV, UTF-8"),
        Trouble::TooLarge(what, limit) => {
            Problem::error("R071", None, format!("`{shown}` has more than {limit} {what}"))
                .hint("keep only the sheet and the rows that jobs need")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_and_sheets() {
        assert_eq!(parts("a/b.xlsx"), Some(("a/b.xlsx", None)));
        assert_eq!(parts("b.XLSX#My list"), Some(("b.XLSX", Some("My list"))));
        assert_eq!(parts("b.csv"), None);
        assert_eq!(parts("xlsx"), None);
        assert!(is_sheet("b.xlsx#x") && !is_sheet("b.xlsx"));
        assert_eq!(unread("b.xlsx#x", &["w", "x", "y"].map(str::to_owned)), ["w", "y"]);
    }

    #[test]
    fn cells_by_name() {
        let text = "a,b\n\"x, y\",2,z\n";
        let place = |span| Place { file: "p.xlsx#s".into(), span, line: 2 };
        assert_eq!(cell_of(&place(4..10), text), "A2");
        assert_eq!(cell_of(&place(11..12), text), "B2");
        assert_eq!(cell_of(&place(13..14), text), "C2");
        assert_eq!(cell_of(&place(4..14), text), "row 2");
        assert_eq!(cell_of(&place(90..99), text), "A2");
    }
}
