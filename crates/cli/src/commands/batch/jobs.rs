//! The jobs of a batch: files of a folder, or a base job changed by the rows of a CSV.

use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use tankwright_quantities::job::edit::{Edit, edited};
use tankwright_quantities::job::suggestion;
use tankwright_quantities::job::{Job, takes};
use tankwright_quantities::placed::{PlacedRow, cell_span, rows};
use tankwright_quantities::problem::{Place, Problem};
use tankwright_run::typed;

use super::super::estimate::stem;
use super::given::Batch;
use crate::context::{Context, Outcome};
use crate::engine;
use crate::exit::Exit;
use crate::files::Kind;
use crate::kept::Print;
use crate::trouble;

/// The column that names the sites.
const NAME: &str = "site";
/// Problems of a list that are shown.
const SHOWN: usize = 50;

/// What is estimated, one after another.
pub(super) enum Jobs {
    /// Job files.
    Files(Vec<String>),
    /// A base job and what each site changes.
    Sites(Box<Sites>),
}

/// A CSV of sites.
pub(super) struct Sites {
    file: String,
    text: String,
    base: (String, String),
    /// The base as read; to change its text takes a thousandth of an estimate, so threads take turns.
    job: Mutex<Job>,
    /// Keys by column; none for a column that is not read.
    keys: Vec<Option<String>>,
    name: Option<usize>,
    rows: Vec<PlacedRow>,
}

/// One job.
pub(super) struct One {
    /// What people call it.
    pub(super) site: String,
    /// Its file.
    pub(super) job: String,
    /// The row that changes it, where there is one: file and line.
    pub(super) row: Option<String>,
    /// Its text, where it is no file's own.
    pub(super) text: Result<Option<String>, Box<Problem>>,
}

impl Jobs {
    /// How many.
    pub(super) fn count(&self) -> usize {
        match self {
            Self::Files(files) => files.len(),
            Self::Sites(sites) => sites.rows.len(),
        }
    }

    /// One of them.
    pub(super) fn one(&self, n: usize, cx: &Context<'_>) -> One {
        match self {
            Self::Files(files) => {
                let job = files.get(n).cloned().unwrap_or_default();
                One { site: stem(&job, cx.files), job, row: None, text: Ok(None) }
            }
            Self::Sites(sites) => sites.one(n),
        }
    }

    /// A number that differs where any of them differs.
    pub(super) fn print(&self, cx: &Context<'_>) -> u64 {
        let mut print = Print::default();
        match self {
            Self::Files(files) => {
                for file in files {
                    print.add(file.as_bytes());
                    // One that cannot be read is told when its turn comes.
                    print.add(&cx.read_bytes(file, Path::new(file)).unwrap_or_default());
                }
            }
            Self::Sites(sites) => {
                [&sites.file, &sites.text, &sites.base.0, &sites.base.1]
                    .iter()
                    .for_each(|t| print.add(t.as_bytes()));
            }
        }
        print.done()
    }

    /// The text that messages about the list itself quote.
    pub(super) fn quoted(&self) -> Option<(&str, &str)> {
        match self {
            Self::Files(_) => None,
            Self::Sites(sites) => Some((&sites.file, &sites.text)),
        }
    }
}

/// Finds the jobs of a batch.
pub(super) fn find(args: &Batch, cx: &mut Context<'_>) -> Outcome<Jobs> {
    let from = Path::new(&args.from);
    let no = |code, message: String, hint: &str| [Problem::error(code, None, message).hint(hint)];
    match (cx.files.kind(from), &args.base) {
        (Kind::Folder, Some(_)) => {
            let message = format!("`{}` is a folder: its jobs have no base", args.from);
            cx.refuse(Exit::Usage, &no("U080", message, "leave --base out, or name a CSV of sites"))
        }
        (Kind::Folder, None) => {
            let files = match files(cx, from) {
                Ok(files) => files,
                Err(problem) => return cx.refuse(Exit::File, &[problem]),
            };
            if files.is_empty() {
                let message = format!("there is no job file in `{}`", args.from);
                let hint = "job files end in .toml, or are the job.toml of a folder in it";
                return cx.refuse(Exit::File, &no("U081", message, hint));
            }
            Ok(Jobs::Files(files))
        }
        (_, None) => {
            let message = "a list of sites needs the job that its rows change".to_owned();
            cx.refuse(Exit::Usage, &no("U080", message, "add --base JOB; or name a folder of job files"))
        }
        (_, Some(base)) => {
            let texts = cx.read(&args.from, from).and_then(|t| Ok((t, cx.read(base, Path::new(base))?)));
            let (text, base_text) = match texts {
                Ok(texts) => texts,
                Err(problem) => return cx.refuse(Exit::File, &[problem]),
            };
            match sites(&args.from, text, (base.clone(), base_text)) {
                Ok(sites) => Ok(Jobs::Sites(Box::new(sites))),
                Err(problems) => cx.refuse(Exit::Job, &problems),
            }
        }
    }
}

/// Job files of a folder, in order of their paths.
fn files(cx: &Context<'_>, folder: &Path) -> Result<Vec<String>, Problem> {
    let failed = |e: std::io::Error| trouble::reading_folder(&folder.display().to_string(), &e);
    let is_job = |name: &String| name.to_lowercase().ends_with(".toml") && !name.starts_with('.');
    let mut paths: Vec<PathBuf> = cx
        .files
        .list(folder)
        .map_err(failed)?
        .into_iter()
        .filter(is_job)
        .map(|name| folder.join(name))
        .collect();
    let below =
        cx.files.folders(folder).map_err(failed)?.into_iter().map(|f| folder.join(f).join("job.toml"));
    paths.extend(below.filter(|path| cx.files.kind(path) == Kind::File));
    paths.sort();
    Ok(paths.into_iter().map(|p| p.display().to_string()).collect())
}

/// Reads a list of sites; what is wrong with its columns is told at once, what a row says when its turn comes.
fn sites(file: &str, text: String, base: (String, String)) -> Result<Sites, Vec<Problem>> {
    let mut rows = rows(&text);
    if rows.len() < 2 {
        let problem = Problem::error("U081", None, format!("`{file}` has no sites"));
        return Err(vec![
            problem.hint("the first row names keys of the job file, each further row is a site"),
        ]);
    }
    let head = rows.remove(0);
    let place = |row: &PlacedRow, n| {
        Some(Place { file: file.to_owned(), span: cell_span(&text, row, n), line: row.line })
    };
    let mut problems = Vec::new();
    let (mut keys, mut name) = (Vec::new(), None);
    for (n, cell) in head.cells.iter().enumerate() {
        let key = cell.trim();
        let again = head.cells.iter().take(n).any(|c| c.trim() == key);
        if key.starts_with('#') {
            keys.push(None);
        } else if again {
            let problem = Problem::error("U082", place(&head, n), format!("two columns are `{key}`"));
            problems.push(problem.label("again").hint("leave one of them"));
        } else if key == NAME {
            name = Some(n);
            keys.push(None);
        } else if typed::field_of(key).is_some_and(|f| f.kind.is_some()) {
            keys.push(Some(key.to_owned()));
        } else {
            problems.push(no_key(key, place(&head, n)));
        }
    }
    for row in rows.iter().filter(|row| row.cells.len() != head.cells.len()).take(SHOWN) {
        let message = format!("{} cells are wanted here, as in the head", head.cells.len());
        let hint = "a cell with a comma in it stands in quotes; leave a cell empty, but write its comma";
        let problem = Problem::error("U083", place(row, 0), message);
        problems.push(problem.label(format!("this row has {}", row.cells.len())).hint(hint));
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let (job, _) = engine::read_job(&base.0, &base.1, false);
    Ok(Sites { file: file.to_owned(), text, base, job: Mutex::new(job), keys, name, rows })
}

/// A column that is no key.
fn no_key(key: &str, place: Option<Place>) -> Problem {
    let known: Vec<&str> =
        engine::tables().into_iter().flatten().filter(|f| f.kind.is_some()).map(|f| f.key).collect();
    let same = |k: &&&str| k.rsplit('.').next() == Some(key);
    let mut whole: Vec<_> = known.iter().filter(same).collect();
    // The tank is what people mean first.
    whole.sort_by_key(|k| !k.starts_with("tank."));
    let near = whole.first().map_or_else(
        || suggestion(key, known.iter().copied()),
        |whole| format!("did you mean \"{whole}\"? "),
    );
    let hint = format!("{near}`tankwright rules --keys` lists them; a column that begins with # is not read");
    Problem::error("U084", place, format!("`{key}` is no key of a job file")).label("not known").hint(hint)
}

impl Sites {
    fn one(&self, n: usize) -> One {
        let nothing = PlacedRow::default();
        let row = self.rows.get(n).unwrap_or(&nothing);
        let cell = |n: usize| row.cells.get(n).unwrap_or_default().trim();
        let said = |key: &str| {
            let at = self.keys.iter().position(|k| k.as_deref() == Some(key))?;
            Some(cell(at)).filter(|t| !t.is_empty())
        };
        let site = self.name.map(cell).filter(|t| !t.is_empty()).or_else(|| said("job.title"));
        let site = site.map_or_else(|| format!("line {}", row.line), str::to_owned);
        let job = self.job.lock().unwrap_or_else(PoisonError::into_inner);
        let (mut edits, mut columns) = (Vec::new(), Vec::new());
        for (n, key) in self.keys.iter().enumerate() {
            let Some(key) = key.as_deref().filter(|_| !cell(n).is_empty()) else { continue };
            // What is to be out and is not there changes nothing.
            if let Some(edit) = change(&job, key, cell(n)) {
                edits.push(edit);
                columns.push(n);
            }
        }
        let text = edited(&self.base.1, &job, &edits).map(Some).map_err(|path| {
            let at = edits.iter().position(|e| e.path() == path).and_then(|i| columns.get(i));
            let span = at.map_or_else(|| row.span.clone(), |n| cell_span(&self.text, row, *n));
            let place = Place { file: self.file.clone(), span, line: row.line };
            let takes = typed::field_of(&path).and_then(|f| f.kind).map(takes).unwrap_or_default();
            let hint = format!(
                "write the key into the base job by hand first, in a part with a heading of its own ({path}: {takes})"
            );
            let message = format!("{path} cannot be set in `{}` as that file is written", self.base.0);
            Box::new(Problem::error("U085", Some(place), message).label("no place for it").hint(hint))
        });
        let place = format!("{}:{}", self.file, row.line);
        One { site, job: self.base.0.clone(), row: Some(place), text }
    }
}

/// What a cell changes; nothing where it takes out what is not there.
fn change(job: &Job, key: &str, cell: &str) -> Option<Edit> {
    if cell == "-" {
        return job.given(key).then(|| Edit::Drop(key.to_owned()));
    }
    // A list in the job file's own words.
    let raw = cell.starts_with('[') && cell.ends_with(']') && !cell.contains(['\n', '\r', '#']);
    let list = !key.ends_with(']') && typed::field_of(key).and_then(|f| f.kind).is_some_and(typed::is_list);
    if raw && list {
        return Some(Edit::set(key, cell));
    }
    Some(typed::edit(key, cell))
}
