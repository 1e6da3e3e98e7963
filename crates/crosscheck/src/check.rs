//! The cross-check from end to end: read, understand, compare, explain, add up again.

use std::collections::BTreeSet;

use tankwright_geometry::Ratio;
use tankwright_quantities::problem::Problem;
use tankwright_quantities::words::Phrase;

use crate::arithmetic;
use crate::compare::{Group, compare, not_covered};
use crate::figure::Figure;
use crate::map::{self, Map};
use crate::matching::{self, Match};
use crate::own;
use crate::read::{Entry, Kind, read};
use crate::report::{Mapped, Missing, Report, Unmatched};
use crate::rows::Row;
use crate::wording::Wording;
use crate::world::{Pick, World};

/// Holds rows of a second take-off against a job. `map` is the file its reader corrected: name and text.
///
/// # Errors
/// `T001` to `T006`: what cannot be read, with its place.
pub fn crosscheck(
    world: &World<'_>,
    words: &Wording,
    file: &str,
    rows: &[Row],
    map: Option<(&str, &str)>,
) -> Result<Report, Vec<Problem>> {
    let theirs = read(file, rows, words)?;
    let sheet = &world.estimate.sheet;
    let lines: Vec<usize> = theirs.entries.iter().map(|e| e.line).collect();
    let known = |text: &str| sheet.items.iter().any(|i| pick_of(text).takes(i));
    let map = match map {
        Some((name, text)) => map::read(name, text, &lines, &known)?,
        None => Map::new(),
    };
    let mut report = Report { file: file.to_owned(), cautions: theirs.cautions, ..Report::default() };
    report.arithmetic = arithmetic::check(&theirs.entries);
    let works = matching::works(sheet);
    let mut groups: Vec<Group<'_>> = Vec::new();
    let all: Vec<&Entry> = theirs.entries.iter().filter(|e| e.kind == Kind::Line).collect();
    for entry in all.iter().copied() {
        let said = map.get(&entry.line);
        let found = match said {
            Some(Some(picks)) => Match::Sure(picks.clone()),
            Some(None) => Match::Unknown,
            None => match matching::of(entry, words, &works, &all) {
                // A unit that nobody knows is not taken for ours.
                Match::Sure(picks) if entry.unit.is_none() && !entry.unit_text.is_empty() => {
                    Match::Unit(names(&picks))
                }
                other => other,
            },
        };
        report.map.push(mapped(entry, &found, said));
        let figure = quantity(entry);
        let why = match (&found, figure, said) {
            (_, _, Some(None)) => Phrase::new("cross-left-aside"),
            (Match::Sure(picks), Some(figure), _) => {
                join(&mut groups, picks, entry, figure);
                continue;
            }
            (Match::Sure(_), None, _) => Phrase::new("cross-no-quantity"),
            (Match::Unsure(_), ..) => Phrase::new("cross-unsure"),
            (Match::NotHere(ids), ..) => Phrase::with("cross-not-here", &[&ids.join(", ")]),
            (Match::Unit(id), ..) => Phrase::with("cross-other-unit", &[id, &entry.unit_text]),
            (Match::Unknown, ..) => Phrase::new("cross-unknown"),
        };
        report.unmatched.push(unmatched(entry, why, perhaps(&found)));
    }
    rest(&mut groups, &works);
    let mut covered = Vec::new();
    for group in &groups {
        match compare(world, group) {
            Some(row) => {
                covered.extend(group.picks.iter().cloned());
                report.rows.push(row);
            }
            None => {
                let why = |e: &Entry| Phrase::with("cross-other-unit", &[&names(&group.picks), &e.unit_text]);
                report.unmatched.extend(group.entries.iter().map(|(e, _)| unmatched(e, why(e), Vec::new())));
            }
        }
    }
    report.unmatched.sort_by_key(|u| u.line);
    report.missing = missing(world, &covered);
    Ok(report)
}

fn pick_of(text: &str) -> Pick {
    match text.split_once('/') {
        Some((work, spec)) => Pick { work: work.to_owned(), spec: Some(spec.to_owned()) },
        None => Pick { work: text.to_owned(), spec: None },
    }
}

fn names(picks: &[Pick]) -> String {
    let name = |p: &Pick| match &p.spec {
        Some(spec) => format!("{}/{spec}", p.work),
        None => p.work.clone(),
    };
    picks.iter().map(name).collect::<Vec<_>>().join("+")
}

/// Its quantity; where none is printed, what its dimensions come to, to three places. An item is one.
fn quantity(entry: &Entry) -> Option<Figure> {
    let worked = || {
        let value = *own::products(entry).first()?;
        let figure = Figure { value: Ratio::ZERO, places: 3 };
        Some(Figure { value: figure.rounds(value), ..figure })
    };
    let item = entry.unit.as_ref().is_some_and(|u| u.is == "item");
    let one = || item.then_some(Figure { value: Ratio::ONE, places: 0 });
    entry.quantity.or_else(worked).or_else(one)
}

/// Lines for the same thing in the same unit are one row.
fn join<'a>(groups: &mut Vec<Group<'a>>, picks: &[Pick], entry: &'a Entry, figure: Figure) {
    match groups.iter_mut().find(|g| g.picks == picks && g.unit == entry.unit) {
        Some(group) => group.entries.push((entry, figure)),
        None => groups.push(Group {
            picks: picks.to_vec(),
            unit: entry.unit.clone(),
            entries: vec![(entry, figure)],
        }),
    }
}

/// A line that says no specification is for those that no other line names.
fn rest(groups: &mut [Group<'_>], works: &matching::Works<'_>) {
    let named: Vec<Pick> = groups.iter().flat_map(|g| g.picks.clone()).filter(|p| p.spec.is_some()).collect();
    for group in groups {
        let split = |p: &Pick| -> Vec<Pick> {
            if p.spec.is_some() || !named.iter().any(|n| n.work == p.work) {
                return vec![p.clone()];
            }
            let mut specs: Vec<&String> =
                works.get(p.work.as_str()).into_iter().flatten().map(|i| &i.spec).collect();
            specs.dedup();
            let open = |s: &&String| !named.iter().any(|n| n.work == p.work && n.spec.as_ref() == Some(*s));
            let left = specs.into_iter().filter(open);
            left.map(|s| Pick { work: p.work.clone(), spec: Some(s.clone()) }).collect()
        };
        let picks: Vec<Pick> = group.picks.iter().flat_map(split).collect();
        if !picks.is_empty() {
            group.picks = picks;
        }
    }
}

fn perhaps(found: &Match) -> Vec<String> {
    match found {
        Match::Unsure(all) | Match::NotHere(all) => all.clone(),
        Match::Unit(one) => vec![one.clone()],
        Match::Sure(_) | Match::Unknown => Vec::new(),
    }
}

fn printed(entry: &Entry) -> String {
    entry.quantity.map(Figure::shown).unwrap_or_default()
}

fn unmatched(entry: &Entry, why: Phrase, perhaps: Vec<String>) -> Unmatched {
    let (text, unit) = (entry.text.clone(), entry.unit_text.clone());
    Unmatched { line: entry.line, text, quantity: printed(entry), unit, why, perhaps }
}

fn mapped(entry: &Entry, found: &Match, said: Option<&Option<Vec<Pick>>>) -> Mapped {
    let works = match (found, said) {
        (_, Some(None)) => map::LEAVE_OUT.to_owned(),
        (Match::Sure(picks), _) => names(picks),
        _ => String::new(),
    };
    Mapped {
        line: entry.line,
        sure: !works.is_empty(),
        works,
        perhaps: perhaps(found),
        text: entry.text.clone(),
        quantity: format!("{} {}", printed(entry), entry.unit_text).trim().to_owned(),
    }
}

fn missing(world: &World<'_>, covered: &[Pick]) -> Vec<Missing> {
    let left = not_covered(&world.estimate.sheet, covered);
    let ids: BTreeSet<&str> = left.iter().map(|i| i.id.as_str()).collect();
    let rows = world.estimate.bill.sections.iter().flat_map(|s| &s.rows);
    let open = rows.filter(|r| r.items.iter().any(|i| ids.contains(i.as_str())));
    let row = |r: &tankwright_quantities::bill::BillRow| Missing {
        reference: r.reference.clone(),
        work: r.work.id,
        spec: r.spec.clone(),
        says: r.wording.clone(),
        quantity: r.quantity,
        unit: r.unit.id(),
        amount: r.amount,
    };
    open.map(row).collect()
}
