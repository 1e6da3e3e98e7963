//! The CSV of `size`: one row a fact, with the rule it belongs to.

use tankwright_sizing::Report;
use tankwright_sizing::report::Outcome;
use tankwright_sizing::sized::{Answer, Sized, Worked};

use super::{bounds, plain};
use crate::csv::text as harmless;

const HEAD: [&str; 8] = ["rule", "kind", "row", "name", "value", "unit", "text", "source"];

/// Rows `answer` (rounded up), `exact`, `input`, `step`, `chamber`, `limit`, `distance`, `level`, `beside`,
/// `verdict`, `judged`, `reason`, `pits`, `doubt`, `caution`, `not-checked`, `unused`, `refused`; of the drawn job
/// `check`, `check-working` and `caution`, which belong to no rule.
#[must_use]
pub fn csv(r: &Report) -> String {
    let mut out = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    // Writing to memory does not fail.
    let _ = out.write_record(HEAD);
    for (unit, number) in &r.test {
        let _ = out.write_record(["", "", "percolation", "", &plain(*number), unit, "", ""]);
    }
    for outcome in r.rules.iter().chain(&r.soakage) {
        for row in rows(outcome) {
            // The value is a number, or an input as it was read: never touched.
            let cells = row.iter().enumerate().map(|(i, c)| if i == 4 { c.clone() } else { harmless(c) });
            let _ = out.write_record(cells);
        }
    }
    for c in &r.checks {
        let row = |kind: &str, verdict: &str, text: &str, source: &str| {
            ["", "", kind, c.id, verdict, "", text, source].map(harmless)
        };
        let _ = out.write_record(row("check", c.verdict.id(), &c.says.to_string(), &c.source));
        for step in &c.working {
            let _ = out.write_record(row("check-working", "", &step.to_string(), ""));
        }
    }
    for c in &r.told {
        let _ = out
            .write_record(["", "", "caution", c.code, "", "", &c.says.to_string(), &c.source].map(harmless));
    }
    out.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
}

fn rows(outcome: &Outcome) -> Vec<[String; 8]> {
    let about = match outcome {
        Ok(sized) => &sized.about,
        Err(refused) => &refused.about,
    };
    let row = |kind: &str, name: &str, value: &str, unit: &str, text: &str, source: &str| {
        [&about.rule, about.kind.id(), kind, name, value, unit, text, source].map(str::to_owned)
    };
    match outcome {
        Err(refused) => refused.reasons.iter().map(|r| row("refused", "", "", "", r, &about.cite)).collect(),
        Ok(sized) => worked(sized, &row),
    }
}

type Row<'a> = &'a dyn Fn(&str, &str, &str, &str, &str, &str) -> [String; 8];

fn worked(s: &Sized, row: Row<'_>) -> Vec<[String; 8]> {
    let mut all = Vec::new();
    let answer = |a: &Answer, all: &mut Vec<_>, word: &str, text: &str| {
        all.push(row(word, &a.id, &plain(a.asked.number), &a.asked.unit, text, &s.about.cite));
        all.push(row("exact", &a.id, &plain(a.amount.number), &a.amount.unit, text, &s.about.cite));
    };
    for a in &s.answers {
        answer(a, &mut all, "answer", &a.title);
    }
    if !s.no_result.is_empty() {
        all.push(row("no-result", "", "", "", &s.no_result, &s.about.cite));
    }
    all.extend(s.inputs.iter().map(|i| row("input", &i.name, &i.value, "", &i.how, "")));
    let step = |w: &Worked| {
        let unit = w.value.as_ref().map(|a| a.unit.clone()).unwrap_or_default();
        let value = w.value.as_ref().map(|a| plain(a.number)).unwrap_or_default();
        let notes: Vec<&str> =
            std::iter::once(w.how.as_str()).chain(w.notes.iter().map(String::as_str)).collect();
        row("step", &w.step, &value, &unit, &notes.join("; "), &w.source)
    };
    all.extend(s.working.iter().map(step));
    for b in &s.beside {
        answer(&b.answer, &mut all, "beside", &b.words);
    }
    for (i, c) in s.proposal.chambers.iter().enumerate() {
        let n = (i + 1).to_string();
        for (what, value, unit) in [
            ("length", c.length, "m"),
            ("width", c.width, "m"),
            ("water depth", c.depth, "m"),
            ("water", c.litres, "l"),
        ] {
            all.push(row("chamber", &n, &plain(value), unit, what, ""));
        }
    }
    all.extend(s.proposal.notes.iter().map(|n| row("chamber-note", "", "", "", n, "")));
    for (word, limits) in [("limit", &s.shape), ("distance", &s.clear)] {
        all.extend(limits.iter().map(|l| row(word, &l.name, "", "", &bounds(l), &l.source.to_string())));
    }
    if let Some(v) = &s.verdict {
        let yes = |c: Option<bool>| c.map_or_else(String::new, |c| c.to_string());
        let litres = |n: Option<tankwright_geometry::Ratio>| n.map(plain).unwrap_or_default();
        all.push(row("verdict", "complies", &yes(v.complies), "", "", &s.about.cite));
        let provided = v.provided.map(tankwright_geometry::Ratio::floor);
        for (name, value) in [("provided", provided), ("to inlet", v.to_inlet), ("margin", v.margin)] {
            all.push(row("verdict", name, &litres(value), "l", "", ""));
        }
        let judged =
            |f: &tankwright_sizing::Finding| row("judged", &f.name, &f.met.to_string(), "", &f.words, "");
        all.extend(v.found.iter().map(judged));
        all.extend(v.reasons.iter().map(|r| row("reason", "", "", "", r, "")));
    }
    all.extend(s.distances.iter().map(|f| row("judged", &f.name, &f.met.to_string(), "", &f.words, "")));
    all.extend(s.pits.iter().map(|p| row("pits", "", &plain(p.number), "", &p.words, "")));
    all.extend(s.levels.iter().map(|l| row("level", "", &plain(l.asked), "m", &l.words, &l.source)));
    all.extend(s.doubts.iter().map(|d| row("doubt", "", "", "", d, &s.about.cite)));
    all.extend(s.cautions.iter().map(|c| row("caution", c.id, "", "", &c.words, &c.source)));
    all.extend(s.not_checked.iter().map(|n| row("not-checked", "", "", "", n, "")));
    all.extend(s.unused.iter().map(|n| row("unused", n, "", "", "", "")));
    all
}
