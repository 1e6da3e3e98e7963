//! Lines and places of a text.

use std::ops::Range;

use crate::problem::Place;

/// The line of a byte, from 1.
#[must_use]
pub fn line_of(text: &str, offset: usize) -> usize {
    let end = offset.min(text.len());
    1 + text.as_bytes()[..end].iter().filter(|b| **b == b'\n').count()
}

/// A text with the starts of its lines.
pub(super) struct Lines<'a> {
    pub(super) text: &'a str,
    starts: Vec<usize>,
}

impl<'a> Lines<'a> {
    pub(super) fn new(text: &'a str) -> Self {
        let ends = text.bytes().enumerate().filter(|(_, b)| *b == b'\n').map(|(i, _)| i + 1);
        Self { text, starts: std::iter::once(0).chain(ends).collect() }
    }

    /// Number of the line of a byte, from 1.
    pub(super) fn line(&self, offset: usize) -> usize {
        self.starts.partition_point(|s| *s <= offset)
    }

    /// Bytes of a line, without its end.
    pub(super) fn span(&self, line: usize) -> Range<usize> {
        let at = |i: usize| self.starts.get(i).copied();
        let start = line.checked_sub(1).and_then(at).unwrap_or(self.text.len());
        let end = at(line).unwrap_or(self.text.len());
        start..start + self.text[start..end].trim_end_matches(['\n', '\r']).len()
    }

    /// Text of a line, without its end.
    pub(super) fn words(&self, line: usize) -> &'a str {
        &self.text[self.span(line)]
    }

    /// How many lines there are.
    pub(super) const fn count(&self) -> usize {
        self.starts.len()
    }

    /// A place, its ends moved to the nearest character before where they cut one.
    pub(super) fn place(&self, file: &str, span: &Range<usize>) -> Place {
        let whole = |at: usize| (0..=at.min(self.text.len())).rev().find(|i| self.text.is_char_boundary(*i));
        let start = whole(span.start).unwrap_or(0);
        let end = whole(span.end).unwrap_or(0).max(start);
        Place { file: file.to_owned(), span: start..end, line: self.line(start) }
    }

    /// A place, cut to the first of its lines.
    pub(super) fn short(&self, file: &str, span: &Range<usize>) -> Place {
        let mut place = self.place(file, span);
        let line = self.span(place.line);
        place.span.start = place.span.start.min(line.end);
        place.span.end = place.span.end.clamp(place.span.start, line.end);
        place
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_and_places() {
        let text = "a\r\nb\u{e9}c\n";
        let lines = Lines::new(text);
        assert_eq!([0, 2, 3, 7, 8, 99].map(|o| lines.line(o)), [1, 1, 2, 2, 3, 3]);
        assert_eq!([0, 2, 3, 7, 8, 99].map(|o| line_of(text, o)), [1, 1, 2, 2, 3, 3]);
        assert_eq!((lines.words(1), lines.words(2), lines.words(3), lines.count()), ("a", "b\u{e9}c", "", 3));
        assert_eq!(lines.place("f", &(5..5)).span, 4..4);
        assert_eq!(lines.short("f", &(0..7)).span, 0..1);
        assert_eq!(lines.short("f", &(2..3)).span, 1..1);
        assert_eq!(lines.place("f", &(90..99)).span, 8..8);
    }
}
