//! Distances that a rule asks for, against what the job says lies round the tank or its soak pit.

use tankwright_geometry::Ratio;
use tankwright_quantities::job::Job;

use crate::rule::{Kind, Limit, Rule};
use crate::shape::{Finding, three};
use crate::unit::Unit;

/// Names of distances, with their keys under `[site]` and `[site.soak]`.
const KEYS: [(&str, &str); 5] = [
    ("building", "house"),
    ("well", "well"),
    ("stream", "stream"),
    ("boundary", "boundary"),
    ("ground_abstraction", "ground_abstraction"),
];

/// The key that says it.
fn key(from: &str, l: &Limit) -> Option<String> {
    KEYS.iter().find(|(name, _)| *name == l.name).map(|(_, key)| format!("{from}.{key}"))
}

/// What lies nearer to the tank than the rule asks: its key and the words. No size of the tank mends it.
#[must_use]
pub fn too_near(rule: &Rule, clear: &[Limit], job: &Job) -> Vec<(String, String)> {
    let (found, _) = judge(rule, clear, job);
    let missed = found.into_iter().filter(|f| !f.met);
    let keyed = |f: Finding| Some((key("site", clear.iter().find(|l| l.name == f.name)?)?, f.words));
    missed.filter_map(keyed).collect()
}

/// What is judged, and what is not: with the key that would say it.
pub(crate) fn judge(rule: &Rule, clear: &[Limit], job: &Job) -> (Vec<Finding>, Vec<String>) {
    let (mut found, mut left) = (Vec::new(), Vec::new());
    let from = if rule.kind == Kind::Soakage { "site.soak" } else { "site" };
    for l in clear {
        let key = key(from, l);
        let have = key.as_ref().and_then(|key| Some(job.input(key)?.1.value / Ratio::int(10_000)));
        let asked = l.least.as_ref().and_then(|q| q.number_in(&Unit::parse("m")?));
        let what = l.name.replace('_', " ");
        match (have, asked, key) {
            (Some(have), Some(asked), _) => {
                let words =
                    format!("distance to {what} {} m, at least {} m asked", three(have), three(asked));
                found.push(Finding { name: l.name.clone(), words, met: have >= asked });
            }
            (None, Some(_), Some(key)) => left.push(format!("{what} ({key})")),
            _ => left.push(what),
        }
    }
    let left = (!left.is_empty()).then(|| format!("distances by this rule: {}", left.join(", ")));
    (found, left.into_iter().collect())
}
