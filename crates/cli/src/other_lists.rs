//! Lists that others wrote, CSV or a sheet of a spreadsheet file: as rows that messages can quote.

use std::path::Path;

use tankwright_crosscheck::rows::Row;
use tankwright_crosscheck::wording::{self, Wording};
use tankwright_quantities::problem::Problem;
use tankwright_run::{Shape, sheets};

use crate::context::{Context, Outcome};
use crate::exit::Exit;
use crate::files::Kind;

/// A list as rows.
pub(crate) struct OtherList {
    /// Its name in messages.
    pub(crate) name: String,
    /// Rows.
    pub(crate) rows: Vec<Row>,
    /// Sheets of the same file that hold something and are not read.
    pub(crate) others: Vec<String>,
}

/// The rows of a list, and its name in messages.
pub(crate) fn rows(cx: &mut Context<'_>, name: &str, words: &Wording, shape: Shape) -> Outcome<OtherList> {
    let Some((file, sheet)) = sheets::parts(name) else {
        return match cx.read(name, Path::new(name)) {
            Ok(text) => Ok(OtherList {
                name: name.to_owned(),
                rows: tankwright_run::text_rows(&text),
                others: Vec::new(),
            }),
            Err(problem) => cx.refuse(Exit::File, &[problem]),
        };
    };
    let bytes = match cx.read_bytes(file, Path::new(file)) {
        Ok(bytes) => bytes,
        Err(problem) => return cx.refuse(Exit::File, &[problem]),
    };
    match tankwright_run::rows(file, &bytes, sheet, (words, shape)) {
        Ok((sheet, rows)) => {
            cx.quote(&sheet.name, &sheet.text);
            cx.say(&sheet.caution.into_iter().collect::<Vec<_>>());
            Ok(OtherList { others: sheets::unread(&sheet.name, &sheet.all), name: sheet.name, rows })
        }
        Err(problem) => cx.refuse(Exit::Job, &[problem]),
    }
}

/// The user's own trade words, where `--data` has them.
pub(crate) fn words(cx: &mut Context<'_>) -> Outcome<Option<Wording>> {
    let Some(path) = cx.data.as_ref().map(|folder| folder.join("wording.toml")) else { return Ok(None) };
    if cx.files.kind(&path) != Kind::File {
        return Ok(None);
    }
    let name = path.display().to_string();
    let text = match cx.read(&name, &path) {
        Ok(text) => text,
        Err(problem) => return cx.refuse(Exit::File, &[problem]),
    };
    match wording::own(&name, &text) {
        Ok(words) => Ok(Some(words)),
        Err(problem) => {
            let problem = placed(*problem, cx);
            cx.refuse(Exit::Rates, &[problem])
        }
    }
}

/// A problem with the bytes of its line.
pub(crate) fn placed(problem: Problem, cx: &Context<'_>) -> Problem {
    let text = problem.place.as_ref().and_then(|place| cx.text(&place.file));
    tankwright_run::placed(problem.clone(), text)
}
