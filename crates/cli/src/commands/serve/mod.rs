//! `tankwright serve`: the local page. What it may know of this machine is read here, before it begins.

pub(crate) mod given;

use std::path::Path;
use std::sync::Arc;

use tankwright_quantities::flow::Settings;
use tankwright_quantities::problem::Problem;
use tankwright_quantities::rates::{PriceList, Stock, builtin_prices};
use tankwright_run::{Data, read_job};
use tankwright_web::{FirmText, Given, serve};

use super::estimate::stem;
use super::new::{SAMPLE_NAMES, TEXTS};
use crate::context::{Context, Outcome};
use crate::data;
use crate::exit::Exit;
use crate::load::{Found, asked, price_list};
use crate::other_lists::words;
use crate::trouble;
use given::Serve;

/// The sample that is shown where no job is named.
const SAMPLE: &str = "rest-house";

pub(super) fn run(args: &Serve, cx: &mut Context<'_>) -> Outcome {
    let mut found = Found::default();
    let stock = data::stock(cx, &mut found);
    let rules = data::rules(cx, &mut found);
    if let Some(exit) = found.exit {
        return cx.refuse(exit, &found.problems);
    }
    cx.say(&found.problems);
    let words = words(cx)?;
    let samples: Vec<(&str, &str)> = SAMPLE_NAMES.into_iter().zip(TEXTS).collect();
    let (name, text) = match &args.job {
        Some(name) => match cx.read(name, Path::new(name)) {
            Ok(text) => (name.clone(), text),
            Err(problem) => return cx.refuse(Exit::File, &[problem]),
        },
        None => {
            let text = samples.iter().find(|(n, _)| *n == SAMPLE).map_or("", |(_, text)| text);
            (format!("{SAMPLE}.toml"), text.to_owned())
        }
    };
    let lists = lists(cx, &name, &text, &stock);
    let firm = firm(cx);
    let stem = stem(&name, cx.files);
    let whence = data::whence(cx);
    let given = Given {
        name,
        stem,
        text,
        data: Data { stock: Arc::unwrap_or_clone(stock), rules: Arc::unwrap_or_clone(rules), whence },
        lists,
        firm,
        words,
        samples,
    };
    let mut told = Ok(());
    let ended = serve(given, args.port, |address| {
        told = cx.print(&format!("http://{address}/\n")).and_then(|()| cx.flush());
        cx.note("the page is at this address, on this machine alone; Ctrl-C ends it\n");
        told.is_ok()
    });
    told?;
    match ended {
        Ok(()) => Ok(()),
        Err(e) => {
            let message = format!("the page cannot be served on port {}: {}", args.port, trouble::plain(&e));
            let hint = "leave --port out: one that is free is found";
            cx.refuse(Exit::File, &[Problem::error("F010", None, message).hint(hint)])
        }
    }
}

/// Who offers, by the user's own data. What is wrong there is told, and the page begins without it.
#[cfg(feature = "papers")]
fn firm(cx: &mut Context<'_>) -> Option<FirmText> {
    let mut found = Found::default();
    let firm = crate::firm::kept(cx, &mut found);
    cx.say(&found.problems);
    if found.exit.is_some() {
        cx.note("\nthe page begins without this firm\n");
        return None;
    }
    firm.map(|(_, name, text)| FirmText { name, text })
}

/// Nothing is printed without the feature.
#[cfg(not(feature = "papers"))]
fn firm(_: &mut Context<'_>) -> Option<FirmText> {
    None
}

/// The price list that the job names by a path, or that is the user's own: the page itself reads no files. One that
/// cannot be read is told, and the page begins without it.
fn lists(cx: &mut Context<'_>, file: &str, text: &str, stock: &Stock) -> Vec<(String, PriceList)> {
    let (job, _) = read_job(file, text, false);
    let name = job.text("job.rates").to_owned();
    if name.is_empty() || builtin_prices(&name).is_some() && !name.contains('/') && cx.data.is_none() {
        return Vec::new();
    }
    let base = Path::new(file).parent().filter(|_| file != "-");
    let (mut found, asked) = (Found::default(), || asked(&job, stock, &Settings::default()));
    let list = price_list(cx, &name, base, job.place("job.rates"), &asked, &mut found);
    if list.is_none() {
        cx.say(&found.problems);
        cx.note("\nthe page begins without this price list\n");
    }
    list.into_iter().map(|list| (name.clone(), Arc::unwrap_or_clone(list))).collect()
}
