//! Priced copies of the bill that were dropped on the page, side by side: the paper of `tankwright returned`.

use serde::{Deserialize, Serialize};
use tankwright_account::returned::{self, Form, compare};
use tankwright_export::returned as papers;
use tankwright_quantities::problem::{Problem, Severity};
use tankwright_run::{Shape, placed, sheets as files};

use crate::account::{Papers, wrong};
use crate::answer::Ask;
use crate::desk::{Desk, KEPT};
use crate::problems::plain;

/// What is set side by side.
#[derive(Debug, Deserialize)]
pub(crate) struct CopiesAsk {
    text: String,
    copies: Vec<One>,
    /// How many times the middle of the other rates is far; empty: as the command.
    #[serde(default)]
    ratio: String,
}

/// A copy: its file, and which of its sheets is read, where one is said.
#[derive(Debug, Deserialize)]
struct One {
    name: String,
    #[serde(default)]
    sheet: String,
}

/// The comparison, and the sheets of each copy.
#[derive(Debug, Default, Serialize)]
pub(crate) struct Compared {
    #[serde(flatten)]
    papers: Papers,
    /// By copy: sheets of its file; none of a CSV.
    sheets: Vec<Vec<String>>,
}

impl Desk {
    /// Priced copies against the form of the page's job.
    pub(crate) fn returned(&self, ask: &CopiesAsk) -> Compared {
        let mut sheets = Vec::new();
        let made = self.side_by_side(ask, &mut sheets);
        Compared { papers: made.unwrap_or_else(|problems| Papers::refused(&problems)), sheets }
    }

    fn side_by_side(&self, ask: &CopiesAsk, sheets: &mut Vec<Vec<String>>) -> Result<Papers, Vec<Problem>> {
        if ask.copies.len() > KEPT {
            let message = format!("{} copies are more than the page sets side by side", ask.copies.len());
            return Err(vec![wrong(message, "take 8 at most; `tankwright returned` takes more")]);
        }
        let ratio = match ask.ratio.trim() {
            "" => returned::FAR,
            text => returned::ratio(text)
                .map_err(|why| vec![wrong(format!("`{text}` is not how many times"), why)])?,
        };
        let read = self.read(&Ask { text: ask.text.clone(), ..Ask::default() }, false);
        let (e, _) = self.looked(&read).made()?;
        let form = Form::of(&e, &read.job, &self.given.data.stock)?;
        let (mut copies, mut told) = (Vec::new(), Vec::new());
        for one in &ask.copies {
            let found = self.other_rows(&one.name, &one.sheet, Shape::Copy);
            sheets.push(found.as_ref().map(|o| o.sheets.clone()).unwrap_or_default());
            let other = match found {
                Ok(other) => other,
                Err(problem) => {
                    told.push(problem);
                    continue;
                }
            };
            let unread = files::unread(&other.name, &other.sheets);
            let given = returned::Given { file: &other.name, rows: &other.rows, unread: &unread };
            let at = |p: Problem| placed(p, Some(&other.text));
            told.extend(other.caution.clone());
            match returned::read(&form, &e.sheet, self.words(), given) {
                Ok((copy, cautions)) => {
                    copies.push(copy);
                    told.extend(cautions.into_iter().map(at));
                }
                Err(problems) => told.extend(problems.into_iter().map(at)),
            }
        }
        if told.iter().any(|p| p.severity == Severity::Error) {
            return Err(told);
        }
        let found = compare(form, &e, copies, ratio)?;
        Ok(Papers {
            problems: plain(&told),
            paper: papers::text(&e, &found),
            csv: papers::csv(&found),
            json: papers::json(&e, &found),
            ..Papers::default()
        })
    }
}
