//! Preliminaries, provisional items and additions.

use super::payments::PAID_WITH;
use crate::job::field::{Fallback, Field, Kind, Presence};

/// Places of money, of quantities and of percentages.
pub(super) const MONEY: Kind = Kind::Number { places: 4 };
pub(super) const QUANTITY: Kind = Kind::Number { places: 3 };
pub(super) const PERCENT: Kind = Kind::Number { places: 4 };

/// The table.
pub(super) static FIELDS: &[Field] = &[
    Field::part(
        "preliminaries[]",
        Presence::List,
        "items that are not measured: setting out, water, tools, transport",
    ),
    Field::value("preliminaries[].title", Kind::Text, Fallback::Required, "what it is"),
    Field::value(
        "preliminaries[].covers",
        Kind::Texts,
        Fallback::Nothing,
        "items of the checklist that this entry prices",
    ),
    Field::value("preliminaries[].amount", MONEY, Fallback::Nothing, "amount; or unit, quantity and rate"),
    Field::value("preliminaries[].unit", Kind::Text, Fallback::Nothing, "unit"),
    Field::value("preliminaries[].quantity", QUANTITY, Fallback::Nothing, "quantity"),
    Field::value("preliminaries[].rate", MONEY, Fallback::Nothing, "rate"),
    PAID_WITH,
    Field::part("provisional[]", Presence::List, "items billed apart and measured again later"),
    Field::value("provisional[].title", Kind::Text, Fallback::Required, "what it is"),
    Field::value("provisional[].amount", MONEY, Fallback::Nothing, "amount; or unit, quantity and rate"),
    Field::value("provisional[].unit", Kind::Text, Fallback::Nothing, "unit"),
    Field::value("provisional[].quantity", QUANTITY, Fallback::Nothing, "quantity"),
    Field::value("provisional[].rate", MONEY, Fallback::Nothing, "rate"),
    Field::part(
        "on_costs",
        Presence::Always,
        "what rates that are built up carry besides their cost, in order",
    ),
    Field::value(
        "on_costs.say",
        Kind::Text,
        Fallback::Nothing,
        "a built rate is said to this: \"up 100\", \"nearest 0.10\"",
    ),
    Field::value(
        "on_costs.hours",
        QUANTITY,
        Fallback::Nothing,
        "hours of a working day, where hours meet wages by the day",
    ),
    Field::part("on_costs.list[]", Presence::List, "each on all before it, unless it says on what"),
    Field::value("on_costs.list[].title", Kind::Text, Fallback::Required, "what it is"),
    Field::value("on_costs.list[].percent", PERCENT, Fallback::Required, "per cent"),
    Field::value(
        "on_costs.list[].on",
        Kind::Texts,
        Fallback::Nothing,
        "\"cost\", \"materials\", \"labour\", \"plant\", \"sundries\", or titles of earlier on-costs",
    ),
    Field::value(
        "on_costs.list[].gross_up",
        Kind::Flag,
        Fallback::Nothing,
        "the percentage is one of the sum with it, as of a tax that is part of the price",
    ),
    Field::part("additions", Presence::Always, "what is added to the measured works, in order"),
    Field::value("additions.say", MONEY, Fallback::Nothing, "the offered total is rounded up to this"),
    Field::part("additions.list[]", Presence::List, "each on the running total, unless it says on what"),
    Field::value("additions.list[].title", Kind::Text, Fallback::Required, "what it is"),
    Field::value("additions.list[].percent", PERCENT, Fallback::Nothing, "per cent; or an amount"),
    Field::value("additions.list[].amount", MONEY, Fallback::Nothing, "amount"),
    Field::value(
        "additions.list[].on",
        Kind::Texts,
        Fallback::Nothing,
        "\"measured\", or titles of earlier additions",
    ),
];
