//! A typed reader over one table of a data file. Every read records its own problem and goes on.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::ops::Range;

use tankwright_geometry::{LengthError, Ratio, parse, parse_length};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::problem::{Place, Problem};
use crate::source::Source;

use super::forms::is_since;
pub use super::forms::{is_date, is_id};

/// Sources that need neither `seen` nor `recalled`: they claim no publication.
const PLAIN: [&str; 3] = ["common practice, no source", "own definition", "invented"];

/// One data file while it is read.
pub struct Doc<'a> {
    /// Name as the user gave it.
    pub file: &'a str,
    /// Its text.
    pub text: &'a str,
    problems: RefCell<Vec<Problem>>,
}

impl<'a> Doc<'a> {
    /// A file that nothing has been read of.
    pub fn new(file: &'a str, text: &'a str) -> Self {
        Self { file, text, problems: RefCell::default() }
    }

    /// A place in this file.
    pub fn place(&self, span: Range<usize>) -> Place {
        let before = self.text.get(..span.start).unwrap_or_default();
        let line = 1 + before.bytes().filter(|b| *b == b'\n').count();
        Place { file: self.file.to_owned(), span, line }
    }

    /// A problem of this file, not reported yet.
    pub fn error(&self, code: &'static str, span: Range<usize>, message: impl Into<String>) -> Problem {
        Problem::error(code, Some(self.place(span)), message)
    }

    /// Reports a problem.
    pub fn report(&self, problem: Problem) {
        self.problems.borrow_mut().push(problem);
    }

    /// All that was reported.
    pub fn into_problems(self) -> Vec<Problem> {
        self.problems.into_inner()
    }
}

/// One table; remembers which keys were asked for.
pub struct Fields<'a, 'd> {
    /// The file it stands in.
    pub doc: &'d Doc<'a>,
    table: &'d DeTable<'a>,
    /// Where the table, or its first value, stands.
    pub span: Range<usize>,
    asked: RefCell<Vec<&'d str>>,
}

type Cell<'a, 'd> = &'d Spanned<DeValue<'a>>;

impl<'a, 'd> Fields<'a, 'd> {
    /// A table that nobody has asked anything of.
    pub fn new(doc: &'d Doc<'a>, table: &'d DeTable<'a>, span: Range<usize>) -> Self {
        Self { doc, table, span, asked: RefCell::default() }
    }

    /// Reports a problem of this table.
    pub fn report(&self, code: &'static str, span: Range<usize>, message: String, hint: &str) {
        self.doc.report(self.doc.error(code, span, message).hint(hint));
    }

    /// The value at a key that may be left out.
    pub fn get(&self, key: &'d str) -> Option<Cell<'a, 'd>> {
        self.asked.borrow_mut().push(key);
        self.table.get(key)
    }

    /// Every key as the table has them in the text: for tables whose keys are names.
    pub fn keys(&self) -> Vec<&'d str> {
        let mut keys: Vec<_> = self.table.keys().collect();
        keys.sort_by_key(|k| k.span().start);
        keys.into_iter().map(|k| k.get_ref().as_ref()).collect()
    }

    /// Bytes of a key's value, else of the table.
    pub fn span_of(&self, key: &str) -> Range<usize> {
        self.table.get(key).map_or_else(|| self.span.clone(), Spanned::span)
    }

    fn need(&self, key: &'d str) -> Option<Cell<'a, 'd>> {
        let cell = self.get(key);
        if cell.is_none() {
            self.report(
                "P003",
                self.span.clone(),
                format!("`{key}` is missing"),
                "rates/README.md shows an entry",
            );
        }
        cell
    }

    fn wrong(&self, key: &str, cell: Cell<'a, 'd>, want: &str) {
        let found = cell.get_ref().type_str();
        let problem = self.doc.error("P004", cell.span(), format!("`{key}` should be {want}"));
        self.doc.report(problem.label(format!("this is a TOML {found}")));
    }

    fn as_text(&self, key: &str, cell: Cell<'a, 'd>) -> Option<&'d str> {
        let text = cell.get_ref().as_str();
        match text {
            None => self.wrong(key, cell, "text in quotes"),
            Some(t) if t.trim().is_empty() || t.contains(['\n', '\r']) => {
                self.report(
                    "P011",
                    cell.span(),
                    format!("`{key}` should be one line of text"),
                    "write it out",
                );
                return None;
            }
            Some(_) => {}
        }
        text.map(str::trim)
    }

    /// Text of one line, not empty.
    pub fn text(&self, key: &'d str) -> Option<String> {
        self.need(key).and_then(|cell| self.as_text(key, cell)).map(str::to_owned)
    }

    /// Text that may be left out or empty.
    pub fn text_or_empty(&self, key: &'d str) -> String {
        let Some(cell) = self.get(key) else { return String::new() };
        if cell.get_ref().as_str().is_some_and(|t| t.trim().is_empty()) {
            return String::new();
        }
        self.as_text(key, cell).unwrap_or_default().to_owned()
    }

    fn items(&self, key: &'d str) -> Option<&'d [Spanned<DeValue<'a>>]> {
        let cell = self.need(key)?;
        let items = cell.get_ref().as_array();
        if items.is_none() {
            self.wrong(key, cell, "a list in square brackets");
        }
        items.map(|a| &**a)
    }

    /// Texts; an empty list counts as wrong.
    pub fn texts(&self, key: &'d str) -> Option<Vec<String>> {
        let items = self.items(key)?;
        if items.is_empty() {
            self.report("P011", self.span_of(key), format!("`{key}` is an empty list"), "give at least one");
            return None;
        }
        items.iter().map(|cell| self.as_text(key, cell).map(str::to_lowercase)).collect()
    }

    /// Texts as they stand, capitals too; an empty list counts as wrong.
    pub fn texts_as_written(&self, key: &'d str) -> Option<Vec<String>> {
        let items = self.items(key)?;
        items.iter().map(|cell| self.as_text(key, cell).map(str::to_owned)).collect()
    }

    fn as_length(&self, key: &str, cell: Cell<'a, 'd>) -> Option<i64> {
        let text = self.as_text(key, cell)?;
        match parse_length(text) {
            Ok(tenths) if tenths > 0 => Some(tenths),
            Ok(_) => {
                self.report("P011", cell.span(), format!("`{key}` should be more than 0"), "as \"220 mm\"");
                None
            }
            Err(why) => {
                let label = match why {
                    LengthError::NotALength => "not a length",
                    LengthError::NoUnit => "a number without a unit",
                    LengthError::Comma => "a comma: write a point, and no thousands separator",
                    LengthError::UnknownUnit => "units are mm, cm, m, ft, in",
                    LengthError::TooFine => "finer than 0.1 mm",
                    LengthError::TooLong => "longer than 100 m",
                };
                let problem = self.doc.error("P009", cell.span(), format!("`{key}` is not a length"));
                self.doc.report(problem.label(label).hint("as \"220 mm\" or \"1.5 m\""));
                None
            }
        }
    }

    /// A length above 0, tenths of a millimetre.
    pub fn length(&self, key: &'d str) -> Option<i64> {
        self.need(key).and_then(|cell| self.as_length(key, cell))
    }

    /// Lengths; the list may be empty.
    pub fn lengths(&self, key: &'d str) -> Option<Vec<i64>> {
        let read: Vec<Option<i64>> = self.items(key)?.iter().map(|cell| self.as_length(key, cell)).collect();
        read.into_iter().collect()
    }

    /// A plain decimal number between two, as text in quotes (a bare TOML float is not exact).
    pub fn number(&self, key: &'d str, least: Ratio, most: Ratio) -> Option<Ratio> {
        let cell = self.need(key)?;
        let text = self.as_text(key, cell)?;
        let Some(value) = parse::decimal(text) else {
            self.report(
                "P010",
                cell.span(),
                format!("`{key}` is not a number"),
                "as \"1.25\": digits and one point",
            );
            return None;
        };
        if value < least || value > most {
            let range = format!("from {} to {}", crate::decimal::plain(least), crate::decimal::plain(most));
            self.report("P011", cell.span(), format!("`{key}` is out of range"), &range);
            return None;
        }
        Some(value)
    }

    /// A whole number up to `most`.
    pub fn whole(&self, key: &'d str, most: u32) -> Option<u32> {
        let cell = self.need(key)?;
        let DeValue::Integer(digits) = cell.get_ref() else {
            self.wrong(key, cell, "a whole number");
            return None;
        };
        let value = u32::from_str_radix(digits.as_str(), digits.radix()).ok().filter(|v| *v <= most);
        if value.is_none() {
            self.report(
                "P011",
                cell.span(),
                format!("`{key}` is out of range"),
                &format!("from 0 to {most}"),
            );
        }
        value
    }

    /// Yes or no.
    pub fn flag(&self, key: &'d str) -> Option<bool> {
        let cell = self.need(key)?;
        let value = cell.get_ref().as_bool();
        if value.is_none() {
            self.wrong(key, cell, "true or false");
        }
        value
    }

    /// One of these words: its position.
    pub fn choice(&self, key: &'d str, words: &[&str]) -> Option<usize> {
        let cell = self.need(key)?;
        let text = self.as_text(key, cell)?;
        let found = words.iter().position(|w| *w == text);
        if found.is_none() {
            let message = format!("`{key}` cannot be `{text}`");
            self.report("P012", cell.span(), message, &format!("one of: {}", words.join(", ")));
        }
        found
    }

    /// A table under a key that may be left out.
    pub fn part_if_any(&self, key: &'d str) -> Option<Fields<'a, 'd>> {
        let cell = self.get(key)?;
        let part = cell.get_ref().as_table().map(|t| Fields::new(self.doc, t, header(t, cell.span())));
        if part.is_none() {
            self.wrong(key, cell, "a table");
        }
        part
    }

    /// A table under a key.
    pub fn part(&self, key: &'d str) -> Option<Fields<'a, 'd>> {
        self.need(key)?;
        self.part_if_any(key)
    }

    /// The tables of a list, or the one table that stands in its place.
    pub fn list(&self, key: &'d str) -> Vec<Fields<'a, 'd>> {
        let Some(cell) = self.need(key) else { return Vec::new() };
        let DeValue::Array(items) = cell.get_ref() else {
            return self.part_if_any(key).into_iter().collect();
        };
        let table = |cell: Cell<'a, 'd>| {
            let Some(table) = cell.get_ref().as_table() else {
                self.wrong(key, cell, "a table");
                return None;
            };
            Some(Fields::new(self.doc, table, header(table, cell.span())))
        };
        items.iter().filter_map(table).collect()
    }

    /// As [`Self::list`], nothing where the key is left out.
    pub fn list_if_any(&self, key: &'d str) -> Vec<Fields<'a, 'd>> {
        if self.get(key).is_none() { Vec::new() } else { self.list(key) }
    }

    /// An id: lower-case letters, digits, points and hyphens.
    pub fn id(&self, key: &'d str) -> Option<String> {
        let id = self.text(key)?;
        if is_id(&id) {
            return Some(id);
        }
        let hint = "lower-case letters, digits, points and hyphens, as brick-215x102.5x65";
        self.report("P013", self.span_of(key), format!("`{id}` cannot be an id"), hint);
        None
    }

    /// The source that every entry must have.
    pub fn source(&self) -> Option<Source> {
        let seen = self.text_or_empty("seen");
        let recalled = self.get("recalled").is_some() && self.flag("recalled")?;
        let note = self.text_or_empty("note");
        let from = self.from();
        let Some(cell) = self.get("source") else {
            let hint = "say where it was read, or write \"common practice, no source\"";
            self.report("P006", self.span.clone(), "an entry without a source".into(), hint);
            return None;
        };
        let text = self.as_text("source", cell)?.to_owned();
        let plain = PLAIN.iter().any(|p| text.starts_with(p));
        if (seen.is_empty() && !recalled && !plain) || (!seen.is_empty() && recalled) {
            let hint = "give `seen` (where it was read) or `recalled = true`, not both; or begin the source \
                        with \"common practice, no source\"";
            self.report("P007", cell.span(), "a source that nobody can look up".into(), hint);
            return None;
        }
        Some(Source { text, seen, recalled, from: from?, note })
    }

    fn from(&self) -> Option<String> {
        let text = self.text("from")?;
        if is_since(&text) {
            return Some(text);
        }
        self.report(
            "P008",
            self.span_of("from"),
            "`from` is not a date".into(),
            "as 1974, 2026-11 or 2026-11-25",
        );
        None
    }

    /// Reports every key that was not asked for.
    pub fn done(&self) {
        let asked = self.asked.borrow();
        for key in self.table.keys().filter(|k| !asked.contains(&k.get_ref().as_ref())) {
            let known: BTreeSet<&str> = asked.iter().copied().collect();
            let known = known.into_iter().collect::<Vec<_>>().join(", ");
            let message = format!("`{}` is not a key of this entry", key.get_ref());
            self.report("P005", key.span(), message, &format!("keys here: {known}"));
        }
    }
}

/// A table's own span covers its heading only, or nothing for dotted keys: then its first value shows it.
fn header(table: &DeTable<'_>, span: Range<usize>) -> Range<usize> {
    if !span.is_empty() {
        return span;
    }
    table.iter().map(|(k, _)| k.span()).min_by_key(|s| s.start).unwrap_or(span)
}
