//! The one evaluator: works the steps of a rule in order. No rule has code.

use std::collections::{BTreeMap, BTreeSet};

use tankwright_geometry::Ratio;

use crate::curve;
use crate::rule::{
    Bands, Bound, Choose, Curve, Entering, Grid, How, Pick, Refusal, Rule, Shape, Step, Table, Term,
};
use crate::sized::{Amount, Worked, short, up};
use crate::take::{Value, shown};
use crate::unit::{Quantity, Unit};

/// A rule while it is worked.
pub(crate) struct Run {
    /// Inputs and steps so far.
    pub(crate) values: BTreeMap<String, Value>,
    /// Steps as worked.
    pub(crate) working: Vec<Worked>,
    /// Names that are not there: inputs that may be left out, and steps that need them.
    pub(crate) missing: BTreeSet<String>,
    /// Steps left out, with what they lack.
    pub(crate) skipped: Vec<(String, String)>,
    /// Why it stopped.
    pub(crate) refused: Option<String>,
}

/// What a step gave, and how in figures.
struct Done {
    number: Ratio,
    row: Vec<(String, Amount)>,
    how: String,
    notes: Vec<String>,
}

impl Done {
    fn of(number: Ratio, how: String) -> Result<Self, String> {
        Ok(Self { number, row: Vec::new(), how, notes: Vec::new() })
    }
}

/// Works all steps; `instead` gives one step another number.
pub(crate) fn run(
    rule: &Rule,
    values: BTreeMap<String, Value>,
    missing: BTreeSet<String>,
    instead: Option<(&str, Ratio)>,
) -> Run {
    let mut run = Run { values, working: Vec::new(), missing, skipped: Vec::new(), refused: None };
    // Of a step that was left out, the inputs for want of which it was.
    let mut wants: BTreeMap<&str, BTreeSet<String>> = BTreeMap::new();
    for step in &rule.steps {
        let lacks: BTreeSet<String> = uses(step)
            .into_iter()
            .map(root)
            .filter(|name| run.missing.contains(*name))
            .flat_map(|name| wants.get(name).cloned().unwrap_or_else(|| [name.to_owned()].into()))
            .collect();
        if !lacks.is_empty() {
            run.missing.insert(step.id.clone());
            run.skipped.extend(lacks.iter().map(|name| (step.title.clone(), name.clone())));
            wants.insert(&step.id, lacks);
            continue;
        }
        let other = instead.filter(|(id, _)| *id == step.id).map(|(_, n)| n);
        if let Err(reason) = run.step(step, other) {
            run.refused = Some(reason);
            break;
        }
    }
    run
}

/// `row` of `row.length`.
fn root(name: &str) -> &str {
    name.split('.').next().unwrap_or(name)
}

/// Names of the values that a step needs.
fn uses(step: &Step) -> Vec<&str> {
    match &step.how {
        How::Add(terms) => terms.iter().flat_map(|t| t.of.iter().chain(&t.over)).map(|e| &*e.name).collect(),
        How::Curve(c) => vec![&c.x.name],
        How::Table(t) => vec![&t.of.name],
        How::Bands(b) => vec![&b.of.name],
        How::Grid(g) => vec![&g.down.name, &g.across.name],
        How::Choose(c) => {
            let named = c.options.iter().filter_map(|(_, pick)| match pick {
                Pick::Name(name) => Some(&**name),
                Pick::Number(_) => None,
            });
            std::iter::once(&*c.by).chain(named).collect()
        }
    }
}

impl Run {
    /// The number of a value in the unit in which it enters.
    fn enter(&self, e: &Entering) -> Result<Ratio, String> {
        let number = match self.values.get(&e.name) {
            Some(Value::Number(q)) => q.number_in(&e.unit),
            _ => None,
        };
        number.filter(|n| n.is_known()).ok_or_else(|| format!("{} has no value that can be reckoned", e.name))
    }

    fn step(&mut self, step: &Step, instead: Option<Ratio>) -> Result<(), String> {
        let mut done = match (instead, &step.how) {
            (Some(n), _) => Done::of(n, "the other reading".to_owned()),
            (None, How::Add(terms)) => self.add(terms),
            (None, How::Curve(c)) => self.curve(c),
            (None, How::Table(t)) => self.table(t),
            (None, How::Bands(b)) => self.bands(b),
            (None, How::Grid(g)) => self.grid(g),
            (None, How::Choose(c)) => self.choose(c, step.gives.as_ref()),
        }?;
        if !done.number.is_known() {
            return Err(format!("{}: too large to be reckoned exactly", step.title));
        }
        let unit = step.gives.as_ref().map_or("", Unit::shown).to_owned();
        let say = |number: Ratio| Amount { number, unit: unit.clone() }.shown();
        let reckoned = done.number;
        if let Some(least) = step.at_least.filter(|least| done.number < *least) {
            done.number = least;
            done.notes.push(format!("{}, raised to the least, {}", say(reckoned), say(least)));
        }
        if let Some(most) = step.at_most.filter(|most| done.number > *most) {
            done.number = most;
            done.notes.push(format!("{}, lowered to the most, {}", say(reckoned), say(most)));
        }
        if let Some(whole) = step.round_up {
            let next = up(done.number, whole);
            if next != done.number {
                let to = if whole == Ratio::ONE {
                    "a whole number".into()
                } else {
                    format!("a multiple of {}", short(whole))
                };
                done.notes.push(format!("{} rounded up to {to}", say(done.number)));
                done.number = next;
            }
        }
        for s in &step.says {
            let x = self.enter(&s.of)?;
            if s.from.is_none_or(|from| x >= from) && s.to.is_none_or(|to| x <= to) {
                done.notes.push(s.words.clone());
            }
        }
        let Done { number, row, how, notes } = done;
        let value = step.gives.clone().map(|unit| Quantity { number, unit });
        self.working.push(Worked {
            step: step.id.clone(),
            title: step.title.clone(),
            value: value.as_ref().map(|_| Amount { number, unit: unit.clone() }),
            row,
            how,
            notes,
            source: step.source.as_ref().map(cited).unwrap_or_default(),
        });
        if let Some(value) = value {
            self.values.insert(step.id.clone(), Value::Number(value));
        } else if let (How::Table(table), Some(worked)) = (&step.how, self.working.last()) {
            for ((name, amount), (_, unit)) in worked.row.iter().zip(&table.columns) {
                let value = Quantity { number: amount.number, unit: unit.clone() };
                self.values.insert(format!("{}.{name}", step.id), Value::Number(value));
            }
        }
        match step.refuse.iter().find(|r| is_refused(r, number)) {
            Some(r) => Err(format!("{} {}: {}", step.title, say(number), r.reason)),
            None => Ok(()),
        }
    }

    fn add(&self, terms: &[Term]) -> Result<Done, String> {
        let (mut sum, mut how) = (Ratio::ZERO, String::new());
        for term in terms {
            let (mut product, mut parts) = (term.factor, Vec::new());
            if term.factor.abs() != Ratio::ONE || (term.of.is_empty() && term.over.is_empty()) {
                parts.push(short(term.factor.abs()));
            }
            for e in &term.of {
                let x = self.enter(e)?;
                product = product * x;
                parts.push(short(x));
            }
            if parts.is_empty() {
                parts.push("1".to_owned());
            }
            let mut text = parts.join(" x ");
            for e in &term.over {
                let x = self.enter(e)?;
                if x.is_zero() {
                    return Err(format!("{} is 0: nothing is divided by it", e.name));
                }
                product = product / x;
                text.push_str(&format!(" / {}", short(x)));
            }
            let minus = term.factor.signum() < 0;
            how.push_str(match (how.is_empty(), minus) {
                (true, false) => "",
                (true, true) => "-",
                (false, false) => " + ",
                (false, true) => " - ",
            });
            how.push_str(&text);
            sum = sum + product;
        }
        Done::of(sum, how)
    }

    fn curve(&self, c: &Curve) -> Result<Done, String> {
        let x = self.enter(&c.x)?;
        let [a, b, k] = c.abc.map(short);
        let n = short(x);
        let how = match c.shape {
            Shape::Log10 if c.abc[1].signum() < 0 => format!("{a} - {} log10 {n}", short(-c.abc[1])),
            Shape::Log10 => format!("{a} + {b} log10 {n}"),
            Shape::Power => format!("{a} x {n}^{b}"),
            Shape::Exponent => format!("{a} x {b}^({k} - {n})"),
            Shape::Root => format!("{a} / sqrt {n}"),
        };
        let y = curve::at(c.shape, c.abc, x);
        let y =
            y.ok_or_else(|| format!("the curve {} has no value at {n}", Shape::WORDS[c.shape as usize]))?;
        Done::of(y, how)
    }

    fn table(&self, t: &Table) -> Result<Done, String> {
        let x = self.enter(&t.of)?;
        let name = &t.of.name;
        let why =
            |message: String| if t.reason.is_empty() { message } else { format!("{message}: {}", t.reason) };
        if t.from.is_some_and(|from| x < from) {
            let from = t.from.map(short).unwrap_or_default();
            return Err(why(format!("{name} {} is under {from}, where the table begins", short(x))));
        }
        let unit = t.of.unit.shown();
        let what = if unit.is_empty() { name.clone() } else { format!("{name} in {unit}") };
        if let Some((bound, cells)) = t.rows.iter().find(|(b, _)| b.holds(x)) {
            if t.exact && bound.at != Some(x) {
                return Err(why(format!("{name} {} has no row of its own", short(x))));
            }
            let row: Vec<_> = t
                .columns
                .iter()
                .zip(cells)
                .map(|((n, u), v)| (n.clone(), Amount { number: *v, unit: u.shown().to_owned() }))
                .collect();
            let word = if bound.included { "up to" } else { "below" };
            let how = format!("row {word} {}, {what} {}", bound.at.map(short).unwrap_or_default(), short(x));
            let number = cells.first().copied().unwrap_or(Ratio::UNKNOWN);
            return Ok(Done {
                number,
                row: if t.columns.len() > 1 { row } else { Vec::new() },
                how,
                notes: vec![],
            });
        }
        let (last, value) = match t.rows.last() {
            Some((Bound { at: Some(at), .. }, cells)) => {
                (*at, cells.first().copied().unwrap_or(Ratio::UNKNOWN))
            }
            _ => return Err(why(format!("{name} {} is in no row", short(x)))),
        };
        match t.extend {
            Some(each) => {
                let how = format!("{} + {} x ({} - {})", short(value), short(each), short(x), short(last));
                Done::of(value + each * (x - last), how)
            }
            None => Err(why(format!("{name} {} is over {}", short(x), short(last)))),
        }
    }

    fn bands(&self, b: &Bands) -> Result<Done, String> {
        let x = self.enter(&b.of)?;
        let Some((_, band)) = b.bands.iter().find(|(bound, _)| bound.holds(x)) else {
            return Err(format!("{} {} is in no band", b.of.name, short(x)));
        };
        let (value, slope) = band.as_ref().map_err(|why| format!("{} {}: {why}", b.of.name, short(x)))?;
        let of = format!("{} {}", b.of.name, short(x));
        if slope.is_zero() {
            return Done::of(*value, format!("band of {of}"));
        }
        let sign = if slope.signum() < 0 { '-' } else { '+' };
        let how = format!("{} {sign} {} x {}, band of {of}", short(*value), short(slope.abs()), short(x));
        Done::of(*value + *slope * x, how)
    }

    fn grid(&self, g: &Grid) -> Result<Done, String> {
        let (down, across) = (self.enter(&g.down)?, self.enter(&g.across)?);
        let column = g.columns.iter().position(|b| b.holds(across));
        let row = g.rows.iter().find(|(b, _)| b.holds(down)).map(|(_, cells)| cells);
        let place = format!("{} {}, {} {}", g.down.name, short(down), g.across.name, short(across));
        let cell = row.and_then(|cells| cells.get(column?).copied());
        Done::of(cell.ok_or_else(|| format!("{place}: outside of the table"))?, format!("table at {place}"))
    }

    fn choose(&self, c: &Choose, unit: Option<&Unit>) -> Result<Done, String> {
        let by = self.values.get(&c.by).ok_or_else(|| format!("{} has no value", c.by))?;
        let is = |key: &str| match by {
            Value::Word(word) => word == key,
            Value::Number(q) => tankwright_geometry::parse::decimal(key) == Some(q.number),
        };
        let how = format!("{} {}", c.by, shown(by));
        let option = c.options.iter().find(|(key, _)| is(key));
        let (_, pick) = option.ok_or_else(|| format!("{how}: nothing to choose"))?;
        match (pick, unit) {
            (Pick::Number(n), _) => Done::of(*n, how),
            (Pick::Name(name), Some(unit)) => {
                Done::of(self.enter(&Entering { name: name.clone(), unit: unit.clone() })?, how)
            }
            (Pick::Name(name), None) => Err(format!("{name} has no unit here")),
        }
    }
}

fn is_refused(r: &Refusal, n: Ratio) -> bool {
    r.at_most.is_some_and(|m| n <= m)
        || r.at_least.is_some_and(|m| n >= m)
        || r.below.is_some_and(|m| n < m)
        || r.above.is_some_and(|m| n > m)
}

/// A source with its note.
pub(crate) fn cited(source: &tankwright_quantities::source::Source) -> String {
    let mut text = source.to_string();
    for (word, more) in [("seen", &source.seen), ("note", &source.note)] {
        if !more.is_empty() {
            text.push_str(&format!("; {word}: {more}"));
        }
    }
    text
}
