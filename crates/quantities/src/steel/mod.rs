//! Bars: from the notation of the drawing office to a schedule, lines of the ledger and a cutting plan.
//!
//! Elements say which members are reinforced and how long they are; this room knows shapes, laps and lengths
//! (BS 8666:2005) and nothing of elements.

mod bench;
pub mod schedule;

pub use bench::Bench;
pub use schedule::{BarKind, Cutting, Mark, Number, Pattern, Schedule};
