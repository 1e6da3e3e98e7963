//! The drawings, one a file: each puts a view of the estimate on a sheet.

mod across;
pub(crate) mod detail;
pub(crate) mod dims;
pub(crate) mod figure;
pub(crate) mod forms;
mod inside;
mod lay;
pub(crate) mod levels;
mod member;
pub(crate) mod paint;
pub(crate) mod plan;
pub(crate) mod section;
pub(crate) mod site;
pub(crate) mod steel;

use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::space::Look;
use tankwright_quantities::words::{Phrase, look_up};

use crate::paper::Paper;

/// A drawing before its title block is written: how many sheets there are is known last.
#[derive(Debug)]
pub(crate) struct Made {
    pub(crate) id: String,
    /// The table of the job file whose sizes it shows: `tank`, `steel`, `soak_pit`.
    pub(crate) shows: String,
    pub(crate) title: String,
    pub(crate) alt: String,
    pub(crate) paper: Paper,
    pub(crate) scale: Option<i64>,
}

/// What is drawn of an estimate.
pub(crate) type Desk<'a> = &'a Estimate;

/// What a note says of a part: its word, thickness, unit and mix, as far as it has them.
pub(crate) fn note_of(look: &Look) -> String {
    let mut says = look_up(look.part).to_owned();
    if let Some(thickness) = look.thickness {
        says = format!("{says} {}", crate::sheet::mm(thickness));
    }
    for more in [&look.unit, &look.mix] {
        if !more.is_empty() {
            says = Phrase::with("draw-and", &[&says, more]).to_string();
        }
    }
    says
}
