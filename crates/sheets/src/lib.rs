//! Spreadsheet files as rows of text: bytes in, cells as they are read by people out. Knows nothing of any trade.
//!
//! Whatever the bytes are, the answer is rows or a [`Trouble`], within [`Limits`] of memory: sizes are looked up before
//! anything is unpacked, and counted again while it is, with all that the library would copy of it.

mod book;
mod cell;
mod scan;
mod sheet;
#[cfg(test)]
mod tests;
mod unpack;

pub use book::read;
pub use sheet::{Cell, Sheet, address};

/// How much is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// Bytes of the file.
    pub file: usize,
    /// Bytes of all its parts, unpacked: pictures too, for a sheet can bear a picture's name.
    pub unpacked: u64,
    /// Parts.
    pub parts: usize,
    /// Cells with something in them, over all sheets, cells of merged ranges too.
    pub cells: usize,
    /// Bytes of text in them.
    pub text: usize,
    /// The last row that is looked at.
    pub rows: usize,
    /// The last column that is looked at.
    pub columns: usize,
}

impl Limits {
    /// What a price list or a bill may be (the project's own).
    pub const USUAL: Self = Self {
        file: 10_000_000,
        unpacked: 100_000_000,
        parts: 2_000,
        cells: 1_000_000,
        text: 30_000_000,
        rows: 200_000,
        columns: 300,
    };
}

/// Why there are no rows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// Not a spreadsheet file, or a damaged one; the reader's own words, which may be empty.
    Damaged(String),
    /// A file of before 2007, or one that a password locks: both look alike from outside.
    OldOrLocked,
    /// Larger than a limit: what, and the limit.
    TooLarge(&'static str, u64),
}
