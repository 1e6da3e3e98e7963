//! The whole program in this process, over the files of the repository, where nothing is written, or in a room of its own.

use std::io;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering::SeqCst};

use tankwright_cli::files::{Disk, Files, Kind};

/// A run: exit code, standard output, standard error.
#[derive(Debug)]
pub struct Run {
    /// Exit code.
    pub code: i32,
    /// Standard output.
    pub out: String,
    /// Standard error.
    pub err: String,
}

/// The repository.
#[must_use]
pub fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.parent().unwrap_or(here).to_path_buf()
}

/// Runs the program from the repository's root. Words of `line` are parted by blanks.
#[must_use]
pub fn run(line: &str) -> Run {
    run_in(&root(), line)
}

/// Runs the program from a folder.
#[must_use]
pub fn run_in(folder: &Path, line: &str) -> Run {
    let words: Vec<String> = line.split(' ').map(str::to_owned).collect();
    run_at(&words, &At::new(folder, 0, false))
}

/// Runs the program in a folder that it may write into.
#[must_use]
pub fn run_room(folder: &Path, words: &[String]) -> Run {
    run_at(words, &At::new(folder, usize::MAX, false))
}

/// Runs the program in a folder until so many steps of writing are done, and the next one by half: what is on the disk
/// then is what a run leaves that is killed there. `None`: there were fewer steps.
#[must_use]
pub fn run_killed(folder: &Path, words: &[String], steps: usize) -> Option<Run> {
    let at = At::new(folder, steps, true);
    let run = run_at(words, &at);
    at.ended.load(SeqCst).then_some(run)
}

fn run_at(words: &[String], at: &At) -> Run {
    let args: Vec<String> =
        std::iter::once("tankwright").chain(words.iter().map(String::as_str)).map(str::to_owned).collect();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = tankwright_cli::run(&args, &mut out, &mut err, at);
    let text = |bytes: Vec<u8>| String::from_utf8_lossy(&bytes).into_owned();
    Run { code, out: text(out), err: text(err) }
}

/// The disk as seen from a folder.
struct At {
    root: PathBuf,
    /// Steps of writing that are left.
    left: AtomicUsize,
    /// Is the first step that is one too many done by half?
    halves: AtomicBool,
    /// Was there such a step?
    ended: AtomicBool,
}

impl At {
    fn new(folder: &Path, steps: usize, halves: bool) -> Self {
        let (left, ended) = (AtomicUsize::new(steps), AtomicBool::new(false));
        Self { root: folder.to_path_buf(), left, halves: AtomicBool::new(halves), ended }
    }

    /// Where a step of writing goes, where one is left.
    fn open(&self, path: &Path) -> io::Result<PathBuf> {
        let one = self.left.fetch_update(SeqCst, SeqCst, |left| left.checked_sub(1));
        self.ended.fetch_or(one.is_err(), SeqCst);
        one.map(|_| self.root.join(path)).map_err(|_| closed())
    }

    /// The same for bytes: the step that is one too many writes half of them.
    fn bytes(
        &self,
        path: &Path,
        bytes: &[u8],
        write: fn(&Disk, &Path, &[u8]) -> io::Result<()>,
    ) -> io::Result<()> {
        match self.open(path) {
            Ok(path) => write(&Disk, &path, bytes),
            Err(e) => {
                let half = bytes.get(..bytes.len() / 2).unwrap_or_default();
                if self.halves.swap(false, SeqCst) {
                    write(&Disk, &self.root.join(path), half)?;
                }
                Err(e)
            }
        }
    }
}

fn closed() -> io::Error {
    io::Error::new(io::ErrorKind::PermissionDenied, "tests write nothing")
}

impl Files for At {
    fn read(&self, path: &Path, limit: u64) -> io::Result<Vec<u8>> {
        Disk.read(&self.root.join(path), limit)
    }

    fn read_stdin(&self, _: u64) -> io::Result<Vec<u8>> {
        Err(closed())
    }

    fn kind(&self, path: &Path) -> Kind {
        Disk.kind(&self.root.join(path))
    }

    fn protected(&self, path: &Path) -> bool {
        Disk.protected(&self.root.join(path))
    }

    fn target(&self, path: &Path) -> PathBuf {
        path.to_owned()
    }

    fn create(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        self.bytes(path, bytes, Disk::create)
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        Disk.rename(&self.open(from)?, &self.root.join(to))
    }

    fn keep(&self, from: &Path, to: &Path) -> io::Result<()> {
        Disk.keep(&self.open(from)?, &self.root.join(to))
    }

    fn append(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        self.bytes(path, bytes, Disk::append)
    }

    fn folders(&self, folder: &Path) -> io::Result<Vec<String>> {
        Disk.folders(&self.root.join(folder))
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        Disk.remove(&self.open(path)?)
    }

    fn make_folder(&self, path: &Path) -> io::Result<()> {
        Disk.make_folder(&self.open(path)?)
    }

    fn remove_folder(&self, path: &Path) -> io::Result<()> {
        Disk.remove_folder(&self.open(path)?)
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<String>> {
        Disk.list(&self.root.join(folder))
    }

    fn absolute(&self, path: &Path) -> PathBuf {
        self.root.join(path)
    }
}
