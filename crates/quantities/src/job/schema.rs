//! The tables of fields as one tree, in the order of the tables.

use std::collections::BTreeMap;

use super::field::{Fallback, Field, Kind, Presence};

/// A part of the job file.
#[derive(Debug)]
pub struct Part {
    /// When it is there.
    pub presence: Presence,
    /// The row that declares it, where one does.
    pub declared: Option<&'static Field>,
    /// What stands under its keys, in the order of the tables.
    pub children: Vec<(&'static str, Child)>,
}

/// What stands under a key.
#[derive(Debug)]
pub enum Child {
    /// A value.
    Value(&'static Field, Kind),
    /// A part, or a list of parts.
    Part(Part),
}

impl Part {
    const fn new(presence: Presence) -> Self {
        Self { presence, declared: None, children: Vec::new() }
    }

    /// All tables as one tree. Parts that no row declares are always there.
    #[must_use]
    pub fn of(tables: &[&'static [Field]]) -> Self {
        let mut root = Self::new(Presence::Always);
        for field in tables.iter().copied().flatten() {
            root.insert(field);
        }
        root
    }

    fn insert(&mut self, field: &'static Field) {
        let mut part = self;
        let mut names = field.key.split('.').peekable();
        while let Some(name) = names.next() {
            let last = names.peek().is_none();
            let (name, list) = name.strip_suffix("[]").map_or((name, false), |n| (n, true));
            let at = part.children.iter().position(|(n, _)| *n == name).unwrap_or_else(|| {
                let child = match field.kind {
                    Some(kind) if last => Child::Value(field, kind),
                    _ => Child::Part(Self::new(if list { Presence::List } else { Presence::Always })),
                };
                part.children.push((name, child));
                part.children.len() - 1
            });
            let Some((_, Child::Part(below))) = part.children.get_mut(at) else { return };
            if last && field.kind.is_none() {
                (below.presence, below.declared) = (field.presence, Some(field));
            }
            part = below;
        }
    }

    pub(super) fn names(&self) -> impl Iterator<Item = &'static str> {
        self.children.iter().map(|(n, _)| *n)
    }

    /// Where each key may stand: the parts that know it, as they are written in a file.
    pub(super) fn homes(&self) -> BTreeMap<&'static str, Vec<String>> {
        let mut homes = BTreeMap::new();
        self.collect("", &mut homes);
        homes
    }

    fn collect(&self, path: &str, homes: &mut BTreeMap<&'static str, Vec<String>>) {
        for (name, child) in &self.children {
            homes.entry(*name).or_default().push(match (path, self.presence) {
                ("", _) => "the top of the file".to_owned(),
                (path, Presence::List) => format!("[[{path}]]"),
                (path, _) => format!("[{path}]"),
            });
            if let Child::Part(part) = child {
                part.collect(&join(path, name), homes);
            }
        }
    }
}

/// A path and a key under it.
pub(super) fn join(path: &str, name: &str) -> String {
    if path.is_empty() { name.to_owned() } else { format!("{path}.{name}") }
}

/// What is wrong with the tables themselves: keys twice, values that have keys below them, defaults that do not read.
#[must_use]
pub fn faults(tables: &[&'static [Field]]) -> Vec<String> {
    let mut seen: BTreeMap<&str, &Field> = BTreeMap::new();
    let mut faults = Vec::new();
    for field in tables.iter().copied().flatten() {
        if seen.insert(field.key, field).is_some() {
            faults.push(format!("{} stands twice", field.key));
        }
        if field.kind.is_none() && field.key.ends_with("[]") != (field.presence == Presence::List) {
            faults.push(format!("{}: a list of parts ends in []", field.key));
        }
        if field.help.is_empty() {
            faults.push(format!("{} has no help", field.key));
        }
        if let (Some(kind), Fallback::Default(text, source)) = (field.kind, field.fallback) {
            if source.is_empty() {
                faults.push(format!("{}: its default has no source", field.key));
            }
            if let Some(why) = super::read::unread_default(kind, text) {
                faults.push(format!("{}: default {text}: {why}", field.key));
            }
        }
    }
    for key in seen.keys() {
        let mut path = *key;
        while let Some(dot) = path.rfind('.') {
            path = &path[..dot];
            if seen.get(path).is_some_and(|f| f.kind.is_some()) {
                faults.push(format!("{key} stands below the value {path}"));
            }
        }
    }
    faults
}
