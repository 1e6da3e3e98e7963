//! `tankwright estimate`: workbook, stage cards, messages and calendar into a folder, and one screen.

use std::path::{Path, PathBuf};

use crate::args::Estimate;
use crate::context::{Context, Outcome};
use crate::engine::{self, NoBook};
use crate::exit::Exit;
use crate::files::{Files, Kind};
use crate::load::{self, Prices};
use crate::outputs::{Output, make_folder, write_set};
use crate::trouble::LONGEST;

pub(super) fn run(args: &Estimate, cx: &mut Context<'_>) -> Outcome {
    let Some(out) = &args.out else {
        let e = load::estimate(cx, &args.job, Prices::Must, false)?;
        cx.note("no files are written: --out names no folder\n");
        return cx.print(&engine::screen(&e, &[]));
    };
    let mut e = load::estimate(cx, &args.job, Prices::Must, true)?;
    let bytes = match engine::workbook(&e) {
        Ok((bytes, balance)) => {
            e.balances.push(balance);
            bytes
        }
        Err(NoBook::Balance(balance)) => return cx.unbalanced(&[balance]),
        Err(NoBook::Problems(problems)) => return cx.refuse(Exit::Fault, &problems),
    };
    let folder = Path::new(out);
    let path: PathBuf = folder.join(format!("{}.xlsx", stem(&args.job.job, cx.files)));
    let mut outputs = vec![Output { path, bytes }];
    let site = engine::site_files(&e);
    outputs.extend(
        site.into_iter().map(|(name, text)| Output { path: folder.join(name), bytes: text.into_bytes() }),
    );
    let replaced = replaced(cx.files, &outputs);
    let folders = [folder.to_owned(), folder.join(ORDERS)];
    let needed = folders.iter().filter(|f| outputs.iter().any(|o| o.path.parent() == Some(f)));
    let made = needed.into_iter().try_for_each(|f| make_folder(cx.files, f));
    let written = made.and_then(|()| write_set(cx.files, &outputs));
    if let Err(problem) = written {
        return cx.refuse(Exit::File, &[problem]);
    }
    for name in replaced {
        cx.note(&format!("{name} stood there with other contents and is replaced\n"));
    }
    for name in left_over(cx.files, &folder.join(ORDERS), &outputs) {
        cx.note(&format!("{name} is of an earlier run, this one has no such file\n"));
    }
    cx.print(&engine::screen(&e, &names(folder, &outputs)))
}

/// Folder of stage cards and messages, in the folder of the job.
const ORDERS: &str = "orders";

/// Files as the screen names them; those in the folder of orders together.
fn names(folder: &Path, outputs: &[Output]) -> Vec<String> {
    let orders = folder.join(ORDERS);
    let (inside, beside): (Vec<_>, Vec<_>) = outputs.iter().partition(|o| o.path.parent() == Some(&orders));
    let mut names: Vec<_> = beside.iter().map(|o| o.path.display().to_string()).collect();
    if !inside.is_empty() {
        names.push(engine::folder_of(&orders.display().to_string(), inside.len()));
    }
    names
}

/// Texts in the folder of orders that this run has not written: a card of a stage that is no more misleads.
fn left_over(files: &dyn Files, folder: &Path, outputs: &[Output]) -> Vec<String> {
    let there = files.list(folder).unwrap_or_default().into_iter().map(|name| folder.join(name));
    let ours = |p: &PathBuf| outputs.iter().any(|o| o.path == *p);
    let text = |p: &PathBuf| p.extension().is_some_and(|e| e == "txt");
    there.filter(|p| text(p) && !ours(p)).map(|p| p.display().to_string()).collect()
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
