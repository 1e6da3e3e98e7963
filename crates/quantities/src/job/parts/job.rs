//! What the job is.

use super::{COMMON, OURS};
use crate::job::field::{Fallback, Field, Kind, Presence};

/// The table.
pub(super) static FIELDS: &[Field] = &[
    Field::value(
        "format",
        Kind::Number { places: 0 },
        Fallback::Required,
        "1, the form this file is written in",
    ),
    Field::part("job", Presence::Always, "what the job is"),
    Field::value("job.title", Kind::Text, Fallback::Required, "name of the job, on all papers"),
    Field::value("job.date", Kind::Date, Fallback::Required, "picks dated rates, on all papers"),
    Field::value("job.currency", Kind::Text, Fallback::Required, "three letters of ISO 4217, as UGX"),
    Field::value(
        "job.profile",
        Kind::Text,
        Fallback::Default("east-africa", OURS),
        "how things are measured",
    ),
    Field::value(
        "job.rates",
        Kind::Text,
        Fallback::Nothing,
        "a built-in price list by name, or a path beside this file",
    ),
    Field::value(
        "job.supply",
        Kind::Choice(&["labour-and-materials", "labour-only"]),
        Fallback::Default("labour-and-materials", COMMON),
        "who buys the materials",
    ),
    Field::value(
        "job.numbers",
        Kind::Choice(&["thousands", "lakh-crore"]),
        Fallback::Nothing,
        "how large amounts are grouped, in figures and in words; left out: thousands",
    ),
];
