//! A disk in memory, for tests.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::io::{Error, ErrorKind, Result};
use std::path::{Path, PathBuf};

use crate::files::{Files, Kind};

/// Files by path; a folder is whatever stands before a `/` of one, or was made.
#[derive(Debug, Default)]
pub(crate) struct Fake {
    files: RefCell<BTreeMap<PathBuf, Vec<u8>>>,
    folders: RefCell<BTreeSet<PathBuf>>,
    failing: RefCell<BTreeSet<String>>,
    /// Variables of the surroundings.
    pub(crate) variables: BTreeMap<String, String>,
    /// What standard input holds.
    pub(crate) stdin: Vec<u8>,
}

impl Fake {
    pub(crate) fn with(files: &[(&str, &str)]) -> Self {
        let fake = Self::default();
        for (path, text) in files {
            fake.put(path, text.as_bytes());
        }
        fake
    }

    pub(crate) fn put(&self, path: &str, bytes: &[u8]) {
        self.files.borrow_mut().insert(PathBuf::from(path), bytes.to_vec());
    }

    /// Lets a step fail: `create PATH`, `rename TO`, `keep TO`, `folder PATH`, `read PATH`.
    pub(crate) fn fail(&self, step: &str) {
        self.failing.borrow_mut().insert(step.to_owned());
    }

    pub(crate) fn get(&self, path: &str) -> Option<Vec<u8>> {
        self.files.borrow().get(Path::new(path)).cloned()
    }

    /// Every file as `path=text`, in order.
    pub(crate) fn listing(&self) -> Vec<String> {
        let files = self.files.borrow();
        files.iter().map(|(p, b)| format!("{}={}", p.display(), String::from_utf8_lossy(b))).collect()
    }

    fn step(&self, what: &str, path: &Path) -> Result<()> {
        let step = format!("{what} {}", path.display());
        if self.failing.borrow().contains(&step) { Err(Error::other("it fails")) } else { Ok(()) }
    }
}

impl Files for Fake {
    fn read(&self, path: &Path, limit: u64) -> Result<Vec<u8>> {
        self.step("read", path)?;
        if self.kind(path) == Kind::Folder {
            return Err(ErrorKind::IsADirectory.into());
        }
        let mut bytes = self.files.borrow().get(path).cloned().ok_or(ErrorKind::NotFound)?;
        bytes.truncate(usize::try_from(limit + 1).unwrap_or(usize::MAX));
        Ok(bytes)
    }

    fn read_stdin(&self, _: u64) -> Result<Vec<u8>> {
        Ok(self.stdin.clone())
    }

    fn kind(&self, path: &Path) -> Kind {
        let files = self.files.borrow();
        if files.contains_key(path) {
            Kind::File
        } else if self.folders.borrow().contains(path) || files.keys().any(|p| p.starts_with(path)) {
            Kind::Folder
        } else {
            Kind::Nothing
        }
    }

    fn target(&self, path: &Path) -> PathBuf {
        path.to_owned()
    }

    fn create(&self, path: &Path, bytes: &[u8]) -> Result<()> {
        self.step("create", path)?;
        if self.kind(path) != Kind::Nothing {
            return Err(ErrorKind::AlreadyExists.into());
        }
        self.files.borrow_mut().insert(path.to_owned(), bytes.to_vec());
        Ok(())
    }

    fn rename(&self, from: &Path, to: &Path) -> Result<()> {
        self.step("rename", to)?;
        let bytes = self.files.borrow_mut().remove(from).ok_or(ErrorKind::NotFound)?;
        self.files.borrow_mut().insert(to.to_owned(), bytes);
        Ok(())
    }

    fn keep(&self, from: &Path, to: &Path) -> Result<()> {
        self.step("keep", to)?;
        let bytes = self.read(from, u64::from(u32::MAX))?;
        self.create(to, &bytes)
    }

    fn remove(&self, path: &Path) -> Result<()> {
        self.files.borrow_mut().remove(path).map(drop).ok_or_else(|| ErrorKind::NotFound.into())
    }

    fn make_folder(&self, path: &Path) -> Result<()> {
        self.step("folder", path)?;
        self.folders.borrow_mut().insert(path.to_owned());
        Ok(())
    }

    fn list(&self, folder: &Path) -> Result<Vec<String>> {
        if self.kind(folder) != Kind::Folder {
            return Err(ErrorKind::NotFound.into());
        }
        let files = self.files.borrow();
        let inside = files.keys().filter(|p| p.parent() == Some(folder));
        Ok(inside.filter_map(|p| p.file_name()).map(|n| n.to_string_lossy().into_owned()).collect())
    }

    fn absolute(&self, path: &Path) -> PathBuf {
        Path::new("/somewhere/here").join(path)
    }

    fn variable(&self, name: &str) -> Option<String> {
        self.variables.get(name).cloned()
    }
}
