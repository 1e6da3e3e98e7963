//! What the server holds: what it was given, lists and take-offs that were dropped on the page, the search that runs.
//!
//! All of it in memory, with limits, and gone when the program ends.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use tankwright_crosscheck::wording::{self, Wording};
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::problem::Problem;
use tankwright_quantities::rates::{PriceList, PriceRow, builtin_prices, read_prices};
use tankwright_run::{Data, list_names};

use crate::cheapest::Search;

/// A file `firm.toml`.
#[derive(Clone, Debug)]
pub struct FirmText {
    /// As messages name it.
    pub name: String,
    /// What it says.
    pub text: String,
}

/// What the page starts with.
#[derive(Debug)]
pub struct Given {
    /// Name of the job file, as papers print it.
    pub name: String,
    /// What files of this job are called.
    pub stem: String,
    /// The job file.
    pub text: String,
    /// Profiles, soils, units, rules: the user's own over the built-in ones.
    pub data: Data,
    /// Price lists that the job names by a path or that are the user's own, read before.
    pub lists: Vec<(String, PriceList)>,
    /// Who offers, by the user's own data: name and text of a file that is in order. It counts where the job has no
    /// `[firm]`.
    pub firm: Option<FirmText>,
    /// The user's own trade words.
    pub words: Option<Wording>,
    /// Samples: name and text.
    pub samples: Vec<(&'static str, &'static str)>,
}

/// Files that the page keeps at once.
pub(crate) const KEPT: usize = 8;

/// A file that was dropped on the page.
#[derive(Debug)]
pub(crate) struct Dropped {
    pub(crate) name: String,
    pub(crate) bytes: Vec<u8>,
}

/// The desk.
#[derive(Debug)]
pub(crate) struct Desk {
    pub(crate) given: Given,
    builtin: BTreeMap<&'static str, Arc<PriceList>>,
    /// Price lists by name, the newest last.
    lists: Mutex<Vec<(String, Arc<PriceList>)>>,
    seconds: Mutex<Vec<Arc<Dropped>>>,
    search: Mutex<Option<Arc<Search>>>,
    /// Jobs measured last: the page asks for the same again when it turns to another drawing or paper.
    measured: Mutex<Vec<Measured>>,
}

/// A job that was measured: its text, the price list it was priced with, what came of it.
#[derive(Debug)]
struct Measured {
    text: String,
    list: Option<Arc<PriceList>>,
    made: (Arc<Estimate>, Vec<Problem>),
}

/// How many of them are kept.
const MEASURED: usize = 4;

fn held<T>(it: &Mutex<T>) -> MutexGuard<'_, T> {
    // Nothing is left half done under these locks.
    it.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Desk {
    pub(crate) fn new(mut given: Given) -> Self {
        let read = |name: &'static str| {
            let (path, text) = builtin_prices(name)?;
            Some((name, Arc::new(read_prices(&path, text).ok()?)))
        };
        let builtin = list_names().into_iter().filter_map(read).collect();
        let lists = given.lists.drain(..).map(|(name, list)| (name, Arc::new(list))).collect();
        Self {
            given,
            builtin,
            lists: Mutex::new(lists),
            seconds: Mutex::default(),
            search: Mutex::default(),
            measured: Mutex::default(),
        }
    }

    /// A price list by its name: one of the page before a built-in one, as the user's own come first everywhere.
    pub(crate) fn list(&self, name: &str) -> Option<Arc<PriceList>> {
        let own = held(&self.lists).iter().rev().find(|(n, _)| n == name).map(|(_, list)| list.clone());
        own.or_else(|| self.builtin.get(name).cloned())
    }

    /// Names of all price lists: those of the page, then the built-in ones.
    pub(crate) fn list_names(&self) -> Vec<String> {
        let own: Vec<String> = held(&self.lists).iter().map(|(n, _)| n.clone()).collect();
        let builtin = self.builtin.keys().map(|n| (*n).to_owned()).filter(|n| !own.contains(n));
        own.iter().cloned().chain(builtin).collect()
    }

    /// Every row of the built-in lists.
    pub(crate) fn builtin_rows(&self) -> impl Iterator<Item = &PriceRow> {
        self.builtin.values().flat_map(|list| &list.rows)
    }

    /// Keeps a price list; the oldest goes where there are too many.
    pub(crate) fn keep_list(&self, name: String, list: PriceList) {
        let mut lists = held(&self.lists);
        lists.retain(|(n, _)| *n != name);
        lists.push((name, Arc::new(list)));
        let over = lists.len().saturating_sub(KEPT);
        lists.drain(..over);
    }

    /// What came of a job with this list, where it was measured a moment ago.
    pub(crate) fn measured(
        &self,
        text: &str,
        list: Option<&Arc<PriceList>>,
    ) -> Option<(Arc<Estimate>, Vec<Problem>)> {
        let same = |m: &&Measured| match (&m.list, list) {
            (Some(a), Some(b)) => Arc::ptr_eq(a, b) && m.text == text,
            (None, None) => m.text == text,
            _ => false,
        };
        held(&self.measured).iter().find(same).map(|m| m.made.clone())
    }

    /// Keeps what came of a job.
    pub(crate) fn keep_measured(
        &self,
        text: &str,
        list: Option<Arc<PriceList>>,
        made: (Arc<Estimate>, Vec<Problem>),
    ) {
        let mut kept = held(&self.measured);
        let over = (kept.len() + 1).saturating_sub(MEASURED);
        kept.drain(..over);
        kept.push(Measured { text: text.to_owned(), list, made });
    }

    /// Keeps a second take-off.
    pub(crate) fn keep_second(&self, name: String, bytes: Vec<u8>) {
        let mut seconds = held(&self.seconds);
        seconds.retain(|d| d.name != name);
        seconds.push(Arc::new(Dropped { name, bytes }));
        let over = seconds.len().saturating_sub(KEPT);
        seconds.drain(..over);
    }

    /// A second take-off by its name.
    pub(crate) fn second(&self, name: &str) -> Option<Arc<Dropped>> {
        held(&self.seconds).iter().find(|d| d.name == name).cloned()
    }

    /// The trade words.
    pub(crate) fn words(&self) -> &Wording {
        self.given.words.as_ref().unwrap_or_else(|| wording::builtin())
    }

    /// The search that runs or ran last.
    pub(crate) fn search(&self) -> Option<Arc<Search>> {
        held(&self.search).clone()
    }

    /// Puts a search in place of the one before, which is stopped.
    pub(crate) fn begin(&self, search: Arc<Search>) {
        if let Some(old) = held(&self.search).replace(search) {
            old.stop();
        }
    }
}
