//! Job file and price list of a run: both are read before anything is refused.

use std::path::Path;
use std::sync::Arc;

use tankwright_quantities::estimate::{Estimate, Failure};
use tankwright_quantities::flow::Settings;
use tankwright_quantities::job::Job;
use tankwright_quantities::problem::{Place, Problem, Severity};
use tankwright_quantities::rates::lists::Asked;
use tankwright_quantities::rates::{PriceList, Reading, Stock};

use crate::args::JobArgs;
use crate::context::{Context, Outcome};
use crate::data::{self, stock};
use crate::engine;
use crate::exit::Exit;
use crate::price_lists::{Told, list_names, open as open_for, open_list};

/// The code of rows that have no code of ours.
const NO_CODE: &str = "R060";

/// Does the command need prices?
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Prices {
    /// It cannot do without.
    Must,
    /// It uses them where they are in order.
    May,
    /// It does not look at them.
    Never,
}

/// What is wrong so far, and how a run ends over it.
#[derive(Default)]
pub(crate) struct Found {
    /// Every problem.
    pub(crate) problems: Vec<Problem>,
    /// How the run ends; nothing where all problems are cautions.
    pub(crate) exit: Option<Exit>,
}

impl Found {
    /// Adds problems that end a run in this way.
    pub(crate) fn add(&mut self, exit: Exit, problems: Vec<Problem>) {
        if problems.iter().any(|p| p.severity == Severity::Error) {
            self.exit = Some(self.exit.map_or(exit, |e| e.min(exit)));
        }
        self.problems.extend(problems);
    }
}

/// Reads and estimates a job.
pub(crate) fn estimate(
    cx: &mut Context<'_>,
    args: &JobArgs,
    prices: Prices,
    trail: bool,
) -> Outcome<Estimate> {
    with_job(cx, args, prices, trail).map(|(_, e)| e)
}

/// The same, with the job as read.
pub(crate) fn with_job(
    cx: &mut Context<'_>,
    args: &JobArgs,
    prices: Prices,
    trail: bool,
) -> Outcome<(Job, Estimate)> {
    with_all(cx, args, prices, trail).map(|all| (all.job, all.estimate))
}

/// All that an estimate was made of.
pub(crate) struct Loaded {
    /// The job as read.
    pub(crate) job: Job,
    /// What was made of it.
    pub(crate) estimate: Estimate,
    /// The data, without the job's own units.
    pub(crate) stock: Arc<Stock>,
    /// The price list, where one was named and read.
    pub(crate) list: Option<Arc<PriceList>>,
    /// What the command line says over the job's head.
    pub(crate) settings: Settings,
}

/// The same, with everything that it was made of.
pub(crate) fn with_all(cx: &mut Context<'_>, args: &JobArgs, prices: Prices, trail: bool) -> Outcome<Loaded> {
    // A list named on the command line is meant to be used.
    let prices = if args.over.rates.is_some() { Prices::Must } else { prices };
    let mut found = Found::default();
    let stock = stock(cx, &mut found);
    let data_refused = found.exit.is_some();
    let build_ups = prices == Prices::Never;
    let settings = Settings { profile: args.over.profile.clone(), date: args.over.date.clone(), build_ups };
    if let Some(name) = args.over.profile.as_ref().filter(|_| !data_refused) {
        found.add(Exit::Usage, profile_unknown(&stock, name).into_iter().collect());
    }
    let job = read_job(cx, &args.job, trail, &mut found);
    let rules = job.as_ref().filter(|j| j.given("sizing")).map(|j| data::rules_of(cx, j, &mut found));
    if let (Some(job), Some(rules)) = (&job, &rules) {
        found.add(Exit::Job, engine::check_sizing(job, rules));
    }
    if let Some(job) = job.as_ref().filter(|j| j.given("cheapest")) {
        found.add(Exit::Job, engine::check_search(job, &stock));
    }

    let mut idle = Found::default();
    // Whatever the price list is like, what the job asks for is looked at as well.
    let goes_on = !data_refused && !matches!(found.exit, Some(Exit::Usage | Exit::Job));
    let asked = || asked(job.as_ref().filter(|_| goes_on)?, &stock, &settings);
    let of_list = if prices == Prices::Must { &mut found } else { &mut idle };
    let list = match (prices, &args.over.rates, &job) {
        (Prices::Never, ..) => None,
        (_, Some(name), _) => price_list(cx, name, None, None, &asked, of_list),
        (_, None, Some(job)) => list_of_job(cx, job, prices, &asked, of_list),
        (_, None, None) => None,
    };

    let mut made = None;
    let goes_on = goes_on && !matches!(found.exit, Some(Exit::Usage | Exit::Job));
    if let Some(job) = job.as_ref().filter(|_| goes_on) {
        match tankwright_run::estimate(job, &stock, list.as_deref(), &settings, prices == Prices::Must) {
            Ok(it) => {
                found.add(Exit::Job, engine::check_payments(&it.estimate, job));
                idle.add(Exit::Rates, it.unpriced);
                made = Some(it.estimate);
            }
            Err(Failure::Job(problems)) => found.add(Exit::Job, problems),
            Err(Failure::Rates(problems)) => found.add(Exit::Rates, problems),
            Err(Failure::Balance(balances)) => {
                cx.say(&found.problems);
                return cx.unbalanced(&balances);
            }
        }
    }
    match (found.exit, made.zip(job)) {
        (None, Some((mut e, job))) => {
            if let Some(rules) = &rules {
                engine::say_sizing(&mut e, &job, rules);
            }
            engine::own_data(&mut e, &stock, &data::whence(cx));
            cx.say(&found.problems);
            if idle.exit.is_some() {
                cx.say(&idle.problems);
                cx.note("\nthe price list is not used: this command does without prices\n");
            }
            Ok(Loaded { job, estimate: e, stock, list, settings })
        }
        (exit, _) => cx.refuse(exit.unwrap_or(Exit::Fault), &found.problems),
    }
}

/// A profile on the command line that is not known.
pub(crate) fn profile_unknown(stock: &Stock, name: &str) -> Option<Problem> {
    let known = stock.profiles.keys().map(String::as_str).collect::<Vec<_>>().join(", ");
    let message = format!("there is no measurement profile `{name}`");
    let problem = || Problem::error("U001", None, message).hint(format!("known: {known}"));
    (!stock.profiles.contains_key(name)).then(problem)
}

fn read_job(cx: &mut Context<'_>, name: &str, trail: bool, found: &mut Found) -> Option<Job> {
    match cx.read(name, Path::new(name)) {
        Ok(text) => {
            let (job, problems) = engine::read_job(name, &text, trail);
            found.add(Exit::Job, problems);
            Some(job)
        }
        Err(problem) => {
            found.add(Exit::File, vec![problem]);
            None
        }
    }
}

/// What a job asks of a price list, in the words of its own bill; nothing where it cannot be measured.
pub(crate) fn asked(job: &Job, stock: &Stock, settings: &Settings) -> Option<Vec<Asked>> {
    let settings = Settings { build_ups: true, ..settings.clone() };
    let made = tankwright_run::estimate(job, stock, None, &settings, false).ok()?;
    Some(tankwright_quantities::rates::lists::asked(&made.estimate.bill))
}

/// The list the job file names. A job that is refused may have lost the key: no word then.
pub(crate) fn list_of_job(
    cx: &mut Context<'_>,
    job: &Job,
    prices: Prices,
    asked: &dyn Fn() -> Option<Vec<Asked>>,
    found: &mut Found,
) -> Option<Arc<PriceList>> {
    let name = job.text("job.rates").to_owned();
    if !name.is_empty() {
        let base = Path::new(&job.file).parent().filter(|_| job.file != "-");
        return price_list(cx, &name, base, job.place("job.rates"), asked, found);
    }
    if prices == Prices::Must && found.exit.is_none() {
        let hint = format!(
            "write `rates = \"NAME\"` under [job], or give --rates; built in: {}; `tankwright rates --blank` writes an empty list",
            list_names().join(", ")
        );
        let place = job.place("job.rates").or_else(|| job.place("job"));
        let problem = Problem::error("R091", place, "prices are asked for, and no price list is named");
        found.add(Exit::Rates, vec![problem.label("no `rates` here").hint(hint)]);
    }
    None
}

/// A list by its name or path; what is said of it goes into `found`. Where rows of it have no code of ours, what the job
/// asks for tells them.
pub(crate) fn price_list(
    cx: &mut Context<'_>,
    name: &str,
    base: Option<&Path>,
    place: Option<Place>,
    asked: &dyn Fn() -> Option<Vec<Asked>>,
    found: &mut Found,
) -> Option<Arc<PriceList>> {
    let mut opened = match cx.kept {
        Some(kept) => kept.list(cx, name, base, place.clone()),
        None => open_list(cx, name, base, place.clone()).map(Arc::new),
    };
    // Rows without a code of ours may have the very words of the job's own bill.
    let open = |list: &Arc<PriceList>| list.cautions.iter().any(|p| p.code == NO_CODE);
    if opened.as_ref().is_ok_and(open)
        && let Some(asked) = asked()
    {
        let reading = Reading { asked, ..Reading::default() };
        let told = Told { reading, map: None };
        opened = open_for(cx, name, base, place, &told).map(|read| Arc::new(read.list));
    }
    match opened {
        Ok(list) => {
            found.add(Exit::Rates, list.cautions.clone());
            Some(list)
        }
        Err((exit, problems)) => {
            found.add(exit, problems);
            None
        }
    }
}
