//! Reads rule files: one rule a file, its name the id; each rule is tried on its own worked examples.

mod cell;
mod part;
mod scope;
mod step;

use std::collections::BTreeMap;

use tankwright_quantities::problem::{Problem, in_order};
use tankwright_quantities::rates::entry::{Fields, is_id};
use tankwright_quantities::rates::{builtin_files, read_fields};
use tankwright_quantities::source::Source;

use crate::checks;
use crate::rule::{Kind, MeasuredTo, PitCounts, Rule, Status, Step, TrenchCounts};
use scope::Scope;

/// All rules by id.
#[derive(Clone, Debug, Default)]
pub struct Rules {
    /// The rules.
    pub rules: BTreeMap<String, Rule>,
    /// What the user's own files replaced or added, as `rule is-2470, from my/rules/is-2470.toml`.
    pub overridden: Vec<String>,
}

/// The built-in rules, and what is wrong with them (nothing, or a fault of the program).
#[must_use]
pub fn builtin() -> (Rules, Vec<Problem>) {
    builtin_where(|_| true)
}

/// Of the built-in rules this one alone; none where there is no such rule.
#[must_use]
pub fn builtin_rule(id: &str) -> (Rules, Vec<Problem>) {
    builtin_where(|name| name.strip_suffix(".toml") == Some(id))
}

fn builtin_where(wanted: impl Fn(&str) -> bool) -> (Rules, Vec<Problem>) {
    let mut rules = Rules::default();
    let named = |(path, text): &(&str, &str)| (format!("rates/{path}"), (*text).to_owned());
    let ours = builtin_files().iter().filter(|(path, _)| path.strip_prefix("rules/").is_some_and(&wanted));
    let files: Vec<(String, String)> = ours.map(named).collect();
    // Their worked examples are tests; only a user's own files are tried on every run.
    let problems = read_files(&files, false, &mut rules);
    rules.overridden.clear();
    (rules, problems)
}

/// Reads files (path and text) over what is there and tries each on its worked examples; a rule of the same id
/// replaces the older one.
pub fn read_rules(files: &[(String, String)], into: &mut Rules) -> Vec<Problem> {
    read_files(files, true, into)
}

fn read_files(files: &[(String, String)], tried: bool, into: &mut Rules) -> Vec<Problem> {
    let mut problems = Vec::new();
    for (path, text) in files {
        let file = path.rsplit(['/', '\\']).next().unwrap_or_default();
        let Some(id) = file.strip_suffix(".toml") else { continue };
        problems.extend(read_fields(path, text, |top| {
            if let Some(rule) = rule(id, top) {
                if tried {
                    checks::report(top, &rule);
                }
                into.overridden.push(format!("rule {id}, from {path}"));
                into.rules.insert(id.to_owned(), rule);
            }
        }));
    }
    in_order(&mut problems);
    problems
}

fn rule(id: &str, f: &Fields<'_, '_>) -> Option<Rule> {
    if f.text("id").is_some_and(|said| said != id) || !is_id(id) {
        f.report(
            "P035",
            f.span_of("id"),
            format!("`id` is not the file's name, `{id}`"),
            "make both the same",
        );
    }
    let kind = f
        .choice("kind", &Kind::WORDS)
        .map(|i| [Kind::Capacity, Kind::Soakage, Kind::Persons, Kind::Clearance][i]);
    let (title, body, year, clause) = (f.text("title"), f.text("body"), f.text("year"), f.text("clause"));
    let status = f
        .choice("status", &Status::WORDS)
        .map(|i| [Status::InForce, Status::Superseded, Status::Lapsed, Status::Practice][i]);
    let confidence =
        f.choice("confidence", &["A", "B", "C", "M"]).map(|i| ["A", "B", "C", "M"][i].to_owned());
    let source = source(f);
    let status_note = f.text_or_empty("status_note");
    let measured_to = if f.get("measured_to").is_some() {
        let to = f.choice("measured_to", &["water-line", "inlet"]);
        to.map(|i| Some([MeasuredTo::WaterLine, MeasuredTo::Inlet][i]))
    } else {
        Some(None)
    };
    let (surface, no_result) = (f.text_or_empty("surface"), f.text_or_empty("no_result"));
    let pit = match f.get("pit") {
        Some(_) => f.choice("pit", &PitCounts::WORDS),
        None => Some(2),
    };
    let trench = match f.get("trench") {
        Some(_) => f.choice("trench", &TrenchCounts::WORDS),
        None => Some(4),
    };
    let (soakage, doubts) = (cell::texts(f, "soakage"), cell::texts(f, "doubts"));
    let source = source?;
    let mut scope = Scope::default();
    let inputs = f.part_if_any("inputs").map_or_else(|| Some(Vec::new()), |p| part::inputs(&p, &mut scope));
    // All of them are read, so that every mistake is told.
    let steps: Vec<_> = f.list_if_any("step").iter().map(|s| step::step(s, &mut scope, &source)).collect();
    let steps: Option<Vec<Step>> = steps.into_iter().collect();
    let shape = part::limits(f.part_if_any("shape").as_ref(), part::SHAPE, &source);
    let clear = part::limits(f.part_if_any("clear").as_ref(), part::CLEAR, &source);
    let dimensions = dimensions(f, &scope);
    let emptying = f.part_if_any("emptying").map(|p| part::emptying(&p, &scope, &source));
    let checks = f.list_if_any("check").iter().map(part::check).collect::<Option<Vec<_>>>();
    f.done();
    let rule = Rule {
        id: id.to_owned(),
        kind: kind?,
        title: title?,
        body: body?,
        year: year?,
        clause: clause?,
        status: status?,
        status_note,
        confidence: confidence?,
        source,
        measured_to: measured_to?,
        surface,
        pit: pit.map(|i| [PitCounts::Wall, PitCounts::No, PitCounts::Unstated][i])?,
        trench: trench.map(|i| {
            use TrenchCounts::{Base, Length, No, Unstated, Walls};
            [Base, Walls, Length, No, Unstated][i]
        })?,
        inputs: inputs?,
        steps: steps?,
        no_result,
        shape: shape?,
        clear: clear?,
        dimensions: dimensions?,
        emptying: match emptying {
            Some(read) => Some(read?),
            None => None,
        },
        soakage: soakage?,
        doubts: doubts?,
        checks: checks?,
    };
    whole(f, rule)
}

/// Where the rule was read; its text is the citation.
fn source(f: &Fields<'_, '_>) -> Option<Source> {
    let (seen, note) = (f.text_or_empty("seen"), f.text_or_empty("note"));
    let recalled = cell::flag(f, "recalled");
    if seen.is_empty() != recalled {
        let hint = "give `seen` (where it was read) or `recalled = true`, not both";
        f.report("P007", f.span_of("seen"), "a source that nobody can look up".into(), hint);
        return None;
    }
    let part = |key| f.text_or_empty(key);
    let texts = [part("title"), part("body"), part("year")];
    let text =
        texts.iter().filter(|t| !t.is_empty() && *t != "not seen").cloned().collect::<Vec<_>>().join(", ");
    Some(Source { text, seen, recalled, from: part("year"), note })
}

fn dimensions(f: &Fields<'_, '_>, scope: &Scope) -> Option<Option<[String; 3]>> {
    if f.get("dimensions").is_none() {
        return Some(None);
    }
    let names = cell::texts(f, "dimensions")?;
    if let Some(name) = names.iter().find(|n| scope.find(n).is_none()) {
        scope.unknown(f, f.span_of("dimensions"), name);
        return None;
    }
    let three = <[String; 3]>::try_from(names).ok();
    if three.is_none() {
        f.report(
            "P011",
            f.span_of("dimensions"),
            "length, width and water depth".into(),
            "three names of steps",
        );
    }
    three.map(Some)
}

/// What a rule of its kind must have.
fn whole(f: &Fields<'_, '_>, rule: Rule) -> Option<Rule> {
    let results = rule.steps.iter().filter(|s| s.result).count();
    let capacity = rule.steps.iter().any(|s| s.id == "capacity" && s.gives.is_some());
    let lacks = match rule.kind {
        Kind::Capacity if rule.measured_to.is_none() => "`measured_to`",
        Kind::Capacity if capacity != rule.no_result.is_empty() => {
            "a step `capacity`, or `no_result`, not both"
        }
        Kind::Soakage if results == 0 => "a step with `result = true`",
        Kind::Soakage if rule.surface.is_empty() => "`surface`: which surface counts",
        Kind::Persons if results == 0 => "a step with `result = true`",
        Kind::Clearance if rule.clear.is_empty() => "`[clear]`",
        kind if kind != Kind::Clearance && rule.checks.is_empty() => "a worked example, `[[check]]`",
        _ => return Some(rule),
    };
    f.report("P036", 0..0, format!("the rule lacks {lacks}"), "rates/README.md shows a rule");
    None
}
