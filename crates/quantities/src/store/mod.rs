//! Goods received: what came, what should have been used, what should be in the store, what is there.

mod account;
mod codes;
mod read;
#[cfg(test)]
mod tests;

pub use account::{account, account_of};
pub use codes::CODES;
pub use read::{Entry, read};

use rust_decimal::Decimal;

use crate::problem::Problem;
use crate::stage::Stage;

/// A material at the end of a stage, in its own unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StoreRow {
    /// Stage.
    pub stage: Stage,
    /// Material, as in the orders.
    pub material: String,
    /// As printed.
    pub title: String,
    /// Its own unit.
    pub unit: String,
    /// In the store before: what was counted after the stage before, else what should have been there.
    pub opening: Decimal,
    /// To be ordered for the stage.
    pub ordered: Decimal,
    /// Came, what was rejected included.
    pub received: Decimal,
    /// Of it sent back.
    pub rejected: Decimal,
    /// Should have been used in the stage, waste included.
    pub used: Decimal,
    /// Should be in the store after it: opening + received - rejected - used. Below zero where the work cannot have
    /// been done with what came.
    pub should_be: Decimal,
    /// Counted after it.
    pub counted: Option<Decimal>,
    /// Counted less what should be there: below zero, something is missing.
    pub difference: Option<Decimal>,
}

/// The account.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StoreAccount {
    /// By stage, then in the order of the orders; up to the last stage that the list names.
    pub rows: Vec<StoreRow>,
    /// That stage.
    pub until: Stage,
    /// What is odd in the list and does not stop it.
    pub cautions: Vec<Problem>,
}
