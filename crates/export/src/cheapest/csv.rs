//! The CSV of `cheapest`: one row a tank, then one row a limit, a reason, a refusal.

use tankwright_cheapest::{Chosen, Report};
use tankwright_sizing::sized::short;

use super::{area, built, metres, money};
use crate::csv::text as harmless;

const HEAD: [&str; 16] = [
    "row",
    "nr",
    "candidate",
    "total",
    "currency",
    "chambers_m",
    "width_m",
    "height_m",
    "plan_area_m2",
    "litres",
    "unit",
    "wall_m",
    "face",
    "cover_m",
    "times",
    "text",
];

/// Rows `best`, `frontier`, `choice`, `drawn`; `beyond` and `looser` (a limit in `text`, the best total one step
/// looser), `missed`, `refused` (how often in `times`).
#[must_use]
pub fn csv(r: &Report) -> String {
    let mut out = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    // Writing to memory does not fail.
    let mut put = |cells: [String; 16]| drop(out.write_record(cells));
    put(HEAD.map(str::to_owned));
    for (word, rows) in [("best", &r.best), ("frontier", &r.frontier), ("choice", &r.choices)] {
        rows.iter().enumerate().for_each(|(i, c)| put(tank(r, word, i + 1, c)));
    }
    let d = &r.drawn;
    let mut drawn = blank(r, "drawn", &d.total.to_string());
    drawn[3] = money(r, d.total);
    drawn[5] = list(&d.chambers);
    drawn[6] = metres(d.width);
    drawn[7] = metres(d.height);
    drawn[8] = area(d.plan);
    drawn[9] = d.litres.map(|l| short(l.floor())).unwrap_or_default();
    drawn[15] = match d.complies {
        Some(true) => "complies",
        Some(false) => "does not comply",
        None => "not judged",
    }
    .to_owned();
    put(drawn);
    for b in &r.beyond {
        let total = b.best.map(|t| money(r, t)).unwrap_or_default();
        let mut row = blank(r, "beyond", &total);
        let (end, at) = (metres(b.end), metres(b.at));
        row[15] = format!("{} {} {end}: at {at}", b.name, if b.over { "most" } else { "least" });
        put(row);
    }
    for l in &r.looser {
        let mut row = blank(r, "looser", &money(r, l.total));
        row[15] = harmless(&l.name);
        put(row);
    }
    for (what, times) in &r.tally.missed {
        let mut row = blank(r, "missed", "");
        row[14] = times.to_string();
        row[15] = harmless(what);
        put(row);
    }
    for (code, c) in &r.tally.refused {
        let mut row = blank(r, "refused", "");
        row[2] = (c.first + 1).to_string();
        row[14] = c.times.to_string();
        row[15] = harmless(&format!("{code}: {}", c.words));
        put(row);
    }
    out.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
}

fn blank(r: &Report, word: &str, total: &str) -> [String; 16] {
    let mut row = [const { String::new() }; 16];
    row[0] = word.to_owned();
    row[3] = total.to_owned();
    row[4] = if total.is_empty() { String::new() } else { r.currency.code.clone() };
    row
}

/// `2 + 1`.
fn list(lengths: &[i64]) -> String {
    lengths.iter().map(|l| metres(*l)).collect::<Vec<_>>().join(" + ")
}

fn tank(r: &Report, word: &str, nr: usize, c: &Chosen) -> [String; 16] {
    let [unit, wall, _, face, cover, beam] = built(c);
    let mut row = blank(r, word, &money(r, c.row.total));
    row[1] = nr.to_string();
    row[2] = (c.row.number + 1).to_string();
    row[5] = list(&c.chambers);
    row[6] = metres(c.width);
    row[7] = metres(c.height);
    row[8] = area(c.row.plan);
    row[9] = short(c.row.litres.floor());
    row[10] = harmless(&unit);
    row[11] = wall;
    row[12] = face;
    row[13] = cover;
    row[15] = format!("{beam} span beam");
    row
}
