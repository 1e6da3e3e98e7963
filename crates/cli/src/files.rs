//! The only place that touches the disk.

use std::fs;
use std::io::{self, IsTerminal, Read, Write};
use std::path::{Path, PathBuf};

/// What stands at a path.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Nothing, or nothing that can be seen.
    Nothing,
    /// A folder.
    Folder,
    /// A file, or anything else with bytes in it.
    File,
}

/// What a run may ask of the disk. Steps, not plans: `outputs` makes a safe plan of them.
pub trait Files: Sync {
    /// At most `limit` bytes of a file and one more, which tells that there are more.
    ///
    /// # Errors
    /// As the system says.
    fn read(&self, path: &Path, limit: u64) -> io::Result<Vec<u8>>;

    /// The same of standard input.
    ///
    /// # Errors
    /// As the system says.
    fn read_stdin(&self, limit: u64) -> io::Result<Vec<u8>>;

    /// What stands there, links followed.
    fn kind(&self, path: &Path) -> Kind;

    /// Has somebody marked this file as one that is not to be written?
    fn protected(&self, _path: &Path) -> bool {
        false
    }

    /// Where a link leads; the path itself where it is none.
    fn target(&self, path: &Path) -> PathBuf;

    /// Writes a new file.
    ///
    /// # Errors
    /// As the system says; also where something stands there already.
    fn create(&self, path: &Path, bytes: &[u8]) -> io::Result<()>;

    /// Gives a file another name, in place of what has that name.
    ///
    /// # Errors
    /// As the system says.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;

    /// Keeps what a file holds under a second name.
    ///
    /// # Errors
    /// As the system says.
    fn keep(&self, from: &Path, to: &Path) -> io::Result<()>;

    /// Writes at the end of a file that is there.
    ///
    /// # Errors
    /// As the system says; a part of the bytes may be written then.
    fn append(&self, path: &Path, bytes: &[u8]) -> io::Result<()>;

    /// Removes a file.
    ///
    /// # Errors
    /// As the system says.
    fn remove(&self, path: &Path) -> io::Result<()>;

    /// Makes a folder and those above it.
    ///
    /// # Errors
    /// As the system says.
    fn make_folder(&self, path: &Path) -> io::Result<()>;

    /// Removes a folder that is empty.
    ///
    /// # Errors
    /// As the system says; also where something is in it.
    fn remove_folder(&self, path: &Path) -> io::Result<()>;

    /// Names of the files in a folder, in order.
    ///
    /// # Errors
    /// As the system says.
    fn list(&self, folder: &Path) -> io::Result<Vec<String>>;

    /// Names of the folders in a folder, in order.
    ///
    /// # Errors
    /// As the system says.
    fn folders(&self, folder: &Path) -> io::Result<Vec<String>>;

    /// The path from the root, without looking at the disk.
    fn absolute(&self, path: &Path) -> PathBuf;

    /// Does a person look at standard error while the program runs?
    fn watched(&self) -> bool {
        false
    }

    /// What tells this program from another build of it.
    fn program(&self) -> String {
        env!("CARGO_PKG_VERSION").to_owned()
    }

    /// A variable of the surroundings: asked only for where people keep their own data.
    fn variable(&self, _name: &str) -> Option<String> {
        None
    }
}

/// The disk itself.
#[derive(Clone, Copy, Debug, Default)]
pub struct Disk;

impl Files for Disk {
    fn read(&self, path: &Path, limit: u64) -> io::Result<Vec<u8>> {
        let mut bytes = Vec::new();
        fs::File::open(path)?.take(limit.saturating_add(1)).read_to_end(&mut bytes)?;
        Ok(bytes)
    }

    fn read_stdin(&self, limit: u64) -> io::Result<Vec<u8>> {
        let mut bytes = Vec::new();
        io::stdin().lock().take(limit.saturating_add(1)).read_to_end(&mut bytes)?;
        Ok(bytes)
    }

    fn kind(&self, path: &Path) -> Kind {
        match fs::metadata(path) {
            Ok(it) if it.is_dir() => Kind::Folder,
            Ok(_) => Kind::File,
            // A link that leads nowhere still holds the name.
            Err(_) if fs::symlink_metadata(path).is_ok() => Kind::File,
            Err(_) => Kind::Nothing,
        }
    }

    fn protected(&self, path: &Path) -> bool {
        fs::metadata(path).is_ok_and(|it| it.is_file() && it.permissions().readonly())
    }

    fn target(&self, path: &Path) -> PathBuf {
        match fs::symlink_metadata(path) {
            Ok(it) if it.is_symlink() => fs::canonicalize(path).unwrap_or_else(|_| path.to_owned()),
            _ => path.to_owned(),
        }
    }

    fn create(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        let mut file = fs::OpenOptions::new().write(true).create_new(true).open(path)?;
        let written = file.write_all(bytes);
        drop(file);
        if written.is_err() {
            // Half a file is of no use to anybody; the first error is the one to tell.
            let _ = fs::remove_file(path);
        }
        written
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }

    fn keep(&self, from: &Path, to: &Path) -> io::Result<()> {
        // A second name costs nothing; where the file system has none, a copy does.
        match fs::hard_link(from, to) {
            Err(e) if e.kind() != io::ErrorKind::AlreadyExists => fs::copy(from, to).map(drop),
            linked => linked,
        }
    }

    fn append(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        fs::OpenOptions::new().append(true).open(path)?.write_all(bytes)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)
    }

    fn make_folder(&self, path: &Path) -> io::Result<()> {
        fs::create_dir_all(path)
    }

    fn remove_folder(&self, path: &Path) -> io::Result<()> {
        fs::remove_dir(path)
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<String>> {
        self.inside(folder, Kind::File)
    }

    fn folders(&self, folder: &Path) -> io::Result<Vec<String>> {
        self.inside(folder, Kind::Folder)
    }

    fn absolute(&self, path: &Path) -> PathBuf {
        std::path::absolute(path).unwrap_or_else(|_| path.to_owned())
    }

    fn watched(&self) -> bool {
        io::stderr().is_terminal()
    }

    fn program(&self) -> String {
        let about = std::env::current_exe().and_then(fs::metadata);
        let since = |it: &fs::Metadata| it.modified().ok()?.duration_since(std::time::UNIX_EPOCH).ok();
        let build = about.ok().map(|it| (it.len(), since(&it).map_or(0, |d| d.as_nanos())));
        let (bytes, changed) = build.unwrap_or_default();
        format!("{} {bytes} {changed}", env!("CARGO_PKG_VERSION"))
    }

    fn variable(&self, name: &str) -> Option<String> {
        std::env::var(name).ok()
    }
}

impl Disk {
    fn inside(self, folder: &Path, kind: Kind) -> io::Result<Vec<String>> {
        let mut names = Vec::new();
        for entry in fs::read_dir(folder)? {
            let entry = entry?;
            if self.kind(&entry.path()) == kind {
                names.push(entry.file_name().to_string_lossy().into_owned());
            }
        }
        names.sort();
        Ok(names)
    }
}
