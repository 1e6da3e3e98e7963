//! `tankwright rates`: lists, checks, blank lists, the built-in data.

use std::collections::BTreeSet;
use std::path::Path;

use tankwright_quantities::rates::{PriceList, builtin_files};

use crate::args::{Format, JobArgs, Rates};
use crate::context::{Context, Outcome};
use crate::engine;
use crate::exit::Exit;
use crate::files::Kind;
use crate::list::{self, List};
use crate::load::{self, Prices};
use crate::outputs::{Output, make_folder, write_set};
use crate::price_lists::{doubts, list_names, open_list};
use crate::trouble;

pub(super) fn run(args: &Rates, cx: &mut Context<'_>) -> Outcome {
    if let Some(job) = &args.blank {
        let (profile, date) = (args.profile.clone(), args.date.clone());
        let job = JobArgs { job: job.clone(), rates: None, profile, date };
        let e = load::estimate(cx, &job, Prices::Never, false)?;
        return cx.print(&engine::blank_rates(&e));
    }
    if let Some(folder) = &args.export {
        return export(cx, folder, args.force);
    }
    let builtin = args.check.is_empty();
    let names: Vec<String> =
        if builtin { list_names().into_iter().map(str::to_owned).collect() } else { args.check.clone() };
    check(cx, &names, builtin, args.format)
}

/// Reads every list, then tells all that is wrong and what the good ones hold.
fn check(cx: &mut Context<'_>, names: &[String], builtin: bool, format: Format) -> Outcome {
    let mut problems = Vec::new();
    let mut worst = None;
    let mut rows = Vec::new();
    for name in names {
        match open_list(cx, name, None, None) {
            Ok(list) => {
                problems.extend(list.cautions.clone());
                problems.extend(doubts(&list));
                rows.push(row(name, &list));
            }
            Err((exit, found)) => {
                problems.extend(found);
                worst = Some(worst.map_or(exit, |w: Exit| w.min(exit)));
            }
        }
    }
    let head = vec!["list", "currency", "rows", "from", "to", "without a rate", "source"];
    if !rows.is_empty() {
        cx.print(&list::print(&[List { name: "price lists", head, rows }], format))?;
    }
    match worst {
        Some(exit) if builtin => cx.refuse(exit.min(Exit::Fault), &problems),
        Some(exit) => cx.refuse(exit, &problems),
        None => {
            cx.say(&problems);
            Ok(())
        }
    }
}

fn row(name: &str, list: &PriceList) -> Vec<String> {
    let dates = || list.rows.iter().map(|r| r.date.as_str());
    let blank = list.rows.iter().filter(|r| r.rate.is_none()).count();
    let sources: BTreeSet<_> = list.rows.iter().map(|r| r.source.as_str()).collect();
    let source = match sources.len() {
        0..=2 => sources.into_iter().collect::<Vec<_>>().join("; "),
        n => format!("{n} sources"),
    };
    vec![
        name.to_owned(),
        list.currency.clone(),
        list.rows.len().to_string(),
        dates().min().unwrap_or_default().to_owned(),
        dates().max().unwrap_or_default().to_owned(),
        blank.to_string(),
        source,
    ]
}

/// Writes the built-in data as files.
fn export(cx: &mut Context<'_>, folder: &str, force: bool) -> Outcome {
    let folder = Path::new(folder);
    let output =
        |(path, text): &(&str, &str)| Output { path: folder.join(path), bytes: text.as_bytes().to_vec() };
    let outputs: Vec<_> = builtin_files().iter().map(output).collect();
    if !force {
        let there = outputs.iter().filter(|o| cx.files.kind(&o.path) == Kind::File);
        let problems: Vec<_> = there.map(|o| trouble::exists(&o.path.display().to_string())).collect();
        if !problems.is_empty() {
            return cx.refuse(Exit::File, &problems);
        }
    }
    let folders: BTreeSet<_> = outputs.iter().filter_map(|o| o.path.parent()).collect();
    let made = folders.into_iter().try_for_each(|f| make_folder(cx.files, f));
    if let Err(problem) = made.and_then(|()| write_set(cx.files, &outputs)) {
        return cx.refuse(Exit::File, &[problem]);
    }
    let text: String = outputs.iter().map(|o| format!("{}\n", o.path.display())).collect();
    cx.print(&text)
}
