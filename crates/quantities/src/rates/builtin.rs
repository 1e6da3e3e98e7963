//! The built-in data, embedded so that the binary works alone.

use super::{Stock, read_stock};
use crate::problem::Problem;

macro_rules! embedded {
    ($($path:literal),* $(,)?) => {
        &[$(($path, include_str!(concat!("../../../../rates/", $path)))),*]
    };
}

static FILES: &[(&str, &str)] = embedded![
    "README.md",
    "bars.toml",
    "checklist.toml",
    "currencies.toml",
    "materials.toml",
    "mixes.toml",
    "packs.toml",
    "prices/demo-inr.csv",
    "prices/demo-kes.csv",
    "prices/demo-ugx.csv",
    "profiles/east-africa.toml",
    "profiles/exact.toml",
    "programme.toml",
    "recipes.toml",
    "soils.toml",
    "units.toml",
    "waste.toml",
];

/// Every built-in file: its path under `rates/` and its text.
#[must_use]
pub fn builtin_files() -> &'static [(&'static str, &'static str)] {
    FILES
}

/// The built-in data, and what is wrong with them (nothing, or a fault of the program).
#[must_use]
pub fn builtin() -> (Stock, Vec<Problem>) {
    let mut stock = Stock::default();
    let named = |(path, text): &(&str, &str)| (format!("rates/{path}"), (*text).to_owned());
    let files: Vec<(String, String)> = FILES.iter().map(named).collect();
    let problems = read_stock(&files, &mut stock);
    (stock, problems)
}

/// A built-in price list by name, as `demo-ugx`: its name for messages and its text.
#[must_use]
pub fn builtin_prices(name: &str) -> Option<(String, &'static str)> {
    let path = format!("prices/{name}.csv");
    FILES.iter().find(|(p, _)| *p == path).map(|(p, text)| (format!("rates/{p}"), *text))
}
