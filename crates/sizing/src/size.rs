//! From a rule and inputs to a result with all its workings, or to every reason why there is none.

use std::collections::BTreeMap;

use tankwright_geometry::Ratio;

use crate::cautions;
use crate::distances;
use crate::inputs::Inputs;
use crate::levels;
use crate::propose::propose;
use crate::rule::{Kind, Rule, Step};
use crate::run::{Run, run};
use crate::sized::{About, Amount, Answer, Beside, Emptied, Proposal, Refused, Sized, up};
use crate::take::{Value, inflow};
use crate::unit::{Quantity, Unit};
use crate::verdict::{self, Drawn};
use crate::{drains, pits};

/// Sludge of a person in a year, l: the figure of three rules, and one measured (Gray 1995: 0.234 l a day).
const SLUDGE: [Ratio; 2] = [Ratio::int(40), Ratio::int(85)];

/// Sizes by one rule.
///
/// # Errors
/// Why the rule gives nothing for these inputs: missing ones, its own limits.
pub fn size(rule: &Rule, inputs: &Inputs) -> Result<Sized, Box<Refused>> {
    size_drawn(rule, inputs, None)
}

/// Sizes by one rule, and holds a drawn tank against the result.
///
/// # Errors
/// As [`size`].
pub fn size_drawn(rule: &Rule, inputs: &Inputs, drawn: Option<Drawn<'_>>) -> Result<Sized, Box<Refused>> {
    let inflow = inflow(rule, inputs);
    let about = about(rule);
    if !inflow.needs.is_empty() || !inflow.reasons.is_empty() {
        let mut reasons = inflow.reasons;
        reasons.extend(inflow.needs.iter().map(|name| needs(name)));
        return Err(Box::new(Refused { about, reasons, needs: inflow.needs, working: Vec::new() }));
    }
    let ran = run(rule, inflow.values.clone(), inflow.missing.clone(), None);
    if let Some(reason) = ran.refused {
        return Err(Box::new(Refused {
            about,
            reasons: vec![reason],
            needs: Vec::new(),
            working: ran.working,
        }));
    }
    let answers = answers(rule, &ran);
    if answers.is_empty() && rule.no_result.is_empty() && rule.kind != Kind::Clearance {
        let needs: std::collections::BTreeSet<String> =
            ran.skipped.iter().map(|(_, name)| name.clone()).collect();
        let needs: Vec<String> = needs.into_iter().collect();
        let reasons = needs.iter().map(|n| self::needs(n)).collect();
        return Err(Box::new(Refused { about, reasons, needs, working: ran.working }));
    }
    let beside = beside(rule, inputs, &ran, &inflow.values, &inflow.missing);
    let litres = answers.first().filter(|a| a.id == "capacity").map(|a| a.asked.number);
    let proposal = litres.map_or_else(Proposal::default, |l| propose(rule, &ran, l));
    // A drawn tank fills as large as it is.
    let held = drawn.and_then(|d| d.to_water_line());
    let emptied = (rule.kind == Kind::Capacity).then(|| emptied(rule, &ran, inputs, held.or(litres)));
    let used = |name: &str| inflow.used.contains(name) || cautions::looked_at(rule, name);
    let unused = inputs.as_written().map(|(n, _)| n).filter(|n| !used(n)).map(str::to_owned).collect();
    let mut sized = Sized {
        about,
        inputs: inflow.taken,
        answers,
        no_result: rule.no_result.clone(),
        beside,
        proposal,
        shape: rule.shape.clone(),
        clear: rule.clear.iter().filter(|l| !levels::is_level(l)).cloned().collect(),
        levels: levels::levels(&rule.clear, inputs),
        emptied,
        doubts: rule.doubts.clone(),
        cautions: Vec::new(),
        not_checked: cautions::not_checked(rule, inputs, &ran.skipped, drawn.is_some()),
        unused,
        working: ran.working,
        verdict: None,
        pits: None,
        drains: None,
        distances: Vec::new(),
    };
    sized.verdict = drawn.and_then(|d| verdict::judge(rule, &mut sized, d));
    sized.pits = drawn.and_then(|d| pits::judge(rule, &mut sized, inputs, d));
    sized.drains = drawn.and_then(|d| drains::judge(rule, &mut sized, d));
    let beyond = sized.pits.is_some() || sized.drains.is_some();
    if let Some(d) = drawn.filter(|_| rule.kind == Kind::Soakage && beyond) {
        let (found, left) = distances::judge(rule, &sized.clear, d.job);
        (sized.distances, _) = (found, sized.not_checked.extend(left));
    }
    sized.cautions = cautions::cautions(&sized, rule, inputs);
    Ok(sized)
}

/// `--persons is not given`.
pub(crate) fn needs(name: &str) -> String {
    match name {
        "flow" => "needs --flow, or --persons with --water-use".to_owned(),
        "water-use" => "needs --water-use, or --persons with --flow".to_owned(),
        "pit-water" => "needs --pit-depth and --pit-inlet".to_owned(),
        name => format!("needs --{name}"),
    }
}

fn about(rule: &Rule) -> About {
    About {
        rule: rule.id.clone(),
        kind: rule.kind,
        cite: rule.cite(),
        seen: rule.source.seen.clone(),
        recalled: rule.recalled(),
        confidence: rule.confidence.clone(),
        status: rule.status,
        status_note: rule.status_note.clone(),
        measured_to: rule.measured_to,
        surface: rule.surface.clone(),
    }
}

/// The capacity first, then what else the rule marks as a result, in order.
fn answers(rule: &Rule, run: &Run) -> Vec<Answer> {
    let is_main = |s: &&Step| rule.kind == Kind::Capacity && s.id == "capacity";
    let main = rule.steps.iter().filter(is_main);
    let rest = rule.steps.iter().filter(|s| s.result && !is_main(s));
    main.chain(rest).filter_map(|s| answer(rule, s, run)).collect()
}

fn answer(rule: &Rule, step: &Step, run: &Run) -> Option<Answer> {
    let Some(Value::Number(q)) = run.values.get(&step.id) else { return None };
    let tenth = Ratio::of(1, 10);
    let litres = [("l", Ratio::ONE)];
    let others = [("m2", tenth), ("m", tenth), ("m3", tenth)];
    let units: &[(&str, Ratio)] = if rule.kind == Kind::Capacity { &litres } else { &others };
    let turned = units.iter().find_map(|(unit, step)| {
        let number = q.number_in(&Unit::parse(unit)?)?;
        Some(Amount { number: up(number, *step), unit: (*unit).to_owned() })
    });
    let amount = Amount { number: q.number, unit: q.unit.shown().to_owned() };
    Some(Answer {
        id: step.id.clone(),
        title: step.title.clone(),
        asked: turned.unwrap_or_else(|| amount.clone()),
        amount,
    })
}

/// Other readings: where an input is more than the step that stands for it.
fn beside(
    rule: &Rule,
    inputs: &Inputs,
    first: &Run,
    values: &BTreeMap<String, Value>,
    missing: &std::collections::BTreeSet<String>,
) -> Vec<Beside> {
    let mut all = Vec::new();
    for step in &rule.steps {
        let Some(b) = &step.beside else { continue };
        let (Some(Value::Number(now)), Some(other)) = (first.values.get(&step.id), inputs.number(&b.value))
        else {
            continue;
        };
        if other <= now.number {
            continue;
        }
        let second = run(rule, values.clone(), missing.clone(), Some((&step.id, other)));
        if let (None, Some(answer)) = (&second.refused, answers(rule, &second).into_iter().next()) {
            all.push(Beside { words: b.words.clone(), answer, working: second.working });
        }
    }
    all
}

fn emptied(rule: &Rule, run: &Run, inputs: &Inputs, litres: Option<Ratio>) -> Emptied {
    let number = |name: &str| match run.values.get(name) {
        Some(Value::Number(Quantity { number, .. })) => Some(*number),
        _ => None,
    };
    let stated = rule.emptying.as_ref();
    let every = stated.and_then(|e| e.every).or_else(|| number("years"));
    let persons = inputs.number("persons").or_else(|| number("people"));
    let of_step = stated.and_then(|e| e.step.as_ref()).and_then(|e| match run.values.get(&e.name) {
        Some(Value::Number(q)) => q.number_in(&e.unit),
        _ => None,
    });
    let each = of_step.or_else(|| stated?.sludge);
    let sludge = every.and_then(|y| Some(y * persons? * each?));
    let half = |rate: Ratio| Some((rate, litres? / Ratio::int(2) / (rate * persons?)));
    Emptied { every, sludge, half_full: SLUDGE.into_iter().filter_map(half).collect() }
}
