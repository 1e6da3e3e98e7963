//! What a job says of all its built rates: on-costs, the last rounding, the hours of a day.

use rust_decimal::Decimal;

use super::work_out::COST;
use super::{Group, OnCost, Say};
use crate::decimal::{ratio, rounded};
use crate::job::Job;
use crate::problem::Problem;
use crate::rates::Stock;
use crate::words::look_up;

/// Where the job file says it.
const LIST: &str = "on_costs.list";

/// Terms of all built rates of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Terms {
    /// On-costs, in order: the job's own, else those of the user's data.
    pub on_costs: Vec<OnCost>,
    /// How the rate of one unit is said.
    pub says: Vec<Say>,
    /// Hours of a working day.
    pub day: Decimal,
    /// Who says so.
    pub day_source: String,
}

impl Terms {
    /// Reads them; problems R101 to R103 are told, and what cannot be followed left out.
    #[must_use]
    pub fn read(job: &Job, stock: &Stock, problems: &mut Vec<Problem>) -> Self {
        let number = |path: &str| job.number(path).and_then(|n| rounded(n, 4).filter(|d| ratio(*d) == n));
        let own = job.count_of(LIST);
        let on_costs = if own == 0 {
            stock.build_ups.on_costs.clone()
        } else {
            (0..own).filter_map(|i| on_cost(job, i, problems)).collect()
        };
        let says = Say::read_all(job.text("on_costs.say"));
        if says.is_none() {
            let what = "on_costs.say is no rounding";
            let problem = Problem::error("R103", job.place("on_costs.say"), what).label("not read");
            problems.push(problem.hint(
                "as \"up 100\" or \"nearest 0.10\"; several steps one after the other: \"nearest 1, up 10\"",
            ));
        }
        let builtin = stock.build_ups.day.as_ref();
        let of_data = || builtin.map_or((Decimal::from(8), String::new()), |(h, s)| (*h, s.to_string()));
        let (day, day_source) = match number("on_costs.hours") {
            Some(hours) if hours >= Decimal::ONE && hours <= Decimal::from(24) => {
                (hours, look_up("materials-job-file").to_owned())
            }
            Some(_) => {
                let place = job.place("on_costs.hours");
                let problem = Problem::error("R103", place, "on_costs.hours is no working day");
                problems.push(problem.label("from 1 to 24").hint("the hours that a day's wage pays for"));
                of_data()
            }
            None => of_data(),
        };
        Self { on_costs, says: says.unwrap_or_default(), day, day_source }
    }
}

fn on_cost(job: &Job, i: usize, problems: &mut Vec<Problem>) -> Option<OnCost> {
    let path = |key: &str| format!("{LIST}[{i}].{key}");
    let mut refuse = |code, key: &str, message: String, label: &str, hint: String| {
        problems.push(Problem::error(code, job.place(&path(key)), message).label(label).hint(hint));
    };
    let title = job.text(&path("title")).to_owned();
    let gross_up = job.flag(&path("gross_up"));
    let percent = job.number(&path("percent")).and_then(|n| rounded(n, 4));
    let percent = match percent {
        Some(p) if gross_up && p >= Decimal::ONE_HUNDRED => {
            let message = format!("{}: a share of the whole is less than 100 per cent", path("percent"));
            refuse("R101", "percent", message, "grossed up", "as percent = 7.5".to_owned());
            return None;
        }
        Some(p) => p,
        None => return None,
    };
    let on = job.texts(&path("on")).to_vec();
    let before: Vec<&str> = (0..i).map(|j| job.text(&format!("{LIST}[{j}].title"))).collect();
    let words = || [COST].into_iter().chain(Group::ALL.map(Group::id)).chain(before.iter().copied());
    for word in &on {
        let same = words().filter(|w| w == word).count();
        if same != 1 {
            let what = if same == 0 { "nothing before it is called" } else { "more than one is called" };
            let message = format!("{}: {what} `{word}`", path("on"));
            let known = words().collect::<Vec<_>>().join(", ");
            refuse(
                "R102",
                "on",
                message,
                "taken on this",
                format!("it may name: {known}; left out: all before it"),
            );
            return None;
        }
    }
    let source = match job.place(&path("title")) {
        Some(place) => format!("{}:{}", place.file, place.line),
        None => String::new(),
    };
    Some(OnCost { title, percent, on, gross_up, source })
}
