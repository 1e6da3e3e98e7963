//! Reads one step: six kinds, each value entering with its unit.

use tankwright_geometry::Ratio;
use tankwright_quantities::rates::entry::{Fields, is_id};
use tankwright_quantities::source::Source;

use super::cell::{self, bound, going_up, number, number_if_any, rows, unit_of};
use super::scope::Scope;
use crate::rule::{
    Bands, Beside, Choose, Curve, Entering, Grid, How, Pick, Refusal, Say, Shape, Step, Table, Term,
};
use crate::unit::Unit;

const KINDS: [&str; 6] = ["add", "curve", "table", "bands", "grid", "choose"];

/// Reads a step and takes its name into the scope.
pub(super) fn step(f: &Fields<'_, '_>, scope: &mut Scope, rule: &Source) -> Option<Step> {
    let id = f.text("id").filter(|id| {
        let fits = is_id(id);
        if !fits {
            f.report("P013", f.span_of("id"), format!("`{id}` cannot be an id"), "as settling-time");
        }
        fits
    });
    let gives = f.text("gives").and_then(|text| match text.as_str() {
        "row" => Some(None),
        unit => unit_of(f, f.span_of("gives"), unit).map(Some),
    });
    let how = how(f, scope, gives.as_ref().and_then(Option::as_ref));
    let title = f.text_or_empty("title");
    let (at_least, at_most) = (number_if_any(f, "at_least"), number_if_any(f, "at_most"));
    let round_up = number_if_any(f, "round_up");
    let refuse: Option<Vec<Refusal>> = f.list_if_any("refuse").iter().map(refusal).collect();
    let says: Option<Vec<Say>> = f.list_if_any("says").iter().map(|s| say(s, scope)).collect();
    let beside = f.part_if_any("beside").map(|b| {
        let read = (b.text("value"), b.text("words"));
        b.done();
        Some(Beside { value: read.0?, words: read.1? })
    });
    let result = cell::flag(f, "result");
    let source = cell::has_source(f).then(|| cell::source(f, rule));
    f.done();
    let (id, gives, how) = (id?, gives?, how?);
    let unknown = beside.as_ref().and_then(Option::as_ref).filter(|b| scope.find(&b.value).is_none());
    if let Some(beside) = unknown {
        scope.unknown(f, f.span_of("beside"), &beside.value);
    }
    if gives.is_none() != matches!(&how, How::Table(t) if t.columns.len() > 1) {
        let hint = "a table of several columns gives a row, everything else a number in a unit";
        f.report("P033", f.span_of("gives"), format!("`{id}` cannot give that"), hint);
    }
    let fresh = match (&how, &gives) {
        (How::Table(t), None) => {
            t.columns.iter().all(|(name, unit)| scope.add(&format!("{id}.{name}"), Some(unit.clone())))
        }
        _ => scope.add(&id, gives.clone()),
    };
    if !fresh {
        f.report("P014", f.span_of("id"), format!("`{id}` stands twice"), "each step has a name of its own");
    }
    Some(Step {
        title: if title.is_empty() { id.replace('-', " ") } else { title },
        id,
        gives,
        how,
        at_least: at_least?,
        at_most: at_most?,
        round_up: round_up?,
        refuse: refuse?,
        says: says?,
        beside: match beside {
            Some(read) => Some(read?),
            None => None,
        },
        result,
        source,
    })
}

fn how(f: &Fields<'_, '_>, scope: &Scope, gives: Option<&Unit>) -> Option<How> {
    let found: Vec<_> = KINDS.iter().filter(|k| f.get(k).is_some()).collect();
    let [kind] = found[..] else {
        let hint = format!("exactly one of: {}", KINDS.join(", "));
        f.report("P032", f.span.clone(), format!("a step of {} kinds", found.len()), &hint);
        return None;
    };
    if *kind == "add" {
        let terms: Option<Vec<Term>> = f.list("add").iter().map(|t| term(t, scope)).collect();
        return terms.map(How::Add);
    }
    let part = f.part(kind)?;
    let read = match *kind {
        "curve" => curve(&part, scope).map(How::Curve),
        "table" => table(&part, scope).map(How::Table),
        "bands" => bands(&part, scope).map(How::Bands),
        "grid" => grid(&part, scope).map(How::Grid),
        _ => choose(&part, scope, gives).map(How::Choose),
    };
    part.done();
    read
}

fn term(f: &Fields<'_, '_>, scope: &Scope) -> Option<Term> {
    let factor = number_if_any(f, "factor").map(|n| n.unwrap_or(Ratio::ONE));
    let named = |key: &'static str| -> Option<Vec<Entering>> {
        let Some(part) = f.part_if_any(key) else { return Some(Vec::new()) };
        let read = |name| scope.entering(&part, part.span_of(name), name, &part.text(name)?);
        let all: Vec<_> = part.keys().into_iter().map(read).collect();
        all.into_iter().collect()
    };
    let (of, over) = (named("of"), named("over"));
    f.done();
    Some(Term { factor: factor?, of: of?, over: over? })
}

/// A name under one key and its unit under another.
fn entering<'d>(f: &Fields<'_, 'd>, scope: &Scope, key: &'d str, unit: &'d str) -> Option<Entering> {
    let (name, unit) = (f.text(key), f.text(unit));
    scope.entering(f, f.span_of(key), &name?, &unit?)
}

fn curve(f: &Fields<'_, '_>, scope: &Scope) -> Option<Curve> {
    let shape = f.choice("shape", &Shape::WORDS);
    let x = entering(f, scope, "x", "in");
    let shape = match shape? {
        0 => Shape::Log10,
        1 => Shape::Power,
        2 => Shape::Exponent,
        _ => Shape::Root,
    };
    let a = number(f, "a");
    let b = if shape == Shape::Root { Some(Ratio::ZERO) } else { number(f, "b") };
    let c = if shape == Shape::Exponent { number(f, "c") } else { Some(Ratio::ZERO) };
    Some(Curve { shape, abc: [a?, b?, c?], x: x? })
}

fn table(f: &Fields<'_, '_>, scope: &Scope) -> Option<Table> {
    let exact = f.choice("take", &["next", "exact"]);
    let above = f.choice("above_last", &["refuse", "extend"]);
    let extend = if above == Some(1) { number(f, "each").map(Some) } else { Some(None) };
    let (from, reason) = (number_if_any(f, "from"), f.text_or_empty("reason"));
    let name = f.text("of");
    let columns = f.part("columns").and_then(|part| {
        let up_to = part.text("up_to")?;
        let read = |key| Some((str::to_owned(key), unit_of(&part, part.span_of(key), &part.text(key)?)?));
        let keys = part.keys().into_iter().filter(|k| *k != "up_to");
        let columns: Option<Vec<_>> = keys.map(read).collect();
        Some((up_to, columns?))
    });
    let lists = rows(f, "rows");
    let (up_to, columns) = columns?;
    let of = scope.entering(f, f.span_of("of"), &name?, &up_to)?;
    let rows = bounded(f, lists?, columns.len())?;
    let (exact, extend) = (exact? == 1, extend?);
    if extend.is_some() && columns.len() != 1 {
        f.report("P033", f.span_of("above_last"), "only one column can be extended".into(), "refuse instead");
    }
    Some(Table { of, extend, exact, from: from?, reason, columns, rows })
}

/// Rows of a bound and so many numbers; bounds go up.
fn bounded(
    f: &Fields<'_, '_>,
    lists: Vec<(std::ops::Range<usize>, Vec<&str>)>,
    columns: usize,
) -> Option<Vec<(crate::rule::Bound, Vec<Ratio>)>> {
    let read = |(span, cells): (std::ops::Range<usize>, Vec<&str>)| {
        let Some((first, rest)) = cells.split_first().filter(|(_, rest)| rest.len() == columns) else {
            f.report(
                "P033",
                span,
                format!("a row should be a bound and {columns} numbers"),
                "count the cells",
            );
            return None;
        };
        let numbers: Option<Vec<Ratio>> = rest.iter().map(|c| cell::signed(c)).collect();
        if numbers.is_none() {
            f.report("P010", span.clone(), "a row with a cell that is not a number".into(), "as \"1.25\"");
        }
        Some((bound(f, span, first)?, numbers?))
    };
    let rows: Vec<_> = lists.into_iter().map(read).collect();
    let rows: Vec<_> = rows.into_iter().collect::<Option<_>>()?;
    let bounds: Vec<_> = rows.iter().map(|(b, _)| *b).collect();
    going_up(f, f.span_of("rows"), &bounds).then_some(rows)
}

fn bands(f: &Fields<'_, '_>, scope: &Scope) -> Option<Bands> {
    let of = entering(f, scope, "of", "in");
    let mut bands = Vec::new();
    for (span, cells) in rows(f, "rows")? {
        let read = match cells[..] {
            [end, "refuse", reason] => bound(f, span.clone(), end).map(|b| (b, Err(reason.to_owned()))),
            [end, value] => {
                bound(f, span.clone(), end).and_then(|b| Some((b, Ok((cell::signed(value)?, Ratio::ZERO)))))
            }
            [end, value, slope] => bound(f, span.clone(), end)
                .and_then(|b| Some((b, Ok((cell::signed(value)?, cell::signed(slope)?))))),
            _ => None,
        };
        if read.is_none() {
            let hint = "[\"below 6\", \"24\"], [\"14\", \"33\", \"-1.5\"] or [\"50\", \"refuse\", \"why\"]";
            f.report("P033", span, "a band is a bound and a value, or a value and a slope".into(), hint);
        }
        bands.push(read?);
    }
    let ends: Vec<_> = bands.iter().map(|(b, _)| *b).collect();
    going_up(f, f.span_of("rows"), &ends).then_some(Bands { of: of?, bands })
}

fn grid(f: &Fields<'_, '_>, scope: &Scope) -> Option<Grid> {
    let (down, across) = (entering(f, scope, "down", "down_in"), entering(f, scope, "across", "across_in"));
    let ends = cell::texts(f, "columns")?;
    let columns: Option<Vec<_>> = ends.iter().map(|t| bound(f, f.span_of("columns"), t)).collect();
    let lists = rows(f, "rows");
    let columns = columns?;
    if !going_up(f, f.span_of("columns"), &columns) {
        return None;
    }
    let rows = bounded(f, lists?, columns.len())?;
    Some(Grid { down: down?, across: across?, columns, rows })
}

fn choose(f: &Fields<'_, '_>, scope: &Scope, gives: Option<&Unit>) -> Option<Choose> {
    let by = f.text("by")?;
    if scope.find(&by).is_none() {
        scope.unknown(f, f.span_of("by"), &by);
        return None;
    }
    let mut options = Vec::new();
    for key in f.keys().into_iter().filter(|k| *k != "by") {
        let text = f.text(key)?;
        let pick = match (cell::signed(&text), gives) {
            (Some(number), _) => Pick::Number(number),
            (None, Some(unit)) => {
                let unit = if unit.shown().is_empty() { "1" } else { unit.shown() };
                Pick::Name(scope.entering(f, f.span_of(key), &text, unit)?.name)
            }
            (None, None) => return None,
        };
        options.push((key.to_owned(), pick));
    }
    Some(Choose { by, options })
}

fn refusal(f: &Fields<'_, '_>) -> Option<Refusal> {
    let n = |key| number_if_any(f, key);
    let (at_most, at_least, below, above) = (n("at_most"), n("at_least"), n("below"), n("above"));
    let reason = f.text("reason");
    f.done();
    Some(Refusal { at_most: at_most?, at_least: at_least?, below: below?, above: above?, reason: reason? })
}

fn say(f: &Fields<'_, '_>, scope: &Scope) -> Option<Say> {
    let of = entering(f, scope, "of", "in");
    let (from, to) = (number_if_any(f, "from"), number_if_any(f, "to"));
    let words = f.text("words");
    f.done();
    Some(Say { of: of?, from: from?, to: to?, words: words? })
}
