//! `[orders]` of the job file: tolerance, groups, reserve bags, lead times.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use super::packs;
use crate::decimal;
use crate::job::{Job, Value};
use crate::materials::Materials;
use crate::problem::Problem;
use crate::rates::Stock;
use crate::stage::Stage;

/// The longest lead time, days.
const LONGEST: i128 = 365;

/// How orders are made.
#[derive(Clone, Debug, Default)]
pub(super) struct Settings {
    /// Part of a pack that is not rounded up.
    pub(super) tolerance: Decimal,
    /// Stages whose bulk goods come together.
    pub(super) groups: Vec<Vec<Stage>>,
    /// Bags of cement in hand.
    pub(super) reserve: BTreeMap<Stage, u64>,
    /// Days from order to delivery, by the user's name of the material.
    pub(super) leads: BTreeMap<String, u32>,
}

pub(super) fn stage(id: &str) -> Option<Stage> {
    Stage::ALL.into_iter().find(|s| s.id() == id)
}

/// Reads them; problems are added to the list.
pub(super) fn read(job: &Job, stock: &Stock, materials: &Materials, problems: &mut Vec<Problem>) -> Settings {
    let tolerance = job.number("orders.tolerance").unwrap_or(Ratio::ZERO);
    if tolerance >= Ratio::ONE {
        let what = "orders.tolerance: a whole pack cannot be let off";
        let problem = Problem::error("J116", job.place("orders.tolerance"), what).label("1 or more");
        problems.push(problem.hint("it is a part of a pack, as \"0.05\"; \"0\" rounds every part up"));
    }
    let reserved = |s: Stage| {
        let bags = job.count(&format!("orders.reserve_bags.{}", s.id())).1;
        u64::try_from(bags).ok().filter(|bags| *bags > 0).map(|bags| (s, bags))
    };
    Settings {
        tolerance: decimal::rounded(tolerance, 3).unwrap_or_default(),
        groups: groups(job, problems),
        reserve: Stage::ALL.into_iter().filter_map(reserved).collect(),
        leads: leads(job, stock, materials, problems),
    }
}

fn groups(job: &Job, problems: &mut Vec<Problem>) -> Vec<Vec<Stage>> {
    let mut seen: Vec<Stage> = Vec::new();
    let mut groups = Vec::new();
    for i in 0..job.count_of("orders.group") {
        let path = format!("orders.group[{i}]");
        let group: Vec<Stage> = job.texts(&path).iter().filter_map(|id| stage(id)).collect();
        for s in &group {
            if seen.contains(s) {
                let what = format!("orders.group: the stage {} is named twice", s.id());
                let problem = Problem::error("J118", job.place(&path), what).label("again here");
                problems.push(problem.hint("what a stage uses comes with one delivery: name it once"));
            }
            seen.push(*s);
        }
        groups.push(group);
    }
    groups
}

fn leads(
    job: &Job,
    stock: &Stock,
    materials: &Materials,
    problems: &mut Vec<Problem>,
) -> BTreeMap<String, u32> {
    let known = packs::known(stock, materials);
    let mut leads = BTreeMap::new();
    for (name, path) in packs::own_keys(job, "orders.lead_days") {
        if !packs::is_known(name, &known) {
            problems.push(packs::unknown(job, &path, name, &known));
            continue;
        }
        let days = match job.values.get(&path) {
            Some((Value::Number(days), _)) => Some(*days),
            Some((Value::Text(text), _)) => tankwright_geometry::parse::decimal(text.trim()),
            _ => None,
        };
        let days = days.filter(|d| d.denom() == 1 && (0..=LONGEST).contains(&d.numer()));
        match days.and_then(|d| u32::try_from(d.numer()).ok()) {
            Some(days) => {
                leads.insert(name.to_owned(), days);
            }
            None => {
                let what = format!("{path}: whole days are wanted here");
                let problem = Problem::error("J117", job.place(&path), what).label("not 0 to 365 days");
                problems.push(problem.hint("write it as a whole number: 2"));
            }
        }
    }
    leads
}
