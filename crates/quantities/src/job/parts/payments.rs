//! How the price is paid: deposit, stages, retention; what was paid; how far the work is at a date.

use super::money::{MONEY, PERCENT};
use super::programme::{STAGES, stages};
use crate::job::field::{Fallback, Field, Kind, Presence};

/// The table; a valuation has a key for each stage.
macro_rules! payments {
    ($($stage:literal),*) => {
        &[
            Field::part("payments", Presence::Always, "how the price is paid, stage by stage"),
            Field::value("payments.deposit", Kind::Text, Fallback::Nothing, "\"materials\" of the first stage, \"none\", an amount, or \"10 %\" of the total"),
            Field::value("payments.deposit_stages", Kind::Texts, Fallback::Nothing, "stages whose materials the deposit buys"),
            Field::value("payments.retention", PERCENT, Fallback::Nothing, "per cent of each payment that is held back"),
            Field::value("payments.retention_limit", PERCENT, Fallback::Nothing, "most that is held, per cent of the total"),
            Field::value("payments.retention_release", PERCENT, Fallback::Nothing, "per cent of it that is paid out when all is built; the rest later"),
            Field::value("payments.retention_days", Kind::Count { least: 0, most: 3_650 }, Fallback::Nothing, "days from then until the rest is paid out"),
            Field::part("paid[]", Presence::List, "what the client has paid"),
            Field::value("paid[].date", Kind::Date, Fallback::Required, "on which day"),
            Field::value("paid[].amount", MONEY, Fallback::Required, "how much"),
            Field::value("paid[].note", Kind::Text, Fallback::Nothing, "what for, or how"),
            Field::part("valuation[]", Presence::List, "how far the work is at a date"),
            Field::value("valuation[].date", Kind::Date, Fallback::Required, "seen on this day"),
            Field::value("valuation[].materials", MONEY, Fallback::Nothing, "worth of goods on the site that are not built in yet"),
            Field::value("valuation[].provisional", MONEY, Fallback::Nothing, "provisional items done so far, as measured, at the bill's rates"),
            Field::value("valuation[].note", Kind::Text, Fallback::Nothing, "by whom, or what was seen"),
            Field::part("valuation[].done", Presence::Always, "per cent done of each stage; left out: as at the valuation before"),
            $(Field::value(concat!("valuation[].done.", $stage), PERCENT, Fallback::Nothing, "per cent done"),)*
        ]
    };
}

/// The table.
pub(super) static FIELDS: &[Field] = stages!(payments);

/// With which stage an entry of the preliminaries is paid.
pub(super) const PAID_WITH: Field = Field::value(
    "preliminaries[].stage",
    Kind::Choice(STAGES),
    Fallback::Nothing,
    "paid with this stage; left out: with all, as the measured work is",
);
