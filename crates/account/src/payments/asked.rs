//! What is asked of the account: a day, or a stage that is done; per cents of stages. As people write it.

use std::borrow::Cow;

use rust_decimal::Decimal;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::job::{Day, Job, date, suggestion};
use tankwright_quantities::problem::Problem;
use tankwright_quantities::stage::Stage;

use super::schedule::ends;
use super::spread::{Spread, stages};

/// What the command line or the page asks.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Asked {
    /// The account at this day.
    pub at: Option<Day>,
    /// The account when this stage and all before it are done, in place of a day.
    pub up_to: Option<Stage>,
    /// Stages by id with their per cent done on that day.
    pub done: Vec<(String, Decimal)>,
}

impl Asked {
    /// With a day, or the id of a stage.
    ///
    /// # Errors
    /// Why it is neither, in words.
    pub fn at(mut self, text: &str) -> Result<Self, String> {
        let text = text.trim();
        if let Some(stage) = Stage::ALL.into_iter().find(|s| s.id() == text) {
            self.up_to = Some(stage);
            return Ok(self);
        }
        if text.starts_with(|c: char| c.is_alphabetic()) {
            let ids = Stage::ALL.map(Stage::id);
            return Err(format!(
                "{}a day as 2026-11-25, or one of the stages {}",
                suggestion(text, ids.iter().copied()),
                ids.join(", ")
            ));
        }
        match date::check(text) {
            Ok(()) => {
                self.at = Day::read(text);
                Ok(self)
            }
            Err(date::DateError::Form) => {
                Err("a day is year-month-day, as 2026-11-25; or a stage, as base".to_owned())
            }
            Err(date::DateError::NoSuchDay(_)) => Err("the calendar has no such day".to_owned()),
        }
    }

    /// A stage asked for, as a day and per cents: it and all before it are done, unless `done` says otherwise. The day is
    /// that of the programme; without one, the last that the job file knows.
    pub(super) fn settled(
        &self,
        e: &Estimate,
        job: &Job,
        spread: &Spread,
    ) -> Result<Cow<'_, Self>, Box<Problem>> {
        let Some(last) = self.up_to else { return Ok(Cow::Borrowed(self)) };
        let all = stages(e);
        if !all.contains(&last) {
            let ids: Vec<&str> = all.iter().map(|s| s.id()).collect();
            let problem = Problem::error("U060", None, format!("--at: this job has no stage {}", last.id()));
            return Err(Box::new(problem.hint(format!("stages of this job: {}", ids.join(", ")))));
        }
        let worthy = spread.stages.iter().filter(|(s, _)| *s <= last);
        let mut done: Vec<(String, Decimal)> = worthy
            .map(|(s, _)| (s.id().to_owned(), Decimal::ONE_HUNDRED))
            .filter(|(id, _)| self.done.iter().all(|(said, _)| said != id))
            .collect();
        done.extend(self.done.iter().cloned());
        let planned = all.iter().filter(|s| **s <= last).filter_map(|s| ends(e, *s)).max();
        Ok(Cow::Owned(Self { at: planned.or_else(|| last_day(job)), up_to: self.up_to, done }))
    }
}

/// The last day that the job file knows of its own: its date, what was paid, what was seen.
fn last_day(job: &Job) -> Option<Day> {
    let of = |list: &'static str| {
        (0..job.count_of(list)).filter_map(move |i| Day::read(job.text(&format!("{list}[{i}].date"))))
    };
    Day::read(job.text("job.date")).into_iter().chain(of("paid")).chain(of("valuation")).max()
}

/// A stage with its per cent: `base=60`, `base = 62.5 %`.
///
/// # Errors
/// What it should be, in words.
pub fn done(text: &str) -> Result<(String, Decimal), String> {
    let wrong = || "a stage with its per cent, as base=60".to_owned();
    let (stage, said) = text.split_once('=').ok_or_else(wrong)?;
    let stage = stage.trim();
    match percent(said) {
        Some(percent) if !stage.is_empty() => Ok((stage.to_owned(), percent)),
        _ => Err(wrong()),
    }
}

fn percent(text: &str) -> Option<Decimal> {
    let text = text.trim().trim_end_matches('%').trim_end();
    let plain = text.len() <= 9
        && text.bytes().all(|b| b.is_ascii_digit() || b == b'.')
        && text.bytes().any(|b| b.is_ascii_digit());
    text.parse::<Decimal>().ok().filter(|p| plain && p.scale() <= 4)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_people_write_and_refuses_the_rest() {
        for (text, percent) in
            [("base=60", "60"), (" base = 62.5 % ", "62.5"), ("base=0", "0"), ("base=150", "150")]
        {
            assert_eq!(done(text), Ok(("base".to_owned(), percent.parse().unwrap_or_default())), "{text}");
        }
        for text in ["", "base", "base=", "=60", "base=-5", "base=1e3", "base=.", "base=60,5", "base=0.00001"]
        {
            assert!(done(text).is_err(), "{text}");
        }
    }

    #[test]
    fn a_day_or_a_stage() {
        let at = |text: &str| Asked::default().at(text);
        assert_eq!(at(" 2026-12-18 ").map(|a| a.at), Ok(Day::read("2026-12-18")));
        assert_eq!(at("base").map(|a| (a.at, a.up_to)), Ok((None, Some(Stage::Base))));
        for (text, says) in [
            ("bse", "did you mean \"base\""),
            ("2026-02-30", "no such day"),
            ("", "or a stage"),
            ("18.12.", "or a stage"),
        ] {
            assert!(at(text).is_err_and(|why| why.contains(says)), "{text}");
        }
    }
}
