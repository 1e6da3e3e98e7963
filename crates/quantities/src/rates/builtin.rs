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
    "build-ups/concrete.toml",
    "build-ups/earthwork.toml",
    "build-ups/finishes.toml",
    "build-ups/formwork.toml",
    "build-ups/masonry.toml",
    "build-ups/on-costs.toml",
    "build-ups/pipework.toml",
    "build-ups/reinforcement.toml",
    "build-ups/soak-pit.toml",
    "checklist.toml",
    "checks.toml",
    "currencies.toml",
    "materials.toml",
    "mixes.toml",
    "packs.toml",
    "prices/demo-built.csv",
    "prices/demo-inr.csv",
    "prices/demo-kes.csv",
    "prices/demo-ugx.csv",
    "profiles/cesmm.toml",
    "profiles/east-africa.toml",
    "profiles/exact.toml",
    "profiles/is-1200.toml",
    "profiles/nrm2.toml",
    "profiles/smm7.toml",
    "programme.toml",
    "recipes.toml",
    "rules/ad-h2-field.toml",
    "rules/ad-h2.toml",
    "rules/bs-6297-1983.toml",
    "rules/bs-6297-field.toml",
    "rules/doh-ph-2019.toml",
    "rules/illinois.toml",
    "rules/ipsdc-603.toml",
    "rules/ipsdc.toml",
    "rules/is-2470-2.toml",
    "rules/is-2470.toml",
    "rules/media-1250.toml",
    "rules/missouri-county.toml",
    "rules/montana.toml",
    "rules/ms-1228.toml",
    "rules/nj-pit.toml",
    "rules/nl-1997.toml",
    "rules/ontario-shallow.toml",
    "rules/ontario.toml",
    "rules/phs-wayne.toml",
    "rules/sls-745.toml",
    "rules/sls-pit.toml",
    "rules/south-dakota.toml",
    "rules/texas.toml",
    "rules/uk-150p.toml",
    "rules/uk-loads.toml",
    "rules/upc-soils.toml",
    "rules/us-bedrooms.toml",
    "rules/us-fixture-units.toml",
    "rules/water-clearance.toml",
    "rules/who-1992.toml",
    "rules/who-pit.toml",
    "rules/who-trench.toml",
    "rules/za-practice.toml",
    "soils.toml",
    "tables.toml",
    "units.toml",
    "waste.toml",
    "wording.toml",
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
