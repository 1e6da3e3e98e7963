//! Reads what stands beside the steps: inputs, limits of the shape, distances, emptying, worked examples.

use tankwright_geometry::Ratio;
use tankwright_quantities::rates::entry::Fields;
use tankwright_quantities::source::Source;

use super::cell::{self, number, number_if_any, quantity_if_any};
use super::scope::Scope;
use crate::known::{self, Form};
use crate::rule::{Check, Emptying, InputSpec, Limit};
use crate::unit::{Quantity, Unit};

/// Names of `[shape]`: what a drawn tank is judged by.
pub(super) const SHAPE: &[&str] = &[
    "access",
    "chambers",
    "first_chamber",
    "first_length",
    "first_width",
    "free_space",
    "inlet_above_water",
    "inlet_dip",
    "inlet_drop",
    "least_length",
    "least_volume",
    "least_width",
    "length_to_width",
    "opening_area",
    "opening_below_water",
    "outlet_dip",
    "partition_above_water",
    "plan_area",
    "second_chamber",
    "wall_thickness",
    "water_depth",
];

/// Names of `[clear]`: distances, and levels under a soak pit or field.
pub(super) const CLEAR: &[&str] = &[
    "boundary",
    "building",
    "ground_abstraction",
    "pit_spacing",
    "stream",
    "tanker",
    "tree",
    "trench_spacing",
    "water_from_ground",
    "water_under_field",
    "water_under_pit",
    "well",
];

/// `[inputs]`.
pub(super) fn inputs(f: &Fields<'_, '_>, scope: &mut Scope) -> Option<Vec<InputSpec>> {
    let read: Vec<_> = f.keys().into_iter().map(|name| input(f, name, scope)).collect();
    read.into_iter().collect()
}

fn input<'d>(all: &Fields<'_, 'd>, name: &'d str, scope: &mut Scope) -> Option<InputSpec> {
    let f = all.part(name)?;
    let Some(known) = known::find(name) else {
        let names: Vec<_> = known::ALL.iter().map(|k| k.name).collect();
        all.report("P031", all.span_of(name), format!("`{name}` is no input"), &names.join(", "));
        return None;
    };
    let default = f.text_or_empty("default");
    let (least, most, raise_to) =
        (number_if_any(&f, "least"), number_if_any(&f, "most"), number_if_any(&f, "raise_to"));
    let (only, reason) = (cell::texts(&f, "only"), f.text_or_empty("reason"));
    let each = each(&f);
    let (optional, slowest) = (cell::flag(&f, "optional"), cell::flag(&f, "slowest"));
    f.done();
    let unit = if matches!(known.form, Form::Word(_)) { None } else { Unit::parse(known.unit) };
    scope.add(name, unit);
    if !default.is_empty() && crate::inputs::value(known, &default).is_err() {
        let shown = known.example;
        f.report(
            "P011",
            f.span_of("default"),
            format!("`{default}` cannot be {name}"),
            &format!("as \"{shown}\""),
        );
    }
    Some(InputSpec {
        name: name.to_owned(),
        default: (!default.is_empty()).then_some(default),
        raise_to: raise_to?,
        only: only?,
        least: least?,
        most: most?,
        reason,
        each: each?,
        optional,
        slowest,
    })
}

/// What a person sends down in a day: one figure, or one for each kind of waste.
fn each(f: &Fields<'_, '_>) -> Option<Vec<(String, Quantity)>> {
    let Some(cell) = f.get("each") else { return Some(Vec::new()) };
    if cell.get_ref().as_table().is_none() {
        return quantity_if_any(f, "each").map(|q| q.map(|q| (String::new(), q)).into_iter().collect());
    }
    let part = f.part("each")?;
    let read = |key| Some((str::to_owned(key), quantity_if_any(&part, key)??));
    let all: Vec<_> = part.keys().into_iter().map(read).collect();
    all.into_iter().collect()
}

/// `[shape]` or `[clear]`: under each name one limit, or a list of them.
pub(super) fn limits(f: Option<&Fields<'_, '_>>, names: &[&str], rule: &Source) -> Option<Vec<Limit>> {
    let Some(f) = f else { return Some(Vec::new()) };
    let mut limits = Vec::new();
    let mut sound = true;
    for name in f.keys() {
        if !names.contains(&name) {
            let message = format!("`{name}` is nothing that is judged here");
            f.report("P012", f.span_of(name), message, &format!("one of: {}", names.join(", ")));
            sound = false;
        }
        for part in f.list(name) {
            let limit = limit(&part, name, rule);
            sound &= limit.is_some();
            limits.extend(limit);
        }
    }
    sound.then_some(limits)
}

fn limit(f: &Fields<'_, '_>, name: &str, rule: &Source) -> Option<Limit> {
    let (least, most) = (quantity_if_any(f, "least"), quantity_if_any(f, "most"));
    let (up_to, over) = (quantity_if_any(f, "up_to"), quantity_if_any(f, "over"));
    let shares = cell::texts(f, "ratio");
    let words = f.text_or_empty("words");
    let source = cell::source(f, rule);
    f.done();
    let ratio: Option<Vec<Ratio>> =
        shares?.iter().map(|t| cell::signed(t).filter(|n| n.signum() > 0)).collect();
    if ratio.is_none() {
        f.report("P010", f.span_of("ratio"), "shares are numbers above 0".into(), "as [\"2\", \"1\"]");
    }
    let limit = Limit {
        name: name.to_owned(),
        least: least?,
        most: most?,
        ratio: ratio?,
        up_to: up_to?,
        over: over?,
        words,
        source,
    };
    if limit.least.is_none() && limit.most.is_none() && limit.ratio.is_empty() && limit.words.is_empty() {
        f.report(
            "P003",
            f.span.clone(),
            format!("`{name}` limits nothing"),
            "give least, most, ratio or words",
        );
    }
    Some(limit)
}

/// `[emptying]`.
pub(super) fn emptying(f: &Fields<'_, '_>, scope: &Scope, rule: &Source) -> Option<Emptying> {
    let (every, sludge) = (quantity_if_any(f, "every"), quantity_if_any(f, "sludge"));
    let named = f.get("step").is_some();
    let step = if named { f.text("step") } else { None };
    let step = step.and_then(|name| scope.entering(f, f.span_of("step"), &name, "l/p/yr"));
    let source = cell::source(f, rule);
    f.done();
    let turned = |q: Option<Quantity>, unit: &str, key: &str| match q {
        None => Some(None),
        Some(q) => {
            let number = Unit::parse(unit).and_then(|u| q.number_in(&u));
            if number.is_none() {
                f.report("P034", f.span_of(key), format!("`{key}` is in {unit}"), "as every = \"1 yr\"");
            }
            number.map(Some)
        }
    };
    Some(Emptying {
        every: turned(every?, "yr", "every")?,
        sludge: turned(sludge?, "l/p/yr", "sludge")?,
        step: if named { Some(step?) } else { None },
        source,
    })
}

/// One worked example.
pub(super) fn check(f: &Fields<'_, '_>) -> Option<Check> {
    let to = number_if_any(f, "to").map(|n| n.unwrap_or(Ratio::ZERO));
    let (refused, source) = (f.text_or_empty("refused"), f.text("source"));
    let given = f.part("in").and_then(|part| {
        let all: Vec<_> = part.keys().into_iter().map(|k| Some((k.to_owned(), part.text(k)?))).collect();
        all.into_iter().collect::<Option<Vec<_>>>()
    });
    let out = match f.part_if_any("out") {
        None => Some(Vec::new()),
        Some(part) => {
            let all: Vec<_> =
                part.keys().into_iter().map(|k| Some((k.to_owned(), number(&part, k)?))).collect();
            all.into_iter().collect::<Option<Vec<_>>>()
        }
    };
    f.done();
    let check = Check { given: given?, out: out?, to: to?, refused, source: source? };
    if check.out.is_empty() == check.refused.is_empty() {
        f.report("P003", f.span.clone(), "an example without a result".into(), "give `out`, or `refused`");
    }
    Some(check)
}
