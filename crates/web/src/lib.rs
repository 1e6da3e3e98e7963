//! The local page: a small server on the loopback address, and the page it serves. It makes the same library calls as
//! the commands, reads no file and writes none: what it knows it is given at the start or sent by the page.

#![expect(clippy::result_large_err, reason = "a refusal ends what was asked: its size costs nothing")]

mod account;
mod answer;
mod cheapest;
mod compare;
mod copies;
mod desk;
mod explain;
mod figures;
mod form;
mod guard;
mod lists;
mod needs;
mod office;
mod page;
mod papers;
mod patient;
mod printed;
mod problems;
mod routes;
mod second;
mod server;
mod values;

pub use desk::{FirmText, Given};
pub use page::Page;
pub use server::serve;

/// Every code of this crate, each with its meaning in one line.
pub const CODES: &[(&str, &str)] = &[
    ("W000", "a fault of the program: books that do not balance, or a figure that two ways give differently"),
    ("W001", "a value that cannot be replaced in the way the job file is written"),
    ("W002", "a price list that is not on the page"),
    ("W003", "a file that the page does not take: its kind, its size, its encoding"),
    ("W004", "a second take-off, or a priced copy, that is not on the page"),
    ("W005", "no prices: the job names no price list"),
    ("W006", "a search that is not running any more"),
    ("W007", "what is asked of the account: a day, a stage, a per cent, how many times"),
];
