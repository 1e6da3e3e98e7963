//! Constants, profiles, soils, units and price lists: dated, cited data, embedded or the user's own.

mod bars;
mod build_ups;
mod builtin;
mod codes;
#[cfg(test)]
mod data_tests;
pub mod entry;
mod find;
mod forms;
mod goods;
#[cfg(test)]
mod list_tests;
pub mod lists;
mod price_read;
#[cfg(test)]
mod price_tests;
mod prices;
mod profile;
mod profile_rules;
#[cfg(test)]
mod profile_tests;
mod read;
mod read_bars;
mod read_build_ups;
mod read_goods;
mod read_method;
mod read_profile;
mod read_recipes;
mod recipes;
mod stock;
mod tables;

pub use bars::{BarSize, Bars, Grade, LapRule};
pub use build_ups::{BuildLine, BuildUp, BuildUps, Needs};
pub use builtin::{builtin, builtin_files, builtin_prices};
pub use codes::CODES;
pub use find::Lookup;
pub use goods::{Notice, Pace, PackEntry, StageDays, Times, Wait};
pub use lists::{
    Column, Headed, Heads, Map, Mark, Names, Unmatched, head_key, map_text, read_map, write_map,
};
pub use price_read::{
    By, How, Looked, ReadList, Reading, Worked, heads_a_list, look_at, read_list, read_prices,
};
pub use prices::{PriceKind, PriceList, PriceRow};
pub use profile::{Boundary, DigClass, Note, NoteKind, OfWork, Profile, Room, Rounding, Support, VoidLimit};
pub use profile_rules::Rule;
pub use read::{read_fields, read_stock};
pub use recipes::{Coat, Figure, FigureValue, Goods, Mix, Recipe, RecipeGood, Recipes, covering};
pub use stock::{CheckItem, MasonryUnit, Soil, Stock};
pub use tables::Table;
