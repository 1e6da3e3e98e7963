//! Papers and files made from an [`Estimate`](tankwright_quantities::estimate::Estimate): text, JSON, CSV, and the
//! workbook (abstract cells first, then its writer). No measuring, no pricing.

pub mod against;
pub mod analysis;
pub mod batch;
pub mod book;
pub mod cells;
pub mod cheapest;
pub mod check;
pub mod crosscheck;
pub mod csv;
pub mod evaluate;
pub mod explain;
pub mod expr;
mod figures;
pub mod format;
pub mod ics;
pub mod json;
pub mod money;
mod pages;
mod paper;
pub mod payments;
pub mod returned;
pub mod schema;
pub mod size;
mod sizes;
pub mod page {
    //! Parts of a page, for writers other than plain text.
    pub use crate::text::table::{Col, Page, Part, Row, Table};
}
pub mod text;
pub mod trail;
pub mod vary;
pub mod xlsx;

#[cfg(test)]
mod bill_fixture;
#[cfg(test)]
mod fixture;
#[cfg(test)]
mod golden;
#[cfg(test)]
mod goods_fixture;
#[cfg(test)]
mod goods_handmade;
#[cfg(test)]
mod handmade;
