//! `tankwright estimate`: workbook, drawings, stage cards, messages and calendar into a folder, and one screen; offer,
//! cards to print and the workbook's pictures too where they are asked for.

use std::panic::resume_unwind;
use std::path::{Path, PathBuf};

use tankwright_quantities::estimate::{Balance, Estimate as Made};
use tankwright_quantities::job::Job;
#[cfg(feature = "papers")]
use tankwright_quantities::languages;

use crate::args::Estimate;
use crate::context::{Context, Outcome};
use crate::engine::{self, NoBook};
use crate::exit::Exit;
use crate::files::{Files, Kind};
use crate::load::{self, Prices};
use crate::outputs::{Output, write_with_folders};
use crate::trouble::LONGEST;

/// What `--help` says at its end.
#[cfg(feature = "papers")]
pub(crate) const HELP: &str = "Examples:\n  tankwright estimate samples/rest-house/job.toml --out out\n  \
    tankwright estimate job.toml --out out --papers\n\n\
    With --papers the folder gets offer.pdf and cards.pdf as well, and the workbook pictures of plan and section: \
    all of it, or nothing.";
#[cfg(not(feature = "papers"))]
pub(crate) const HELP: &str = "Example:\n  tankwright estimate samples/rest-house/job.toml --out out";

pub(super) fn run(args: &Estimate, cx: &mut Context<'_>) -> Outcome {
    let Some(out) = &args.out else {
        let e = load::estimate(cx, &args.job, Prices::Must, false)?;
        cx.note("no files are written: --out names no folder\n");
        return cx.print(&engine::screen(&e, &[]));
    };
    let (job, mut e) = load::with_job(cx, &args.job, Prices::Must, true)?;
    let (bytes, others) = papers(args, cx, &job, &mut e)?;
    let folder = Path::new(out);
    let path: PathBuf = folder.join(format!("{}.xlsx", stem(&args.job.job, cx.files)));
    let mut outputs = vec![Output { path, bytes }];
    outputs.extend(others.into_iter().map(|(name, bytes)| Output { path: folder.join(name), bytes }));
    let replaced = replaced(cx.files, &outputs);
    if let Err(problem) = write_with_folders(cx.files, &outputs) {
        return cx.refuse(Exit::File, &[problem]);
    }
    for name in replaced {
        cx.note(&format!("{name} stood there with other contents and is replaced\n"));
    }
    for name in left_over(cx.files, folder, &outputs) {
        cx.note(&format!("{name} is of an earlier run, this one has no such file\n"));
    }
    cx.print(&engine::screen(&e, &names(folder, &outputs)))
}

/// The workbook, its balance with those of the estimate; nothing where it does not close.
pub(super) fn workbook(cx: &mut Context<'_>, e: &mut Made) -> Outcome<Vec<u8>> {
    let made = engine::workbook(e);
    closed(cx, e, made)
}

fn closed(cx: &mut Context<'_>, e: &mut Made, made: Result<(Vec<u8>, Balance), NoBook>) -> Outcome<Vec<u8>> {
    match made {
        Ok((bytes, balance)) => {
            e.balances.push(balance);
            Ok(bytes)
        }
        Err(NoBook::Balance(balance)) => cx.unbalanced(&[balance]),
        Err(NoBook::Problems(problems)) => cx.refuse(Exit::Fault, &problems),
    }
}

/// Folder of stage cards and messages, in the folder of the job.
const ORDERS: &str = "orders";
/// Folder of drawings.
const DRAWINGS: &str = "drawings";
/// Papers to print.
const PRINTED: [&str; 2] = ["offer.pdf", "cards.pdf"];

/// Files by path in the folder of the job.
type Papers = Vec<(String, Vec<u8>)>;

/// The workbook, and beside it all that is text.
fn plain(cx: &mut Context<'_>, e: &mut Made) -> Outcome<(Vec<u8>, Papers)> {
    let of = &*e;
    let (made, texts) = std::thread::scope(|scope| {
        let texts = scope.spawn(|| texts(of));
        let made = engine::workbook(of);
        (made, texts.join().unwrap_or_else(|panic| resume_unwind(panic)))
    });
    closed(cx, e, made).map(|bytes| (bytes, texts))
}

/// Stage cards, messages, calendar, every drawing.
fn texts(e: &Made) -> Papers {
    let drawing = |d: tankwright_draw::Drawing| (format!("{DRAWINGS}/{}.svg", d.id), d.svg);
    let drawings = tankwright_draw::drawings(e).into_iter().map(drawing);
    let all = engine::site_files(e).into_iter().chain(drawings);
    all.map(|(name, text)| (name, text.into_bytes())).collect()
}

/// The workbook and all texts; where they are asked for, offer and cards too, and pictures in the workbook.
#[cfg(feature = "papers")]
fn papers(args: &Estimate, cx: &mut Context<'_>, job: &Job, e: &mut Made) -> Outcome<(Vec<u8>, Papers)> {
    if !args.papers {
        return plain(cx, e);
    }
    let mut found = load::Found::default();
    let firm = crate::firm::firm(cx, job, &mut found);
    if let Some(exit) = found.exit {
        return cx.refuse(exit, &found.problems);
    }
    let of = &*e;
    let (made, printed, mut all) = std::thread::scope(|scope| {
        // The cards take as long as all the rest.
        let cards = scope.spawn(|| tankwright_run::print_cards(of, None, languages::english()));
        let made = tankwright_run::illustrated(of);
        let offer = tankwright_run::print_offer(of, job, Default::default(), firm);
        let texts = texts(of);
        let cards = cards.join().unwrap_or_else(|panic| resume_unwind(panic));
        (made, [offer, cards.map(|p| p.bytes)], texts)
    });
    let bytes = closed(cx, e, made)?;
    for (name, made) in PRINTED.into_iter().zip(printed) {
        match made {
            Ok(bytes) => all.push((name.to_owned(), bytes)),
            Err(why) => return crate::printed::not_printed(cx, &why),
        }
    }
    Ok((bytes, all))
}

/// Nothing is printed without the feature.
#[cfg(not(feature = "papers"))]
fn papers(_: &Estimate, cx: &mut Context<'_>, _: &Job, e: &mut Made) -> Outcome<(Vec<u8>, Papers)> {
    plain(cx, e)
}

/// Files as the screen names them; those in a folder of their own together.
fn names(folder: &Path, outputs: &[Output]) -> Vec<String> {
    let beside = outputs.iter().filter(|o| o.path.parent() == Some(folder));
    let mut names: Vec<_> = beside.map(|o| o.path.display().to_string()).collect();
    for inner in [ORDERS, DRAWINGS].map(|name| folder.join(name)) {
        let files = outputs.iter().filter(|o| o.path.parent() == Some(&inner)).count();
        if files > 0 {
            names.push(engine::folder_of(&inner.display().to_string(), files));
        }
    }
    names
}

/// Files of ours that this run has not written: a card of a stage that is no more misleads, and so does an old offer.
fn left_over(files: &dyn Files, folder: &Path, outputs: &[Output]) -> Vec<String> {
    let inside = |(name, kind): (&str, &'static str)| {
        let inner = folder.join(name);
        let all = files.list(&inner).unwrap_or_default().into_iter().map(move |name| inner.join(name));
        all.filter(move |p| p.extension().is_some_and(|e| e == kind))
    };
    let there = [(ORDERS, "txt"), (DRAWINGS, "svg")].into_iter().flat_map(inside);
    let there = there.chain(PRINTED.into_iter().map(|name| folder.join(name)));
    let old = |p: &PathBuf| files.kind(p) == Kind::File && !outputs.iter().any(|o| o.path == *p);
    there.filter(old).map(|p| p.display().to_string()).collect()
}

/// Files that stand there already and hold something else, be it what somebody changed in them.
fn replaced(files: &dyn Files, outputs: &[Output]) -> Vec<String> {
    let other = |o: &&Output| match files.read(&o.path, LONGEST) {
        Ok(old) => old != o.bytes,
        Err(_) => files.kind(&o.path) == Kind::File,
    };
    outputs.iter().filter(other).map(|o| o.path.display().to_string()).collect()
}

/// What files of a job are called: its folder's name where the file is just `job.toml`, else its own.
pub(super) fn stem(job: &str, files: &dyn Files) -> String {
    let path = Path::new(job);
    let own = path.file_stem().map(|s| s.to_string_lossy().into_owned());
    let own = own.filter(|s| job != "-" && !s.is_empty()).unwrap_or_else(|| "job".to_owned());
    if !own.eq_ignore_ascii_case("job") || job == "-" {
        return own;
    }
    let whole = files.absolute(path);
    let folder = whole.parent().and_then(Path::file_name).map(|f| f.to_string_lossy().into_owned());
    folder.unwrap_or(own)
}

#[cfg(test)]
mod tests {
    use super::stem;
    use crate::fake::Fake;

    #[test]
    fn names_of_files() {
        let files = Fake::default();
        for (job, name) in [
            ("samples/rest-house/job.toml", "rest-house"),
            ("job.toml", "here"),
            ("jobs/clinic.v2.toml", "clinic.v2"),
            ("-", "job"),
            ("/job.toml", "job"),
            ("my jobs/Brunnen süd.toml", "Brunnen süd"),
        ] {
            assert_eq!(stem(job, &files), name, "{job}");
        }
    }
}
