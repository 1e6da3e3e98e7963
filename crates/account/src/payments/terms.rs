//! `[payments]` of the job file: deposit and retention, with their defaults.

use rust_decimal::Decimal;
use tankwright_geometry::parse::decimal;
use tankwright_quantities::decimal::{self as figures, rounded};
use tankwright_quantities::estimate::{DefaultUsed, Estimate};
use tankwright_quantities::job::{Job, suggestion};
use tankwright_quantities::pricing::MoneyReader;
use tankwright_quantities::problem::Problem;
use tankwright_quantities::stage::Stage;

use super::spread::stages;

const OURS: &str = "our choice, printed";
const COMMON: &str = "common practice, no source";
/// A school project's schedule of payments: 5 per cent of each, released 6 months later.
const SIX_MONTHS: &str = "payment schedule of a school project, released 6 months later \
    (https://www.scribd.com/document/471677439/Payment-Schedule-fnl)";

/// What the deposit is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum DepositTerm {
    /// Materials of the first stage in which any are bought, or of the stages named.
    Materials,
    /// None.
    None,
    /// An amount.
    Amount(Decimal),
    /// Per cent of the total.
    Percent(Decimal),
}

/// How the price is paid.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Terms {
    /// Deposit.
    pub deposit: DepositTerm,
    /// Stages whose materials it buys; empty: the first in which any are bought.
    pub deposit_stages: Vec<Stage>,
    /// Per cent of each payment that is held back; 0 for none.
    pub retention: Decimal,
    /// Most that is held, per cent of the total.
    pub limit: Option<Decimal>,
    /// Per cent of what is held that is paid out when all is built.
    pub release: Decimal,
    /// Days from then until the rest is paid out.
    pub days: u32,
    /// What the job file leaves open.
    pub defaults: Vec<DefaultUsed>,
}

impl Terms {
    /// What is held back of so much work: a share of it, at most a share of the total; `None` where it is too large.
    #[must_use]
    pub fn held(&self, worth: Decimal, total: Decimal, digits: u32) -> Option<Decimal> {
        let part = |percent: Decimal, of: Decimal| share(percent, of, digits);
        let held = part(self.retention, worth)?;
        Some(match self.limit {
            Some(limit) => held.min(part(limit, total)?),
            None => held,
        })
    }

    /// What of it is paid out when all is built.
    #[must_use]
    pub fn released(&self, held: Decimal, digits: u32) -> Option<Decimal> {
        share(self.release, held, digits)
    }
}

/// So many per cent of an amount, rounded once to the currency.
pub(super) fn share(percent: Decimal, of: Decimal, digits: u32) -> Option<Decimal> {
    rounded(figures::ratio(percent) * figures::ratio(of) / tankwright_geometry::Ratio::int(100), digits)
}

/// Reads `[payments]` and the stages of preliminaries, with every problem: J203, J205, J206, J208, R047, R050.
pub(crate) fn terms(e: &Estimate, job: &Job) -> (Terms, Vec<Problem>) {
    let mut reading = Reading { e, job, problems: Vec::new(), defaults: Vec::new() };
    let terms = reading.terms();
    (Terms { defaults: reading.defaults, ..terms }, reading.problems)
}

struct Reading<'a> {
    e: &'a Estimate,
    job: &'a Job,
    problems: Vec<Problem>,
    defaults: Vec<DefaultUsed>,
}

impl Reading<'_> {
    fn terms(&mut self) -> Terms {
        let deposit = self.deposit();
        let deposit_stages = self.deposit_stages(&deposit);
        (0..self.job.count_of("preliminaries")).for_each(|i| self.paid_with(i));
        let retention = self.percent("payments.retention").unwrap_or_default();
        let limit = self.percent("payments.retention_limit");
        let release = self.percent("payments.retention_release");
        let days = self.job.has("payments.retention_days");
        let days = days.then(|| u32::try_from(self.job.count("payments.retention_days").1).unwrap_or(0));
        if !retention.is_zero() {
            if release.is_none() {
                self.default("payments.retention_release", "50", COMMON);
            }
            if days.is_none() {
                self.default("payments.retention_days", "180", SIX_MONTHS);
            }
        }
        Terms {
            deposit,
            deposit_stages,
            retention,
            limit,
            release: release.unwrap_or(Decimal::from(50)),
            days: days.unwrap_or(180),
            defaults: Vec::new(),
        }
    }

    fn default(&mut self, path: &str, value: &str, source: &str) {
        let (path, value, source) = (path.to_owned(), value.to_owned(), source.to_owned());
        self.defaults.push(DefaultUsed { path, value, source });
    }

    fn tell(&mut self, code: &'static str, path: &str, what: &str, label: &str, hint: &str) {
        let problem = Problem::error(code, self.job.place(path), format!("{path}: {what}"));
        self.problems.push(problem.label(label).hint(hint));
    }

    /// Per cent below 100 for what is held, at most 100 for what is paid out.
    fn percent(&mut self, path: &str) -> Option<Decimal> {
        let money = MoneyReader { job: self.job, currency: None };
        let percent = money.number(path, &mut self.problems)?;
        let hundred = Decimal::ONE_HUNDRED;
        let most_is_all = path == "payments.retention_release";
        if percent > hundred || (percent == hundred && !most_is_all) {
            let what =
                if most_is_all { "more than all cannot be paid out" } else { "all of it would be held back" };
            let hint = if most_is_all { "at most 100" } else { "per cent, as \"5\"; less than 100" };
            self.tell("J208", path, what, &format!("this is {percent} per cent"), hint);
            return None;
        }
        Some(percent)
    }

    fn deposit(&mut self) -> DepositTerm {
        let path = "payments.deposit";
        let client_buys = self.job.text("job.supply") == "labour-only";
        let hint = "it may be \"materials\", \"none\", an amount as \"500000\", or \"10 %\" of the total";
        let text = self.job.text(path);
        match text {
            "" if client_buys => {
                self.default(path, "none", "the client buys the materials");
                DepositTerm::None
            }
            "" => {
                self.default(path, "materials", OURS);
                DepositTerm::Materials
            }
            "none" => DepositTerm::None,
            "materials" if client_buys => {
                let what = "the client buys the materials: there is nothing to buy from a deposit";
                self.tell("J206", path, what, "labour-only", "write \"none\", an amount, or \"10 %\"");
                DepositTerm::None
            }
            "materials" => DepositTerm::Materials,
            other => match self.figure(other) {
                Some(term) => term,
                None => {
                    let what = if decimal(other).is_some() {
                        "this amount is finer than the smallest unit of the currency"
                    } else {
                        "this is no deposit"
                    };
                    self.tell("J205", path, what, "cannot be read", hint);
                    DepositTerm::None
                }
            },
        }
    }

    fn figure(&self, text: &str) -> Option<DepositTerm> {
        let digits = self.e.bill.currency.digits;
        let exact = |text: &str, places: u32| {
            let value = decimal(text.trim())?;
            rounded(value, places).filter(|d| figures::ratio(*d) == value)
        };
        if let Some(percent) = text.strip_suffix('%') {
            return exact(percent, 4).filter(|p| *p <= Decimal::ONE_HUNDRED).map(DepositTerm::Percent);
        }
        exact(text, digits).map(DepositTerm::Amount)
    }

    fn deposit_stages(&mut self, deposit: &DepositTerm) -> Vec<Stage> {
        let path = "payments.deposit_stages";
        let names = self.job.texts(path).to_vec();
        let mut named: Vec<Stage> = names.iter().filter_map(|name| self.stage(path, name)).collect();
        named.sort_unstable();
        named.dedup();
        let bought = |s: &Stage| {
            self.e.orders.stages.iter().any(|o| o.stage == *s && o.lines.iter().any(|l| l.packs > 0))
        };
        if !names.is_empty() && *deposit != DepositTerm::Materials {
            let what = "this deposit buys no materials";
            self.tell("J206", path, what, "says nothing", "write deposit = \"materials\", or leave this out");
        } else if !named.is_empty() && !named.iter().any(bought) {
            let buying: Vec<&str> = Stage::ALL.iter().filter(|s| bought(s)).map(|s| s.id()).collect();
            let hint = format!("goods are bought for: {}", buying.join(", "));
            self.tell("J206", path, "no goods are bought for these stages", "nothing to buy", &hint);
        }
        named
    }

    /// A preliminary is paid with a stage that is built.
    fn paid_with(&mut self, i: usize) {
        let path = format!("preliminaries[{i}].stage");
        let name = self.job.text(&path).to_owned();
        if !name.is_empty() {
            self.stage(&path, &name);
        }
    }

    fn stage(&mut self, path: &str, name: &str) -> Option<Stage> {
        let all = stages(self.e);
        let found = all.iter().copied().find(|s| s.id() == name);
        if found.is_none() {
            let ids: Vec<&str> = all.iter().map(|s| s.id()).collect();
            let hint =
                format!("{}stages of this job: {}", suggestion(name, ids.iter().copied()), ids.join(", "));
            let what = format!("this job has no stage \"{name}\"");
            self.tell("J203", path, &what, "not built in this job", &hint);
        }
        found
    }
}
