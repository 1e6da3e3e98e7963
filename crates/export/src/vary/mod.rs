//! What `vary` prints: text, JSON, CSV, from an account.

mod bills;
mod csv;
mod fields;
mod json;
mod text;

pub use csv::csv;
pub use json::json;
pub use text::text;

use rust_decimal::Decimal;
use tankwright_account::vary::report::{Account, Basis, Entry, Settled, Star, StarFrom};

use crate::format::{quantity, say, word};

/// An amount in the currency's own digits.
fn money(a: &Account, value: Decimal) -> String {
    crate::money::money(value, &a.currency)
}

/// The same taken off: nothing is not less than nothing.
fn less(a: &Account, value: Decimal) -> String {
    money(a, Decimal::ZERO - value)
}

/// A rate with at least the currency's digits.
fn rate(a: &Account, value: Decimal) -> String {
    crate::money::rate(value, &a.currency)
}

/// A quantity: two places at least for what is measured, none for what is counted.
fn measure(value: Decimal, unit: &str) -> String {
    quantity(value, if ["m", "m2", "m3", "kg"].contains(&unit) { 2 } else { 0 })
}

/// An entry in words: what it is, extra over, its star rate.
fn words(e: &Entry) -> String {
    let says = if e.preliminary { say("paper-preliminary", &[&e.title()]) } else { e.title() };
    match e.basis {
        Basis::Star(n) => say("paper-vary-starred", &[&says, &(n + 1).to_string()]),
        _ => says,
    }
}

/// A key, what it was and what it became.
fn key((path, old, new): &(String, String, String)) -> String {
    match (old.is_empty(), new.is_empty()) {
        (_, true) => say("paper-vary-dropped", &[path]),
        (true, false) => say("paper-vary-brought", &[path, new]),
        (false, false) => say("paper-vary-became", &[path, old, new]),
    }
}

/// Where a star rate comes from.
fn from(star: &Star) -> String {
    match &star.from {
        StarFrom::List(from) => crate::text::rate_source(from),
        StarFrom::Given(file, line) => format!("{file}:{line}"),
    }
}

/// A settled item with its per cent, and whether a provisional sum is defined.
fn settled_title(s: &Settled) -> String {
    match (s.percent, s.defined) {
        (Some(p), _) => say("paper-vary-with-percent", &[&s.title, &quantity(p, 0)]),
        (None, Some(true)) => say("paper-vary-defined", &[&s.title]),
        (None, Some(false)) => say("paper-vary-undefined", &[&s.title]),
        (None, None) => s.title.clone(),
    }
}

/// Words parted by semicolons, empty ones left out.
fn joined(parts: &[&str]) -> String {
    parts.iter().filter(|p| !p.is_empty()).copied().collect::<Vec<_>>().join("; ")
}

/// Who measured or instructed, when, further words, photo.
fn record(date: &str, by: &str, note: &str, photo: &str) -> String {
    let photo = if photo.is_empty() { String::new() } else { say("paper-vary-photo", &[photo]) };
    joined(&[date, by, note, &photo])
}

/// A word as a heading.
fn head(key: &str) -> String {
    word(key).to_uppercase()
}
