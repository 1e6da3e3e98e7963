//! What `size` prints: text, JSON, CSV, from a report of the sizing rules.

mod csv;
mod drawn_json;
mod json;
mod text;
mod verdict;

pub use csv::csv;
pub use json::json;
pub use text::text;

use tankwright_geometry::Ratio;
use tankwright_quantities::decimal;
use tankwright_sizing::rule::{Limit, MeasuredTo};
use tankwright_sizing::sized::short;
use tankwright_sizing::unit::Quantity;

/// A number of at most nine places, a plain decimal.
fn plain(value: Ratio) -> String {
    decimal::rounded(value, 9).map_or_else(|| decimal::plain(value), |d| d.to_string())
}

fn measured_to(to: Option<MeasuredTo>) -> Option<&'static str> {
    to.map(|to| match to {
        MeasuredTo::WaterLine => "water-line",
        MeasuredTo::Inlet => "inlet",
    })
}

fn quantity(q: &Quantity) -> String {
    format!("{} {}", short(q.number), q.unit.shown()).trim_end().to_owned()
}

/// `least 750 mm`, `1 m to 1.8 m`, `2 : 1`.
fn bounds(l: &Limit) -> String {
    let parts: Vec<String> = l.ratio.iter().map(|r| short(*r)).collect();
    let limits = match (&l.least, &l.most) {
        (Some(least), Some(most)) => format!("{} to {}", quantity(least), quantity(most)),
        (Some(least), None) => format!("at least {}", quantity(least)),
        (None, Some(most)) => format!("at most {}", quantity(most)),
        (None, None) => parts.join(" : "),
    };
    let when = match (&l.up_to, &l.over) {
        (Some(q), _) => format!(" up to {}", quantity(q)),
        (None, Some(q)) => format!(" over {}", quantity(q)),
        (None, None) => String::new(),
    };
    let words = if l.words.is_empty() { String::new() } else { format!(" ({})", l.words) };
    format!("{limits}{when}{words}").trim_start().to_owned()
}
