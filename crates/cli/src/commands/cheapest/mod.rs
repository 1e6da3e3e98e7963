//! `tankwright cheapest`: the cheapest tank that complies, within limits that the user gives.

mod args;
mod progress;
#[cfg(test)]
mod tests;

use std::path::{Path, PathBuf};
use std::time::Instant;

use tankwright_cheapest::{Ended, Halt, Report, Start};
use tankwright_quantities::problem::Problem;
use tankwright_quantities::rates::PriceList;
use tankwright_run::Wish;
use tankwright_sizing::Rules;

use crate::args::Format;
use crate::context::{Context, Outcome};
use crate::data;
use crate::engine;
use crate::exit::Exit;
use crate::files::Kind;
use crate::load::{self, Found, Loaded, Prices};
use crate::outputs::{Output, make_folder, write_set};
use crate::show;
use crate::trouble;
pub(crate) use args::{Cheapest, HELP};

pub(super) fn run(args: &Cheapest, cx: &mut Context<'_>) -> Outcome {
    if let Some(file) = &args.out {
        match cx.files.kind(Path::new(file)) {
            Kind::Folder => return cx.refuse(Exit::File, &[trouble::folder(file)]),
            Kind::File if !args.force => return cx.refuse(Exit::File, &[trouble::exists(file)]),
            Kind::File | Kind::Nothing => {}
        }
    }
    let mut found = Found::default();
    let rules = data::rules(cx, &mut found);
    if let Some(exit) = found.exit {
        return cx.refuse(exit, &found.problems);
    }
    let loaded = load::with_all(cx, &args.job, Prices::Must, false)?;
    // Without a price list the job is refused before this.
    let Some(list) = &loaded.list else { return Err(Exit::Fault) };
    let text = cx.text(&loaded.job.file).unwrap_or_default().to_owned();
    let start = match start(args, &rules, &loaded, list, &text) {
        Ok(start) => start,
        Err(problems) => return cx.refuse(Exit::Usage, &problems),
    };
    // The clock is read here and in `cut`, and nowhere else: no figure hangs on it.
    let begin = Instant::now();
    let bar = cx.files.watched() && args.format != Format::Json;
    let report = match progress::watched(cx, start, bar) {
        Ok(report) => report,
        Err(ended) => return failed(cx, &loaded, ended),
    };
    let millis = begin.elapsed().as_millis();
    let seconds = format!("{}.{:03}", millis / 1_000, millis % 1_000);
    let all = report.candidates + report.beyond_candidates;
    cx.note(&format!("{all} candidates in {seconds} s\n"));
    cx.print(&engine::cheapest(&report, &seconds, args.format))?;
    match &args.out {
        Some(file) => write(args, cx, &report, file),
        None => Ok(()),
    }
}

/// Everything that the search needs, or all that is wrong with what was asked.
fn start<'a>(
    args: &'a Cheapest,
    rules: &'a Rules,
    loaded: &'a Loaded,
    prices: &'a PriceList,
    text: &'a str,
) -> Result<Start<'a>, Vec<Problem>> {
    let Loaded { job, estimate: drawn, stock, settings, .. } = loaded;
    let mut problems = Vec::new();
    if args.pick > args.top {
        let message = format!("--pick {} is beyond the {} best that are kept", args.pick, args.top);
        problems.push(Problem::error("U058", None, message).hint("give a larger --top"));
    }
    let cores = || std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let threads = args.threads.map_or_else(cores, usize::from);
    let (rule, given, top) = (args.rule.as_deref(), args.given(), usize::from(args.top));
    let wish = Wish { text, job, drawn, stock, rules, prices, settings, rule, given, top, threads };
    tankwright_run::start(&wish, problems)
}

fn failed(cx: &mut Context<'_>, loaded: &Loaded, ended: Ended) -> Outcome {
    match ended {
        Ended::Problems(problems) => cx.refuse(Exit::Usage, &problems),
        Ended::Halt(Halt::Balance(number, balances)) => {
            cx.note(&format!("candidate {} of {}:\n", number + 1, loaded.job.file));
            cx.unbalanced(&balances)
        }
        Ended::Halt(Halt::Stopped) => {
            cx.note("error: fault of the program: the search stopped before its end\n");
            Err(Exit::Fault)
        }
        Ended::Differs(d) => {
            cx.note(&format!(
                "error: search and estimate disagree about candidate {}: {}; this is a fault of the program, \
                 nothing is written\nhint: please report it, with the job file\n",
                d.number, d.words
            ));
            Err(Exit::Balance)
        }
    }
}

/// The picked tank as a job file.
fn write(args: &Cheapest, cx: &mut Context<'_>, report: &Report, file: &str) -> Outcome {
    let Some(chosen) = report.best.get(usize::from(args.pick) - 1) else {
        let message = format!("there is no tank number {} to write", args.pick);
        let problem = Problem::error("U058", None, message);
        return cx.refuse(Exit::Usage, &[problem.hint(format!("{} comply", report.tally.priced))]);
    };
    let path = Path::new(file);
    let output = Output { path: PathBuf::from(path), bytes: chosen.job.clone().into_bytes() };
    let folder = path.parent().filter(|f| !f.as_os_str().is_empty());
    let made = folder.map_or(Ok(()), |folder| make_folder(cx.files, folder));
    if let Err(problem) = made.and_then(|()| write_set(cx.files, &[output])) {
        return cx.refuse(Exit::File, &[problem]);
    }
    if path.parent() != Path::new(&report.file).parent() {
        cx.note("a price list that the job names by its path is looked for beside the new file\n");
    }
    let next = show::argument(file);
    cx.note(&format!("{file} is written; next: tankwright estimate {next} --out out\n"));
    Ok(())
}
