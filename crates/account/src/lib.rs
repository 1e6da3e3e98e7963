//! After the price is agreed: variations, payments, copies of a bill that others priced. Pure: plain data in, plain
//! data out; no files, clock or floats. Nothing is measured here: figures are those of [`Estimate`]s.
//!
//! [`Estimate`]: tankwright_quantities::estimate::Estimate

pub mod codes;
pub mod paid;
pub mod payments;
pub mod returned;
pub mod vary;
