//! The account on the page: at a day or a stage, and of variations. The papers of the commands.

use serde::{Deserialize, Serialize};
use tankwright_account::payments::{Asked, done, payments, stages};
use tankwright_account::vary::{Contract, Now, vary};
use tankwright_export::{payments as paid, vary as varied};
use tankwright_quantities::estimate::{Estimate, Failure};
use tankwright_quantities::job::Job;
use tankwright_quantities::job::date::check as check_day;
use tankwright_quantities::problem::{Problem, Severity};
use tankwright_quantities::words::look_up;

use crate::answer::{Ask, unbalanced};
use crate::desk::Desk;
use crate::problems::{Said, plain};

/// What is asked of the payments.
#[derive(Debug, Deserialize)]
pub(crate) struct AtAsk {
    text: String,
    /// A day, or the id of a stage; empty: the schedule.
    #[serde(default)]
    at: String,
    /// Stages with their per cent; an empty one is not said.
    #[serde(default)]
    done: Vec<[String; 2]>,
}

/// What is asked of variations: the page's job is the account.
#[derive(Debug, Deserialize)]
pub(crate) struct VaryAsk {
    text: String,
    /// The contract's job file; empty: the page's job itself.
    #[serde(default)]
    contract: String,
    /// Name of its file.
    #[serde(default)]
    name: String,
    /// Day of the account; empty: the job's.
    #[serde(default)]
    date: String,
}

/// A paper of the account.
#[derive(Debug, Default, Serialize)]
pub(crate) struct Papers {
    pub(crate) problems: Vec<Said>,
    /// The paper of the command.
    pub(crate) paper: String,
    pub(crate) csv: String,
    pub(crate) json: String,
    /// Stages of the job, id and title.
    pub(crate) stages: Vec<[String; 2]>,
    /// The job as built, as `vary --built` writes it.
    pub(crate) built: String,
}

impl Papers {
    pub(crate) fn refused(problems: &[Problem]) -> Self {
        Self { problems: plain(problems), ..Self::default() }
    }
}

pub(crate) fn wrong(message: String, hint: &str) -> Problem {
    Problem::error("W007", None, message).hint(hint)
}

pub(crate) fn refused(failure: Failure) -> Vec<Problem> {
    match failure {
        Failure::Job(problems) | Failure::Rates(problems) => problems,
        Failure::Balance(balances) => vec![unbalanced(&balances)],
    }
}

impl Desk {
    /// The stage payments, or the account at a day or a stage.
    pub(crate) fn payments(&self, ask: &AtAsk) -> Papers {
        let read = self.read(&Ask { text: ask.text.clone(), ..Ask::default() }, false);
        let e = match self.looked(&read).priced() {
            Ok(e) => e,
            Err(problems) => return Papers::refused(&problems),
        };
        let title = |id: &str| look_up(&format!("stage-{id}")).to_owned();
        let stages = stages(&e).iter().map(|s| [s.id().to_owned(), title(s.id())]).collect();
        let made = asked(ask).and_then(|asked| at(&e, &read.job, &asked));
        Papers { stages, ..made.unwrap_or_else(|problems| Papers::refused(&problems)) }
    }

    /// What was built against what was agreed.
    pub(crate) fn vary(&self, ask: &VaryAsk) -> Papers {
        self.varied(ask).unwrap_or_else(|problems| Papers::refused(&problems))
    }

    fn varied(&self, ask: &VaryAsk) -> Result<Papers, Vec<Problem>> {
        let date = ask.date.trim();
        if !date.is_empty() && check_day(date).is_err() {
            return Err(vec![wrong(format!("`{date}` is not a day"), "year-month-day, as 2027-02-10")]);
        }
        let own = ask.contract.trim().is_empty();
        let now = self.read(&Ask { text: ask.text.clone(), ..Ask::default() }, false);
        let name = if ask.name.is_empty() { "the contract" } else { &ask.name };
        let contract = if own { None } else { Some(self.read_as(name, &ask.contract)) };
        let contract = contract.as_ref().unwrap_or(&now);
        let e = self.looked(contract).priced()?;
        if now.problems.iter().any(|p| p.severity == Severity::Error) {
            return Err(now.problems);
        }
        let one = |problem| vec![problem];
        let agreed = self.list_of(&contract.job).map_err(one)?;
        let named = !now.job.text("job.rates").is_empty();
        let list = if named { Some(self.list_of(&now.job).map_err(one)?) } else { None };
        let date = if date.is_empty() { now.job.text("job.date") } else { date };
        let of = Contract { job: &contract.job, estimate: &e, list: &agreed };
        let now = Now { job: &now.job, text: &now.text, list: list.as_deref(), date };
        let account = vary(of, now, &self.given.data.stock).map_err(refused)?;
        Ok(Papers {
            problems: plain(&account.cautions),
            paper: varied::text(&account),
            csv: varied::csv(&account),
            json: varied::json(&account),
            built: account.built.clone(),
            ..Papers::default()
        })
    }
}

/// What is asked, as the command line reads it.
fn asked(ask: &AtAsk) -> Result<Asked, Vec<Problem>> {
    let said = ask.done.iter().any(|[_, percent]| !percent.trim().is_empty());
    if ask.at.trim().is_empty() && said {
        return Err(vec![wrong(
            "what is done is said, and not when".to_owned(),
            "say the day, or up to which stage",
        )]);
    }
    if ask.at.trim().is_empty() {
        return Ok(Asked::default());
    }
    let mut problems = Vec::new();
    let mut asked = Asked::default().at(&ask.at).unwrap_or_else(|why| {
        problems.push(wrong(format!("`{}` is neither a day nor a stage", ask.at.trim()), &why));
        Asked::default()
    });
    for [stage, percent] in ask.done.iter().filter(|[_, percent]| !percent.trim().is_empty()) {
        match done(&format!("{stage}={percent}")) {
            Ok(one) => asked.done.push(one),
            Err(_) => problems.push(wrong(
                format!("`{}` is no per cent of {stage}", percent.trim()),
                "a plain number from 0 to 100, as 60",
            )),
        }
    }
    if problems.is_empty() { Ok(asked) } else { Err(problems) }
}

fn at(e: &Estimate, job: &Job, asked: &Asked) -> Result<Papers, Vec<Problem>> {
    let p = payments(e, job, asked).map_err(refused)?;
    let paper = if p.valuation.is_some() { paid::account(e, &p) } else { paid::text(e, &p) };
    Ok(Papers { paper, csv: paid::csv(e, &p), json: paid::json(e, &p), ..Papers::default() })
}
