//! What `cheapest` prints: text, JSON, CSV, from the report of a search.

mod csv;
mod json;
mod text;

pub use csv::csv;
pub use json::json;
pub use text::text;

use rust_decimal::Decimal;
use tankwright_cheapest::{Chosen, Report, Structure};
use tankwright_geometry::Ratio;
use tankwright_quantities::decimal;

/// Tenths of a millimetre as metres, a plain decimal.
fn metres(tenths: i64) -> String {
    decimal::plain(Ratio::from(tenths) / Ratio::int(10_000))
}

/// An area with at most six places, a plain decimal.
fn area(plan: Ratio) -> String {
    decimal::rounded(plan, 6).map_or_else(String::new, |d| d.normalize().to_string())
}

/// An amount in the currency's own digits, a plain decimal.
fn money(r: &Report, amount: Decimal) -> String {
    decimal::shown(amount, r.currency.digits)
}

/// Candidates that do not comply, and those that cannot be built or priced.
fn lost(r: &Report) -> [u64; 2] {
    [r.tally.missed.values().sum(), r.tally.refused.values().map(|c| c.times).sum()]
}

/// Do structures differ at all?
fn several(r: &Report) -> bool {
    r.space.grid.structures.len() > 1
}

/// What is built of what, for programs: unit, wall and partition (m), face, cover (m), beam.
fn built(c: &Chosen) -> [String; 6] {
    let Structure { unit, wall, partition, open, cover, beam, .. } = &c.structure;
    [
        unit.clone(),
        metres(*wall),
        metres(*partition),
        if *open { "open" } else { "tight" }.to_owned(),
        metres(*cover),
        if *beam { "with" } else { "without" }.to_owned(),
    ]
}
