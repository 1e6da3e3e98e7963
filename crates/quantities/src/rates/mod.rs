//! Constants, profiles, soils, units and price lists: dated, cited data, embedded or the user's own.

mod profile;
mod prices;
mod stock;

pub use prices::{PriceKind, PriceList, PriceRow};
pub use profile::{Profile, VoidLimit};
pub use stock::{CheckItem, MasonryUnit, Soil, Stock};
