//! Two profiles side by side as JSON: fields are only ever added.

use serde::Serialize;
use tankwright_quantities::estimate::Estimate;

use super::{profile_of, rows};
use crate::json::{exact, plain, write};

#[derive(Serialize)]
struct Out<'a> {
    format: u8,
    job: &'a str,
    file: &'a str,
    date: &'a str,
    profile: &'a str,
    against: &'a str,
    rows: Vec<RowOut<'a>>,
}

#[derive(Serialize)]
struct RowOut<'a> {
    work: &'static str,
    spec: String,
    section: &'static str,
    unit: Option<&'static str>,
    quantity: Option<String>,
    unit_against: Option<&'static str>,
    quantity_against: Option<String>,
    difference: Option<String>,
    rules: Vec<RuleOut<'a>>,
}

#[derive(Serialize)]
struct RuleOut<'a> {
    what: String,
    size: String,
    clause: String,
    profile: &'a str,
}

/// Rows of all items; a quantity is null where its profile bills none, a difference where the units differ.
#[must_use]
pub fn json(first: &Estimate, second: &Estimate) -> String {
    let row = |r: tankwright_quantities::against::Row| RowOut {
        work: r.work.id,
        section: r.work.section.id(),
        unit: r.here.map(|(unit, _)| unit.id()),
        quantity: r.here.map(|(_, quantity)| plain(quantity)),
        unit_against: r.against.map(|(unit, _)| unit.id()),
        quantity_against: r.against.map(|(_, quantity)| plain(quantity)),
        difference: r.difference.map(plain),
        rules: r
            .rules
            .iter()
            .map(|rule| RuleOut {
                what: rule.what.clone(),
                size: exact(rule.size),
                clause: rule.clause.clone(),
                profile: profile_of(rule, first, second),
            })
            .collect(),
        spec: r.spec,
    };
    write(&Out {
        format: 1,
        job: &first.title,
        file: &first.file,
        date: &first.date,
        profile: &first.profile.0,
        against: &second.profile.0,
        rows: rows(first, second).into_iter().map(row).collect(),
    })
}
