//! The search for the cheapest tank on a thread of its own: begun, looked at, stopped.

use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;
use tankwright_cheapest::{Ended, Halt, NAMES, Watch, report};
use tankwright_export::cheapest as paper;
use tankwright_quantities::flow::Settings;
use tankwright_quantities::problem::Problem;
use tankwright_run::{Wish, start};

use crate::answer::Ask;
use crate::desk::Desk;
use crate::problems::{Said, plain};

/// A search that nobody has looked at for so long is stopped: the page is closed.
const FORGOTTEN: Duration = Duration::from_secs(20);
/// How many of the best are kept.
const TOP: usize = 10;

/// What is searched.
#[derive(Debug, Deserialize)]
pub(crate) struct Wanted {
    text: String,
    /// By the keys of `[cheapest]`.
    #[serde(default)]
    given: std::collections::BTreeMap<String, String>,
}

/// A search.
#[derive(Debug)]
pub(crate) struct Search {
    id: u64,
    done: AtomicU64,
    all: AtomicU64,
    stopped: AtomicBool,
    seen: Mutex<Instant>,
    end: Mutex<Option<End>>,
}

/// How it ended.
#[derive(Clone, Debug)]
enum End {
    Found(String),
    Stopped,
    Refused(Vec<Problem>),
}

/// How far it is.
#[derive(Debug, Serialize)]
pub(crate) struct Progress {
    id: u64,
    /// `runs`, `found`, `stopped`, `refused`.
    state: &'static str,
    done: u64,
    all: u64,
    problems: Vec<Said>,
    /// The JSON of `tankwright cheapest`.
    report: Option<Box<RawValue>>,
}

impl Search {
    pub(crate) fn stop(&self) {
        self.stopped.store(true, Ordering::Relaxed);
    }

    fn ends(&self) -> bool {
        let seen = *self.seen.lock().unwrap_or_else(PoisonError::into_inner);
        self.stopped.load(Ordering::Relaxed) || seen.elapsed() > FORGOTTEN
    }

    fn progress(&self) -> Progress {
        *self.seen.lock().unwrap_or_else(PoisonError::into_inner) = Instant::now();
        let end = self.end.lock().unwrap_or_else(PoisonError::into_inner).clone();
        let (state, problems, report) = match end {
            None => ("runs", Vec::new(), None),
            Some(End::Stopped) => ("stopped", Vec::new(), None),
            Some(End::Refused(problems)) => ("refused", plain(&problems), None),
            Some(End::Found(json)) => ("found", Vec::new(), RawValue::from_string(json).ok()),
        };
        let (done, all) = (self.done.load(Ordering::Relaxed), self.all.load(Ordering::Relaxed));
        Progress { id: self.id, state, done: done.min(all), all, problems, report }
    }
}

impl Desk {
    /// Begins a search; the one before is stopped.
    pub(crate) fn search_begin(self: &Arc<Self>, wanted: Wanted) -> Progress {
        let id = self.search().map_or(1, |s| s.id + 1);
        let search = Arc::new(Search {
            id,
            done: AtomicU64::new(0),
            all: AtomicU64::new(0),
            stopped: AtomicBool::new(false),
            seen: Mutex::new(Instant::now()),
            end: Mutex::new(None),
        });
        self.begin(search.clone());
        let (desk, runs) = (self.clone(), search.clone());
        std::thread::spawn(move || {
            let end = desk.search_run(&runs, &wanted);
            *runs.end.lock().unwrap_or_else(PoisonError::into_inner) = Some(end);
        });
        search.progress()
    }

    /// How far a search is; `stop` ends it.
    pub(crate) fn search_look(&self, id: u64, stop: bool) -> Option<Progress> {
        let search = self.search().filter(|s| s.id == id)?;
        if stop {
            search.stop();
        }
        Some(search.progress())
    }

    fn search_run(&self, search: &Search, wanted: &Wanted) -> End {
        let begin = Instant::now();
        let read = self.read(&Ask { text: wanted.text.clone(), ..Ask::default() }, false);
        let drawn = match self.estimate(&read).made() {
            Ok((e, _)) => e,
            Err(problems) => return End::Refused(problems),
        };
        let list = match self.list_of(&read.job) {
            Ok(list) => list,
            Err(problem) => return End::Refused(vec![problem]),
        };
        let known = |name: &String| NAMES.into_iter().find(|n| n == name);
        let given = wanted.given.iter().filter(|(_, text)| !text.trim().is_empty());
        let given = given.filter_map(|(name, text)| Some((known(name)?, text.trim()))).collect();
        let settings = Settings::default();
        let threads = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
        let wish = Wish {
            text: &read.text,
            job: &read.job,
            drawn: &drawn,
            stock: &self.given.data.stock,
            rules: &self.given.data.rules,
            prices: &list,
            settings: &settings,
            rule: None,
            given,
            top: TOP,
            threads,
        };
        let start = match start(&wish, Vec::new()) {
            Ok(start) => start,
            Err(problems) => return End::Refused(problems),
        };
        search.all.store(start.candidates(), Ordering::Relaxed);
        let stop = || search.ends();
        match report(start, Watch { done: &search.done, idle: None, stop: &stop }) {
            Ok(report) => {
                let millis = begin.elapsed().as_millis();
                let seconds = format!("{}.{:03}", millis / 1_000, millis % 1_000);
                End::Found(paper::json(&report, &seconds))
            }
            Err(Ended::Problems(problems)) => End::Refused(problems),
            Err(Ended::Halt(Halt::Stopped)) => End::Stopped,
            Err(Ended::Halt(Halt::Balance(_, balances))) => {
                End::Refused(vec![crate::answer::unbalanced(&balances)])
            }
            Err(Ended::Differs(d)) => {
                let message =
                    format!("search and estimate disagree about candidate {}: {}", d.number, d.words);
                let hint = "this is a fault of the program; please report it, with the job file";
                End::Refused(vec![Problem::error("W000", None, message).hint(hint)])
            }
        }
    }
}
