//! A drawn tank on the paper of `size`: what it holds, whether it complies, by how much, why not.

use tankwright_geometry::Ratio;
use tankwright_sizing::Verdict;
use tankwright_sizing::report::OfJob;
use tankwright_sizing::rule::MeasuredTo;

use crate::format::{group, say, value, word};
use crate::text::table::{Col, Page, Table};

/// Litres, thousands set apart.
fn litres(n: Ratio) -> String {
    group(&tankwright_quantities::decimal::plain(n))
}

/// One place; for per cents.
fn tenth(n: Ratio) -> String {
    value(n, 1, 1).trim_end_matches("...").to_owned()
}

/// Chamber by chamber, then the sum.
pub(super) fn drawn(page: &mut Page, job: &OfJob, notes: &[String]) {
    page.line(0, 0, &say("paper-size-drawn", &[&job.file, &job.title]));
    let chambers = &job.capacity.chambers;
    if !chambers.is_empty() {
        page.blank();
        let cols = [
            Col::Left(8),
            Col::Right(9),
            Col::Right(9),
            Col::Right(9),
            Col::Right(14),
            Col::Right(12),
            Col::Right(9),
        ];
        let mut table = Table::new(0, &cols);
        table.heads([
            "paper-size-chamber",
            "paper-size-long",
            "paper-size-wide",
            "paper-size-deep",
            "paper-size-line",
            "paper-size-volume",
            "paper-size-share",
        ]);
        for (i, c) in chambers.iter().enumerate() {
            let share = job.to_water_line.map(|all| c.volume * Ratio::int(100_000) / all);
            let metres = |m: Ratio| exact(m, 3);
            table.row([
                &(i + 1).to_string(),
                &metres(c.length),
                &metres(c.width),
                &metres(c.depth),
                &metres(-c.level),
                &exact(c.volume * Ratio::int(1_000), 1),
                &share.map(|s| exact(s, 1)).unwrap_or_default(),
            ]);
        }
        page.table(&table);
    }
    let to = |l: Option<Ratio>| l.map(|l| litres(l.floor()));
    match (to(job.to_water_line), to(job.to_inlet)) {
        (Some(water), Some(inlet)) => page.line(0, 2, &say("paper-size-holds", &[&water, &inlet])),
        (Some(water), None) => page.line(0, 2, &say("paper-size-holds-water", &[&water])),
        _ => page.line(0, 2, word("paper-size-holds-nothing")),
    }
    notes.iter().for_each(|n| page.line(0, 2, n));
    page.blank();
}

/// Rounded, always so many places.
fn exact(n: Ratio, places: u32) -> String {
    let unknown = || word("paper-unknown").to_owned();
    tankwright_quantities::decimal::rounded(n, places)
        .map_or_else(unknown, |d| crate::format::grouped(d, places))
}

fn level(to: Option<MeasuredTo>) -> &'static str {
    match to {
        Some(MeasuredTo::Inlet) => word("paper-size-to-inlet"),
        _ => word("paper-size-to-water"),
    }
}

/// In one line, for the comparison.
pub(super) fn short(v: &Verdict) -> String {
    match (v.complies, v.margin) {
        (Some(true), Some(margin)) => say("paper-size-yes-short", &[&litres(margin)]),
        (Some(true), None) => word("paper-size-yes").to_owned(),
        (Some(false), _) => say("paper-size-no", &[&v.reasons.join("; ")]),
        (None, _) => word("paper-size-no-verdict").to_owned(),
    }
}

/// The verdict, with its margin and its reasons.
pub(super) fn lines(page: &mut Page, v: &Verdict) {
    if let (Some(provided), Some(margin), Some(percent)) = (v.provided, v.margin, v.percent) {
        let over = if margin.signum() < 0 { "paper-size-under" } else { "paper-size-over" };
        let by = say(over, &[&litres(margin.abs()), &tenth(percent.abs())]);
        page.line(0, 2, &say("paper-size-provided", &[&litres(provided.floor()), level(v.to), &by]));
    }
    if let Some((to, complies, margin)) = v.other {
        let key = if complies { "paper-size-other-yes" } else { "paper-size-other-no" };
        page.line(0, 2, &say(key, &[level(Some(to)), &litres(margin.abs())]));
    }
    match v.complies {
        Some(true) => page.line(0, 2, word("paper-size-yes")),
        Some(false) => {
            page.line(0, 2, word("paper-size-no-why"));
            v.reasons.iter().for_each(|r| page.line(2, 4, r));
        }
        None => page.line(0, 2, word("paper-size-no-verdict")),
    }
}

/// Every limit of the shape that was judged.
pub(super) fn found(page: &mut Page, v: &Verdict) {
    if v.found.is_empty() {
        return;
    }
    page.heading(word("paper-size-judged"));
    for f in &v.found {
        let met = word(if f.met { "paper-size-met" } else { "paper-size-not-met" });
        page.line(2, 4, &say("paper-size-answer", &[&f.words, met]));
    }
}
