//! The ledger in the making: claims on space, gross lines, and the deductions that follow from the claims.

mod book;
mod claims;
mod deduct;
mod finish;
pub mod over_break;

pub(crate) use book::{BAR_STEP, factor};
pub use book::{Book, count};
pub use claims::{Carrier, Claim, Face, Lift, Rank, SetOut, Side, Spec};
pub use deduct::deduct;
