//! What `payments` prints: the schedule, the account at a date, money in and out; text, JSON, CSV.

mod account;
mod cash;
mod csv;
mod json;
mod text;

pub use account::account;
pub use cash::cash;
pub use csv::csv;
pub use json::json;
pub use text::text;

use tankwright_account::payments::{Kind, Payment, Payments};

use crate::format::{say, word};
use crate::text::goods;

/// What a payment is for, in words.
#[must_use]
pub fn title(p: &Payments<'_>, payment: &Payment) -> String {
    match payment.kind {
        Kind::Deposit if p.schedule.deposit.buys.is_empty() => word("paper-payments-deposit").to_owned(),
        Kind::Deposit => say("paper-payments-deposit-goods", &[&goods::stage_list(&p.schedule.deposit.buys)]),
        Kind::Stage(stage) => goods::stage(stage),
        Kind::Provisional => word("paper-payments-provisional").to_owned(),
        Kind::Completion => word("paper-payments-completion").to_owned(),
        Kind::Retention => say("paper-payments-retention", &[&p.terms.days.to_string()]),
    }
}

/// The stable word of a kind.
const fn kind(kind: Kind) -> &'static str {
    match kind {
        Kind::Deposit => "deposit",
        Kind::Stage(_) => "stage",
        Kind::Provisional => "provisional",
        Kind::Completion => "completion",
        Kind::Retention => "retention",
    }
}

/// The id of a payment's stage, or nothing.
const fn stage_id(kind: Kind) -> &'static str {
    match kind {
        Kind::Stage(stage) => stage.id(),
        _ => "",
    }
}
