//! One job under two profiles: what each bills of every item, and which rules make the difference.
//!
//! Both ledgers are proved against the same model, so that where both bill an item in one unit the sizes of the rules add
//! up to the difference, to the last digit.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use crate::decimal;
use crate::sheet::{Item, Sheet};
use crate::words::Phrase;
use crate::works::{Section, Unit, Work};

/// A rule of one of the profiles.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rule {
    /// In words.
    pub what: String,
    /// What it adds to the difference, in the unit of its profile; 0 for a rule on units, bands, classes and rates.
    pub size: Ratio,
    /// Clause.
    pub clause: String,
    /// Of the second profile.
    pub of_against: bool,
}

/// An item under both.
#[derive(Clone, Debug)]
pub struct Row {
    /// Kind of work.
    pub work: &'static Work,
    /// Specification.
    pub spec: String,
    /// What the first bills; nothing where it bills none.
    pub here: Option<(Unit, Decimal)>,
    /// What the second bills.
    pub against: Option<(Unit, Decimal)>,
    /// The second less the first, nothing counted as 0; none where the units differ.
    pub difference: Option<Decimal>,
    /// Why, those that cancel out left away.
    pub rules: Vec<Rule>,
}

impl Row {
    /// Do both bill the same?
    #[must_use]
    pub fn same(&self) -> bool {
        self.here == self.against
    }
}

/// Every item that either sheet has, in the order of the first.
#[must_use]
pub fn against(first: &Sheet, second: &Sheet) -> Vec<Row> {
    let mut keys: Vec<(Section, &'static Work, &str)> = Vec::new();
    for item in first.items.iter().chain(&second.items) {
        let key = (item.work.section, item.work, item.spec.as_str());
        if keys.contains(&key) {
            continue;
        }
        // What only the second has follows its own kind of work, or its section.
        let near = keys.iter().rposition(|k| k.1 == item.work);
        let near = near.or_else(|| keys.iter().rposition(|k| k.0 <= key.0));
        keys.insert(near.map_or(0, |at| at + 1), key);
    }
    keys.into_iter().map(|(_, work, spec)| row(first, second, work, spec)).collect()
}

fn row(first: &Sheet, second: &Sheet, work: &'static Work, spec: &str) -> Row {
    let of = |sheet: &'_ Sheet| -> Vec<Item> {
        sheet.items.iter().filter(|i| i.work == work && i.spec == spec).cloned().collect()
    };
    let sides = [of(first), of(second)];
    let [here, there] = sides.each_ref().map(|items| billed(items));
    let zero = |side: &Option<(Unit, Decimal)>| side.map_or(Decimal::ZERO, |(_, quantity)| quantity);
    let units = [here, there].map(|side| side.map(|(unit, _)| unit));
    let comparable = !matches!(units, [Some(a), Some(b)] if a != b);
    let mut rules = Vec::new();
    for (i, items) in sides.iter().enumerate() {
        items.iter().for_each(|item| add(&mut rules, item, i == 1));
        if items.is_empty() {
            // What the other has in its place says why.
            let other = if i == 0 { first } else { second };
            let part = |spec: &str| spec.rsplit_once('/').map(|(part, _)| part.to_owned());
            let kin = || other.items.iter().filter(|item| item.work == work);
            let near = |item: &&Item| part(&item.spec) == part(spec);
            let any = kin().any(|item| near(&item));
            kin().filter(|item| !any || near(item)).for_each(|item| add_placing(&mut rules, item, i == 1));
        }
    }
    cancel(&mut rules);
    if comparable && !sides.iter().any(Vec::is_empty) {
        moved(&mut rules, &sides, [first, second]);
    }
    Row {
        work,
        spec: spec.to_owned(),
        here,
        against: there,
        difference: comparable.then(|| zero(&there) - zero(&here)),
        rules,
    }
}

fn billed(items: &[Item]) -> Option<(Unit, Decimal)> {
    let mut billed = items.iter().filter(|i| !i.unbilled).peekable();
    let unit = billed.peek()?.unit;
    Some((unit, billed.map(|i| i.quantity).sum()))
}

/// The rules of an item: like ones together.
fn add(rules: &mut Vec<Rule>, item: &Item, of_against: bool) {
    // What is in a rate is measured, and bills nothing.
    let in_rate = item.unbilled.then(|| item.decisions.iter().rposition(|d| d.size.is_zero())).flatten();
    for (i, decision) in item.decisions.iter().enumerate() {
        let what = match decision.what.key {
            "booked-dimension" => Phrase::new("dimensions-booked").to_string(),
            "of-item-gap" => Phrase::new("from-other-items").to_string(),
            _ => decision.what.to_string(),
        };
        // The quantity is the model's less the size.
        let size = if in_rate == Some(i) { decimal::ratio(item.quantity) } else { decision.size };
        let size = if of_against { -size } else { size };
        put(rules, Rule { what, size, clause: decision.clause.clone(), of_against });
    }
}

/// Only rules on where and how an item is billed.
fn add_placing(rules: &mut Vec<Rule>, item: &Item, of_against: bool) {
    for decision in item.decisions.iter().filter(|d| d.size.is_zero()) {
        let (what, clause) = (decision.what.to_string(), decision.clause.clone());
        put(rules, Rule { what, size: Ratio::ZERO, clause, of_against });
    }
}

/// What one of them has moved to items of its own: narrow faces in m.
fn moved(rules: &mut Vec<Rule>, sides: &[Vec<Item>; 2], sheets: [&Sheet; 2]) {
    let exact = |items: &[Item]| {
        let lines = items.iter().flat_map(|i| i.lines.iter().chain(&i.kept));
        lines.map(|l| l.exact / l.per).sum::<Ratio>()
    };
    let [a, b] = sides.each_ref().map(|items| exact(items));
    let (size, of_against) = (b - a, b < a);
    let work = sides[0].first().map(|i| i.work);
    if size.is_zero() {
        return;
    }
    let of = sheets[usize::from(of_against)].items.iter().filter(|i| Some(i.work) == work);
    let clause = of.flat_map(|i| &i.decisions).find(|d| d.what.key == "in-metres");
    let clause = clause.map_or_else(String::new, |d| d.clause.clone());
    rules.push(Rule { what: Phrase::new("narrow-elsewhere").to_string(), size, clause, of_against });
}

fn put(rules: &mut Vec<Rule>, rule: Rule) {
    let same =
        |r: &&mut Rule| (&r.what, &r.clause, r.of_against) == (&rule.what, &rule.clause, rule.of_against);
    match rules.iter_mut().find(same) {
        Some(old) => old.size = old.size + rule.size,
        None => rules.push(rule),
    }
}

/// A rule that both have with the same effect makes no difference.
fn cancel(rules: &mut Vec<Rule>) {
    let opposite = |a: &Rule, b: &Rule| {
        a.of_against != b.of_against
            && a.what == b.what
            && a.clause == b.clause
            && (a.size + b.size).is_zero()
    };
    let all = rules.clone();
    rules.retain(|rule| !all.iter().any(|other| opposite(rule, other)));
}
