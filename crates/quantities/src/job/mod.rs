//! The job file: a table of fields, the reader, and the typed answers elements ask for by path.

mod changes;
pub mod codes;
pub mod date;
pub mod edit;
mod field;
mod lines;
mod lists;
pub mod model;
mod near;
pub mod parts;
mod paths;
mod read;
mod reference;
mod repair;
mod rules;
mod schema;
pub mod spans;
mod syntax;
#[cfg(test)]
mod tests;
mod values;

pub use date::{Day, days_between};
pub use field::{Fallback, Field, Kind, Presence};
pub use lines::line_of;
pub use lists::suggestion;
pub use model::{Given, Input, Job, Scale, Value};
pub use parts::{firm_table, tables};
pub use paths::Values;
pub use read::read;
pub use reference::{reference, takes};
pub use rules::{WAYS, Ways};
pub use schema::{Child, Part, faults};
