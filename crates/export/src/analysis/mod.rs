//! Rates built up, as papers: a hand analysis for each row of the bill that has one.

mod csv;
mod json;
mod text;

pub use csv::csv;
pub use json::json;
pub(crate) use json::{BuildUpOut, build_up};
pub use text::text;
pub(crate) use text::{one, taken_on, taken_words};

use tankwright_quantities::bill::BillRow;
use tankwright_quantities::build_up::{Group, Worked};
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::words::look_up;

/// Rows of the bill whose rate is built up.
pub(crate) fn rows(e: &Estimate) -> Vec<(&BillRow, &Worked)> {
    let rows = e.bill.sections.iter().flat_map(|s| &s.rows);
    rows.filter_map(|r| Some((r, r.build_up.as_deref()?))).collect()
}

/// `concrete-base/1:2:4`.
pub(crate) fn code(row: &BillRow) -> String {
    if row.spec.is_empty() { row.work.id.to_owned() } else { format!("{}/{}", row.work.id, row.spec) }
}

/// Words of a group.
pub(crate) fn group_word(group: Group) -> &'static str {
    look_up(match group {
        Group::Materials => "group-materials",
        Group::Labour => "group-labour",
        Group::Plant => "group-plant",
        Group::Sundries => "group-sundries",
    })
}
