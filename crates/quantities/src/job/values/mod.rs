//! Single values: what stands in the file, turned into what a key takes, or a flaw in the user's terms.

mod bars;
mod length;
mod number;
mod text;

use toml::de::DeValue;

use super::codes;

pub(super) use bars::{Lap, bars, lap};
pub(super) use length::{length, length_or, shown};
pub(super) use number::{count, factor, number};
pub(super) use text::{choice, date, flag, free, mix};

/// What is wrong with one value.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Flaw {
    pub(super) code: &'static str,
    /// Follows the key and a colon.
    pub(super) what: String,
    /// Beside the carets.
    pub(super) label: String,
    pub(super) hint: String,
}

impl Flaw {
    pub(super) fn new(code: &'static str, what: impl Into<String>) -> Self {
        Self { code, what: what.into(), label: String::new(), hint: String::new() }
    }

    pub(super) fn label(mut self, label: impl Into<String>) -> Self {
        self.label = label.into();
        self
    }

    pub(super) fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = hint.into();
        self
    }
}

/// What a value is, in the user's words.
pub(super) const fn what(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) => "a whole number",
        DeValue::Float(_) => "a number with a point",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table of keys",
    }
}

/// A value of another sort than the key takes.
pub(super) fn unfit(value: &DeValue<'_>, takes: &str, example: &str) -> Flaw {
    let be = if takes == "bars" || takes.starts_with("two ") { "are" } else { "is" };
    Flaw::new(codes::WRONG_SHAPE, format!("{takes} {be} wanted here"))
        .label(format!("this is {}", what(value)))
        .hint(format!("write it as {example}"))
}

/// A whole number as written; `None` when too large to hold.
fn integer(value: &toml::de::DeInteger<'_>) -> Option<i128> {
    i128::from_str_radix(value.as_str(), value.radix()).ok()
}

/// The user's own text, cut where it is long.
fn quoted(text: &str) -> String {
    let mut short: String = text.chars().take(40).map(|c| if c.is_control() { ' ' } else { c }).collect();
    if text.chars().count() > 40 {
        short.push_str("...");
    }
    format!("\"{short}\"")
}
