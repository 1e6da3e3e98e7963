//! Files of others that were dropped on the page, as rows; a second take-off held against the job.

use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;
use tankwright_crosscheck::crosscheck;
use tankwright_crosscheck::rows::Row;
use tankwright_crosscheck::world::World;
use tankwright_export::crosscheck as paper;
use tankwright_quantities::flow::Settings;
use tankwright_quantities::problem::Problem;
use tankwright_run::{Shape, placed, rows, sheets, text_rows};

use crate::answer::Ask;
use crate::desk::Desk;
use crate::lists::text_of;
use crate::problems::{Said, plain};

/// What is held against what.
#[derive(Debug, Deserialize)]
pub(crate) struct Against {
    text: String,
    name: String,
    /// The sheet that is read; empty: the first that is a take-off.
    #[serde(default)]
    sheet: String,
}

/// The finding.
#[derive(Debug, Default, Serialize)]
pub(crate) struct Finding {
    problems: Vec<Said>,
    /// The paper of `tankwright crosscheck`.
    paper: String,
    /// Its JSON.
    report: Option<Box<RawValue>>,
    /// Sheets of its file.
    sheets: Vec<String>,
}

/// A file of others as rows.
pub(crate) struct Other {
    /// Its name in messages.
    pub(crate) name: String,
    pub(crate) text: String,
    pub(crate) rows: Vec<Row>,
    pub(crate) caution: Option<Problem>,
    /// All sheets that hold something.
    pub(crate) sheets: Vec<String>,
}

impl Desk {
    /// Holds a take-off against a job.
    pub(crate) fn crosscheck(&self, ask: &Against) -> Finding {
        self.found(ask)
            .unwrap_or_else(|problems| Finding { problems: plain(&problems), ..Finding::default() })
    }

    /// The rows of a file that was dropped; of a spreadsheet file those of the sheet that is asked for.
    pub(crate) fn other_rows(&self, name: &str, sheet: &str, shape: Shape) -> Result<Other, Problem> {
        let Some(file) = self.second(name) else {
            let message = format!("`{name}` is not on the page any more");
            return Err(Problem::error("W004", None, message).hint("drop the file again"));
        };
        if sheets::parts(&file.name).is_none() {
            let text = text_of(&file.name, &file.bytes)?;
            let rows = text_rows(&text);
            return Ok(Other { name: file.name.clone(), text, rows, caution: None, sheets: Vec::new() });
        }
        let asked = Some(sheet).filter(|s| !s.is_empty());
        let (sheet, rows) = rows(&file.name, &file.bytes, asked, (self.words(), shape))?;
        let sheets::SheetText { name, text, caution, all, .. } = sheet;
        Ok(Other { name, text, rows, caution, sheets: all })
    }

    fn found(&self, ask: &Against) -> Result<Finding, Vec<Problem>> {
        let other = self.other_rows(&ask.name, &ask.sheet, Shape::TakeOff).map_err(|p| vec![p])?;
        let read = self.read(&Ask { text: ask.text.clone(), ..Ask::default() }, true);
        let (e, _) = self.estimate(&read).made()?;
        let settings = Settings::default();
        let world = World::new(&read.job, &e, &self.given.data.stock, &settings);
        let at = |p: Problem| placed(p, Some(&other.text));
        let report = crosscheck(&world, self.words(), &other.name, &other.rows, None)
            .map_err(|problems| problems.into_iter().map(at).collect::<Vec<_>>())?;
        let cautions: Vec<Problem> =
            other.caution.clone().into_iter().chain(report.cautions.iter().cloned().map(at)).collect();
        Ok(Finding {
            problems: plain(&cautions),
            paper: paper::text(&e, &report),
            report: RawValue::from_string(paper::json(&e, &report)).ok(),
            sheets: other.sheets.clone(),
        })
    }
}
