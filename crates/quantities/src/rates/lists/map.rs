//! A map from a supplier's words to our codes: kept beside his list, written once, corrected by its owner.

use std::collections::BTreeMap;

use super::names::{Names, words};
use super::units;
use crate::placed::{PlacedRow, cell_span, rows};
use crate::problem::{Place, Problem, in_order};
use crate::rates::PriceKind;

/// The columns of a map.
const HEAD: [&str; 5] = ["description", "unit", "kind", "code", "perhaps"];

/// What the code of a row that is left out on purpose reads.
const LEFT_OUT: &str = "-";

/// The longest map read, in bytes.
const LONGEST: usize = 2_000_000;

/// A map, read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Map {
    entries: BTreeMap<(Vec<String>, String), Entry>,
}

/// What a map says of a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Entry {
    /// It prices this.
    Prices(PriceKind, String),
    /// It is left out on purpose.
    LeftOut,
    /// Not filled in yet.
    Open,
}

impl Map {
    pub(crate) fn get(&self, description: &str, unit: &str) -> Option<&Entry> {
        self.entries.get(&key(description, unit))
    }
}

/// What a row is found again by: its words and its unit.
fn key(description: &str, unit: &str) -> (Vec<String>, String) {
    let unit = units::read(unit).map_or_else(|_| unit.trim().to_owned(), |u| u.unit);
    (words(description), unit.to_lowercase())
}

/// Reads a map: CSV with the columns `description,unit,kind,code`, others are passed over. A code of `-` leaves the
/// row out on purpose; an empty one is still open.
///
/// # Errors
/// All problems, code `R062`.
pub fn read_map(name: &str, text: &str, names: &Names) -> Result<Map, Vec<Problem>> {
    let mut problems = Vec::new();
    let mut report = |line: usize, span: std::ops::Range<usize>, message: &str, label: &str, hint: &str| {
        let place = Place { file: name.to_owned(), span, line };
        problems.push(Problem::error("R062", Some(place), message).label(label).hint(hint));
    };
    let rows = if text.len() > LONGEST { Vec::new() } else { rows(text) };
    let heads: Vec<String> =
        rows.first().map(|r| r.cells.iter().map(|c| c.trim().to_lowercase()).collect()).unwrap_or_default();
    let at = |column: &str| heads.iter().position(|h| h == column);
    let (Some(description), Some(unit), Some(kind), Some(code)) =
        (at("description"), at("unit"), at("kind"), at("code"))
    else {
        let span = rows.first().map_or(0..0, |r| r.span.clone());
        let hint = "its first row names the columns description,unit,kind,code";
        report(1, span, "this is not a map from words to codes", "", hint);
        return Err(problems);
    };
    let mut entries: BTreeMap<(Vec<String>, String), Entry> = BTreeMap::new();
    for row in rows.iter().skip(1) {
        let cell = |i: usize| row.cells.get(i).unwrap_or_default().trim();
        let span = |i: usize| cell_span(text, row, i);
        let unit = units::read(cell(unit)).map_or_else(|_| cell(unit).to_owned(), |u| u.unit);
        let entry = match entry([cell(description), cell(kind), cell(code)], &unit, names) {
            Ok(entry) => entry,
            Err((of_kind, message, hint)) => {
                report(row.line, span(if of_kind { kind } else { code }), &message, "", &hint);
                continue;
            }
        };
        let key = key(cell(description), &unit);
        if entries.insert(key, entry.clone()).is_some_and(|earlier| earlier != entry) {
            report(
                row.line,
                span(description),
                "the map names these words twice",
                "again",
                "keep one of the two",
            );
        }
    }
    in_order(&mut problems);
    if problems.is_empty() { Ok(Map { entries }) } else { Err(problems) }
}

/// What a row says; else whether its kind is at fault, the message and the hint.
fn entry(
    [description, kind, code]: [&str; 3],
    unit: &str,
    names: &Names,
) -> Result<Entry, (bool, String, String)> {
    if code.is_empty() {
        return Ok(Entry::Open);
    }
    if code == LEFT_OUT {
        return Ok(Entry::LeftOut);
    }
    let lower = kind.to_lowercase();
    let kind = match PriceKind::ALL.into_iter().find(|k| k.id() == lower) {
        Some(kind) => kind,
        None if kind.is_empty() => names.kind_of(code, unit, description).ok_or_else(|| unknown(code))?,
        None => {
            let hint = "one of: work, material, labour, plant".to_owned();
            return Err((true, format!("`{kind}` is not a kind of price"), hint));
        }
    };
    if names.knows(kind, code) && !code.contains(char::is_whitespace) {
        Ok(Entry::Prices(kind, code.to_owned()))
    } else {
        Err(unknown(code))
    }
}

fn unknown(code: &str) -> (bool, String, String) {
    let hint = "`tankwright rules works` lists works, `tankwright materials JOB` what a job needs; - leaves a row out";
    (false, format!("`{code}` is not a code of ours"), hint.to_owned())
}

/// A row without a code, for the map.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unmatched {
    /// Line of the list.
    pub line: usize,
    /// Where that line stands in the text.
    pub span: std::ops::Range<usize>,
    /// As the list says.
    pub description: String,
    /// As the list says.
    pub unit: String,
    /// As the list says.
    pub rate: String,
    /// Why it prices nothing.
    pub why: String,
    /// What may be meant.
    pub perhaps: Option<(PriceKind, String)>,
}

/// A map to be filled in: `old` as it stands, then a row for each of these.
#[must_use]
pub fn write_map(old: Option<&str>, open: &[Unmatched]) -> String {
    let mut text = old.map_or_else(|| format!("{}\n", HEAD.join(",")), str::to_owned);
    if !text.ends_with('\n') {
        text.push('\n');
    }
    let known: Vec<(Vec<String>, String)> = old.map(keys).unwrap_or_default();
    let mut told = Vec::new();
    for row in open {
        let key = key(&row.description, &row.unit);
        if known.contains(&key) || told.contains(&key) {
            continue;
        }
        told.push(key);
        let perhaps =
            row.perhaps.as_ref().map(|(kind, code)| format!("{} {code}", kind.id())).unwrap_or_default();
        let cells = [row.description.as_str(), row.unit.as_str(), "", "", &perhaps];
        text.push_str(&cells.map(crate::bill::cell).join(","));
        text.push('\n');
    }
    text
}

/// A map of what was decided elsewhere: description, unit, kind (may be empty) and code of each row.
#[must_use]
pub fn map_text(rows: &[[&str; 4]]) -> String {
    let line = |row: &[&str; 4]| format!("{},\n", row.map(crate::bill::cell).join(","));
    std::iter::once(format!("{}\n", HEAD.join(","))).chain(rows.iter().map(line)).collect()
}

/// The words and units that a map names already.
fn keys(text: &str) -> Vec<(Vec<String>, String)> {
    let rows: Vec<PlacedRow> = rows(text);
    rows.iter()
        .skip(1)
        .map(|r| key(r.cells.get(0).unwrap_or_default(), r.cells.get(1).unwrap_or_default()))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rates::builtin;

    fn read(rows: &str) -> Result<Map, Vec<String>> {
        let names = Names::new(&builtin().0);
        let told = |p: Vec<Problem>| p.iter().map(|p| p.message.clone()).collect();
        read_map("m.csv", &format!("description,unit,kind,code,perhaps\n{rows}"), &names).map_err(told)
    }

    #[test]
    fn a_map_gives_codes_by_words_and_unit() {
        let map = read(
            "OPC 32.5,Bag,material,cement,\nHinges,pcs,,-,\nRiver sand,cu.m,,sand-building,\nGlue,tin,,,\n",
        );
        let map = map.unwrap_or_default();
        let cement = Entry::Prices(PriceKind::Material, "cement".to_owned());
        assert_eq!(map.get("opc (32.5)", "Bag"), Some(&cement));
        assert_eq!(
            map.get("River Sand", "m3"),
            Some(&Entry::Prices(PriceKind::Material, "sand-building".to_owned()))
        );
        assert_eq!(map.get("hinge", "nr"), Some(&Entry::LeftOut));
        assert_eq!(map.get("glue", "tin"), Some(&Entry::Open));
        assert_eq!(map.get("opc 32.5", "nr"), None);
    }

    #[test]
    fn what_no_map_may_say() {
        let told =
            read("OPC,bag,stuff,cement,\nX,bag,material,cemnt,\nY,bag,,cemnt,\nZ,m,,-,\nz,m,,cement,\n");
        let want = [
            "`stuff` is not a kind of price",
            "`cemnt` is not a code of ours",
            "`cemnt` is not a code of ours",
            "the map names these words twice",
        ];
        assert_eq!(told.err().unwrap_or_default(), want);
        let none = read_map("m.csv", "a,b\n", &Names::default());
        assert_eq!(none.err().map(|p| p.len()), Some(1));
    }

    #[test]
    fn a_map_is_written_once_for_each_row_and_keeps_what_it_had() {
        let row = |description: &str| Unmatched {
            line: 3,
            span: 0..0,
            description: description.to_owned(),
            unit: "bag".to_owned(),
            rate: "1".to_owned(),
            why: String::new(),
            perhaps: Some((PriceKind::Material, "cement".to_owned())),
        };
        let text = write_map(None, &[row("OPC, white"), row("opc white"), row("Lime")]);
        assert_eq!(
            text,
            "description,unit,kind,code,perhaps\n\"OPC, white\",bag,,,material cement\nLime,bag,,,material cement\n"
        );
        let more =
            write_map(Some(&text.replace("Lime,bag,,,", "Lime,bag,,-,")), &[row("Lime"), row("Gypsum")]);
        assert!(more.ends_with("Lime,bag,,-,material cement\nGypsum,bag,,,material cement\n"), "{more}");
    }
}
