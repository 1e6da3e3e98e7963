//! A disk in memory, for tests.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{Error, ErrorKind, Result};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

use crate::files::{Files, Kind};

/// Files by path; a folder is whatever stands before a `/` of one, or was made.
#[derive(Debug, Default)]
pub(crate) struct Fake {
    files: Mutex<BTreeMap<PathBuf, Vec<u8>>>,
    folders: Mutex<BTreeSet<PathBuf>>,
    failing: Mutex<BTreeSet<String>>,
    /// Variables of the surroundings.
    pub(crate) variables: BTreeMap<String, String>,
    /// What standard input holds.
    pub(crate) stdin: Vec<u8>,
}

/// What a lock holds: a test that fails elsewhere spoils nothing here.
fn held<T>(of: &Mutex<T>) -> MutexGuard<'_, T> {
    of.lock().unwrap_or_else(PoisonError::into_inner)
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
        held(&self.files).insert(PathBuf::from(path), bytes.to_vec());
    }

    /// Lets a step fail: `create PATH`, `rename TO`, `keep TO`, `folder PATH`, `read PATH`.
    pub(crate) fn fail(&self, step: &str) {
        held(&self.failing).insert(step.to_owned());
    }

    pub(crate) fn get(&self, path: &str) -> Option<Vec<u8>> {
        held(&self.files).get(Path::new(path)).cloned()
    }

    /// Every file as `path=text`, in order.
    pub(crate) fn listing(&self) -> Vec<String> {
        let files = held(&self.files);
        files.iter().map(|(p, b)| format!("{}={}", p.display(), String::from_utf8_lossy(b))).collect()
    }

    fn step(&self, what: &str, path: &Path) -> Result<()> {
        let step = format!("{what} {}", path.display());
        if held(&self.failing).contains(&step) { Err(Error::other("it fails")) } else { Ok(()) }
    }
}

impl Files for Fake {
    fn read(&self, path: &Path, limit: u64) -> Result<Vec<u8>> {
        self.step("read", path)?;
        if self.kind(path) == Kind::Folder {
            return Err(ErrorKind::IsADirectory.into());
        }
        let mut bytes = held(&self.files).get(path).cloned().ok_or(ErrorKind::NotFound)?;
        bytes.truncate(usize::try_from(limit + 1).unwrap_or(usize::MAX));
        Ok(bytes)
    }

    fn read_stdin(&self, _: u64) -> Result<Vec<u8>> {
        Ok(self.stdin.clone())
    }

    fn kind(&self, path: &Path) -> Kind {
        let files = held(&self.files);
        if files.contains_key(path) {
            Kind::File
        } else if held(&self.folders).contains(path) || files.keys().any(|p| p.starts_with(path)) {
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
        held(&self.files).insert(path.to_owned(), bytes.to_vec());
        Ok(())
    }

    fn rename(&self, from: &Path, to: &Path) -> Result<()> {
        self.step("rename", to)?;
        let bytes = held(&self.files).remove(from).ok_or(ErrorKind::NotFound)?;
        held(&self.files).insert(to.to_owned(), bytes);
        Ok(())
    }

    fn keep(&self, from: &Path, to: &Path) -> Result<()> {
        self.step("keep", to)?;
        let bytes = self.read(from, u64::from(u32::MAX))?;
        self.create(to, &bytes)
    }

    fn append(&self, path: &Path, bytes: &[u8]) -> Result<()> {
        self.step("append", path)?;
        held(&self.files).get_mut(path).ok_or(ErrorKind::NotFound)?.extend_from_slice(bytes);
        Ok(())
    }

    fn remove(&self, path: &Path) -> Result<()> {
        held(&self.files).remove(path).map(drop).ok_or_else(|| ErrorKind::NotFound.into())
    }

    fn make_folder(&self, path: &Path) -> Result<()> {
        self.step("folder", path)?;
        held(&self.folders).insert(path.to_owned());
        Ok(())
    }

    fn remove_folder(&self, path: &Path) -> Result<()> {
        if held(&self.files).keys().any(|p| p.starts_with(path)) {
            return Err(ErrorKind::DirectoryNotEmpty.into());
        }
        held(&self.folders).remove(path).then_some(()).ok_or_else(|| ErrorKind::NotFound.into())
    }

    fn list(&self, folder: &Path) -> Result<Vec<String>> {
        if self.kind(folder) != Kind::Folder {
            return Err(ErrorKind::NotFound.into());
        }
        let files = held(&self.files);
        let inside = files.keys().filter(|p| p.parent() == Some(folder));
        Ok(inside.filter_map(|p| p.file_name()).map(|n| n.to_string_lossy().into_owned()).collect())
    }

    fn folders(&self, folder: &Path) -> Result<Vec<String>> {
        let files = held(&self.files);
        let below = files.keys().filter_map(|p| p.strip_prefix(folder).ok());
        let first = below.filter(|p| p.components().count() > 1).filter_map(|p| p.components().next());
        let names: BTreeSet<_> = first.map(|c| c.as_os_str().to_string_lossy().into_owned()).collect();
        Ok(names.into_iter().collect())
    }

    fn absolute(&self, path: &Path) -> PathBuf {
        Path::new("/somewhere/here").join(path)
    }

    fn variable(&self, name: &str) -> Option<String> {
        self.variables.get(name).cloned()
    }
}
