//! What stands at a field of the page, as the user wrote it.

use std::collections::BTreeMap;

use tankwright_export::format::{NO_BREAK, input_value};
use tankwright_quantities::job::spans::Span;
use tankwright_quantities::job::{Fallback, Given, Job, Kind, Value};
use tankwright_run::typed::field_of;

/// What stands at a path: as the user wrote it, without quotes; `None` where nothing is written.
pub(crate) fn written(job: &Job, text: &str, spans: &BTreeMap<String, Span>, path: &str) -> Option<String> {
    if let Some((Value::Text(said), Given::Here(_))) = job.values.get(path)
        && !matches!(field_of(path).and_then(|f| f.kind), Some(Kind::Bars { .. }))
    {
        return Some(said.clone());
    }
    let entry = |i: usize| spans.get(&format!("{path}[{i}]")).filter(|s| s.plain);
    let plain = |s: &Span| bare(text.get(s.value.clone()).unwrap_or_default(), path);
    let span = spans.get(path)?;
    if span.plain {
        return Some(plain(span));
    }
    let entries: Vec<String> = (0..).map_while(entry).map(plain).collect();
    (!entries.is_empty()).then(|| entries.join(", "))
}

/// Without quotes; a whole number of millimetres with its unit.
fn bare(text: &str, path: &str) -> String {
    let inside = text.trim().trim_matches('"').trim_matches('\'');
    let length = matches!(
        field_of(path).and_then(|f| f.kind),
        Some(
            Kind::Length { .. }
                | Kind::Lengths { .. }
                | Kind::Size { .. }
                | Kind::Sizes { .. }
                | Kind::LengthOr(_)
        )
    );
    if length && inside.len() == text.trim().len() && inside.chars().all(|c| c.is_ascii_digit()) {
        return format!("{inside} mm");
    }
    inside.to_owned()
}

/// What holds at a path that is not written: its default, with its source.
pub(crate) fn default(job: &Job, path: &str) -> Option<(String, String)> {
    if let Some((_, input)) = job.input(path)
        && let Given::Default(source) = input.given
    {
        return Some((input_value(input).replace(NO_BREAK, " "), source.to_owned()));
    }
    match field_of(path)?.fallback {
        Fallback::Default(text, source) => Some((text.to_owned(), source.to_owned())),
        _ => None,
    }
}
