//! The ledger in the making: claims on space, gross lines, and the deductions that follow from the claims.

mod book;
mod claims;
mod compile;
mod deduct;
mod figures;
mod finish;
mod form;
pub mod over_break;

pub(crate) use book::{BAR_STEP, Second, factor};
pub use book::{Book, count};
pub use claims::{Carrier, Claim, Face, Lift, Rank, SetOut, Side, Spec};
pub use deduct::deduct;
pub(crate) use figures::Figures;
pub(crate) use finish::EXACT_PLACES;
#[cfg(test)]
pub(crate) use form::Row;
pub(crate) use form::{Form, Group, Head, Inputs, Part, Sum, bit};
