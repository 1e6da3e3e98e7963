//! How a batch went, counted row by row; rows of an earlier run count as well.

use crate::context::{Context, Outcome};
use crate::exit::Exit;

/// Refused jobs that are named at the end; the messages have all.
const NAMED: usize = 20;

/// What is counted.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Tally {
    /// Rows.
    pub(super) done: usize,
    /// Rows of jobs that were refused.
    pub(super) refused: usize,
    judged: usize,
    failing: usize,
    exits: Vec<i32>,
    named: Vec<(usize, String, String)>,
}

impl Tally {
    /// One more row: how it ended, what it is called, codes of its errors, whether it complies.
    pub(super) fn add(&mut self, exit: i32, site: &str, problems: &str, complies: &str) {
        self.done += 1;
        self.judged += usize::from(!complies.is_empty());
        self.failing += usize::from(complies == "no");
        if exit == Exit::Done.code() {
            return;
        }
        self.refused += 1;
        if !self.exits.contains(&exit) {
            self.exits.push(exit);
        }
        if self.named.len() < NAMED {
            self.named.push((self.done, site.to_owned(), problems.to_owned()));
        }
    }

    /// Says it on standard error.
    pub(super) fn tell(&self, cx: &mut Context<'_>, results: &str, messages: &str) {
        let one = |n: usize| if n == 1 { "job" } else { "jobs" };
        let mut text = format!("{} {}: {} estimated", self.done, one(self.done), self.done - self.refused);
        match (self.judged, self.failing) {
            (0, _) => {}
            (judged, 0) => text.push_str(&format!("; all {judged} with a sizing rule comply")),
            (judged, 1) => text.push_str(&format!("; 1 of {judged} with a sizing rule does not comply")),
            (judged, n) => text.push_str(&format!("; {n} of {judged} with a sizing rule do not comply")),
        }
        text.push_str(&format!("; {} refused\n", self.refused));
        for (row, site, problems) in &self.named {
            text.push_str(&format!("  {row}  {site}  {problems}\n"));
        }
        if self.refused > self.named.len() {
            text.push_str(&format!("  and {} more\n", self.refused - self.named.len()));
        }
        text.push_str(&format!("written: {results}  {messages}\n"));
        cx.note(&text);
    }

    /// How the run ends: with the gravest of what happened.
    pub(super) fn outcome(&self) -> Outcome {
        let grave = [Exit::Fault, Exit::Balance, Exit::File, Exit::Rates, Exit::Job];
        grave.into_iter().find(|exit| self.exits.contains(&exit.code())).map_or(Ok(()), Err)
    }
}
