//! `tankwright crosscheck`: a second take-off or bill held against the job, each difference explained.

use std::path::Path;

use tankwright_crosscheck::wording;
use tankwright_crosscheck::world::World;
use tankwright_crosscheck::{crosscheck, map};
use tankwright_quantities::flow::Settings;
use tankwright_quantities::problem::Problem;
use tankwright_run::Shape;

use crate::args::Crosscheck;
use crate::context::{Context, Outcome};
use crate::data;
use crate::engine;
use crate::exit::Exit;
use crate::files::Kind;
use crate::load::{Found, Prices, with_job};
use crate::other_lists::{self, OtherList};
use crate::outputs::{Output, write_set};

pub(super) fn run(args: &Crosscheck, cx: &mut Context<'_>) -> Outcome {
    let (job, e) = with_job(cx, &args.job, Prices::May, true)?;
    let stock = data::stock(cx, &mut Found::default());
    let settings = Settings {
        profile: args.job.over.profile.clone(),
        date: args.job.over.date.clone(),
        ..Settings::default()
    };
    let given = args.map.as_deref().filter(|name| cx.files.kind(Path::new(name)) == Kind::File);
    let map_text = match given.map(|name| cx.read(name, Path::new(name))) {
        Some(Ok(text)) => Some(text),
        Some(Err(problem)) => return cx.refuse(Exit::File, &[problem]),
        None => None,
    };
    let own = other_lists::words(cx)?;
    let words = own.as_ref().unwrap_or_else(|| wording::builtin());
    let OtherList { name: other, rows, .. } = other_lists::rows(cx, &args.other, words, Shape::TakeOff)?;
    let world = World::new(&job, &e, &stock, &settings);
    let found = crosscheck(&world, words, &other, &rows, given.zip(map_text.as_deref()));
    let place = |problems: Vec<Problem>, cx: &Context<'_>| {
        problems.into_iter().map(|p| other_lists::placed(p, cx)).collect::<Vec<_>>()
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
