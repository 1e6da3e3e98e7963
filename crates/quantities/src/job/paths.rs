//! Values by canonical path: sorted, and found by a hash of the path.

use super::model::{Given, Value};

/// A value with where it comes from, under its path.
type Entry = (String, (Value, Given));

/// Every value of a job.
#[derive(Clone, Debug, Default)]
pub struct Values {
    /// Sorted by path.
    entries: Vec<Entry>,
    /// Places of entries by hash, `EMPTY` for none; twice as many places as entries at least. Empty until the job is
    /// read.
    table: Vec<u32>,
}

const EMPTY: u32 = u32::MAX;

/// Eight bytes at a time; no secret, because the table is of the reader's own paths.
fn hash(path: &str) -> usize {
    let mut sum = path.len() as u64;
    let mut mix = |word: u64| sum = (sum.rotate_left(5) ^ word).wrapping_mul(0x517c_c1b7_2722_0a95);
    let mut chunks = path.as_bytes().chunks_exact(8);
    for chunk in &mut chunks {
        mix(<[u8; 8]>::try_from(chunk).map_or(0, u64::from_le_bytes));
    }
    mix(chunks.remainder().iter().fold(0, |w, b| (w << 8) | u64::from(*b)));
    usize::try_from(sum >> 32).unwrap_or(0)
}

impl Values {
    /// Puts a value under a path, over one that stands there.
    pub fn insert(&mut self, path: String, value: (Value, Given)) {
        self.table.clear();
        match self.entries.binary_search_by(|(p, _)| p.as_str().cmp(&path)) {
            Ok(at) => self.entries[at].1 = value,
            Err(at) => self.entries.insert(at, (path, value)),
        }
    }

    /// The value under a path.
    #[must_use]
    pub fn get(&self, path: &str) -> Option<&(Value, Given)> {
        if self.table.is_empty() {
            let at = self.entries.binary_search_by(|(p, _)| p.as_str().cmp(path));
            return at.ok().and_then(|at| self.entries.get(at)).map(|(_, value)| value);
        }
        let mask = self.table.len() - 1;
        let mut at = hash(path) & mask;
        loop {
            let place = *self.table.get(at)?;
            if place == EMPTY {
                return None;
            }
            match self.entries.get(place as usize) {
                Some((p, value)) if p == path => return Some(value),
                _ => at = (at + 1) & mask,
            }
        }
    }

    /// From now on paths are found by their hashes.
    pub(super) fn index(&mut self) {
        let mut table = vec![EMPTY; (self.entries.len() * 2 + 1).next_power_of_two()];
        let mask = table.len() - 1;
        for (n, (path, _)) in (0..).zip(&self.entries) {
            let mut at = hash(path) & mask;
            while table[at] != EMPTY {
                at = (at + 1) & mask;
            }
            table[at] = n;
        }
        self.table = table;
    }

    /// Keeps the values under these paths only.
    pub fn retain(&mut self, keep: impl Fn(&String) -> bool) {
        self.table.clear();
        self.entries.retain(|(path, _)| keep(path));
    }

    /// Is there a value under a path?
    #[must_use]
    pub fn contains_key(&self, path: &str) -> bool {
        self.get(path).is_some()
    }

    /// Paths and values, sorted.
    pub fn iter(&self) -> impl Iterator<Item = (&String, &(Value, Given))> {
        self.entries.iter().map(|(p, v)| (p, v))
    }

    /// All paths, sorted.
    pub fn keys(&self) -> impl Iterator<Item = &String> {
        self.iter().map(|(p, _)| p)
    }

    /// All values, in the order of their paths.
    pub fn values(&self) -> impl Iterator<Item = &(Value, Given)> {
        self.iter().map(|(_, v)| v)
    }
}

/// Equal values, wherever they are kept.
impl PartialEq for Values {
    fn eq(&self, other: &Self) -> bool {
        self.entries == other.entries
    }
}

impl FromIterator<Entry> for Values {
    fn from_iter<I: IntoIterator<Item = Entry>>(entries: I) -> Self {
        let mut values = Self::default();
        entries.into_iter().for_each(|(path, value)| values.insert(path, value));
        values
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_path_is_found_and_no_other() {
        let path = |i: usize| format!("tank.part[{i}].key");
        let value = |i: usize| (Value::Text(i.to_string()), Given::Nothing);
        let mut values: Values = (0..300).rev().map(|i| (path(i), value(i))).collect();
        values.insert(path(7), value(700));
        let found = values.clone();
        values.index();
        assert!((0..300).all(|i| found.get(&path(i)) == values.get(&path(i))));
        assert!((0..300).filter(|i| *i != 7).all(|i| values.get(&path(i)) == Some(&value(i))));
        assert_eq!(values.get(&path(7)), Some(&value(700)));
        assert_eq!((values.get(&path(300)), values.get(""), values.keys().count()), (None, None, 300));
        assert!(values.keys().is_sorted());
        assert_eq!(Values::default().get("tank"), None);
    }
}
