//! Inputs as a rule takes them: given, reckoned from others, or by its default; raised, bounded, refused.

use std::collections::{BTreeMap, BTreeSet};

use tankwright_geometry::Ratio;
use tankwright_quantities::decimal::plain;

use crate::inputs::{Given, Inputs, value};
use crate::known;
use crate::rule::{InputSpec, Rule};
use crate::sized::{Amount, Taken, short};
use crate::unit::{Quantity, Unit};

/// A value while a rule is worked.
#[derive(Clone, Debug)]
pub(crate) enum Value {
    /// A number in a unit.
    Number(Quantity),
    /// A word.
    Word(String),
}

/// All inputs of a rule.
#[derive(Debug, Default)]
pub(crate) struct Inflow {
    pub(crate) values: BTreeMap<String, Value>,
    pub(crate) taken: Vec<Taken>,
    /// Required and missing.
    pub(crate) needs: Vec<String>,
    /// Optional and missing.
    pub(crate) missing: BTreeSet<String>,
    /// Why the rule refuses them.
    pub(crate) reasons: Vec<String>,
    /// Given and used.
    pub(crate) used: BTreeSet<String>,
}

/// Takes every input that the rule asks for.
pub(crate) fn inflow(rule: &Rule, inputs: &Inputs) -> Inflow {
    let mut all = Inflow::default();
    for spec in &rule.inputs {
        one(spec, rule, inputs, &mut all);
    }
    all
}

fn one(spec: &InputSpec, rule: &Rule, inputs: &Inputs, all: &mut Inflow) {
    let name = spec.name.as_str();
    let (given, mut how) = match found(spec, rule, inputs, all) {
        Some(found) => found,
        None if spec.optional => {
            all.missing.insert(name.to_owned());
            return;
        }
        None => {
            all.needs.push(name.to_owned());
            return;
        }
    };
    let unit = known::find(name).and_then(|k| Unit::parse(k.unit)).unwrap_or_else(Unit::one);
    let number = match given {
        Given::Word(word) => {
            if !spec.only.is_empty() && !spec.only.contains(&word) {
                all.reasons.push(reason(spec, &format!("{name} {word} is not for this rule")));
            }
            all.taken.push(Taken { name: name.to_owned(), value: word.clone(), how });
            all.values.insert(name.to_owned(), Value::Word(word));
            return;
        }
        Given::Number(n) => n,
        Given::Test(test) if spec.slowest => {
            if test.raw {
                how = "the slowest reading counts".to_owned();
            }
            test.slowest()
        }
        Given::Test(test) => {
            if test.raw {
                how = "mean of the readings over a fall of 150 mm".to_owned();
            }
            test.mean()
        }
    };
    // `years 3` needs no unit beside it.
    let said = if name == "years" { "" } else { unit.shown() };
    let say = |n: Ratio| Amount { number: n, unit: said.to_owned() }.shown();
    let only: Vec<_> = spec.only.iter().filter_map(|t| value_of(name, t)).collect();
    if !only.is_empty() && !only.contains(&number) {
        let message = format!("{name} {} is not for this rule, only {}", say(number), spec.only.join(" or "));
        all.reasons.push(reason(spec, &message));
    }
    if spec.least.is_some_and(|least| number < least) {
        let least = spec.least.map(say).unwrap_or_default();
        all.reasons.push(reason(spec, &format!("{name} {} is under {least}", say(number))));
    }
    if spec.most.is_some_and(|most| number > most) {
        let most = spec.most.map(say).unwrap_or_default();
        all.reasons.push(reason(spec, &format!("{name} {} is over {most}", say(number))));
    }
    let mut counted = number;
    if let Some(raised) = spec.raise_to.filter(|r| number < *r) {
        how = format!("{how}; {} counts as {} by this rule", short(number), short(raised));
        counted = raised;
    }
    all.taken.push(Taken { name: name.to_owned(), value: say(counted), how });
    all.values.insert(name.to_owned(), Value::Number(Quantity { number: counted, unit }));
}

fn reason(spec: &InputSpec, message: &str) -> String {
    if spec.reason.is_empty() { message.to_owned() } else { format!("{message}: {}", spec.reason) }
}

fn value_of(name: &str, text: &str) -> Option<Ratio> {
    match value(known::find(name)?, text) {
        Ok(Given::Number(n)) => Some(n),
        _ => None,
    }
}

/// Given; else from flow, persons and water use; else by the rule's own figure for a person; else its default.
fn found(spec: &InputSpec, rule: &Rule, inputs: &Inputs, all: &mut Inflow) -> Option<(Given, String)> {
    let name = spec.name.as_str();
    if let Some(given) = inputs.get(name) {
        all.used.insert(name.to_owned());
        if name == known::PIT_WATER.name {
            all.used.extend(["pit-depth", "pit-inlet"].map(str::to_owned));
            return Some((given.clone(), "depth of the pit less that of its inlet".to_owned()));
        }
        return Some((given.clone(), "given".to_owned()));
    }
    let persons = inputs.number("persons");
    let turn = |n: Ratio, from: &str, to: &str| Some(n * Unit::parse(from)?.in_terms_of(&Unit::parse(to)?)?);
    let reckoned = match (name, persons, inputs.number("water-use"), inputs.number("flow")) {
        ("flow", Some(p), Some(each), _) => {
            let flow = turn(p * each, "l/d", "m3/d")?;
            Some((
                flow,
                vec!["persons", "water-use"],
                format!("{} persons x {} l a day", short(p), short(each)),
            ))
        }
        ("water-use", Some(p), _, Some(flow)) => {
            let each = turn(flow, "m3/d", "l/d")? / p;
            Some((
                each,
                vec!["persons", "flow"],
                format!("{} m3 a day over {} persons", short(flow), short(p)),
            ))
        }
        ("flow", Some(p), _, _) => each(spec, rule, inputs).and_then(|each| {
            let one =
                each.number_in(&Unit::parse("m3/d")?).or_else(|| each.number_in(&Unit::parse("m3/p/d")?))?;
            let how = format!("{} persons x {} m3 a day, the rule's own figure", short(p), short(one));
            Some((p * one, vec!["persons"], how))
        }),
        ("water-use", _, _, _) => each(spec, rule, inputs).and_then(|each| {
            let one = each.number_in(&Unit::parse("l/p/d")?)?;
            Some((one, vec![], "the rule's own figure".to_owned()))
        }),
        _ => None,
    };
    if let Some((number, used, how)) = reckoned {
        all.used.extend(used.into_iter().map(str::to_owned));
        return Some((Given::Number(number), how));
    }
    let text = spec.default.as_ref()?;
    let given = value(known::find(name)?, text).ok()?;
    Some((given, "the rule's default".to_owned()))
}

/// The rule's figure for a person, by kind of waste where it tells them apart.
fn each<'r>(spec: &'r InputSpec, rule: &'r Rule, inputs: &'r Inputs) -> Option<&'r Quantity> {
    let default = || rule.inputs.iter().find(|i| i.name == "wastes").and_then(|i| i.default.as_deref());
    let wastes = inputs.word("wastes").or_else(default).unwrap_or_default();
    spec.each.iter().find(|(word, _)| word.is_empty() || word == wastes).map(|(_, q)| q)
}

/// A value as printed.
pub(crate) fn shown(value: &Value) -> String {
    match value {
        Value::Word(w) => w.clone(),
        Value::Number(q) if q.unit.shown().is_empty() => plain(q.number),
        Value::Number(q) => Amount { number: q.number, unit: q.unit.shown().to_owned() }.shown(),
    }
}
