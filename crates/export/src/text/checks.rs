//! Checks of a drawn job on papers: a line each, by verdict; how many and which on the screen.

use tankwright_quantities::checks::{Check, Verdict};
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::languages::source;

use super::table::Page;
use crate::format::{say, word};

/// The verdict in words.
pub(crate) fn verdict(v: Verdict) -> &'static str {
    word(match v {
        Verdict::Met => "check-met",
        Verdict::NotMet => "check-not-met",
        Verdict::Screened => "check-screened",
        Verdict::Flagged => "check-flagged",
        Verdict::NotChecked => "check-not-checked",
    })
}

/// `NOT met: from the tank to the house: 5 m, at least 7 m asked (NHBC ...)`.
pub(crate) fn line(c: &Check) -> String {
    say("paper-check-source", &[verdict(c.verdict), &c.says.to_string(), &source(&c.source)])
}

/// What has been looked at, in a few lines: how many, and each that is not met or flagged by name.
pub(crate) fn counted(page: &mut Page, e: &Estimate) {
    if e.checks.is_empty() {
        return;
    }
    let number = |v: Verdict| e.checks.iter().filter(|c| c.verdict == v).count().to_string();
    let counts = [Verdict::Met, Verdict::Screened, Verdict::NotChecked].map(number);
    page.line(0, 2, &say("paper-screen-checks", &counts.each_ref().map(String::as_str)));
    for (v, key) in
        [(Verdict::NotMet, "paper-screen-checks-bad"), (Verdict::Flagged, "paper-screen-checks-flagged")]
    {
        let names: Vec<_> = e.checks.iter().filter(|c| c.verdict == v).map(|c| c.id).collect();
        if !names.is_empty() {
            page.line(2, 4, &say(key, &[&names.join(", ")]));
        }
    }
}
