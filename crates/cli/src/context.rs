//! What a command works with: streams, files, and the texts that messages quote.

use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use tankwright_quantities::decimal::plain;
use tankwright_quantities::estimate::Balance;
use tankwright_quantities::problem::{Problem, Severity, in_order};

use crate::exit::Exit;
use crate::files::{Files, Kind};
use crate::kept::Kept;
use crate::show::{self, Texts, clean};
use crate::trouble::{self, LONGEST};

/// What a command gives back: nothing, or how the run ends. Whoever makes an [`Exit`] has said why.
pub(crate) type Outcome<T = ()> = Result<T, Exit>;

/// A run.
pub(crate) struct Context<'a> {
    /// Data.
    out: &'a mut dyn Write,
    /// Everything else.
    err: &'a mut dyn Write,
    /// The disk.
    pub(crate) files: &'a dyn Files,
    /// The user's own data.
    pub(crate) data: Option<PathBuf>,
    /// How papers name that folder, where nobody has named it on the command line.
    pub(crate) home: Option<&'static str>,
    /// Data and lists that other jobs of the same run have read already.
    pub(crate) kept: Option<&'a Kept<'a>>,
    /// A text that stands for the one at this path.
    pub(crate) instead: Option<(PathBuf, String)>,
    /// Codes of the errors that were told.
    pub(crate) told: Vec<&'static str>,
    texts: Texts,
}

impl<'a> Context<'a> {
    pub(crate) fn new(out: &'a mut dyn Write, err: &'a mut dyn Write, files: &'a dyn Files) -> Self {
        let (data, home, kept, instead) = (None, None, None, None);
        Self { out, err, files, data, home, kept, instead, told: Vec::new(), texts: Texts::new() }
    }

    /// Data to standard output. A closed pipe ends the run as done.
    pub(crate) fn print(&mut self, text: &str) -> Outcome {
        let written = self.out.write_all(text.as_bytes());
        self.written(written)
    }

    /// Sends on what waits in buffers.
    pub(crate) fn flush(&mut self) -> Outcome {
        let written = self.out.flush();
        self.written(written)
    }

    fn written(&mut self, written: std::io::Result<()>) -> Outcome {
        match written {
            Ok(()) => Ok(()),
            Err(e) if e.kind() == ErrorKind::BrokenPipe => Err(Exit::Done),
            Err(e) => {
                let text = format!("standard output cannot be written: {}", trouble::plain(&e));
                self.say(&[Problem::error("F009", None, text)]);
                Err(Exit::File)
            }
        }
    }

    /// Words beside the data, at once. Nobody is left to be told where this fails.
    pub(crate) fn note(&mut self, text: &str) {
        drop(self.err.write_all(text.as_bytes()).and_then(|()| self.err.flush()));
    }

    /// Shows problems in order, each once.
    pub(crate) fn say(&mut self, problems: &[Problem]) {
        let mut problems = problems.to_vec();
        in_order(&mut problems);
        self.told.extend(problems.iter().filter(|p| p.severity == Severity::Error).map(|p| p.code));
        let text = show::problems(&problems, &self.texts);
        self.note(&text);
    }

    /// Shows problems and ends the run.
    pub(crate) fn refuse<T>(&mut self, exit: Exit, problems: &[Problem]) -> Outcome<T> {
        self.say(problems);
        let errors = problems.iter().filter(|p| p.severity == Severity::Error).count();
        if errors > 1 {
            self.note(&format!("\n{errors} errors\n"));
        }
        Err(exit)
    }

    /// Ends the run over balances that do not close, with their figures.
    pub(crate) fn unbalanced<T>(&mut self, balances: &[Balance]) -> Outcome<T> {
        let broken: Vec<_> = balances.iter().filter(|b| !b.holds()).collect();
        let mut text = format!(
            "error: {} of {} balances do not close; this is a fault of the program, nothing is written\n",
            broken.len(),
            balances.len()
        );
        for b in broken {
            let difference = plain(b.left - b.right);
            text.push_str(&format!("  {}   {}\n", b.name, clean(&b.says.to_string())));
            text.push_str(&format!(
                "    left {} {unit}, right {} {unit}, difference {difference} {unit}\n",
                plain(b.left),
                plain(b.right),
                unit = b.unit
            ));
            b.breaks.iter().for_each(|line| text.push_str(&format!("    {}\n", clean(line))));
        }
        text.push_str("hint: please report it, with the job file\n");
        self.note(&text);
        Err(Exit::Balance)
    }

    /// Keeps a text, so that messages can quote it.
    pub(crate) fn quote(&mut self, name: &str, text: &str) {
        self.texts.insert(name.to_owned(), text.to_owned());
    }

    /// A text that was read in this run.
    pub(crate) fn text(&self, name: &str) -> Option<&str> {
        self.texts.get(name).map(String::as_str)
    }

    /// Every text that was read in this run.
    pub(crate) fn texts(&self) -> impl Iterator<Item = (&String, &String)> {
        self.texts.iter()
    }

    /// A path as papers and messages name it: as the user did, and never by where this machine keeps it.
    pub(crate) fn shown(&self, path: &Path) -> String {
        let inside = self.home.zip(self.data.as_ref().and_then(|d| path.strip_prefix(d).ok()));
        inside.map_or_else(
            || path.display().to_string(),
            |(home, rest)| Path::new(home).join(rest).display().to_string(),
        )
    }

    /// Reads the bytes of a file (`-`: standard input).
    pub(crate) fn read_bytes(&self, name: &str, path: &Path) -> Result<Vec<u8>, Problem> {
        if let Some((_, text)) = self.instead.as_ref().filter(|(held, _)| held == path) {
            return Ok(text.clone().into_bytes());
        }
        let bytes = if name == "-" {
            self.files.read_stdin(LONGEST)
        } else if self.files.kind(path) == Kind::Folder {
            return Err(trouble::folder(name));
        } else {
            self.files.read(path, LONGEST)
        };
        let bytes = bytes.map_err(|e| trouble::reading(name, &e))?;
        if u64::try_from(bytes.len()).unwrap_or(u64::MAX) > LONGEST {
            return Err(trouble::too_large(name));
        }
        Ok(bytes)
    }

    /// Reads a text file (`-`: standard input) without its byte order mark.
    pub(crate) fn read(&mut self, name: &str, path: &Path) -> Result<String, Problem> {
        let bytes = self.read_bytes(name, path)?;
        let text = String::from_utf8(bytes).map_err(|e| {
            let valid = e.utf8_error().valid_up_to();
            trouble::not_text(name, e.as_bytes(), valid)
        })?;
        let text = text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text);
        self.quote(name, &text);
        Ok(text)
    }
}
