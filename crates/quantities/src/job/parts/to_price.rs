//! What a bill to be priced by others says besides its rows.

use crate::job::field::{Fallback, Field, Kind, Presence};

/// The table.
pub(super) static FIELDS: &[Field] = &[
    Field::part(
        "to_price",
        Presence::Optional,
        "for a bill that others price: `tankwright bill JOB --to-price FILE`",
    ),
    Field::value("to_price.asked_by", Kind::Text, Fallback::Nothing, "who asks for the prices"),
    Field::value("to_price.answer_to", Kind::Text, Fallback::Nothing, "where the priced copy goes"),
    Field::value("to_price.answer_by", Kind::Date, Fallback::Nothing, "the last day for it"),
    Field::value(
        "to_price.notes",
        Kind::Texts,
        Fallback::Nothing,
        "what a bidder must know besides, line by line",
    ),
    Field::value(
        "provisional[].stated",
        Kind::Flag,
        Fallback::Nothing,
        "in a bill that others price: the amount or rate is told to them and theirs; left out, they price it",
    ),
    Field::value(
        "prime_cost[].stated",
        Kind::Flag,
        Fallback::Nothing,
        "in a bill that others price: the percentage for profit and attendance is told to them; left out, they fill it in",
    ),
    Field::value(
        "additions.list[].stated",
        Kind::Flag,
        Fallback::Nothing,
        "in a bill that others price: the percentage or amount is told to them; left out, they fill it in",
    ),
];
