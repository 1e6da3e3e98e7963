//! The cross-check: a second take-off or bill held against a job, each difference explained by re-measuring the job
//! under the usual mistakes. Pure: rows of text and a job in, plain data out.
//!
//! Read [`check::crosscheck`] first. The mistakes are one list, in [`mistakes`].

pub mod arithmetic;
pub mod check;
pub mod codes;
pub mod columns;
mod compare;
pub mod figure;
pub mod map;
mod matching;
pub mod measure;
pub mod mistakes;
mod own;
mod parts;
pub mod read;
pub mod report;
pub mod rows;
pub mod search;
pub mod wording;
pub mod world;

pub use check::crosscheck;
pub use codes::CODES;
pub use matching::surely;
pub use report::Report;
