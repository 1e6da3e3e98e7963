//! What one asks for: one rule or all, with the soakage methods where the ground is known.

use tankwright_geometry::Ratio;
use tankwright_quantities::checks::{Check, Verdict as Checked};
use tankwright_quantities::estimate::{Capacity, Caution};
use tankwright_quantities::problem::Problem;

use crate::inputs::Inputs;
use crate::percolation;
use crate::read::Rules;
use crate::rule::{Kind, Rule};
use crate::size::size_drawn;
use crate::sized::{Refused, Sized};
use crate::verdict::Drawn;

/// A rule's result or refusal.
pub type Outcome = Result<Sized, Box<Refused>>;

/// All of a run.
#[derive(Clone, Debug)]
pub struct Report {
    /// What was asked: an id, `all`, or nothing.
    pub asked: String,
    /// Inputs as written.
    pub inputs: Vec<(String, String)>,
    /// The rule, or all of capacity and persons.
    pub rules: Vec<Outcome>,
    /// Soakage methods, where the ground is known and a capacity was asked.
    pub soakage: Vec<Outcome>,
    /// The percolation test in every form.
    pub test: Vec<(&'static str, Ratio)>,
    /// What the user's own files replaced or added among the rules shown.
    pub overridden: Vec<String>,
    /// What was taken by default, in words.
    pub notes: Vec<String>,
    /// The tank it was held against.
    pub drawn: Option<OfJob>,
    /// Checks of the drawn job that belong to no rule.
    pub checks: Vec<Check>,
    /// Cautions of the drawn job that belong on this paper.
    pub told: Vec<Caution>,
}

/// A drawn tank, for papers.
#[derive(Clone, Debug)]
pub struct OfJob {
    /// Title of the job.
    pub title: String,
    /// Its file.
    pub file: String,
    /// What the tank holds.
    pub capacity: Capacity,
    /// Litres to the water line, exact.
    pub to_water_line: Option<Ratio>,
    /// Litres to the level of the inlet, exact.
    pub to_inlet: Option<Ratio>,
}

impl Report {
    /// What of the drawn job is not checked, in words.
    #[must_use]
    pub fn left(&self) -> Vec<String> {
        let left = self.checks.iter().filter(|c| c.verdict == Checked::NotChecked);
        left.map(|c| c.says.to_string()).collect()
    }

    /// True where one rule was asked and gives nothing.
    #[must_use]
    pub fn refused(&self) -> Option<&Refused> {
        match &self.rules[..] {
            [Err(refused)] if self.asked != "all" => Some(refused),
            _ => None,
        }
    }
}

/// Works the rule, or all of them side by side; of no rule (an empty id) the soakage methods alone.
///
/// # Errors
/// A rule that is not known.
pub fn report(rules: &Rules, asked: &str, inputs: &Inputs) -> Result<Report, Box<Problem>> {
    report_of(rules, asked, inputs, None)
}

/// The same, with a drawn tank held against each; its soak pits against every method.
///
/// # Errors
/// As [`report`].
pub fn report_of(
    rules: &Rules,
    asked: &str,
    inputs: &Inputs,
    drawn: Option<Drawn<'_>>,
) -> Result<Report, Box<Problem>> {
    let by = |rule: &Rule| size_drawn(rule, inputs, drawn);
    let of = |kinds: &[Kind]| -> Vec<Outcome> {
        let mut found: Vec<&Rule> = rules.rules.values().filter(|r| kinds.contains(&r.kind)).collect();
        found.sort_by_key(|r| r.kind);
        found.into_iter().map(by).collect()
    };
    let ground = inputs.test().is_some() || ["soil", "soil-class"].iter().any(|n| inputs.word(n).is_some());
    let water = inputs.number("water-table").is_some();
    let (mut main, soakage) = match rules.rules.get(asked) {
        None if asked == "all" => (of(&[Kind::Capacity, Kind::Persons]), methods(&of, ground, water)),
        None if asked.is_empty() => (Vec::new(), methods(&of, ground, water)),
        None => {
            let known: Vec<&str> = rules.rules.keys().map(String::as_str).collect();
            let problem = Problem::error("U040", None, format!("there is no sizing rule `{asked}`"));
            return Err(Box::new(problem.hint(format!("all, or one of: {}", known.join(", ")))));
        }
        Some(rule) => {
            let own = rule.soakage.iter().filter_map(|id| rules.rules.get(id));
            let soakage = match rule.kind {
                Kind::Capacity if ground && drawn.is_none() && !rule.soakage.is_empty() => {
                    own.map(by).collect()
                }
                Kind::Capacity => methods(&of, ground, water),
                _ => Vec::new(),
            };
            (vec![by(rule)], soakage)
        }
    };
    // What a soakage method looks at is used.
    let methods: Vec<&Rule> = soakage.iter().filter_map(|o| rules.rules.get(id_of(o))).collect();
    let used = |name: &str| methods.iter().any(|r| takes(r, name));
    for sized in main.iter_mut().filter_map(|o| o.as_mut().ok()) {
        sized.unused.retain(|name| !used(name));
    }
    let shown: Vec<String> = main.iter().chain(&soakage).map(|o| format!("rule {},", id_of(o))).collect();
    let overridden = rules.overridden.iter().filter(|o| shown.iter().any(|id| o.starts_with(id.as_str())));
    Ok(Report {
        overridden: overridden.cloned().collect(),
        asked: asked.to_owned(),
        inputs: inputs.as_written().map(|(n, t)| (n.to_owned(), t.to_owned())).collect(),
        rules: main,
        soakage,
        notes: Vec::new(),
        checks: Vec::new(),
        told: Vec::new(),
        drawn: drawn.map(|d| OfJob {
            title: d.job.text("job.title").to_owned(),
            file: d.job.file.clone(),
            capacity: d.capacity.clone(),
            to_water_line: d.to_water_line(),
            to_inlet: d.to_inlet(),
        }),
        test: inputs.test().map(|t| percolation::forms(t.mean())).unwrap_or_default(),
    })
}

/// Whether a rule looks at an input.
fn takes(rule: &Rule, name: &str) -> bool {
    let pit = ["pit-depth", "pit-inlet"].contains(&name);
    let asks = |n: &str| rule.inputs.iter().any(|i| i.name == n);
    let flow = ["persons", "water-use"].contains(&name) && asks("flow");
    asks(name) || flow || (pit && asks("pit-water")) || crate::cautions::looked_at(rule, name)
}

fn id_of(outcome: &Outcome) -> &str {
    match outcome {
        Ok(sized) => &sized.about.rule,
        Err(refused) => &refused.about.rule,
    }
}

fn methods(of: &dyn Fn(&[Kind]) -> Vec<Outcome>, ground: bool, water: bool) -> Vec<Outcome> {
    match (ground, water) {
        (true, true) => of(&[Kind::Soakage, Kind::Clearance]),
        (true, false) => of(&[Kind::Soakage]),
        (false, true) => of(&[Kind::Clearance]),
        (false, false) => Vec::new(),
    }
}
