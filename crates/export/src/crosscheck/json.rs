//! The cross-check as JSON: fields are only ever added. Quantities and money are decimal strings, lines are numbers.

use serde::Serialize;
use tankwright_crosscheck::Report;
use tankwright_crosscheck::report::{Compared, Explanation, Missing, Slip, Unmatched};
use tankwright_quantities::bill::Bill;
use tankwright_quantities::estimate::Estimate;

use super::says;
use crate::json::{money, plain};

#[derive(Serialize)]
struct Out<'a> {
    format: u8,
    job: &'a str,
    profile: &'a str,
    currency: &'a str,
    other: &'a str,
    rows: Vec<RowOut<'a>>,
    unmatched: Vec<UnmatchedOut<'a>>,
    /// Rows of our bill that no line of theirs covers.
    missing: Vec<MissingOut<'a>>,
    arithmetic: Vec<SlipOut<'a>>,
}

#[derive(Serialize)]
struct RowOut<'a> {
    theirs_line: usize,
    /// All lines of theirs in this row.
    theirs_lines: &'a [usize],
    text: &'a str,
    work: &'a str,
    /// Every work the line covers.
    works: &'a [String],
    spec: &'a str,
    ours: String,
    theirs: String,
    unit: &'a str,
    /// Theirs less ours.
    difference: String,
    /// Same to the last printed digit of theirs.
    agrees: bool,
    explained_by: Vec<&'a [&'static str]>,
    /// Each explanation in words, in the same order.
    says: Vec<String>,
    /// How many mistakes, alone or together, were tried.
    tried: usize,
    worth: Option<String>,
}

#[derive(Serialize)]
struct UnmatchedOut<'a> {
    line: usize,
    text: &'a str,
    quantity: &'a str,
    unit: &'a str,
    why: String,
    perhaps: &'a [String],
}

#[derive(Serialize)]
struct MissingOut<'a> {
    #[serde(rename = "ref")]
    reference: &'a str,
    work: &'a str,
    spec: &'a str,
    description: String,
    quantity: String,
    unit: &'a str,
    amount: Option<String>,
}

#[derive(Serialize)]
struct SlipOut<'a> {
    line: usize,
    what: &'a str,
    text: &'a str,
    printed: String,
    should_be: String,
    difference: String,
    explained_by: Vec<&'a [&'static str]>,
    says: Vec<String>,
}

fn ids(all: &[Explanation]) -> Vec<&[&'static str]> {
    all.iter().map(|e| e.mistakes.as_slice()).collect()
}

fn row<'a>(r: &'a Compared, bill: &Bill) -> RowOut<'a> {
    RowOut {
        theirs_line: r.lines.first().copied().unwrap_or(0),
        theirs_lines: &r.lines,
        text: &r.text,
        work: r.works.first().map_or("", |w| w.as_str()),
        works: &r.works,
        spec: &r.spec,
        ours: plain(r.ours),
        theirs: plain(r.theirs),
        unit: &r.unit,
        difference: plain(r.difference),
        agrees: r.agrees,
        explained_by: ids(&r.explained),
        says: r.explained.iter().map(says).collect(),
        tried: r.tried,
        worth: money(bill, r.worth),
    }
}

fn unmatched(u: &Unmatched) -> UnmatchedOut<'_> {
    UnmatchedOut {
        line: u.line,
        text: &u.text,
        quantity: &u.quantity,
        unit: &u.unit,
        why: u.why.to_string(),
        perhaps: &u.perhaps,
    }
}

fn missing<'a>(m: &'a Missing, bill: &Bill) -> MissingOut<'a> {
    MissingOut {
        reference: &m.reference,
        work: m.work,
        spec: &m.spec,
        description: m.says.to_string(),
        quantity: plain(m.quantity),
        unit: m.unit,
        amount: money(bill, m.amount),
    }
}

fn slip(s: &Slip) -> SlipOut<'_> {
    SlipOut {
        line: s.line,
        what: s.what,
        text: &s.text,
        printed: plain(s.printed),
        should_be: plain(s.should_be),
        difference: plain(s.difference),
        explained_by: ids(&s.explained),
        says: s.explained.iter().map(says).collect(),
    }
}

/// The finding as JSON.
#[must_use]
pub fn json(e: &Estimate, r: &Report) -> String {
    let out = Out {
        format: 1,
        job: &e.title,
        profile: &e.profile.0,
        currency: &e.bill.currency.code,
        other: &r.file,
        rows: r.rows.iter().map(|r| row(r, &e.bill)).collect(),
        unmatched: r.unmatched.iter().map(unmatched).collect(),
        missing: r.missing.iter().map(|m| missing(m, &e.bill)).collect(),
        arithmetic: r.arithmetic.iter().map(slip).collect(),
    };
    crate::json::write(&out)
}
