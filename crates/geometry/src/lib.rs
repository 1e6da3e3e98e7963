//! Lengths that remember where they come from, blocks of space and the cell model.
//!
//! No trade words, no money, no input or output, no floats. Everything is exact: a length is a
//! [`Ratio`] of tenths of a millimetre, and an overflow makes it *unknown*, never wrong.

pub mod amount;
pub mod block;
pub mod cells;
pub mod cuts;
pub mod judge;
pub mod len;
pub mod parse;
pub mod ratio;

pub use amount::{Amount, Made};
pub use block::{Axis, Block, Floor, Z};
pub use cells::Cells;
pub use cuts::Cuts;
pub use judge::{Judge, Kept, Test};
pub use len::{Atom, InputId, Len, Term};
pub use parse::{LengthError, parse_length};
pub use ratio::{Ratio, nearest};

/// Pi as declared: this many digits are printed, and these are multiplied.
pub const PI: Ratio = Ratio::of(31_415_926_536, 10_000_000_000);

/// Pi as text, for papers and formulas.
pub const PI_TEXT: &str = "3.1415926536";
