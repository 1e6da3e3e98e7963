//! What is wrong with the user's files: every problem has a code, the user's own place and a hint.

use std::ops::Range;

use crate::named::named;

/// How much a problem weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The run goes on; papers print it.
    Caution,
    /// The run stops.
    Error,
}

/// A place in one of the texts of the run.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// Name of the file as the user gave it.
    pub file: String,
    /// Bytes of that file's text.
    pub span: Range<usize>,
    /// Line of the start, from 1.
    pub line: usize,
}

/// One problem. Codes: J job file, R rates and price lists, P profiles and other data, X export.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// Stable code, as `J021`.
    pub code: &'static str,
    /// Error or caution.
    pub severity: Severity,
    /// One line, plain words, no full stop.
    pub message: String,
    /// Where, if the user's text shows it.
    pub place: Option<Place>,
    /// What stands there, printed beside the carets.
    pub label: String,
    /// What to do.
    pub hint: Option<String>,
}

impl Problem {
    /// An error at a place. Entries of lists are named as papers count them, in front of their paths.
    #[must_use]
    pub fn error(code: &'static str, place: Option<Place>, message: impl Into<String>) -> Self {
        Self {
            code,
            severity: Severity::Error,
            message: named(&message.into()),
            place,
            label: String::new(),
            hint: None,
        }
    }

    /// With words beside the carets.
    #[must_use]
    pub fn label(mut self, label: impl Into<String>) -> Self {
        self.label = label.into();
        self
    }

    /// With a hint.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }
}

/// Sorts problems by file, place and code, and drops exact repeats.
pub fn in_order(problems: &mut Vec<Problem>) {
    fn key(p: &Problem) -> (&str, usize, usize, &'static str, &str) {
        let (file, span) = p.place.as_ref().map_or(("", 0..0), |p| (&*p.file, p.span.clone()));
        (file, span.start, span.end, p.code, &p.message)
    }
    problems.sort_by(|a, b| key(a).cmp(&key(b)));
    problems.dedup();
}
