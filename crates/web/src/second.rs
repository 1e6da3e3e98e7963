//! A second take-off held against the job of the page.

use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;
use tankwright_crosscheck::crosscheck;
use tankwright_crosscheck::world::World;
use tankwright_export::crosscheck as paper;
use tankwright_quantities::flow::Settings;
use tankwright_quantities::problem::Problem;
use tankwright_run::{placed, rows, sheets, text_rows};

use crate::answer::{Ask, Came, unbalanced};
use crate::desk::Desk;
use crate::lists::text_of;
use crate::problems::{Said, plain};

/// What is held against what.
#[derive(Debug, Deserialize)]
pub(crate) struct Against {
    text: String,
    name: String,
}

/// The finding.
#[derive(Debug, Default, Serialize)]
pub(crate) struct Finding {
    problems: Vec<Said>,
    /// The paper of `tankwright crosscheck`.
    paper: String,
    /// Its JSON.
    report: Option<Box<RawValue>>,
}

impl Desk {
    /// Holds a take-off against a job.
    pub(crate) fn crosscheck(&self, ask: &Against) -> Finding {
        self.found(ask)
            .unwrap_or_else(|problems| Finding { problems: plain(&problems), ..Finding::default() })
    }

    fn found(&self, ask: &Against) -> Result<Finding, Vec<Problem>> {
        let Some(file) = self.second(&ask.name) else {
            let message = format!("`{}` is not on the page any more", ask.name);
            return Err(vec![Problem::error("W004", None, message).hint("drop the file again")]);
        };
        let read = self.read(&Ask { text: ask.text.clone(), ..Ask::default() }, true);
        let e = match self.estimate(&read) {
            Came::Made(e, _) => e,
            Came::Refused(problems) => return Err(problems),
            Came::Fault(balances) => return Err(vec![unbalanced(&balances)]),
        };
        let words = self.words();
        let (name, text, rows, caution) = if sheets::parts(&file.name).is_some() {
            let (sheet, rows) = rows(&file.name, &file.bytes, None, words).map_err(|p| vec![p])?;
            (sheet.name, sheet.text, rows, sheet.caution)
        } else {
            let text = text_of(&file.name, &file.bytes).map_err(|p| vec![p])?;
            let rows = text_rows(&text);
            (file.name.clone(), text, rows, None)
        };
        let settings = Settings::default();
        let world = World::new(&read.job, &e, &self.given.data.stock, &settings);
        let at = |p: Problem| placed(p, Some(&text));
        let report = crosscheck(&world, words, &name, &rows, None)
            .map_err(|problems| problems.into_iter().map(at).collect::<Vec<_>>())?;
        let cautions: Vec<Problem> =
            caution.into_iter().chain(report.cautions.iter().cloned().map(at)).collect();
        Ok(Finding {
            problems: plain(&cautions),
            paper: paper::text(&e, &report),
            report: RawValue::from_string(paper::json(&e, &report)).ok(),
        })
    }
}
