//! Lists, texts and headings that are never closed would swallow the rest of the file: they are blanked out before it is read.

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue, Error};

/// A text in which lists, tables and texts that are never closed are blanked out, so that what follows is still read.
#[derive(Debug)]
pub(super) struct Repaired<'a> {
    pub(super) text: Cow<'a, str>,
    /// What was blanked out.
    pub(super) open: Vec<Range<usize>>,
}

/// How many values that are never closed are found in one run.
const REPAIRS: usize = 12;

/// Blanks out what is never closed, and lines without a value; every byte keeps its place.
pub(super) fn repair(text: &str) -> Repaired<'_> {
    let mut repaired = Repaired { text: Cow::Borrowed(text), open: Vec::new() };
    for _ in 0..REPAIRS {
        let spans = unclosed(&repaired.text);
        if spans.is_empty() {
            break;
        }
        let mut bytes = repaired.text.into_owned().into_bytes();
        for span in &spans {
            blank(&mut bytes[span.clone()], starts_line(text, span.start));
        }
        // Whole characters were replaced, so this cannot lose anything.
        repaired.text = Cow::Owned(String::from_utf8_lossy(&bytes).into_owned());
        repaired.open.extend(spans);
    }
    repaired
}

/// An unclosed heading becomes one that no table knows, a line without a value a remark, a value 0.
fn blank(bytes: &mut [u8], line: bool) {
    let (first, fill, last) = match (line, &*bytes) {
        (true, [b'[', _, ..]) if bytes.len() > 2 => (b'[', b'0', b']'),
        (true, _) => (b'#', b' ', b' '),
        (false, _) => (b'0', b' ', b' '),
    };
    let end = bytes.len();
    for (i, byte) in bytes.iter_mut().enumerate().filter(|(_, b)| !matches!(b, b'\n' | b'\r')) {
        *byte = match i {
            0 => first,
            i if i + 1 == end => last,
            _ => fill,
        };
    }
}

/// Does nothing but blanks stand before this on its line?
pub(super) fn starts_line(text: &str, at: usize) -> bool {
    let before = text.get(..at).unwrap_or("");
    before[before.rfind('\n').map_or(0, |n| n + 1)..].trim_start_matches('\u{feff}').trim().is_empty()
}

/// Headings that are never closed and lines without a value; where there are none, the outermost value of the kind.
fn unclosed(text: &str) -> Vec<Range<usize>> {
    let (root, errors) = DeTable::parse_recoverable(text);
    let ends = |starts: &[&str]| -> BTreeSet<usize> {
        let open = |e: &&Error| starts.iter().any(|s| e.message().starts_with(s));
        errors.iter().filter(open).filter_map(|e| e.span().map(|s| s.start)).collect()
    };
    let line = |at: usize| {
        let start = text.get(..at)?.rfind('\n').map_or(0, |n| n + 1);
        let line = text[start..].lines().next().unwrap_or("");
        let blank = line.len() - line.trim_start_matches('\u{feff}').trim_start().len();
        let span = start + blank..start + line.trim_end().len();
        (span.start < span.end).then_some(span)
    };
    let at = ends(&["unclosed table", "unclosed array of tables", "key with no value"]);
    let spans: BTreeSet<(usize, usize)> = at.into_iter().filter_map(line).map(|s| (s.start, s.end)).collect();
    if !spans.is_empty() {
        return spans.into_iter().map(|(a, b)| a..b).collect();
    }
    let ends = ends(&["unclosed array", "unclosed inline", "invalid multi-line"]);
    let mut start = None;
    let mut look = |value: &Spanned<DeValue<'_>>| {
        let span = value.span();
        let opens = text.get(span.clone()).is_some_and(|t| {
            let list = (t.starts_with('[') || t.starts_with('{'))
                && matches!(value.get_ref(), DeValue::Array(_) | DeValue::Table(_));
            list || t.starts_with("\"\"\"") || t.starts_with("'''")
        });
        if opens && ends.contains(&span.end) && start.is_none_or(|s| span.start < s) {
            start = Some(span.start);
        }
    };
    if !ends.is_empty() {
        walk(root.get_ref(), &mut look);
    }
    start.map(|s| s..region_end(text, s)).into_iter().collect()
}

fn walk(table: &DeTable<'_>, look: &mut impl FnMut(&Spanned<DeValue<'_>>)) {
    fn one(value: &Spanned<DeValue<'_>>, look: &mut impl FnMut(&Spanned<DeValue<'_>>)) {
        look(value);
        match value.get_ref() {
            DeValue::Table(table) => walk(table, look),
            DeValue::Array(array) => array.iter().for_each(|v| one(v, look)),
            _ => {}
        }
    }
    table.iter().for_each(|(_, value)| one(value, look));
}

/// Where a value that is never closed was probably meant to end: before the next key or heading.
fn region_end(text: &str, start: usize) -> usize {
    let mut at = start;
    for (i, line) in text[start..].split_inclusive('\n').enumerate() {
        if i > 0 && (heading(line) || leading_key(line).is_some()) {
            return at;
        }
        at += line.len();
    }
    text.len()
}

/// Is this line the heading of a part?
fn heading(line: &str) -> bool {
    let line = line.trim();
    let inside = line.trim_start_matches('[');
    line.starts_with('[')
        && inside.starts_with(|c: char| c.is_ascii_alphabetic())
        && inside.contains(']')
        && !inside.contains('"')
}

/// The key a line begins with, where `=` follows.
fn leading_key(line: &str) -> Option<&str> {
    let line = line.trim_start_matches('\u{feff}').trim_start();
    let end = line
        .find(|c: char| !c.is_ascii_alphanumeric() && !matches!(c, '_' | '-' | '.'))
        .unwrap_or(line.len());
    (end > 0 && line[end..].trim_start().starts_with('=')).then(|| &line[..end])
}
