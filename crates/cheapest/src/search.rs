//! Every candidate of a grid, by as many threads as are given: parts of the grid are handed out in order, each thread
//! has a pricer of its own, and the tallies are put together.

use std::cell::RefCell;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

use tankwright_geometry::Ratio;
use tankwright_quantities::candidate::{Priced, Pricer};
use tankwright_quantities::estimate::{Balance, Capacity, Failure};
use tankwright_quantities::flow::{self, Settings};
use tankwright_quantities::job::{self, Job};
use tankwright_quantities::problem::{Problem, Severity};
use tankwright_quantities::rates::{PriceList, Stock};
use tankwright_sizing::{Asks, Drawn, Miss};

use crate::grid::{Candidate, Grid};
use crate::tally::{Row, Tally};

/// How many candidates a thread takes at a time.
const PART: u64 = 8;

/// One step looser, for what is not a length: five per cent of what is asked. Our own.
pub(crate) const LOOSER: Ratio = Ratio::of(5, 100);

/// What all candidates share.
#[derive(Clone, Copy, Debug)]
pub struct Data<'a> {
    /// The data.
    pub stock: &'a Stock,
    /// The price list.
    pub prices: &'a PriceList,
    /// What the command line says over the job's head.
    pub settings: &'a Settings,
}

/// Who looks on while a search runs.
#[derive(Clone, Copy)]
pub struct Watch<'a> {
    /// Counts the candidates that are done.
    pub done: &'a AtomicU64,
    /// Called by the thread that waits, again and again until all is done; it may sleep, and is woken at the end.
    pub idle: Option<&'a dyn Fn()>,
    /// Asked between candidates: end the search?
    pub stop: &'a (dyn Fn() -> bool + Sync),
}

impl std::fmt::Debug for Watch<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Watch")
    }
}

/// Why a search ended before its end.
#[derive(Clone, Debug)]
pub enum Halt {
    /// It was told to stop.
    Stopped,
    /// A candidate, by its number, does not balance: a fault of the program.
    Balance(u64, Vec<Balance>),
}

/// What is looked for.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Aim<'a> {
    pub(crate) asks: &'a Asks<'a>,
    pub(crate) file: &'a str,
    /// A length is one step looser by this, m.
    pub(crate) step: Ratio,
    pub(crate) max_plan: Option<Ratio>,
    pub(crate) top: usize,
    pub(crate) threads: usize,
}

/// Looks at every candidate.
pub(crate) fn search(data: Data<'_>, aim: &Aim<'_>, grid: &Grid, watch: Watch<'_>) -> Result<Tally, Halt> {
    let (next, ended) = (AtomicU64::new(0), AtomicBool::new(false));
    let all = grid.count();
    let Watch { done, idle, stop } = watch;
    let work = || {
        let mut worker = Worker { aim, grid, pricer: pricer(data), job: None, tally: Tally::default() };
        loop {
            let from = next.fetch_add(PART, Ordering::Relaxed);
            let to = from.saturating_add(PART).min(all);
            if from >= to {
                return Ok(worker.tally);
            }
            for number in from..to {
                if ended.load(Ordering::Relaxed) || stop() {
                    ended.store(true, Ordering::Relaxed);
                    return Err(Halt::Stopped);
                }
                worker.look(number).inspect_err(|_| ended.store(true, Ordering::Relaxed))?;
            }
            done.fetch_add(to - from, Ordering::Relaxed);
        }
    };
    let waiting = std::thread::current();
    let woken = || {
        let part = work();
        waiting.unpark();
        part
    };
    let parts: Vec<Result<Tally, Halt>> = std::thread::scope(|scope| {
        let threads: Vec<_> = (0..aim.threads.max(1)).map(|_| scope.spawn(woken)).collect();
        while let Some(idle) = idle.filter(|_| !threads.iter().all(|t| t.is_finished())) {
            idle();
        }
        let join = |t: std::thread::ScopedJoinHandle<'_, _>| {
            t.join().unwrap_or_else(|e| std::panic::resume_unwind(e))
        };
        threads.into_iter().map(join).collect()
    });
    let mut whole = Tally::default();
    let mut halt = None;
    for part in parts {
        match part {
            Ok(tally) => whole.join(tally, aim.top),
            Err(Halt::Stopped) if halt.is_some() => {}
            Err(h) => halt = Some(h),
        }
    }
    halt.map_or(Ok(whole), Err)
}

fn pricer(data: Data<'_>) -> Pricer<'_> {
    Pricer::new(data.stock, data.prices, data.settings)
}

/// One thread.
struct Worker<'a> {
    aim: &'a Aim<'a>,
    grid: &'a Grid,
    pricer: Pricer<'a>,
    /// The job of a structure, by its place.
    job: Option<(usize, Job)>,
    tally: Tally,
}

/// What was found out about a candidate before it was priced.
#[derive(Default)]
struct Seen {
    litres: Ratio,
    /// The first thing missed.
    first: Option<String>,
    /// Missed one thing alone, by little: its name.
    almost: Option<String>,
}

impl Worker<'_> {
    fn look(&mut self, number: u64) -> Result<(), Halt> {
        let Some(candidate) = self.grid.candidate(number) else { return Ok(()) };
        let Some(job) = self.job(&candidate) else { return Ok(()) };
        let seen = RefCell::new(Seen::default());
        let aim = self.aim;
        let wanted = |capacity: &Capacity| {
            let now = judge(aim, Drawn { job: &job, capacity });
            let go = now.first.is_none() || now.almost.is_some();
            seen.replace(now);
            go
        };
        let done = self.pricer.price(&job, &wanted);
        self.job = Some((candidate.structure, job));
        match done {
            Ok(priced) => self.found(number, candidate.structure, priced, seen.into_inner()),
            Err(Failure::Balance(balances)) => return Err(Halt::Balance(number, balances)),
            Err(Failure::Job(problems) | Failure::Rates(problems)) => self.refused(number, &problems),
        }
        Ok(())
    }

    /// The job of a candidate.
    fn job(&mut self, c: &Candidate<'_>) -> Option<Job> {
        let mut job = match self.job.take() {
            Some((structure, job)) if structure == c.structure => job,
            _ => {
                let text = &self.grid.structures.get(c.structure)?.text;
                job::read(self.aim.file, text, &flow::job_tables()).0
            }
        };
        for (i, length) in c.lengths.iter().enumerate() {
            job.change(&format!("tank.chambers[{i}]"), Ratio::from(*length));
        }
        job.change("tank.width", Ratio::from(c.width));
        job.change("tank.height", Ratio::from(c.depth));
        Some(job)
    }

    fn found(&mut self, number: u64, structure: usize, priced: Option<Priced>, seen: Seen) {
        let max = self.aim.max_plan;
        if let Some(first) = &seen.first {
            self.tally.miss(first);
        }
        let Some(Priced { total, plan, .. }) = priced else { return };
        let row = Row { total, plan, number, litres: seen.litres };
        let within = max.is_none_or(|m| plan <= m);
        match (seen.first, seen.almost) {
            (None, _) if within => self.tally.take(row, structure, self.aim.top),
            (None, _) => {
                self.tally.miss("max_plan");
                if max.is_some_and(|m| plan <= m + m * LOOSER) {
                    self.tally.almost("max_plan", row);
                }
            }
            (Some(_), Some(limit)) if within => self.tally.almost(&limit, row),
            _ => {}
        }
    }

    fn refused(&mut self, number: u64, problems: &[Problem]) {
        if let Some(p) = problems.iter().find(|p| p.severity == Severity::Error) {
            self.tally.refuse(p.code, number, &p.message);
        }
    }
}

/// Holds a candidate against what is asked.
fn judge(aim: &Aim<'_>, drawn: Drawn<'_>) -> Seen {
    let mut seen = Seen { litres: aim.asks.provided(drawn).unwrap_or(Ratio::ZERO), ..Seen::default() };
    let mut close: Option<bool> = None;
    aim.asks.misses(drawn, &mut |miss| {
        let first = seen.first.get_or_insert_with(|| miss.name.to_owned());
        // A limit may be missed in each chamber.
        let same = first.as_str() == miss.name;
        close = Some(close.unwrap_or(true) && same && little(aim, &miss));
    });
    seen.almost = seen.first.clone().filter(|_| close == Some(true));
    seen
}

/// Is a limit missed by no more than one step?
fn little(aim: &Aim<'_>, miss: &Miss<'_>) -> bool {
    let (Some(by), Some(asked)) = (miss.by, miss.asked) else { return false };
    by <= if miss.unit == "m" { aim.step } else { asked * LOOSER }
}
