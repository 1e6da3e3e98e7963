//! The drawings, one a file: each puts a view of the estimate on a sheet.

mod across;
pub(crate) mod detail;
pub(crate) mod dims;
pub(crate) mod figure;
pub(crate) mod fittings;
pub(crate) mod forms;
mod fresh;
mod inside;
mod lay;
pub(crate) mod levels;
mod lintel;
mod member;
pub(crate) mod paint;
pub(crate) mod plan;
pub(crate) mod section;
pub(crate) mod site;
pub(crate) mod steel;

use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::space::Look;
use tankwright_quantities::stage::Stage;
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

/// A sheet that can be drawn: its id is known before it is.
pub(crate) struct Sheet<'a> {
    pub(crate) id: String,
    /// Its title, as the drawing has it.
    pub(crate) title: String,
    /// When what it shows is built, where that is one stage.
    pub(crate) stage: Option<Stage>,
    /// Draws it.
    pub(crate) make: Box<dyn FnOnce() -> Made + 'a>,
}

impl<'a> Sheet<'a> {
    pub(crate) fn new(id: &str, title: &str, make: impl FnOnce() -> Made + 'a) -> Self {
        Self { id: id.to_owned(), title: title.to_owned(), stage: None, make: Box::new(make) }
    }
}

/// The name of the n-th sheet of a kind, from 1.
pub(crate) fn nth(id: &str, n: usize) -> String {
    if n == 1 { id.to_owned() } else { format!("{id}-{n}") }
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
