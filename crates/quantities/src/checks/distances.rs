//! Distances from tank and soak pit to house, well, stream, boundary and drinking water, where `[site]` gives them.
//!
//! A sizing rule with a distance of its own is judged by itself, by the sizing crate: its own figure decides.

use tankwright_geometry::Ratio;

use super::{Check, Finished, Verdict, metres, number};
use crate::rates::Figure;
use crate::stage::Stage;
use crate::words::{Phrase, look_up};
use crate::works::Section;

/// A distance: its check, its key, its figure, the words for what it leads to.
struct Row {
    id: &'static str,
    path: &'static str,
    figure: &'static str,
    to: &'static str,
}

const fn row(id: &'static str, path: &'static str, figure: &'static str, to: &'static str) -> Row {
    Row { id, path, figure, to }
}

/// From where, the check that names what is not given, its words.
struct Group {
    from: &'static str,
    id: &'static str,
    rows: &'static [Row],
}

const TANK: Group = Group {
    from: "check-from-tank",
    id: "distances-tank",
    rows: &[
        row("distance-house", "site.house", "clear-tank-house", "check-to-house"),
        row("distance-well", "site.well", "clear-tank-well", "check-to-well"),
        row("distance-stream", "site.stream", "clear-tank-stream", "check-to-stream"),
        row("distance-boundary", "site.boundary", "clear-tank-boundary", "check-to-boundary"),
        row(
            "distance-abstraction",
            "site.ground_abstraction",
            "clear-tank-abstraction",
            "check-to-abstraction",
        ),
    ],
};

const SOAK: Group = Group {
    from: "check-from-soak",
    id: "distances-soak",
    rows: &[
        row("distance-soak-house", "site.soak.house", "clear-soak-house", "check-to-house"),
        row("distance-soak-well", "site.soak.well", "clear-soak-well", "check-to-well"),
        row("distance-soak-stream", "site.soak.stream", "clear-soak-stream", "check-to-stream"),
        row("distance-soak-boundary", "site.soak.boundary", "clear-soak-boundary", "check-to-boundary"),
        row(
            "distance-soak-abstraction",
            "site.soak.ground_abstraction",
            "clear-soak-abstraction",
            "check-to-abstraction",
        ),
    ],
};

const STAGES: &[Stage] = &[Stage::SetOut];

/// Those from the tank; those from the soak pit or drain where something soaks away.
pub(super) fn check(of: &Finished<'_>, found: &mut Vec<Check>) {
    let soaks = of.sheet.items.iter().any(|i| i.work.section == Section::SoakPit);
    for group in [Some(TANK), Some(SOAK).filter(|_| soaks)].into_iter().flatten() {
        let (given, left): (Vec<_>, Vec<_>) = group.rows.iter().partition(|r| of.site.job.given(r.path));
        found.extend(given.iter().filter_map(|r| one(of, &group, r)));
        if !left.is_empty() {
            let keys = left.iter().map(|r| r.path).collect::<Vec<_>>().join(", ");
            found.push(Check {
                id: group.id,
                verdict: Verdict::NotChecked,
                says: Phrase::with("check-distances-left", &[look_up(group.from), &keys]),
                working: Vec::new(),
                source: sources(of, &left),
                stages: STAGES,
                place: of.site.job.place("site"),
            });
        }
    }
}

fn one(of: &Finished<'_>, group: &Group, row: &Row) -> Option<Check> {
    let (_, given) = of.site.job.input(row.path)?;
    let have = given.value / Ratio::int(10_000);
    let figure = of.site.stock.checks.get(row.figure)?;
    let asked = figure.value("")?;
    let met = |limit: Ratio| have >= limit;
    let others = figure.values.iter().filter(|v| !v.used).map(|v| {
        let key = if met(v.value) { "check-distance-other" } else { "check-distance-other-not" };
        Phrase::with(key, &[&number(v.value, 3), &v.source.to_string()])
    });
    let note = Some(&asked.source.note).filter(|n| !n.is_empty());
    let note = note.map(|n| Phrase::with("plain", &[n]));
    let args = [look_up(group.from), look_up(row.to), &metres(have), &number(asked.value, 3)];
    Some(Check {
        id: row.id,
        verdict: if met(asked.value) { Verdict::Met } else { Verdict::NotMet },
        says: Phrase::with("check-distance", &args),
        working: note.into_iter().chain(others).collect(),
        source: asked.source.to_string(),
        stages: STAGES,
        place: of.site.job.place(row.path),
    })
}

/// Who asks for the distances that are not given, each once.
fn sources(of: &Finished<'_>, rows: &[&Row]) -> String {
    let figures = rows.iter().filter_map(|r| of.site.stock.checks.get(r.figure));
    let mut all: Vec<String> =
        figures.filter_map(|f: &Figure| f.value("")).map(|v| v.source.to_string()).collect();
    all.sort();
    all.dedup();
    all.join("; ")
}
