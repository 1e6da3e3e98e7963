//! What commands and the page do alike: texts in, an estimate, its papers, a search or a cross-check out. No files, no
//! streams, no exit codes: those are the callers'.

#![expect(clippy::result_large_err, reason = "a refusal ends what was asked: its size costs nothing")]

mod estimate;
mod lists;
mod papers;
mod pictures;
#[cfg(feature = "papers")]
mod printed;
mod search;
mod second;
pub mod sheets;
#[cfg(feature = "papers")]
mod sketches;
pub mod typed;

pub use estimate::{Data, Made, check_search, check_sizing, estimate, own_data, read_job, say_sizing};
pub use lists::{ListText, list_names, look_at_list, of_bytes, price_list};
pub use papers::{NoBook, illustrated, site_files, stage_ids, workbook};
#[cfg(feature = "papers")]
pub use printed::{
    Appendices, Firm, Printed, no_picture, print_cards, print_offer, print_picture, unprinted,
};
pub use search::{Wish, refusal, start};
pub use second::{Shape, placed, rows, text_rows};
#[cfg(feature = "papers")]
pub use tankwright_papers::{Logo, MOST_BYTES as LONGEST_LOGO};

/// Every code of this crate, each with its meaning in one line.
pub const CODES: &[(&str, &str)] = &[
    ("C090", "your own data replace or add to the built-in ones (caution)"),
    ("R070", "a spreadsheet file that cannot be read"),
    ("R071", "a spreadsheet file larger than is read"),
    ("R072", "a spreadsheet file without the sheet that is asked for"),
    ("R073", "a spreadsheet file of which no sheet is a price list"),
    ("R074", "a spreadsheet file with more sheets that may be price lists (caution)"),
    ("R092", "a price list that is a spreadsheet file of an old or locked kind"),
];
