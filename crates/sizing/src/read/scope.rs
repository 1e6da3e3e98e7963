//! The names a step may use: inputs and earlier steps, with their units.

use std::collections::BTreeMap;
use std::ops::Range;

use tankwright_quantities::rates::entry::Fields;

use crate::rule::Entering;
use crate::unit::Unit;

use super::cell::unit_of;

/// Names and units; `None` is a word.
#[derive(Default)]
pub(super) struct Scope(BTreeMap<String, Option<Unit>>);

impl Scope {
    /// Takes a name in; false where it is taken.
    pub(super) fn add(&mut self, name: &str, unit: Option<Unit>) -> bool {
        self.0.insert(name.to_owned(), unit).is_none()
    }

    /// The unit of a name, `None` inside for a word.
    pub(super) fn find(&self, name: &str) -> Option<&Option<Unit>> {
        self.0.get(name)
    }

    /// Reports a name that nothing has.
    pub(super) fn unknown(&self, f: &Fields<'_, '_>, span: Range<usize>, name: &str) {
        let all: Vec<&str> = self.0.keys().map(String::as_str).collect();
        let hint = format!("inputs and earlier steps are: {}", all.join(", "));
        f.report("P031", span, format!("`{name}` is no input and no earlier step"), &hint);
    }

    /// A number by its name and the unit in which it enters.
    pub(super) fn entering(
        &self,
        f: &Fields<'_, '_>,
        span: Range<usize>,
        name: &str,
        unit: &str,
    ) -> Option<Entering> {
        let unit = unit_of(f, span.clone(), unit)?;
        match self.find(name) {
            None => {
                self.unknown(f, span, name);
                None
            }
            Some(Some(own)) if own.is_like(&unit) => Some(Entering { name: name.to_owned(), unit }),
            Some(own) => {
                let is = own
                    .as_ref()
                    .map_or("a word", |u| if u.shown().is_empty() { "a number" } else { u.shown() });
                let message = format!("`{name}` cannot enter as {}", unit.shown());
                f.report("P034", span, message, &format!("it is {is}"));
                None
            }
        }
    }
}
