//! What a search for the cheapest tank starts from.

use std::borrow::Cow;

use tankwright_cheapest::{Asked, Data, Space, Start};
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::flow::Settings;
use tankwright_quantities::job::Job;
use tankwright_quantities::materials;
use tankwright_quantities::problem::Problem;
use tankwright_quantities::rates::{PriceList, Stock};
use tankwright_sizing::rule::Kind as RuleKind;
use tankwright_sizing::{Drawn, Refused, Rule, Rules, distances, job as of_job, size_drawn};

/// What is searched, and in what.
#[derive(Clone, Debug)]
pub struct Wish<'a> {
    /// The job file.
    pub text: &'a str,
    /// As read.
    pub job: &'a Job,
    /// The drawn tank, priced.
    pub drawn: &'a Estimate,
    /// The data.
    pub stock: &'a Stock,
    /// The sizing rules.
    pub rules: &'a Rules,
    /// The price list.
    pub prices: &'a PriceList,
    /// What is said over the job's head.
    pub settings: &'a Settings,
    /// Rule in place of the job's own.
    pub rule: Option<&'a str>,
    /// What is searched, by the keys of `[cheapest]`, over the job's own.
    pub given: Vec<(&'static str, &'a str)>,
    /// How many of the best.
    pub top: usize,
    /// How many threads.
    pub threads: usize,
}

/// Everything that the search needs.
///
/// # Errors
/// All that is wrong with what was asked; `problems` come first.
pub fn start<'a>(wish: &Wish<'a>, mut problems: Vec<Problem>) -> Result<Start<'a>, Vec<Problem>> {
    let Wish { text, job, drawn: estimate, stock, prices, settings, top, threads, .. } = *wish;
    let own = materials::with_own_units(job, stock).unwrap_or(Cow::Borrowed(stock));
    let asked = Asked::read(job, &own, &wish.given).unwrap_or_else(|wrong| {
        problems.extend(wrong);
        Asked::default()
    });
    if !job.has("tank.pipes.outlet") {
        let problem =
            Problem::error("U058", job.place("tank"), "no tank can comply: the job draws no outlet");
        let hint = "draw it under [tank.pipes]: how high the water stands follows from it";
        problems.push(problem.label("no outlet under [tank.pipes]").hint(hint));
    }
    let rule = named(wish).map_err(|p| problems.push(*p)).ok();
    let (Some(rule), true) = (rule, problems.is_empty()) else { return Err(problems) };
    // What is wrong in the job was refused before.
    let (inputs, _) = of_job::inputs(job, &estimate.capacity, &[])?;
    let drawn = Drawn { job, capacity: &estimate.capacity };
    let sized = size_drawn(rule, &inputs, Some(drawn)).map_err(|refused| refusal(&refused))?;
    if sized.capacity_l().is_none() {
        let message = format!("{} gives no capacity that a tank could comply with", rule.id);
        return Err(vec![Problem::error("U044", None, message).hint(sized.no_result)]);
    }
    let near = distances::too_near(rule, &sized.clear, job);
    if !near.is_empty() {
        return Err(near.iter().map(|(key, words)| too_near(job, rule, key, words)).collect());
    }
    let space = Space::of(text, job, rule, &own, &asked)?;
    let data = Data { stock, prices, settings };
    Ok(Start { text, job, drawn: estimate, rule, sized, space, data, top, threads })
}

/// The rule that is asked for, or the job's own.
fn named<'r>(wish: &Wish<'r>) -> Result<&'r Rule, Box<Problem>> {
    let sizes = || wish.rules.rules.values().filter(|r| r.kind == RuleKind::Capacity);
    let ids = || sizes().map(|r| r.id.as_str()).collect::<Vec<_>>().join(", ");
    let Some(id) = wish.rule.or_else(|| of_job::rule(wish.job)) else {
        let hint = format!("--rule NAME, or rule = \"NAME\" under [sizing] in the job; one of: {}", ids());
        return Err(Box::new(Problem::error("U043", None, "no sizing rule is named").hint(hint)));
    };
    sizes().find(|r| r.id == id).ok_or_else(|| {
        let problem = Problem::error("U040", None, format!("`{id}` is no rule for the size of a tank"));
        Box::new(problem.hint(format!("one of: {}", ids())))
    })
}

/// A distance is of the place, not of the tank: no candidate could comply.
fn too_near(job: &Job, rule: &Rule, key: &str, words: &str) -> Problem {
    let message = format!("no tank can comply with {}: {words}", rule.id);
    let problem = Problem::error("U058", job.place(key), message).label("of the place: no size mends it");
    let hint =
        "put the tank elsewhere and give the new distance; or leave the key out: it is then not checked";
    problem.hint(hint)
}

/// Why a rule gives nothing.
#[must_use]
pub fn refusal(refused: &Refused) -> Vec<Problem> {
    let one = |reason: &String| {
        let problem = Problem::error("U041", None, format!("{} refuses: {reason}", refused.about.rule));
        problem.hint("--rule all shows what the other rules say")
    };
    refused.reasons.iter().map(one).collect()
}
