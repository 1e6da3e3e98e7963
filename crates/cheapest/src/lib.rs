//! The cheapest tank that complies: every candidate of a grid measured, proved and priced by the same code as an
//! estimate, and judged by the same comparisons as a drawn tank.
//!
//! No files, clock or colours. Threads only in `search.rs`; their number makes no difference to what is found.

mod codes;
mod given;
mod grid;
mod prove;
mod report;
mod search;
mod space;
mod structures;
mod tally;

pub use codes::CODES;
pub use given::{Asked, By, NAMES, Range, check, shown};
pub use grid::{Candidate, Grid, Structure};
pub use prove::Differs;
pub use report::{AsDrawn, Beyond, Chosen, Ended, Looser, Report, Start, report};
pub use search::{Data, Halt, Watch};
pub use space::{Axis, How, MOST, Space, Steps};
pub use tally::{Count, Row, Tally};
