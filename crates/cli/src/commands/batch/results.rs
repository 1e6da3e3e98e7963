//! What a batch writes: rows and messages as they come, and what `--resume` must know.
//!
//! A row stands when its line end is written; messages come before their row. So whatever stops the run, what is left
//! is a table of whole rows, and at most the messages of one row more, which `--resume` takes out.

use std::path::{Path, PathBuf};

use tankwright_export::batch;
use tankwright_quantities::problem::Problem;

use super::tally::Tally;
use crate::context::{Context, Outcome};
use crate::exit::Exit;
use crate::files::{Files, Kind};
use crate::outputs::{Output, make_folder, write_set};
use crate::trouble;

/// Rows.
pub(super) const RESULTS: &str = "results.csv";
/// What was said of the jobs.
pub(super) const MESSAGES: &str = "messages.txt";
/// What the run was asked, while it is not at its end.
const STATE: &str = "unfinished.txt";
/// Workbooks.
pub(super) const BOOKS: &str = "workbooks";
/// What a row of messages begins with: no line of a message does.
const MARK: &str = "=== ";
/// Files of one's own are read whole.
const WHOLE: u64 = 1 << 40;

/// The files of a batch.
pub(super) struct Results<'a> {
    files: &'a dyn Files,
    folder: PathBuf,
}

/// Where a batch begins.
pub(super) enum Begin {
    /// After what is counted so far.
    After(Tally),
    /// Nowhere: it is done.
    Done,
}

impl<'a> Results<'a> {
    /// In this folder.
    pub(super) fn new(files: &'a dyn Files, folder: &Path) -> Self {
        Self { files, folder: folder.to_owned() }
    }

    /// Path of one of the files.
    pub(super) fn path(&self, name: &str) -> PathBuf {
        self.folder.join(name)
    }

    /// Makes the files ready, or finds where an earlier run was stopped. `asked` is what this run is asked, line by
    /// line, and `lists` says what a line about a price list of that run would be now.
    pub(super) fn begin(
        &self,
        cx: &mut Context<'_>,
        (resume, force): (bool, bool),
        asked: &str,
        lists: impl Fn(&str) -> Option<String>,
    ) -> Outcome<Begin> {
        let there = |name| cx.files.kind(&self.path(name)) != Kind::Nothing;
        let (state, results) = (there(STATE), there(RESULTS));
        let shown = self.folder.display().to_string();
        // Nothing in the state: the run was stopped before it began, and what else is there is of another.
        let begun = self.files.read(&self.path(STATE), WHOLE).is_ok_and(|text| !text.is_empty());
        if state && resume && begun {
            return self.go_on(cx, asked, lists);
        }
        if resume && results && !state {
            cx.note(&format!("the batch in {shown} is at its end: there is nothing to resume\n"));
            return Ok(Begin::Done);
        }
        if state && !force && !resume {
            let problem =
                Problem::error("U086", None, format!("a batch in `{shown}` was stopped before its end"));
            let hint = "--resume goes on with it, --force begins anew";
            return cx.refuse(Exit::File, &[problem.hint(hint)]);
        }
        if results && !force && !state {
            return cx.refuse(Exit::File, &[trouble::exists(&self.path(RESULTS).display().to_string())]);
        }
        if let Err(problem) = self.anew(asked) {
            return cx.refuse(Exit::File, &[problem]);
        }
        Ok(Begin::After(Tally::default()))
    }

    /// Empty files. An empty state comes first, the state itself last: whatever stops the run between them, no row of
    /// an earlier run is taken for one of this.
    fn anew(&self, asked: &str) -> Result<(), Problem> {
        make_folder(self.files, &self.folder)?;
        let file = |name: &str, text: &str| Output { path: self.path(name), bytes: text.as_bytes().to_vec() };
        let empty = [file(STATE, ""), file(RESULTS, &batch::head()), file(MESSAGES, "")];
        write_set(self.files, &[&empty[..], &[file(STATE, asked)]].concat())?;
        self.sweep(|name| name.ends_with(".xlsx"));
        Ok(())
    }

    /// Takes files of the program's own out of the folder of workbooks: `00017-hill.xlsx`, `.00017-hill.xlsx.new0`.
    fn sweep(&self, which: impl Fn(&str) -> bool) {
        let folder = self.path(BOOKS);
        let ours = |name: &String| {
            let plain = name.trim_start_matches('.');
            plain.starts_with(|c: char| c.is_ascii_digit()) && plain.contains('-') && which(name)
        };
        let names = self.files.list(&folder).unwrap_or_default();
        // What stays is written over or misleads nobody: its number has no row.
        names.iter().filter(|n| ours(n)).for_each(|name| drop(self.files.remove(&folder.join(name))));
    }

    fn go_on(
        &self,
        cx: &mut Context<'_>,
        asked: &str,
        lists: impl Fn(&str) -> Option<String>,
    ) -> Outcome<Begin> {
        let read = |name: &str| {
            let path = self.path(name);
            let bytes = self.files.read(&path, WHOLE);
            let bytes = bytes.map_err(|e| trouble::reading(&path.display().to_string(), &e))?;
            Ok(String::from_utf8_lossy(&bytes).into_owned())
        };
        let texts = read(STATE).and_then(|state| Ok((state, read(RESULTS)?, read(MESSAGES)?)));
        let (state, results, messages) = match texts {
            Ok(texts) => texts,
            Err(problem) => return cx.refuse(Exit::File, &[problem]),
        };
        let mut before = state.lines();
        let now = asked.lines().map(|line| (before.next().unwrap_or_default(), line.to_owned()));
        let mut other: Vec<_> = now.filter(|(old, new)| old != new).map(|(old, _)| what(old)).collect();
        // The last line is half a line where the run was killed while it wrote it.
        let whole = state.rfind('\n').map_or(0, |end| end + 1);
        let of_lists = state.get(..whole).unwrap_or_default().lines().skip(asked.lines().count());
        other.extend(of_lists.filter(|old| lists(old).as_deref() != Some(*old)).map(what));
        if !other.is_empty() {
            let message = format!(
                "the batch in `{}` cannot be resumed: this is not what it began with",
                self.folder.display()
            );
            other.dedup();
            let problem =
                Problem::error("U087", None, message).label(format!("changed: {}", other.join(", ")));
            return cx.refuse(Exit::Usage, &[problem.hint("put it back, or give --force to begin anew")]);
        }
        let (kept, tally) = whole_rows(&results);
        let cut = messages.match_indices(MARK).filter(|(at, _)| *at == 0 || messages[..*at].ends_with('\n'));
        let number = |at: usize| messages[at + MARK.len()..].split(' ').next().and_then(|n| n.parse().ok());
        let mut later = cut.map(|(at, _)| at).filter(|at| number(*at).is_none_or(|n: usize| n > tally.done));
        let end = later.next().unwrap_or(messages.len());
        let file = |name: &str, text: &str| Output { path: self.path(name), bytes: text.as_bytes().to_vec() };
        let outputs = [file(RESULTS, kept), file(MESSAGES, &messages[..end]), file(STATE, &state[..whole])];
        self.sweep(|name| name.starts_with('.') || tally.done == 0);
        match write_set(self.files, &outputs) {
            Ok(()) => Ok(Begin::After(tally)),
            Err(problem) => cx.refuse(Exit::File, &[problem]),
        }
    }

    /// A further line of what the run was asked.
    pub(super) fn note(&self, line: &str) {
        // A list that is not noted is not compared later: no reason to stop.
        drop(self.files.append(&self.path(STATE), format!("{line}\n").as_bytes()));
    }

    /// One more row, its messages before it.
    pub(super) fn add(&self, row: &str, number: usize, site: &str, said: &str) -> Result<(), Problem> {
        let append = |name: &str, text: &str| {
            let path = self.path(name);
            let written = self.files.append(&path, text.as_bytes());
            written.map_err(|e| trouble::writing(&path.display().to_string(), &e))
        };
        if !said.is_empty() {
            append(MESSAGES, &format!("{MARK}{number} {site}\n{}\n\n", said.trim_end()))?;
        }
        append(RESULTS, row)
    }

    /// The batch is at its end.
    pub(super) fn finish(&self) -> Result<(), Problem> {
        let path = self.path(STATE);
        self.files.remove(&path).map_err(|e| trouble::writing(&path.display().to_string(), &e))
    }
}

/// What a line of the state is about: the words before its figures.
fn what(line: &str) -> String {
    line.split('\t').next().unwrap_or_default().to_owned()
}

/// The rows that are written to their end, counted.
fn whole_rows(results: &str) -> (&str, Tally) {
    let end = results.rfind("\r\n").map_or(0, |at| at + 2);
    let kept = &results[..end];
    let mut tally = Tally::default();
    for row in csv::Reader::from_reader(kept.as_bytes()).into_records().flatten() {
        let cell = |name| {
            let column = batch::HEAD.iter().position(|c| *c == name);
            column.and_then(|at| row.get(at)).unwrap_or_default()
        };
        let exit = cell("exit").parse().unwrap_or_else(|_| Exit::Fault.code());
        tally.add(exit, cell("site"), cell("problems"), cell("complies"));
    }
    (kept, tally)
}
