//! The whole program in this process, over the files of the repository: nothing is written.

use std::io;
use std::path::{Path, PathBuf};

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
    let args: Vec<String> = std::iter::once("tankwright").chain(line.split(' ')).map(str::to_owned).collect();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = tankwright_cli::run(&args, &mut out, &mut err, &At(folder.to_path_buf()));
    let text = |bytes: Vec<u8>| String::from_utf8_lossy(&bytes).into_owned();
    Run { code, out: text(out), err: text(err) }
}

/// The disk as seen from a folder, for reading.
struct At(PathBuf);

fn closed() -> io::Error {
    io::Error::new(io::ErrorKind::PermissionDenied, "tests write nothing")
}

impl Files for At {
    fn read(&self, path: &Path, limit: u64) -> io::Result<Vec<u8>> {
        Disk.read(&self.0.join(path), limit)
    }

    fn read_stdin(&self, _: u64) -> io::Result<Vec<u8>> {
        Err(closed())
    }

    fn kind(&self, path: &Path) -> Kind {
        Disk.kind(&self.0.join(path))
    }

    fn target(&self, path: &Path) -> PathBuf {
        path.to_owned()
    }

    fn create(&self, _: &Path, _: &[u8]) -> io::Result<()> {
        Err(closed())
    }

    fn rename(&self, _: &Path, _: &Path) -> io::Result<()> {
        Err(closed())
    }

    fn keep(&self, _: &Path, _: &Path) -> io::Result<()> {
        Err(closed())
    }

    fn append(&self, _: &Path, _: &[u8]) -> io::Result<()> {
        Err(closed())
    }

    fn folders(&self, folder: &Path) -> io::Result<Vec<String>> {
        Disk.folders(&self.0.join(folder))
    }

    fn remove(&self, _: &Path) -> io::Result<()> {
        Err(closed())
    }

    fn make_folder(&self, _: &Path) -> io::Result<()> {
        Err(closed())
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<String>> {
        Disk.list(&self.0.join(folder))
    }

    fn absolute(&self, path: &Path) -> PathBuf {
        self.0.join(path)
    }
}
