//! Writing a set of files: all of them or none, and never half of one.

use std::collections::BTreeSet;
use std::ffi::OsString;
use std::io;
use std::path::{Path, PathBuf};

use tankwright_quantities::problem::Problem;

use crate::files::{Files, Kind};
use crate::trouble;

/// A file to be written.
#[derive(Clone, Debug)]
pub(crate) struct Output {
    /// Where, as the user may read it.
    pub(crate) path: PathBuf,
    /// What.
    pub(crate) bytes: Vec<u8>,
}

/// A file on its way.
struct Step {
    name: String,
    temp: PathBuf,
    kept: Option<PathBuf>,
    path: PathBuf,
}

/// Writes all outputs beside their places first and renames them then. Their folder must exist.
///
/// # Errors
/// What stood in the way; every old file is as it was then, and no new one is left.
pub(crate) fn write_set(files: &dyn Files, outputs: &[Output]) -> Result<(), Problem> {
    let mut steps: Vec<Step> = Vec::new();
    let written = outputs.iter().try_for_each(|output| {
        steps.push(beside(files, output)?);
        Ok(())
    });
    let done = written.and_then(|()| rename_all(files, &mut steps, outputs.len() > 1));
    if done.is_err() {
        steps.iter().for_each(|s| clean(files, &s.temp));
    }
    steps.iter().filter_map(|s| s.kept.as_ref()).for_each(|kept| clean(files, kept));
    done
}

/// Writes all outputs, and makes their folders; of a set that is not written no folder stays either.
///
/// # Errors
/// What stood in the way.
pub(crate) fn write_with_folders(files: &dyn Files, outputs: &[Output]) -> Result<(), Problem> {
    let named = |folder: &&Path| !folder.as_os_str().is_empty();
    let folders: BTreeSet<&Path> = outputs.iter().filter_map(|o| o.path.parent()).filter(named).collect();
    let above = folders.iter().flat_map(|f| f.ancestors()).filter(named);
    let missing: BTreeSet<&Path> = above.filter(|f| files.kind(f) == Kind::Nothing).collect();
    let made = folders.into_iter().try_for_each(|f| make_folder(files, f));
    let written = made.and_then(|()| write_set(files, outputs));
    if written.is_err() {
        // Those inside before those round them; what is not empty stays.
        missing.iter().rev().for_each(|f| drop(files.remove_folder(f)));
    }
    written
}

/// Makes a folder for outputs.
///
/// # Errors
/// What stood in the way.
pub(crate) fn make_folder(files: &dyn Files, path: &Path) -> Result<(), Problem> {
    let name = path.display().to_string();
    match files.kind(path) {
        Kind::Folder => Ok(()),
        Kind::File => Err(Problem::error("F002", None, format!("`{name}` is a file, not a folder"))
            .hint("choose another folder, or move that file away")),
        Kind::Nothing => files.make_folder(path).map_err(|e| trouble::writing(&name, &e)),
    }
}

fn beside(files: &dyn Files, output: &Output) -> Result<Step, Problem> {
    let name = output.path.display().to_string();
    if files.kind(&output.path) == Kind::Folder {
        return Err(Problem::error("F002", None, format!("`{name}` is a folder, not a file"))
            .hint("choose another name, or move that folder away"));
    }
    // Renaming would take its place all the same.
    if files.protected(&output.path) {
        return Err(trouble::writing(&name, &io::Error::from(io::ErrorKind::PermissionDenied)));
    }
    let path = files.target(&output.path);
    let make = |temp: &Path| files.create(temp, &output.bytes);
    let temp = free_name(&path, "new", make).map_err(|e| trouble::writing(&name, &e))?;
    Ok(Step { name, temp, kept: None, path })
}

/// Renames one by one; what was replaced is kept until the last one is done, so that it can be put back.
fn rename_all(files: &dyn Files, steps: &mut [Step], keep: bool) -> Result<(), Problem> {
    let mut renamed = 0;
    let mut failed = None;
    for step in steps.iter_mut() {
        if keep && files.kind(&step.path) == Kind::File {
            match free_name(&step.path, "old", |kept| files.keep(&step.path, kept)) {
                Ok(kept) => step.kept = Some(kept),
                Err(e) => {
                    failed = Some(trouble::writing(&step.name, &e));
                    break;
                }
            }
        }
        if let Err(e) = files.rename(&step.temp, &step.path) {
            failed = Some(trouble::writing(&step.name, &e));
            break;
        }
        renamed += 1;
    }
    let Some(problem) = failed else { return Ok(()) };
    for step in steps.iter_mut().take(renamed) {
        match step.kept.take() {
            // Best effort: what cannot be put back stays under its second name.
            Some(kept) => drop(files.rename(&kept, &step.path)),
            None => clean(files, &step.path),
        }
    }
    Err(problem)
}

/// Letters of a file's name in the name beside it: a name can be as long as the disk takes, and is then too long with
/// more.
const LETTERS: usize = 40;

/// Makes a file under the first free name in the same folder. What a run left there that was killed is in nobody's way.
fn free_name(path: &Path, what: &str, make: impl Fn(&Path) -> io::Result<()>) -> io::Result<PathBuf> {
    let mut last = io::Error::from(io::ErrorKind::AlreadyExists);
    let own = path.file_name().unwrap_or_default();
    let long = own.to_string_lossy();
    let own = if own.len() > LETTERS * 4 {
        long.chars().take(LETTERS).collect::<String>().into()
    } else {
        own.to_owned()
    };
    for n in 0..10_000_u32 {
        let mut name = OsString::from(".");
        name.push(&own);
        name.push(format!(".{what}{n}"));
        let temp = path.with_file_name(name);
        match make(&temp) {
            Ok(()) => return Ok(temp),
            Err(e) if e.kind() == io::ErrorKind::AlreadyExists => last = e,
            Err(e) => return Err(e),
        }
    }
    Err(last)
}

/// Removes a file of our own making; that it is not there is as good.
fn clean(files: &dyn Files, path: &Path) {
    drop(files.remove(path));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fake::Fake;

    fn set(paths: &[&str]) -> Vec<Output> {
        paths.iter().map(|p| Output { path: PathBuf::from(p), bytes: b"new".to_vec() }).collect()
    }

    #[test]
    fn writes_all_and_leaves_nothing_beside() {
        let files = Fake::with(&[("out/a", "old"), ("out/.a.new0", "somebody's")]);
        assert_eq!(write_set(&files, &set(&["out/a", "out/b"])), Ok(()));
        assert_eq!(files.listing(), ["out/.a.new0=somebody's", "out/a=new", "out/b=new"]);
    }

    #[test]
    fn a_failing_write_leaves_the_old_file() {
        for failing in ["create out/.b.new0", "rename out/b", "keep out/.b.old0"] {
            let files = Fake::with(&[("out/a", "old a"), ("out/b", "old b")]);
            files.fail(failing);
            let problem = write_set(&files, &set(&["out/a", "out/b", "out/c"]));
            assert_eq!(problem.err().map(|p| p.code), Some("F008"), "{failing}");
            assert_eq!(files.listing(), ["out/a=old a", "out/b=old b"], "{failing}");
        }
        let files = Fake::with(&[("out/a", "old a")]);
        files.fail("rename out/c");
        assert!(write_set(&files, &set(&["out/a", "out/b", "out/c"])).is_err());
        assert_eq!(files.listing(), ["out/a=old a"]);
    }

    #[test]
    fn of_a_set_that_is_not_written_no_folder_stays() {
        let files = Fake::with(&[("there/old", "old")]);
        let all = set(&["there/out/a", "there/out/orders/b", "there/c"]);
        files.fail("create there/out/orders/.b.new0");
        assert!(write_with_folders(&files, &all).is_err());
        assert_eq!(files.listing(), ["there/old=old"]);
        let kinds = ["there/out/orders", "there/out", "there"].map(|f| files.kind(Path::new(f)));
        assert_eq!(kinds, [Kind::Nothing, Kind::Nothing, Kind::Folder]);
        // A folder that was there stays, though it is empty.
        let files = Fake::default();
        assert!(make_folder(&files, Path::new("out")).is_ok());
        files.fail("rename out/a");
        assert!(write_with_folders(&files, &set(&["out/a"])).is_err());
        assert_eq!(files.kind(Path::new("out")), Kind::Folder);
    }

    #[test]
    fn a_folder_in_the_place_of_a_file_is_named() {
        let files = Fake::with(&[("out/a/b", "")]);
        let problem = write_set(&files, &set(&["out/c", "out/a"]));
        assert_eq!(problem.err().map(|p| p.message), Some("`out/a` is a folder, not a file".to_owned()));
        assert_eq!(files.listing(), ["out/a/b="]);
    }
}
