//! One job of a batch, apart from all others: its own streams, its own messages, its own end.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};

use tankwright_export::batch::{self, Ended};
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::problem::Problem;

use super::given::Batch;
use super::jobs::{Jobs, One};
use super::results::BOOKS;
use crate::args::JobArgs;
use crate::commands::estimate::workbook;
use crate::context::{Context, Outcome};
use crate::exit::Exit;
use crate::files::Files;
use crate::kept::Kept;
use crate::load::{self, Prices};
use crate::outputs::{Output, write_set};
use crate::show::clean;

/// Letters of a workbook's name.
const LONG: usize = 60;

/// What every job of the batch stands in.
pub(super) struct World<'a> {
    pub(super) args: &'a Batch,
    pub(super) jobs: &'a Jobs,
    pub(super) kept: &'a Kept<'a>,
    pub(super) files: &'a dyn Files,
    /// The user's own data, and how papers name them.
    pub(super) data: (Option<PathBuf>, Option<&'static str>),
    /// Digits of a job's number.
    pub(super) digits: usize,
}

/// A job that is done with.
pub(super) struct Done {
    /// What people call it.
    pub(super) site: String,
    /// Its line of the results.
    pub(super) row: String,
    /// What was said of it.
    pub(super) said: String,
    /// How it ended.
    pub(super) exit: Exit,
    /// Codes of its errors.
    pub(super) problems: String,
    /// Whether it complies with its rule: `yes`, `no` or nothing.
    pub(super) complies: &'static str,
    /// The disk takes no workbook: it would take no other.
    pub(super) full: Option<Problem>,
}

/// Estimates one job.
pub(super) fn one(world: &World<'_>, n: usize) -> Done {
    let (mut out, mut err) = (std::io::sink(), Vec::new());
    let mut cx = Context::new(&mut out, &mut err, world.files);
    (cx.data, cx.home) = world.data.clone();
    cx.kept = Some(world.kept);
    let One { site, job, row: place, text } = world.jobs.one(n, &cx);
    let site = clean(&site);
    let mut full = None;
    let made = catch_unwind(AssertUnwindSafe(|| match text {
        Ok(text) => estimate(world, &mut cx, n, (&site, &job), text, &mut full),
        Err(problem) => {
            if let Some((file, text)) = world.jobs.quoted() {
                cx.quote(file, text);
            }
            cx.refuse(Exit::Job, &[*problem])
        }
    }));
    let (made, exit) = match made {
        Ok(Ok(made)) => (Some(made), Exit::Done),
        Ok(Err(exit)) => (None, exit),
        Err(_) => {
            cx.note("error: fault of the program\nhint: please report it, with the job file\n");
            (None, Exit::Fault)
        }
    };
    let problems = std::mem::take(&mut cx.told);
    let (estimate, workbook) = made.as_ref().map_or((None, ""), |(e, book)| (Some(e), book.as_str()));
    let ended = Ended {
        row: n + 1,
        site: &site,
        job: &clean(&job),
        exit: exit.code(),
        problems: &problems,
        estimate,
        workbook,
    };
    let row = batch::row(&ended);
    let complies = batch::complies(estimate);
    let problems = problems.join(" ");
    let mut said = String::from_utf8_lossy(&err).into_owned();
    if let Some(place) = place.filter(|_| !said.is_empty()) {
        said = format!("{} as {} changes it\n{said}", clean(&job), clean(&place));
    }
    Done { site, row, said, exit, problems, complies, full }
}

/// The estimate, and the name of the workbook where one is asked for.
fn estimate(
    world: &World<'_>,
    cx: &mut Context<'_>,
    n: usize,
    (site, job): (&str, &str),
    text: Option<String>,
    full: &mut Option<Problem>,
) -> Outcome<(Estimate, String)> {
    let Batch { over, workbooks, out, .. } = world.args;
    cx.instead = text.map(|text| (PathBuf::from(job), text));
    let asked = JobArgs { job: job.to_owned(), over: over.clone() };
    let mut e = load::estimate(cx, &asked, Prices::Must, *workbooks)?;
    if !workbooks {
        return Ok((e, String::new()));
    }
    let bytes = workbook(cx, &mut e)?;
    let name = format!("{BOOKS}/{:0digits$}-{}.xlsx", n + 1, file_name(site), digits = world.digits);
    let path = Path::new(out).join(&name);
    match write_set(cx.files, &[Output { path, bytes }]) {
        Ok(()) => Ok((e, name)),
        Err(problem) => {
            *full = Some(problem);
            Err(Exit::File)
        }
    }
}

/// A name as any disk takes it.
fn file_name(site: &str) -> String {
    let plain = |c: char| if c.is_alphanumeric() { c } else { '-' };
    let words: String = site.chars().map(plain).collect();
    let words: Vec<_> = words.split('-').filter(|w| !w.is_empty()).collect();
    let name: String = words.join("-").chars().take(LONG).collect();
    if name.is_empty() { "job".to_owned() } else { name }
}

#[cfg(test)]
mod tests {
    use super::file_name;

    #[test]
    fn names_of_workbooks() {
        for (site, name) in [
            ("Hill road, 12", "Hill-road-12"),
            ("../../etc/passwd", "etc-passwd"),
            ("Brunnen süd", "Brunnen-süd"),
            ("=?", "job"),
        ] {
            assert_eq!(file_name(site), name);
        }
        assert_eq!(file_name(&"a".repeat(300)).len(), 60);
    }
}
