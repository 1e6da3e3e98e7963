//! One item of both sides: our lines in their unit, the difference, why, and what it is worth.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;
use tankwright_quantities::bill::{Bill, row_places};
use tankwright_quantities::decimal;
use tankwright_quantities::sheet::{Item, Sheet};
use tankwright_quantities::words::Phrase;

use crate::arithmetic;
use crate::figure::{Figure, step};
use crate::matching::comparable;
use crate::measure::{BOOKINGS, Booking, Drop, Row};
use crate::mistakes::Case;
use crate::own;
use crate::read::Entry;
use crate::report::{Compared, Explanation};
use crate::search;
use crate::wording::TheirUnit;
use crate::world::{Pick, World};

/// Lines of theirs for the same thing.
pub(crate) struct Group<'a> {
    pub(crate) picks: Vec<Pick>,
    pub(crate) unit: Option<TheirUnit>,
    pub(crate) entries: Vec<(&'a Entry, Figure)>,
}

/// The two sides of a group.
pub(crate) fn compare(world: &World<'_>, group: &Group<'_>) -> Option<Compared> {
    let sheet = &world.estimate.sheet;
    let items: Vec<&Item> = sheet.items.iter().filter(|i| group.picks.iter().any(|p| p.takes(i))).collect();
    let first = *items.first()?;
    let (drop, factor, unit) = match &group.unit {
        Some(u) => (comparable(first, u)?, u.factor, theirs_shown(u, group)),
        None if first.unit != first.work.unit => (Drop::Thickness, Ratio::ONE, first.unit.id().to_owned()),
        None => (Drop::Nothing, Ratio::ONE, first.unit.id().to_owned()),
    };
    let row = Row { parts: world.parts(&group.picks, &[])?, factor: Ratio::ONE, drop };
    let case = Case { world, picks: &group.picks, row: &row };
    let figure = group.entries.iter().map(|(_, f)| *f).reduce(Figure::plus)?;
    let exact = row.total(Booking::Profile) / factor;
    let places = row_places(first.unit).max(figure.places);
    let ours = decimal::rounded(exact.round_half_away(step(places)), places)?;
    let agrees = figure.prints(exact);
    let difference = figure.decimal() - ours;
    let (mut explained, tried) = if agrees { (Vec::new(), 0) } else { why(&case, figure, factor) };
    if agrees && group.entries.iter().any(|(e, _)| arithmetic::extension(e).is_some()) {
        let says = vec![Phrase::new("cross-extension-only")];
        explained.push(Explanation { mistakes: vec!["extension-wrong"], says });
    }
    let mut works: Vec<String> = group.picks.iter().map(|p| p.work.clone()).collect();
    works.dedup();
    Some(Compared {
        lines: group.entries.iter().map(|(e, _)| e.line).collect(),
        text: group.entries.first().map(|(e, _)| e.text.clone()).unwrap_or_default(),
        works,
        spec: spec(&group.picks),
        picks: group.picks.clone(),
        drop,
        ours,
        theirs: figure.decimal(),
        places: figure.places,
        unit,
        difference,
        agrees,
        explained,
        tried,
        worth: worth(&world.estimate.bill, &items, (figure.value - exact, exact, factor), drop),
    })
}

/// The specification, where all picks are of one.
fn spec(picks: &[Pick]) -> String {
    let mut specs: Vec<&str> = picks.iter().filter_map(|p| p.spec.as_deref()).collect();
    specs.dedup();
    if let [one] = specs[..] { one.to_owned() } else { String::new() }
}

/// Our own word for a unit that is one of ours, theirs for another.
fn theirs_shown(unit: &TheirUnit, group: &Group<'_>) -> String {
    if unit.factor == Ratio::ONE {
        unit.is.clone()
    } else {
        group.entries.first().map(|(e, _)| e.unit_text.to_lowercase()).unwrap_or_default()
    }
}

/// Every explanation with the fewest mistakes: rounding alone is none, but it is said.
fn why(case: &Case<'_>, figure: Figure, unit: Ratio) -> (Vec<Explanation>, usize) {
    let one = |id: &'static str, key: &'static str| Explanation {
        mistakes: vec![id],
        says: vec![Phrase::new(key)],
    };
    if case.row.prints(figure, unit).is_some() {
        return (vec![one("rounding", "cross-rounding")], 0);
    }
    let totals = BOOKINGS.map(|b| case.row.total(b) / unit);
    let mut explained = Vec::new();
    if totals.iter().any(|t| figure.cut_off(*t)) {
        explained.push(one("cut-not-rounded", "cross-cut"));
    }
    let digits = totals.iter().find_map(|t| own::of_digits(figure, *t));
    explained.extend(digits.filter(|e| e.mistakes != ["digit-wrong"]));
    let found = search::explain(case, figure, unit);
    if explained.is_empty() || found.explained.iter().all(|e| e.mistakes.len() == 1) {
        explained.extend(found.explained);
    }
    (explained, found.tried)
}

/// Our rate x difference; where rates or units differ, our amount in proportion.
fn worth(
    bill: &Bill,
    items: &[&Item],
    (difference, ours, factor): (Ratio, Ratio, Ratio),
    drop: Drop,
) -> Option<Decimal> {
    let ids: Vec<&str> = items.iter().map(|i| i.id.as_str()).collect();
    let rows: Vec<_> = bill
        .sections
        .iter()
        .flat_map(|s| &s.rows)
        .filter(|r| r.items.iter().any(|i| ids.contains(&i.as_str())))
        .collect();
    let rates: Option<Vec<Decimal>> = rows.iter().map(|r| r.rate.as_ref().map(|(rate, _)| *rate)).collect();
    let (first, rates) = (rows.first()?, rates?);
    let rate = decimal::ratio(*rates.first()?);
    let plain = drop == Drop::Nothing && first.unit == first.work.unit
        || drop == Drop::Thickness && first.unit != first.work.unit;
    let money = if plain && rates.iter().all(|r| Some(r) == rates.first()) {
        rate * difference * factor
    } else {
        let amount: Decimal = rows.iter().filter_map(|r| r.amount).sum();
        decimal::ratio(amount) * difference / ours
    };
    decimal::rounded(money, bill.currency.digits)
}

/// Rows of our bill that nothing of theirs covers.
pub(crate) fn not_covered<'a>(sheet: &'a Sheet, picks: &[Pick]) -> Vec<&'a Item> {
    let covered = |i: &&Item| picks.iter().any(|p| p.takes(i));
    sheet.items.iter().filter(|i| !i.unbilled && !i.quantity.is_zero() && !covered(i)).collect()
}
