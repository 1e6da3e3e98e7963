//! `tankwright crosscheck`: a second take-off or bill held against the job, each difference explained.

use std::path::Path;

use tankwright_crosscheck::rows::Row;
use tankwright_crosscheck::wording::{self, Wording};
use tankwright_crosscheck::world::World;
use tankwright_crosscheck::{crosscheck, map};
use tankwright_quantities::flow::Settings;
use tankwright_quantities::problem::Problem;
use tankwright_run::{sheets, text_rows};

use crate::args::Crosscheck;
use crate::context::{Context, Outcome};
use crate::data;
use crate::engine;
use crate::exit::Exit;
use crate::files::Kind;
use crate::load::{Found, Prices, with_job};
use crate::outputs::{Output, write_set};

pub(super) fn run(args: &Crosscheck, cx: &mut Context<'_>) -> Outcome {
    let (job, e) = with_job(cx, &args.job, Prices::May, true)?;
    let stock = data::stock(cx, &mut Found::default());
    let settings = Settings { profile: args.job.profile.clone(), date: args.job.date.clone() };
    let given = args.map.as_deref().filter(|name| cx.files.kind(Path::new(name)) == Kind::File);
    let map_text = match given.map(|name| cx.read(name, Path::new(name))) {
        Some(Ok(text)) => Some(text),
        Some(Err(problem)) => return cx.refuse(Exit::File, &[problem]),
        None => None,
    };
    let own = match words(cx) {
        Ok(own) => own,
        Err((exit, problem)) => return cx.refuse(exit, &[problem]),
    };
    let words = own.as_ref().unwrap_or_else(|| wording::builtin());
    let (other, rows) = rows(cx, &args.other, words)?;
    let world = World::new(&job, &e, &stock, &settings);
    let found = crosscheck(&world, words, &other, &rows, given.zip(map_text.as_deref()));
    let place = |problems: Vec<Problem>, cx: &Context<'_>| {
        problems.into_iter().map(|p| placed(p, cx)).collect::<Vec<_>>()
    };
    let report = match found {
        Ok(report) => report,
        Err(problems) => {
            let problems = place(problems, cx);
            return cx.refuse(Exit::Job, &problems);
        }
    };
    let cautions = place(report.cautions.clone(), cx);
    cx.say(&cautions);
    cx.print(&engine::crosscheck(&e, &report, args.format))?;
    if let Some(name) = args.map.as_deref().filter(|_| given.is_none()) {
        let output = Output { path: name.into(), bytes: map::write(&report.map).into_bytes() };
        if let Err(problem) = write_set(cx.files, &[output]) {
            return cx.refuse(Exit::File, &[problem]);
        }
        cx.note(&format!("{name} is written: correct its column `work`, and run the same again\n"));
    }
    Ok(())
}

/// The user's own trade words, where `--data` has them.
pub(super) fn words(cx: &mut Context<'_>) -> Result<Option<Wording>, (Exit, Problem)> {
    let Some(path) = cx.data.as_ref().map(|folder| folder.join("wording.toml")) else { return Ok(None) };
    if cx.files.kind(&path) != Kind::File {
        return Ok(None);
    }
    let name = path.display().to_string();
    let text = cx.read(&name, &path).map_err(|problem| (Exit::File, problem))?;
    wording::own(&name, &text).map(Some).map_err(|problem| (Exit::Rates, placed(*problem, cx)))
}

/// Problems with the bytes of their lines.
fn placed(problem: Problem, cx: &Context<'_>) -> Problem {
    let text = problem.place.as_ref().and_then(|place| cx.text(&place.file));
    tankwright_run::placed(problem.clone(), text)
}

/// The rows of the second take-off, and its name in messages.
fn rows(cx: &mut Context<'_>, name: &str, words: &Wording) -> Outcome<(String, Vec<Row>)> {
    let Some((file, sheet)) = sheets::parts(name) else {
        return match cx.read(name, Path::new(name)) {
            Ok(text) => Ok((name.to_owned(), text_rows(&text))),
            Err(problem) => cx.refuse(Exit::File, &[problem]),
        };
    };
    let bytes = match cx.read_bytes(file, Path::new(file)) {
        Ok(bytes) => bytes,
        Err(problem) => return cx.refuse(Exit::File, &[problem]),
    };
    match tankwright_run::rows(file, &bytes, sheet, words) {
        Ok((sheet, rows)) => {
            cx.quote(&sheet.name, &sheet.text);
            cx.say(&sheet.caution.into_iter().collect::<Vec<_>>());
            Ok((sheet.name, rows))
        }
        Err(problem) => cx.refuse(Exit::Job, &[problem]),
    }
}
