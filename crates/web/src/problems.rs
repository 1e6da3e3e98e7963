//! Problems as the page shows them: at their field, and at their line of the text.

use std::collections::BTreeMap;

use serde::Serialize;
use tankwright_quantities::job::spans::{Span, path_at};
use tankwright_quantities::problem::{Problem, Severity};
use tankwright_run::typed::field_of;

/// A problem of the page.
#[derive(Debug, Serialize)]
pub(crate) struct Said {
    code: &'static str,
    error: bool,
    message: String,
    label: String,
    hint: String,
    /// Path of the value, where it is one of the job file.
    path: Option<String>,
    /// File, where it is not the job file.
    file: Option<String>,
    line: Option<usize>,
    /// Column, from 1.
    column: usize,
    /// Where in the text, in the units in which a page counts.
    from: usize,
    to: usize,
}

/// The text of a job file, with where its values stand.
pub(crate) struct Text<'a> {
    pub(crate) name: &'a str,
    pub(crate) text: &'a str,
    pub(crate) spans: &'a BTreeMap<String, Span>,
}

impl Text<'_> {
    /// Problems of a job, of its price list, or of neither.
    pub(crate) fn said(&self, problems: &[Problem]) -> Vec<Said> {
        problems.iter().map(|p| self.one(p)).collect()
    }

    fn one(&self, p: &Problem) -> Said {
        let place = p.place.as_ref();
        let ours = place.filter(|at| at.file == self.name);
        let units = |to: usize| self.text.get(..to).map_or(0, |t| t.encode_utf16().count());
        let column = ours.map_or(0, |at| {
            let before = self.text.get(..at.span.start).unwrap_or_default();
            before.rsplit('\n').next().map_or(1, |line| line.chars().count() + 1)
        });
        // A value that is not there is named by its problem.
        let named = || p.message.split([' ', ':']).next().filter(|word| field_of(word).is_some());
        let stands = || ours.and_then(|at| path_at(self.spans, &at.span));
        let path = named().map(str::to_owned).or_else(stands);
        Said {
            code: p.code,
            error: p.severity == Severity::Error,
            message: p.message.clone(),
            label: p.label.clone(),
            hint: p.hint.clone().unwrap_or_default(),
            path,
            file: place.filter(|at| at.file != self.name).map(|at| at.file.clone()),
            line: place.map(|at| at.line),
            column,
            from: ours.map_or(0, |at| units(at.span.start)),
            to: ours.map_or(0, |at| units(at.span.end)),
        }
    }
}

/// Problems that belong to no text.
pub(crate) fn plain(problems: &[Problem]) -> Vec<Said> {
    let spans = BTreeMap::new();
    Text { name: "", text: "", spans: &spans }.said(problems)
}
