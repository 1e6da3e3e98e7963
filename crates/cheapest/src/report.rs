//! The whole search: the grid, what lies one step beyond its limits, the best as job files that are proved.

use std::collections::BTreeSet;

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::job::Job;
use tankwright_quantities::job::edit::{Edit, edit};
use tankwright_quantities::money::Currency;
use tankwright_quantities::problem::Problem;
use tankwright_sizing::sized::Sized;
use tankwright_sizing::{Asks, Drawn, Rule, job as of_job};

use crate::grid::{Grid, Structure};
use crate::prove::{Differs, prove};
use crate::search::{Aim, Data, Halt, Watch, search};
use crate::space::{Drawn as Sizes, Space};
use crate::structures::{fixed, whole};
use crate::tally::{Row, Tally};

/// A tank of the grid.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chosen {
    /// Total, plan, number, litres.
    pub row: Row,
    /// What is built, and of what.
    pub structure: Structure,
    /// Chambers, tenths of a millimetre.
    pub chambers: Vec<i64>,
    /// Width.
    pub width: i64,
    /// `tank.height`.
    pub height: i64,
    /// The complete job file; empty where it was not asked for.
    pub job: String,
}

/// What lies one step beyond an end of a range.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Beyond {
    /// `length`, `first`, `width`, `depth`.
    pub name: &'static str,
    /// Beyond its most (or its least).
    pub over: bool,
    /// Its end.
    pub end: i64,
    /// What was looked at instead.
    pub at: i64,
    /// The best total there; `None` where no tank complies.
    pub best: Option<Decimal>,
}

/// The best of the tanks that miss one limit alone, by no more than a step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Looser {
    /// The limit's name.
    pub name: String,
    /// The best total.
    pub total: Decimal,
}

/// The drawn tank.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AsDrawn {
    /// Its total.
    pub total: Decimal,
    /// Its outer plan, m2.
    pub plan: Ratio,
    /// Litres that count for the rule.
    pub litres: Option<Ratio>,
    /// Chambers, width, height, tenths of a millimetre.
    pub chambers: Vec<i64>,
    /// Width.
    pub width: i64,
    /// Height.
    pub height: i64,
    /// Does it comply?
    pub complies: Option<bool>,
}

/// All of a search.
#[derive(Clone, Debug)]
pub struct Report {
    /// Title of the job.
    pub title: String,
    /// Its file.
    pub file: String,
    /// Its date.
    pub date: String,
    /// Id of its profile.
    pub profile: String,
    /// The money.
    pub currency: Currency,
    /// What the rule asks of the job.
    pub sized: Sized,
    /// What was searched.
    pub space: Space,
    /// How many candidates the grid has.
    pub candidates: u64,
    /// What was found.
    pub tally: Tally,
    /// Candidates that were looked at one step beyond the limits.
    pub beyond_candidates: u64,
    /// The drawn tank.
    pub drawn: AsDrawn,
    /// The best, in order.
    pub best: Vec<Chosen>,
    /// Price against plan area.
    pub frontier: Vec<Chosen>,
    /// The best of each structure, in the order of the structures, where there are several.
    pub choices: Vec<Chosen>,
    /// One step beyond the ranges.
    pub beyond: Vec<Beyond>,
    /// One step looser in the other limits.
    pub looser: Vec<Looser>,
}

/// What a search starts from.
#[derive(Clone, Debug)]
pub struct Start<'a> {
    /// The job file.
    pub text: &'a str,
    /// As read.
    pub job: &'a Job,
    /// The drawn tank, priced.
    pub drawn: &'a Estimate,
    /// The rule.
    pub rule: &'a Rule,
    /// Its result for the job's inputs, with the verdict on the drawn tank.
    pub sized: Sized,
    /// Where to look.
    pub space: Space,
    /// The data.
    pub data: Data<'a>,
    /// How many of the best.
    pub top: usize,
    /// How many threads; no difference to what is found.
    pub threads: usize,
}

/// Why there is no report.
#[derive(Clone, Debug)]
pub enum Ended {
    /// The search ended before its end.
    Halt(Halt),
    /// Search and estimate disagree.
    Differs(Differs),
    /// The job file cannot be changed.
    Problems(Vec<Problem>),
}

impl Start<'_> {
    /// How many candidates will be looked at, those beyond the limits included.
    #[must_use]
    pub fn candidates(&self) -> u64 {
        self.space.grid.count() + layers(&self.space).iter().map(|(.., grid)| grid.count()).sum::<u64>()
    }
}

/// Makes the search.
///
/// # Errors
/// Why there is no report: see [`Ended`].
pub fn report(start: Start<'_>, watch: Watch<'_>) -> Result<Report, Ended> {
    let Start { text, job, drawn: e, rule, sized, space, data, top, threads } = start;
    let asks = Asks::of(rule, &sized);
    let step = Ratio::from(space.step) / Ratio::int(10_000);
    let aim = Aim { asks: &asks, file: &job.file, step, max_plan: space.max_plan, top, threads };
    let run = |aim: &Aim<'_>, grid: &Grid| search(data, aim, grid, watch).map_err(Ended::Halt);
    let tally = run(&aim, &space.grid)?;
    let (mut beyond, mut beyond_candidates) = (Vec::new(), 0);
    for (name, over, end, at, grid) in layers(&space) {
        beyond_candidates += grid.count();
        let found = run(&Aim { top: 1, ..aim }, &grid)?;
        beyond.push(Beyond { name, over, end, at, best: found.best.first().map(|r| r.total) });
    }
    let chosen = |row: &Row| chosen(&space.grid, *row);
    let mut best: Vec<Chosen> = tally.best.iter().filter_map(chosen).collect();
    for c in &mut best {
        let (text, job) = written(text, job, rule, &space.grid, c)?;
        prove(&job, data, rule, &c.row).map_err(Ended::Differs)?;
        c.job = text;
    }
    let several = space.grid.structures.len() > 1;
    let choices: Vec<Chosen> = tally.by_structure.values().filter(|_| several).filter_map(chosen).collect();
    let frontier: Vec<Chosen> = tally.frontier.iter().filter_map(chosen).collect();
    // Every tank that is shown is estimated in full, once.
    let mut proved: BTreeSet<u64> = best.iter().map(|c| c.row.number).collect();
    for c in frontier.iter().chain(&choices) {
        if proved.insert(c.row.number) {
            let (_, job) = written(text, job, rule, &space.grid, c)?;
            prove(&job, data, rule, &c.row).map_err(Ended::Differs)?;
        }
    }
    let looser = tally.looser.iter().map(|(name, row)| Looser { name: name.clone(), total: row.total });
    Ok(Report {
        title: e.title.clone(),
        file: job.file.clone(),
        date: e.date.clone(),
        profile: e.profile.0.clone(),
        currency: e.bill.currency.clone(),
        candidates: space.grid.count(),
        beyond_candidates,
        drawn: as_drawn(job, e, &asks, &sized),
        frontier,
        looser: looser.collect(),
        choices,
        best,
        beyond,
        sized,
        tally,
        space,
    })
}

/// Name, over, end, value looked at, grid.
type Layer = (&'static str, bool, i64, i64, Grid);

fn layers(space: &Space) -> Vec<Layer> {
    let mut all = Vec::new();
    for (i, range) in space.ranges.iter().enumerate() {
        for over in [false, true] {
            let end = if over { range.values.last() } else { range.values.first() };
            if let (Some(end), Some((at, grid))) = (end, space.beyond(i, over)) {
                all.push((range.name, over, *end, at, grid));
            }
        }
    }
    all
}

fn chosen(grid: &Grid, row: Row) -> Option<Chosen> {
    let c = grid.candidate(row.number)?;
    let structure = grid.structures.get(c.structure)?;
    Some(Chosen {
        row,
        structure: Structure { text: String::new(), ..structure.clone() },
        chambers: c.lengths.to_vec(),
        width: c.width,
        height: c.depth,
        job: String::new(),
    })
}

/// The user's own file with the chosen values in it, and the rule by which it complies.
fn written(text: &str, job: &Job, rule: &Rule, grid: &Grid, c: &Chosen) -> Result<(String, Job), Ended> {
    let mut edits =
        grid.candidate(c.row.number).map_or_else(Vec::new, |at| whole(text, job, &c.structure, &at));
    if of_job::rule(job) != Some(rule.id.as_str()) {
        edits.push(Edit::set("sizing.rule", format!("\"{}\"", rule.id)));
    }
    edit(text, job, &edits).map_err(|path| Ended::Problems(vec![fixed(job, &path)]))
}

fn as_drawn(job: &Job, e: &Estimate, asks: &Asks<'_>, sized: &Sized) -> AsDrawn {
    let sizes = Sizes::of(job);
    AsDrawn {
        total: e.bill.total.unwrap_or_default(),
        plan: e.outer_plan,
        litres: asks.provided(Drawn { job, capacity: &e.capacity }),
        chambers: sizes.chambers,
        width: sizes.width,
        height: sizes.height,
        complies: sized.verdict.as_ref().and_then(|v| v.complies),
    }
}
