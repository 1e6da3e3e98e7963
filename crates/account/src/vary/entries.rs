//! `[[variation]]` as the job file of the account has it.

use std::collections::BTreeMap;

use tankwright_quantities::job::edit::Edit;
use tankwright_quantities::job::{Job, days_between};
use tankwright_quantities::problem::{Place, Problem, Severity};

use super::codes::{EARLY, NOT_VARIED, NOTHING, SAME_ID};
use super::items::{Direct, direct};
use super::{Contract, Desk};

/// Tables that say nothing of what is built: no variation changes them.
const NOT_BUILT: [&str; 19] = [
    "format",
    "job",
    "sizing",
    "cheapest",
    "waste",
    "packs",
    "orders",
    "programme",
    "provisional",
    "prime_cost",
    "provisional_sum",
    "additions",
    "variation",
    "star_rate",
    "remeasured",
    "daywork",
    "account",
    "payments",
    "paid",
];

/// A variation.
#[derive(Debug)]
pub(super) struct Variation {
    /// `variation[0]`.
    pub(super) path: String,
    pub(super) id: String,
    /// Keys and parts that change.
    pub(super) edits: Vec<Edit>,
    /// Where each of these stands.
    pub(super) at: Vec<Option<Place>>,
    /// Works whose differences it explains.
    pub(super) covers: Vec<String>,
    /// An item of its own.
    pub(super) direct: Option<Direct>,
}

/// A caution at a place.
pub(super) fn caution(code: &'static str, place: Option<Place>, message: impl Into<String>) -> Problem {
    Problem { severity: Severity::Caution, ..Problem::error(code, place, message) }
}

/// All variations in the order of the file; what is wrong is told, and left out.
pub(super) fn read(desk: &mut Desk<'_>) -> Vec<Variation> {
    let now = desk.now.job;
    let mut ids: BTreeMap<String, usize> = BTreeMap::new();
    let mut all = Vec::new();
    for i in 0..now.count_of("variation") {
        let path = format!("variation[{i}]");
        let id = now.text(&format!("{path}.id")).trim().to_owned();
        if let Some(first) = ids.insert(id.clone(), i) {
            let place = now.place(&format!("{path}.id"));
            let problem = Problem::error(SAME_ID, place, format!("there are two variations {id}"));
            let before = now.place(&format!("variation[{first}].id")).map_or(0, |p| p.line);
            desk.told
                .push(problem.label(format!("also on line {before}")).hint("give each a number of its own"));
        }
        // What explains the job as it is drawn is counted with it.
        if !desk.counts(&path, &id, now.given(&format!("{path}.covers"))) {
            continue;
        }
        let (edits, at) = edits(now, &path, &mut desk.told);
        let covers = now.texts(&format!("{path}.covers")).to_vec();
        let direct = direct(desk, &path, &id);
        let says_nothing = edits.is_empty() && covers.is_empty() && direct.is_none();
        // What it says may have been refused, and is told then.
        let said =
            ["set", "drop", "covers", "title", "item", "unit", "quantity", "rate", "amount", "build_up"];
        if says_nothing && !said.iter().any(|key| now.given(&format!("{path}.{key}"))) {
            let what = format!("{id} does not say what it changes");
            let problem = Problem::error(NOTHING, now.place(&path), what).label("nothing to account for");
            desk.told.push(problem.hint(
                "give set = { \"tank.height\" = \"2.00 m\" }, or covers = [\"excavation-pit\"], or item and quantity, \
                 or title, unit, quantity and rate",
            ));
        }
        early(now, &path, &id, &desk.contract, &mut desk.told);
        all.push(Variation { path, id, edits, at, covers, direct });
    }
    all
}

fn early(now: &Job, path: &str, id: &str, contract: &Contract<'_>, told: &mut Vec<Problem>) {
    let (date, of) = (now.text(&format!("{path}.date")), &contract.estimate.date);
    if days_between(of, date).is_some_and(|days| days < 0) {
        let what = format!("{id} is of {date}, before the contract ({of})");
        let problem =
            caution(EARLY, now.place(&format!("{path}.date")), what).label("older than the contract");
        told.push(
            problem.hint("what was known before the price was agreed is mostly in it: look at the date"),
        );
    }
}

/// Keys that change and parts that go, each with its place.
fn edits(now: &Job, path: &str, told: &mut Vec<Problem>) -> (Vec<Edit>, Vec<Option<Place>>) {
    let set = format!("{path}.set");
    let Some((tankwright_quantities::job::Value::Group(paths), _)) = now.values.get(&set) else {
        return drops(now, path, told);
    };
    let (mut edits, mut at) = (Vec::new(), Vec::new());
    for full in paths {
        let key = full.strip_prefix(&set).and_then(|k| k.strip_prefix('.')).unwrap_or(full);
        if varied(key, now.place(full), told) {
            edits.push(Edit::set(key, now.text(full)));
            at.push(now.place(full));
        }
    }
    let (more, places) = drops(now, path, told);
    (edits.into_iter().chain(more).collect(), at.into_iter().chain(places).collect())
}

fn drops(now: &Job, path: &str, told: &mut Vec<Problem>) -> (Vec<Edit>, Vec<Option<Place>>) {
    let drop = format!("{path}.drop");
    let mut kept = Vec::new();
    for key in now.texts(&drop) {
        if varied(key, now.place(&drop), told) {
            kept.push((Edit::Drop(key.to_owned()), now.place(&drop)));
        }
    }
    kept.into_iter().unzip()
}

/// Is the key one of what is built?
fn varied(key: &str, place: Option<Place>, told: &mut Vec<Problem>) -> bool {
    let table = key.split(['.', '[']).next().unwrap_or(key);
    if !NOT_BUILT.contains(&table) {
        return true;
    }
    let hint = match table {
        "provisional" => "write what was measured as [[remeasured]], with the title of the provisional item",
        "prime_cost" => "write what the goods cost as `actual` in that [[prime_cost]]",
        "provisional_sum" => "write what was spent as `spent` in that [[provisional_sum]]",
        "additions" => "additions stay as agreed; [account] leave_out leaves one out",
        _ => "a variation changes what is built, or [[preliminaries]]; the rest stays as in the contract",
    };
    let problem = Problem::error(NOT_VARIED, place, format!("no variation changes `{key}`"));
    told.push(problem.label("not a matter of what is built").hint(hint));
    false
}

/// Rows that a work, work/specification or number in the bill names; a specification may leave parts out, as
/// `excavation-pit/1.5-3.0` does for `excavation-pit/net/1.5-3.0`.
pub(super) fn names(name: &str, work: &str, spec: &str) -> bool {
    let mut parts = name.trim().split('/');
    if parts.next() != Some(work) {
        return false;
    }
    let mut of_row = spec.split('/');
    parts.all(|part| of_row.any(|p| p == part))
}
