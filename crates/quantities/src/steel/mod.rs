//! Bars: from the notation of the drawing office to a schedule, lines of the ledger and a cutting plan.
//!
//! Elements say which members are reinforced and how long they are; this room knows shapes, laps and lengths
//! (BS 8666:2005) and nothing of elements.

mod balance;
pub(crate) mod bars;
mod beams;
mod bench;
pub mod cutting;
mod details;
mod discs;
mod laps;
mod mats;
pub mod schedule;
mod shapes;
mod trimmers;
mod uprights;

pub use balance::balance;
pub use bars::Bars;
pub(crate) use bars::{KEYS, lap, split};
pub use beams::{Round, Straight, link};
pub use bench::{Bench, Lines, Order, Want};
pub use details::Place;
pub use discs::Disc;
pub use mats::Mat;
pub use schedule::{BarKind, Cutting, Laid, Mark, Number, Pattern, Schedule};
pub use shapes::Shape;
pub use trimmers::{Trimmers, chairs};
pub use uprights::{Equal, Uprights};

/// Codes of bars that are refused, each with its meaning in one line. How they are written is the reader's matter.
pub const CODES: &[(&str, &str)] = &[
    ("J086", "a grade of steel that is not known"),
    ("J087", "a diameter that is not known"),
    ("J088", "a link or bent bar that does not fit its member"),
    ("J089", "a member with no room for bars between its covers"),
    ("J090", "a bar that cannot be had from the stock length"),
    ("J091", "legs round the corners that are longer than the beam they lie in"),
];
