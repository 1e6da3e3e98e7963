//! What `crosscheck` prints: text, JSON, CSV, from a finding.

mod csv;
mod json;
mod text;

pub use csv::csv;
pub use json::json;
pub use text::text;

use tankwright_crosscheck::report::Explanation;

/// An explanation in words.
fn says(e: &Explanation) -> String {
    let words: Vec<String> = e.says.iter().map(ToString::to_string).collect();
    let mut words = words.into_iter();
    let first = words.next().unwrap_or_default();
    words.fold(first, |all, more| crate::format::say("paper-cross-together", &[&all, &more]))
}

/// Its mistakes, joined.
fn ids(e: &Explanation) -> String {
    e.mistakes.join(" + ")
}
