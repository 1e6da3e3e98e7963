//! Who offers, and what the offer says besides the price. Nothing else reads it. `firm.toml` of the user's data folder is
//! read with the same table.

use crate::job::field::{Fallback, Field, Kind, Presence};

/// The table.
pub(super) static FIELDS: &[Field] = &[
    Field::part("firm", Presence::Optional, "who offers: the head of the offer"),
    Field::value("firm.name", Kind::Text, Fallback::Required, "name"),
    Field::value("firm.address", Kind::Text, Fallback::Nothing, "address, in one line"),
    Field::value("firm.telephone", Kind::Text, Fallback::Nothing, "telephone"),
    Field::value("firm.email", Kind::Text, Fallback::Nothing, "address for letters by wire"),
    Field::value("firm.tax_number", Kind::Text, Fallback::Nothing, "number for the tax office"),
    Field::value(
        "firm.logo",
        Kind::Text,
        Fallback::Nothing,
        "picture over the offer: a PNG, JPEG or SVG file, looked for beside the file that names it",
    ),
    Field::part("offer", Presence::Always, "what the offer says besides the price"),
    Field::value("offer.client", Kind::Text, Fallback::Nothing, "who gets it"),
    Field::value("offer.place", Kind::Text, Fallback::Nothing, "where it is built"),
    Field::value("offer.number", Kind::Text, Fallback::Nothing, "number of the offer"),
    Field::value(
        "offer.valid_days",
        Kind::Count { least: 1, most: 365 },
        Fallback::Nothing,
        "how long it holds, from the job's date; left out: 30 days, our choice, printed",
    ),
    Field::value("offer.not_included", Kind::Texts, Fallback::Nothing, "what else is not in the price"),
];
