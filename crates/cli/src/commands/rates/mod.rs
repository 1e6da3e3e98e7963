//! `tankwright rates`: lists, checks, comparisons, maps, blank lists, the built-in data.

mod check;
mod compare;
pub(crate) mod given;
mod map;
#[cfg(test)]
mod tests;

use std::path::Path;

use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::rates::lists::{asked, own_form};
use tankwright_quantities::rates::{Mark, ReadList, Reading, builtin_files};

use given::{DecimalMark, Rates};

use crate::args::{JobArgs, Over};
use crate::context::{Context, Outcome};
use crate::engine;
use crate::exit::Exit;
use crate::files::Kind;
use crate::load::{self, Prices};
use crate::outputs::{Output, write_with_folders};
use crate::price_lists::{Told, list_names, open, own_names};
use crate::trouble;

pub(super) fn run(args: &Rates, cx: &mut Context<'_>) -> Outcome {
    if let Some(job) = &args.blank {
        let e = load::estimate(cx, &job_args(args, job, None), Prices::Never, false)?;
        return cx.print(&engine::blank_rates(&e, args.build_ups));
    }
    if let Some(folder) = &args.export {
        return export(cx, folder, args.force);
    }
    if let Some(file) = &args.map {
        return map::run(args, cx, file);
    }
    if args.plain {
        let list = one(args, cx, "--plain prints one list")?;
        cx.say(&list.list.cautions);
        return cx.print(&own_form(&list.list));
    }
    if args.compare {
        return compare::run(args, cx);
    }
    let builtin = args.check.is_empty();
    let names: Vec<String> = if builtin {
        list_names().into_iter().map(str::to_owned).chain(own_names(cx)).collect()
    } else {
        args.check.clone()
    };
    check::run(args, cx, &names, builtin)
}

/// A job with what the command line says over it.
fn job_args(args: &Rates, job: &str, rates: Option<&str>) -> JobArgs {
    let (profile, date) = (args.profile.clone(), args.date.clone());
    JobArgs { job: job.to_owned(), over: Over { rates: rates.map(str::to_owned), profile, date } }
}

/// What the command line says of the lists, and what its job asks of them.
fn told(args: &Rates, e: Option<&Estimate>) -> Told {
    let asked = e.map(|e| asked(&e.bill)).unwrap_or_default();
    let mark = args.decimal.map(|m| match m {
        DecimalMark::Point => Mark::Point,
        DecimalMark::Comma => Mark::Comma,
    });
    let (currency, source, date) = (args.currency.clone(), args.source.clone(), args.of.clone());
    let heads = args.columns.iter().cloned().collect();
    Told {
        reading: Reading { currency, source, date, tax: args.tax, mark, heads, asked, ..Reading::default() },
        map: args.map.clone(),
    }
}

/// The job that the lists are looked at for, measured without prices.
fn for_job(args: &Rates, cx: &mut Context<'_>) -> Outcome<Option<Estimate>> {
    let job = args.for_job.as_ref();
    job.map(|job| load::estimate(cx, &job_args(args, job, None), Prices::Never, false)).transpose()
}

/// The one list that the command line names.
fn one(args: &Rates, cx: &mut Context<'_>, what: &str) -> Outcome<ReadList> {
    let job = for_job(args, cx)?;
    let [name] = &args.check[..] else {
        cx.note(&format!("error: {what}; lists named: {}\n", args.check.len()));
        return Err(Exit::Usage);
    };
    open(cx, name, None, None, &told(args, job.as_ref()))
        .or_else(|(exit, problems)| cx.refuse(exit, &problems))
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
    if let Err(problem) = write_with_folders(cx.files, &outputs) {
        return cx.refuse(Exit::File, &[problem]);
    }
    let text: String = outputs.iter().map(|o| format!("{}\n", o.path.display())).collect();
    cx.print(&text)
}
