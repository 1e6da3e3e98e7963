//! What a person who sizes a tank must be told, each once, with its source; and what was not looked at.

use tankwright_geometry::Ratio;
use tankwright_quantities::decimal::{rounded, shown};
use tankwright_quantities::words::Phrase;

use crate::inputs::Inputs;
use crate::rule::{Kind, Rule, Status};
use crate::sized::{Caution, Sized, short};

const OWN: &str = "our own";

/// Inputs that are looked at beside the steps.
pub(crate) fn looked_at(rule: &Rule, name: &str) -> bool {
    let level = ["water-table", "pit-depth", "pit-inlet", "drain-depth"].contains(&name);
    let people = name == "persons" && rule.kind == Kind::Capacity;
    people || (level && rule.clear.iter().any(crate::levels::is_level))
}

fn say(key: &'static str, args: &[&str]) -> String {
    Phrase::with(key, args).to_string()
}

/// To one place.
fn tenth(n: Ratio) -> String {
    rounded(n, 1).map_or_else(|| short(n), |d| shown(d, 1))
}

/// All cautions of a result, the most important first.
pub(crate) fn cautions(sized: &Sized, rule: &Rule, inputs: &Inputs) -> Vec<Caution> {
    let mut all = Vec::new();
    let mut add = |id, words: String, source: String| all.push(Caution { id, words, source });
    add("local-code", say("size-local-code", &[]), OWN.into());
    match rule.status {
        Status::Superseded | Status::Lapsed => {
            let why =
                if rule.status_note.is_empty() { String::new() } else { format!(": {}", rule.status_note) };
            add("status", say("size-status", &[rule.status.id(), &why]), rule.cite());
        }
        Status::InForce | Status::Practice => {}
    }
    if rule.recalled() {
        add("recalled", say("size-recalled", &[]), OWN.into());
    }
    if let Some(emptied) = &sized.emptied {
        let years = |n: Ratio| match n == Ratio::ONE {
            true => say("size-year", &[]),
            false => say("size-years", &[&short(n)]),
        };
        let words = match (emptied.every, emptied.sludge) {
            (Some(every), Some(sludge)) => say("size-emptying-sludge", &[&years(every), &short(sludge)]),
            (Some(every), None) => say("size-emptying", &[&years(every)]),
            (None, _) => say("size-emptying-unstated", &[]),
        };
        let half = match emptied.half_full[..] {
            [(low, long), (high, soon)] => {
                say("size-half-full", &[&tenth(long), &short(low), &tenth(soon), &short(high)])
            }
            _ => String::new(),
        };
        let source = rule.emptying.as_ref().map_or_else(|| OWN.to_owned(), |e| e.source.to_string());
        add("emptying", format!("{words} {half}").trim_end().to_owned(), source);
    }
    if rule.kind == Kind::Soakage {
        add("methods", say("size-methods", &[]), OWN.into());
        add("season", say("size-season", &[]), "bothma.co.za/percolation_test".into());
        for lack in inputs.test().map(crate::percolation::Test::lacks).unwrap_or_default() {
            add(
                "test",
                say("size-test", &[&lack]),
                "Approved Document H2 (2002), as quoted: tekneka.co.uk".into(),
            );
        }
    }
    all
}

/// What was not looked at, and why.
pub(crate) fn not_checked(
    rule: &Rule,
    inputs: &Inputs,
    skipped: &[(String, String)],
    drawn: bool,
) -> Vec<String> {
    let mut names: Vec<&str> = Vec::new();
    for (_, name) in skipped {
        if !names.contains(&&**name) {
            names.push(name);
        }
    }
    let mut all: Vec<String> = names
        .into_iter()
        .map(|name| {
            let titles: Vec<&str> =
                skipped.iter().filter(|(_, n)| n == name).map(|(title, _)| &**title).collect();
            format!("{}: {}", titles.join("; "), crate::size::needs(name))
        })
        .collect();
    if rule.kind == Kind::Capacity {
        if !drawn {
            all.push(say("size-no-job", &[]));
        }
        let asked = [
            ("chambers", "size-chambers"),
            ("least_width", "size-width"),
            ("water_depth", "size-depth"),
            ("free_space", "size-free-space"),
        ];
        let has = |name: &str| rule.shape.iter().any(|l| l.name == name);
        let lacks: Vec<_> = asked.iter().filter(|(n, _)| !has(n)).map(|(_, key)| say(key, &[])).collect();
        if !lacks.is_empty() {
            all.push(say("size-shape-unseen", &[&lacks.join(", ")]));
        }
    }
    let level = rule.clear.iter().any(crate::levels::is_level);
    if level && inputs.number("water-table").is_none() {
        all.push(say("size-water-unknown", &[]));
    }
    all
}
