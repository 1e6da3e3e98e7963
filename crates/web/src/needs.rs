//! The rate sheet of a job beside a price list: what it needs, which line of the list prices it, what is lacking.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::flow::Settings;
use tankwright_quantities::rates::lists::{Fault, missing};
use tankwright_quantities::rates::{Lookup, PriceKind, PriceList, PriceRow, read_prices};
use tankwright_quantities::{bill, build_up};
use tankwright_run as run;

use crate::answer::Ask;
use crate::desk::Desk;

/// What is asked.
#[derive(Debug, Deserialize)]
pub(crate) struct For {
    text: String,
    /// Name of the list.
    list: String,
}

/// A good or a work of the rate sheet.
#[derive(Debug, Serialize)]
struct Good {
    kind: &'static str,
    code: String,
    title: String,
    unit: String,
    /// Line of the list that prices it.
    line: Option<usize>,
    /// Why it has no price, in words.
    lacks: String,
}

/// The rate sheet.
#[derive(Debug, Default, Serialize)]
pub(crate) struct Needs {
    /// What the job needs.
    needs: Vec<Good>,
    /// Everything else that a line may price.
    others: Vec<Good>,
}

impl Desk {
    /// The rate sheet of a job; empty where the job is refused.
    pub(crate) fn needs(&self, of: &For) -> Needs {
        let read = self.read(&Ask { text: of.text.clone(), ..Ask::default() }, false);
        let list = self.list(&of.list);
        let builds = list.as_ref().is_some_and(|l| l.builds_up());
        let settings = Settings { build_ups: builds, ..Settings::default() };
        let made = run::estimate(&read.job, &self.given.data.stock, None, &settings, false).ok();
        let needs = made.map(|made| sheet(&made.estimate, list.as_deref(), builds)).unwrap_or_default();
        let known: BTreeSet<_> = needs.iter().map(|g| (g.kind, g.code.clone())).collect();
        let mut others: Vec<Good> = Vec::new();
        for row in self.builtin_rows().filter(|r| !known.contains(&(r.kind.id(), r.code.clone()))) {
            if !others.iter().any(|g| (g.kind, &g.code) == (row.kind.id(), &row.code)) {
                others.push(good(row));
            }
        }
        Needs { needs, others }
    }
}

fn good(row: &PriceRow) -> Good {
    Good {
        kind: row.kind.id(),
        code: row.code.clone(),
        title: row.description.clone(),
        unit: row.unit.clone(),
        line: None,
        lacks: String::new(),
    }
}

/// The rows that `tankwright rates --blank` writes, each with its line, or what `rates --for` says of it.
fn sheet(e: &Estimate, list: Option<&PriceList>, builds: bool) -> Vec<Good> {
    let text = if builds {
        build_up::blank(&e.bill, &e.date)
    } else {
        bill::blank_rates(&e.bill, &e.bill.currency.code, &e.date)
    };
    let rows = read_prices("", &text).map(|list| list.rows).unwrap_or_default();
    let found = list.map(|list| missing(e, list)).unwrap_or_default();
    let line = |row: &PriceRow| {
        let list = list?;
        if row.kind == PriceKind::Work {
            let (work, spec) = row.code.split_once('/').unwrap_or((&row.code, ""));
            return match list.find(work, spec, &row.unit) {
                Lookup::Found { row, .. } => Some(row.line),
                _ => None,
            };
        }
        let same = |r: &&PriceRow| (r.kind, &r.code) == (row.kind, &row.code) && r.rate.is_some();
        list.rows.iter().find(same).map(|r| r.line)
    };
    let mut sheet: Vec<Good> = rows.iter().map(|row| Good { line: line(row), ..good(row) }).collect();
    for finding in found.iter().filter(|f| f.fault != Fault::Built) {
        let lacks = format!("{}: {}", finding.fault.id(), finding.says);
        match sheet.iter_mut().find(|g| g.code == finding.code) {
            Some(good) => (good.line, good.lacks) = (None, lacks),
            None => sheet.push(Good {
                kind: PriceKind::Material.id(),
                code: finding.code.clone(),
                title: e
                    .materials
                    .materials
                    .iter()
                    .find(|m| m.id == finding.code)
                    .map_or_else(String::new, |m| m.title.clone()),
                unit: finding.unit.clone(),
                line: None,
                lacks,
            }),
        }
    }
    sheet
}
