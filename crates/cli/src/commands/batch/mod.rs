//! `tankwright batch`: many jobs, one row each, whatever happens to one of them.

pub(crate) mod given;
mod jobs;
mod one;
mod pool;
mod results;
mod tally;
#[cfg(test)]
mod tests;

use std::cell::RefCell;
use std::path::{Path, PathBuf};

use crate::context::{Context, Outcome};
use crate::data;
use crate::exit::Exit;
use crate::kept::{Kept, Named, Print, look};
use crate::load::{Found, profile_unknown};
use crate::outputs::make_folder;
use given::Batch;
use jobs::Jobs;
use one::{Done, World};
use results::{BOOKS, Begin, MESSAGES, RESULTS, Results};

/// Where nobody looks on, so many lines tell how far it is.
const PARTS: usize = 10;

pub(super) fn run(args: &Batch, cx: &mut Context<'_>) -> Outcome {
    let jobs = jobs::find(args, cx)?;
    let mut found = Found::default();
    let (stock, rules) = (data::stock(cx, &mut found), data::rules(cx, &mut found));
    let unknown = args.over.profile.as_ref().and_then(|name| profile_unknown(&stock, name));
    found.add(Exit::Usage, unknown.into_iter().collect());
    if let Some(exit) = found.exit {
        return cx.refuse(exit, &found.problems);
    }
    cx.say(&found.problems);
    let results = Results::new(cx.files, Path::new(&args.out));
    let asked = asked(args, &jobs, cx);
    let (files, own) = (cx.files, (cx.data.clone(), cx.home));
    let now = |line: &str| {
        let (mut out, mut err) = (std::io::sink(), std::io::sink());
        let mut apart = Context::new(&mut out, &mut err, files);
        (apart.data, apart.home) = own.clone();
        let named = named(line)?;
        Some(list_line(&named, look(&apart, &named).1))
    };
    let Begin::After(tally) = results.begin(cx, (args.resume, args.force), &asked, now)? else {
        return Ok(());
    };
    if args.workbooks
        && let Err(problem) = make_folder(cx.files, &results.path(BOOKS))
    {
        return cx.refuse(Exit::File, &[problem]);
    }
    let first = |named: &Named, print: u64| results.note(&list_line(named, print));
    let kept = Kept::new(stock, rules, &first);
    let count = jobs.count();
    let digits = count.to_string().len();
    let world = World { args, jobs: &jobs, kept: &kept, files, data: own.clone(), digits };
    let (done, watched) = (tally.done, files.watched());
    let threads = args.threads.map_or_else(cores, usize::from);
    let before = if done > 0 { format!(", {done} done before") } else { String::new() };
    cx.note(&format!("jobs: {count}{before}; threads: {threads}\n"));
    // Only this thread writes: the others wait for nothing but their turn.
    let told = RefCell::new((cx, tally));
    let take = |n: usize, job: Done| {
        if let Some(full) = job.full {
            return Err(full);
        }
        results.add(&job.row, n + 1, &job.site, &job.said)?;
        let (cx, tally) = &mut *told.borrow_mut();
        tally.add(job.exit.code(), &job.site, &job.problems, job.complies);
        let step = count.div_ceil(PARTS);
        if !watched && count > PARTS && tally.done.is_multiple_of(step) && tally.done < count {
            cx.note(&format!("{} of {count}, {} refused\n", tally.done, tally.refused));
        }
        Ok(())
    };
    let idle = || {
        let (cx, tally) = &mut *told.borrow_mut();
        if watched {
            cx.note(&format!("\r{} of {count}, {} refused", tally.done, tally.refused));
        }
    };
    let ended = pool::in_order((done, count), threads, |n| one::one(&world, n), take, idle);
    let (cx, tally) = told.into_inner();
    if watched {
        cx.note(&format!("\r{}\r", " ".repeat(60)));
    }
    if let Err(problem) = ended.and_then(|()| results.finish()) {
        cx.note(&format!("stopped after {} of {count} jobs; --resume goes on\n", tally.done));
        return cx.refuse(Exit::File, &[problem]);
    }
    let shown = |name| results.path(name).display().to_string();
    tally.tell(cx, &shown(RESULTS), &shown(MESSAGES));
    tally.outcome()
}

/// One thread a core.
fn cores() -> usize {
    std::thread::available_parallelism().map_or(1, usize::from)
}

/// What a run is asked, line by line: what it is about, and a figure or word that differs where that differs.
fn asked(args: &Batch, jobs: &Jobs, cx: &Context<'_>) -> String {
    let mut own = Print::default();
    for (name, text) in cx.texts() {
        own.add(name.as_bytes());
        own.add(text.as_bytes());
    }
    let said = |word: &Option<String>| word.as_deref().unwrap_or("as the job says").to_owned();
    let lines = [
        ("tankwright batch", "1".to_owned()),
        ("the program", cx.files.program()),
        ("number of jobs", jobs.count().to_string()),
        ("job files, base or sites", format!("{:016x}", jobs.print(cx))),
        ("own data", format!("{:016x}", own.done())),
        ("--rates", said(&args.over.rates)),
        ("--profile", said(&args.over.profile)),
        ("--date", said(&args.over.date)),
        ("--workbooks", args.workbooks.to_string()),
    ];
    lines.iter().map(|(what, is)| format!("{what}\t{}\n", crate::show::clean(is))).collect()
}

/// A price list as it was read first.
fn list_line((name, base): &Named, print: u64) -> String {
    let base = base.as_ref().map_or_else(|| "-".to_owned(), |b| format!("/{}", b.display()));
    format!("price list {name}\t{print:016x}\t{base}\t{name}")
}

/// The list that such a line is about.
fn named(line: &str) -> Option<Named> {
    let mut parts = line.strip_prefix("price list ")?.splitn(4, '\t').skip(2);
    let base = parts.next()?;
    Some((parts.next()?.to_owned(), base.strip_prefix('/').map(PathBuf::from)))
}
