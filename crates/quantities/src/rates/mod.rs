//! Constants, profiles, soils, units and price lists: dated, cited data, embedded or the user's own.

mod builtin;
mod codes;
#[cfg(test)]
mod data_tests;
pub mod entry;
mod find;
mod forms;
mod price_read;
#[cfg(test)]
mod price_tests;
mod prices;
mod profile;
mod read;
mod read_profile;
mod stock;

pub use builtin::{builtin, builtin_files, builtin_prices};
pub use codes::CODES;
pub use find::Lookup;
pub use price_read::read_prices;
pub use prices::{PriceKind, PriceList, PriceRow};
pub use profile::{Profile, VoidLimit};
pub use read::{read_fields, read_stock};
pub use stock::{CheckItem, MasonryUnit, Soil, Stock};
