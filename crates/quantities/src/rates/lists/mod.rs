//! Price lists as people keep them: spellings of numbers, units, days and heads, read exactly or refused.

mod asked;
pub(super) mod cells;
pub(super) mod columns;
pub(super) mod compare;
pub(super) mod days;
pub(super) mod findings;
pub(super) mod heads;
mod known;
pub(super) mod map;
pub(super) mod money;
pub(super) mod names;
pub(super) mod notes;
pub(super) mod numbers;
mod sized;
pub(crate) mod units;

pub use asked::{Asked, asked};
pub use compare::{BillPair, Pair, Repriced, compare, own_form, reprice};
pub use findings::{Fault, Finding, far, missing, old};
pub use heads::{Column, Headed, Heads, head_key};
pub use map::{Map, Unmatched, map_text, read_map, write_map};
pub use names::Names;
pub use numbers::Mark;
pub(crate) use units::same as same_unit;
