//! A bill that others price, as a workbook and as CSV, and what `returned` prints of their copies.

mod csv;
mod form_book;
mod form_csv;
mod json;
mod shared;
mod text;
mod text_copy;

pub use csv::csv;
pub use form_book::form_book;
pub use form_csv::form_csv;
pub use json::json;
pub use text::text;
