//! The job, and the same job without one of its parts or dimensions, measured when a mistake asks for it.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;
use std::sync::Arc;

use tankwright_geometry::{InputId, Ratio};
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::flow::{self, Settings};
use tankwright_quantities::job::{Job, Value};
use tankwright_quantities::rates::Stock;
use tankwright_quantities::sheet::{Item, Sheet};
use tankwright_quantities::works::Work;

use crate::measure::{self, Part};

/// What is taken out of a job before it is measured anew.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Edit {
    /// A part: everything at and under this path.
    Without(&'static str),
    /// A dimension is nothing.
    Nothing(&'static str),
    /// A flag is set.
    Set(&'static str),
}

/// Which works an edit is measured for.
pub type Only = fn(&Work) -> bool;

/// What a row of theirs is held against: a work, and its specification where the row says it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Pick {
    /// Id of the work.
    pub work: String,
    /// Only this specification.
    pub spec: Option<String>,
}

/// The job as measured, and as it is measured under edits. Sheets are kept.
pub struct World<'a> {
    /// As read, with trails.
    pub job: &'a Job,
    /// Measured and, where there are prices, priced.
    pub estimate: &'a Estimate,
    /// Data.
    pub stock: &'a Stock,
    settings: &'a Settings,
    sheets: RefCell<BTreeMap<Vec<Edit>, Option<Rc<Sheet>>>>,
}

impl<'a> World<'a> {
    /// A job that was measured; its estimate keeps trails.
    #[must_use]
    pub fn new(job: &'a Job, estimate: &'a Estimate, stock: &'a Stock, settings: &'a Settings) -> Self {
        Self { job, estimate, stock, settings, sheets: RefCell::default() }
    }

    /// The sheet under edits; `None` where such a job cannot be.
    #[must_use]
    pub fn sheet(&self, edits: &[Edit]) -> Option<Rc<Sheet>> {
        let mut key = edits.to_vec();
        key.sort_unstable();
        key.dedup();
        if let Some(known) = self.sheets.borrow().get(&key) {
            return known.clone();
        }
        let sheet = if key.is_empty() {
            Some(self.estimate.sheet.clone())
        } else {
            let job = edited(self.job, &key);
            flow::estimate(&job, self.stock, None, self.settings).ok().map(|e| e.sheet)
        };
        let sheet = sheet.map(Rc::new);
        self.sheets.borrow_mut().insert(key, sheet.clone());
        sheet
    }

    /// The lines of what is picked, each work measured under the edits that are meant for it.
    #[must_use]
    pub fn parts(&self, picks: &[Pick], edits: &[(Edit, Only)]) -> Option<Vec<Part>> {
        let mut all = Vec::new();
        for pick in picks {
            let work = work_of(&self.estimate.sheet, &pick.work)?;
            let of: Vec<Edit> = edits.iter().filter(|(_, only)| only(work)).map(|(e, _)| *e).collect();
            let sheet = self.sheet(&of)?;
            let items: Vec<&Item> =
                sheet.items.iter().filter(|i| pick.takes(i) || pick.stands_by(i)).collect();
            all.extend(measure::parts(&sheet, &items));
        }
        Some(all)
    }

    /// The input at a path.
    #[must_use]
    pub fn input(&self, path: &str) -> Option<(InputId, Ratio)> {
        self.job.input(path).map(|(id, i)| (id, i.value))
    }

    /// The value of an input.
    #[must_use]
    pub fn value(&self, id: InputId) -> Ratio {
        self.job.inputs.get(id.0 as usize).map_or(Ratio::UNKNOWN, |i| i.value)
    }
}

impl Pick {
    /// Does the item stand by: left unbilled in the rate of what is picked?
    #[must_use]
    pub fn stands_by(&self, item: &Item) -> bool {
        let band = |spec: &str| spec.split_once('/').map_or(String::new(), |(_, band)| band.to_owned());
        let spec = self.spec.as_deref().unwrap_or_default();
        item.unbilled && item.work.id == self.work && band(spec) == band(&item.spec)
    }

    /// Is the item one of those picked?
    #[must_use]
    pub fn takes(&self, item: &Item) -> bool {
        item.work.id == self.work && self.spec.as_ref().is_none_or(|s| *s == item.spec)
    }
}

fn work_of(sheet: &Sheet, id: &str) -> Option<&'static Work> {
    sheet.items.iter().find(|i| i.work.id == id).map(|i| i.work)
}

/// The job under edits. Bars are left out: no mistake asks for them, and planning them takes time.
fn edited(job: &Job, edits: &[Edit]) -> Job {
    let mut new = Job::default();
    new.file.clone_from(&job.file);
    new.values = job.values.clone();
    new.inputs = job.inputs.clone();
    new.trail = job.trail;
    without(&mut new, "steel");
    for edit in edits {
        match edit {
            Edit::Without(path) => without(&mut new, path),
            Edit::Nothing(path) => {
                new.change(path, Ratio::ZERO);
            }
            Edit::Set(path) => {
                if let Some((Value::Flag(_), given)) = new.values.get(path).cloned() {
                    Arc::make_mut(&mut new.values).insert((*path).to_owned(), (Value::Flag(true), given));
                }
            }
        }
    }
    new
}

fn without(job: &mut Job, path: &str) {
    let under = |p: &String| p.strip_prefix(path).is_some_and(|r| r.is_empty() || r.starts_with(['.', '[']));
    Arc::make_mut(&mut job.values).retain(|p| !under(p));
}
