//! Writers: from an [`Estimate`](tankwright_quantities::estimate::Estimate) to text, JSON, CSV and the workbook.
//!
//! Nothing is measured or priced here; sums are printed, not made.

pub mod csv;
pub mod explain;
pub mod format;
pub mod json;
pub mod text;

#[cfg(test)]
mod fixture;
