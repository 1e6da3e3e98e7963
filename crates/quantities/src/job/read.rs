//! The reader: a text and the tables of fields give a job and everything that is wrong with the text.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;
use std::sync::Arc;

use tankwright_geometry::{InputId, Ratio};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::field::{Fallback, Field, Kind, Presence};
use super::lines::Lines;
use super::model::{Given, Input, Job, Scale, Value};
use super::near::nearest;
use super::schema::{Child, Part, join};
use super::syntax::{self, Doubt};
use super::values::{self, Flaw, what};
use super::{codes, lists, repair, rules};
use crate::problem::{Place, Problem, in_order};

/// Problems shown in one run; the rest is counted.
const SHOWN: usize = 300;

/// Reads a job file. The job holds as much as could be read; with any error among the problems it must not be used further.
#[must_use]
pub fn read(file: &str, text: &str, tables: &[&'static [Field]]) -> (Job, Vec<Problem>) {
    let root = Part::of(tables);
    let repaired = repair::repair(text);
    let (tree, errors) = DeTable::parse_recoverable(&repaired.text);
    let lines = Lines::new(text);
    let (problems, doubt) = syntax::problems(file, &lines, &repaired.open, errors);
    let mut reader = Reader::new(file, Some(&lines), root.homes());
    reader.problems = problems;
    reader.doubt = doubt;
    reader.part(&root, "", Some(tree.get_ref()), None);
    rules::check(&mut reader);
    let Reader { mut job, mut problems, unshown, .. } = reader;
    Arc::make_mut(&mut job.values).index();
    in_order(&mut problems);
    let unshown = unshown + problems.len().saturating_sub(SHOWN);
    problems.truncate(SHOWN);
    if unshown > 0 {
        let place = lines.short(file, &(text.len()..text.len()));
        let what = format!("{unshown} more problems are not shown");
        problems.push(
            Problem::error(codes::MORE, Some(place), what)
                .label("up to here")
                .hint("mend the first ones and run again"),
        );
    }
    (job, problems)
}

/// Why a default does not read; nothing where it does.
pub(super) fn unread_default(kind: Kind, text: &str) -> Option<String> {
    let mut reader = Reader::new("", None, BTreeMap::new());
    reader.fall_back("default", kind, text, "a test");
    let read = reader.job.has("default") && reader.problems.is_empty();
    (!read).then(|| reader.problems.first().map_or_else(|| "does not read".to_owned(), |p| p.message.clone()))
}

/// State of one reading.
pub(super) struct Reader<'a> {
    file: &'a str,
    lines: Option<&'a Lines<'a>>,
    homes: BTreeMap<&'static str, Vec<String>>,
    doubt: Doubt,
    pub(super) job: Job,
    /// Paths at which the user wrote something, readable or not.
    pub(super) written: BTreeSet<String>,
    problems: Vec<Problem>,
    unshown: usize,
    /// Source of the default being read.
    default: Option<&'static str>,
}

/// Key and value as written.
type Written<'t, 'i> = (Range<usize>, &'t Spanned<DeValue<'i>>);

impl<'a> Reader<'a> {
    fn new(file: &'a str, lines: Option<&'a Lines<'a>>, homes: BTreeMap<&'static str, Vec<String>>) -> Self {
        let mut job = Job::default();
        file.clone_into(&mut job.file);
        let (written, doubt) = (BTreeSet::new(), Doubt::default());
        Self { file, lines, homes, doubt, job, written, problems: Vec::new(), unshown: 0, default: None }
    }

    /// Records a problem, unless its line is broken anyway.
    pub(super) fn push(&mut self, problem: Problem) {
        if problem.place.as_ref().is_some_and(|p| self.doubt.lines.contains(&p.line)) {
            return;
        }
        if self.problems.len() < SHOWN {
            self.problems.push(problem);
        } else {
            self.unshown += 1;
        }
    }

    /// Records what is wrong with the value at a path.
    pub(super) fn flaw(&mut self, path: &str, span: &Range<usize>, flaw: Flaw) {
        let place = self.short(span);
        let problem = Problem::error(flaw.code, place, format!("{path}: {}", flaw.what)).label(flaw.label);
        self.push(if flaw.hint.is_empty() { problem } else { problem.hint(flaw.hint) });
    }

    /// The user's own text of a value.
    pub(super) fn as_written(&self, span: &Range<usize>) -> Option<&'a str> {
        self.lines.and_then(|l| l.text.get(span.clone()))
    }

    fn short(&self, span: &Range<usize>) -> Option<Place> {
        self.lines.map(|l| l.short(self.file, span))
    }

    /// Where a value comes from: the default being read, or the user's text.
    pub(super) fn given(&self, span: &Range<usize>) -> Given {
        match (self.default, self.lines) {
            (None, Some(lines)) => Given::Here(lines.place(self.file, span)),
            (Some(source), _) => Given::Default(source),
            (None, None) => Given::Nothing,
        }
    }

    pub(super) fn keep(&mut self, path: &str, value: Value, given: Given) {
        Arc::make_mut(&mut self.job.values).insert(path.to_owned(), (value, given));
    }

    pub(super) fn keep_input(
        &mut self,
        path: &str,
        value: Ratio,
        scale: Scale,
        any_sign: bool,
        given: Given,
    ) {
        let id = InputId(u32::try_from(self.job.inputs.len()).unwrap_or(u32::MAX));
        self.job.inputs.push(Input { path: path.to_owned(), value, scale, any_sign, given: given.clone() });
        self.keep(path, Value::Input(id), given);
    }

    /// Reads a part, given or not; `home` is the nearest part above that was given.
    fn part(
        &mut self,
        part: &Part,
        path: &str,
        table: Option<&DeTable<'_>>,
        home: Option<&Place>,
    ) -> Vec<String> {
        let keys = self.keys(part, path, table);
        let mut entries = Vec::new();
        for (name, child) in &part.children {
            let below = join(path, name);
            let written = keys.get(name).map(|(span, value)| (span.clone(), *value));
            if written.is_some() {
                self.written.insert(below.clone());
            }
            match (child, written) {
                (Child::Value(_, kind), Some((_, value))) => lists::value(self, &below, *kind, value),
                (Child::Value(field, kind), None) => self.left_out(field, *kind, &below, home),
                (Child::Part(sub), written) => self.sub(sub, &below, written, home),
            }
            if self.job.has(&below) {
                entries.push(below);
            }
        }
        entries
    }

    /// The keys of a table by name; those that no field knows are reported, and read as the key they were meant for.
    fn keys<'t, 'i>(
        &mut self,
        part: &Part,
        path: &str,
        table: Option<&'t DeTable<'i>>,
    ) -> BTreeMap<&'static str, Written<'t, 'i>> {
        let (mut keys, mut meant) = (BTreeMap::new(), Vec::new());
        for (key, value) in table.into_iter().flat_map(|t| t.iter()) {
            let name: &str = key.get_ref();
            match part.children.iter().find(|(n, _)| *n == name) {
                Some((known, _)) => {
                    keys.insert(*known, (key.span(), value));
                }
                None => meant.extend(
                    self.unknown(part, path, name, &key.span()).map(|near| (near, (key.span(), value))),
                ),
            }
        }
        for (near, written) in meant {
            keys.entry(near).or_insert(written);
        }
        keys
    }

    /// Reports a key that no field knows; gives the one that was meant, where that is plain.
    fn unknown(&mut self, part: &Part, path: &str, name: &str, span: &Range<usize>) -> Option<&'static str> {
        if self.problems.len() >= SHOWN {
            self.unshown += 1;
            return None;
        }
        let here = if path.is_empty() { "at the top of the file".to_owned() } else { format!("in {path}") };
        let near = nearest(name, part.names());
        let elsewhere = self.homes.get(name).filter(|_| near.is_none_or(|(d, _)| d > 1));
        let (code, label, hint) = match (elsewhere, near) {
            (Some(homes), _) => {
                let mut list = homes.iter().take(4).cloned().collect::<Vec<_>>().join(", ");
                if homes.len() > 4 {
                    list.push_str(" and others");
                }
                let hint = format!("{name} belongs to {list}; a key counts to the heading above it");
                (codes::WRONG_HOME, "belongs elsewhere".to_owned(), hint)
            }
            (None, Some((_, near))) => {
                (codes::UNKNOWN_KEY, format!("did you mean {near}?"), format!("write {near}"))
            }
            (None, None) => {
                let mut names: Vec<_> = part.names().take(16).collect();
                if names.len() < part.children.len() {
                    names.push("...");
                }
                (codes::UNKNOWN_KEY, "not known".to_owned(), format!("known here: {}", names.join(", ")))
            }
        };
        let shown: String = name.chars().filter(|c| !c.is_control()).take(60).collect();
        let what = format!("there is no key {shown} {here}");
        self.push(Problem::error(code, self.short(span), what).label(label).hint(hint));
        near.filter(|_| code == codes::UNKNOWN_KEY).map(|(_, n)| n)
    }

    fn left_out(&mut self, field: &Field, kind: Kind, path: &str, home: Option<&Place>) {
        match field.fallback {
            Fallback::Nothing => {}
            Fallback::Default(text, source) => self.fall_back(path, kind, text, source),
            Fallback::Required => self.missing(path, field.help, home),
        }
    }

    fn missing(&mut self, path: &str, help: &str, home: Option<&Place>) {
        let name = |s: &str| s.split('[').next().unwrap_or(s).to_owned();
        if path.split('.').any(|s| self.doubt.names.contains(&name(s))) {
            return;
        }
        let end = self.lines.map_or(0, |l| l.text.trim_end().len());
        let (part, key) = path.rsplit_once('.').unwrap_or(("", path));
        let (place, label) = match (home, part) {
            (Some(home), _) => (Some(home.clone()), format!("{key} is missing in this part")),
            (None, "") => (self.short(&(0..0)), "at the top of the file".to_owned()),
            (None, _) => (self.short(&(end..end)), format!("the file ends without [{part}]")),
        };
        let under = match part.rsplit_once('[') {
            Some((list, _)) if part.ends_with(']') => format!(" in this entry of [[{list}]]"),
            Some((list, rest)) => {
                let inside = rest.rsplit_once("].").map_or(rest, |(_, inside)| inside);
                format!(" under {inside} in this entry of [[{list}]]")
            }
            _ if part.is_empty() => String::new(),
            _ => format!(" under [{part}]"),
        };
        let hint = format!("write {key} = ...{under} ({help})");
        self.push(
            Problem::error(codes::MISSING, place, format!("{path} must be given")).label(label).hint(hint),
        );
    }

    fn fall_back(&mut self, path: &str, kind: Kind, text: &str, source: &'static str) {
        let listed = matches!(
            kind,
            Kind::Lengths { .. }
                | Kind::Size { .. }
                | Kind::Sizes { .. }
                | Kind::Texts
                | Kind::Groups(_)
                | Kind::Flag
        );
        let parsed = if listed { DeValue::parse(text).ok() } else { None };
        let value = parsed.unwrap_or_else(|| Spanned::new(0..0, DeValue::String(text.into())));
        self.default = Some(source);
        lists::value(self, path, kind, &value);
        self.default = None;
    }

    fn sub(&mut self, part: &Part, path: &str, written: Option<Written<'_, '_>>, home: Option<&Place>) {
        let Some((key, value)) = written else {
            if part.presence == Presence::Always {
                let entries = self.part(part, path, None, home);
                self.keep(path, Value::Group(entries), Given::Nothing);
            }
            return;
        };
        let listed = part.presence == Presence::List;
        match value.get_ref() {
            DeValue::Table(table) if !listed => {
                self.entry(part, path, table, &self.heading(&key, &value.span()))
            }
            DeValue::Array(array) if listed => {
                let entries = array.iter().enumerate().map(|(i, entry)| {
                    let below = format!("{path}[{i}]");
                    match entry.get_ref() {
                        DeValue::Table(table) => self.entry(part, &below, table, &entry.span()),
                        other => self.not_a_part(
                            &below,
                            &entry.span(),
                            "an entry with keys",
                            what(other),
                            "{ key = value, ... }",
                        ),
                    }
                    below
                });
                let entries = entries.collect();
                let given = self.given(&self.heading(&key, &value.span()));
                self.keep(path, Value::Group(entries), given);
            }
            DeValue::Table(table) => {
                self.not_a_part(
                    path,
                    &self.heading(&key, &value.span()),
                    "a list of parts",
                    "one part",
                    &format!("[[{path}]]"),
                );
                let below = format!("{path}[0]");
                self.entry(part, &below, table, &value.span());
                self.keep(path, Value::Group(vec![below]), self.given(&value.span()));
            }
            DeValue::Array(array) if array.first().is_some_and(|v| v.get_ref().is_table()) => {
                let spans: Vec<_> = array.iter().map(Spanned::span).collect();
                let span = spans.get(1).or(spans.first()).cloned().unwrap_or_default();
                self.not_a_part(path, &span, "one part", "a list of parts", &format!("[{path}], once"));
                if let Some(DeValue::Table(table)) = array.first().map(Spanned::get_ref) {
                    self.entry(part, path, table, &spans.first().cloned().unwrap_or_default());
                }
            }
            other => {
                let (wanted, example) = if listed {
                    ("a list of parts", format!("[[{path}]]"))
                } else {
                    ("a part with keys", format!("[{path}] or {{ key = value, ... }}"))
                };
                self.not_a_part(path, &value.span(), wanted, what(other), &example);
            }
        }
    }

    /// A part that stands in the file.
    fn entry(&mut self, part: &Part, path: &str, table: &DeTable<'_>, span: &Range<usize>) {
        let place = self.short(span);
        let entries = self.part(part, path, Some(table), place.as_ref());
        self.written.insert(path.to_owned());
        self.keep(path, Value::Group(entries), place.map_or(Given::Nothing, Given::Here));
    }

    fn not_a_part(&mut self, path: &str, span: &Range<usize>, wanted: &str, found: &str, example: &str) {
        let flaw = Flaw::new(codes::NOT_A_PART, format!("{wanted} is wanted here"));
        self.flaw(path, span, flaw.label(format!("this is {found}")).hint(format!("write it as {example}")));
    }

    /// The heading of a part where it has one, else its key.
    fn heading(&self, key: &Range<usize>, value: &Range<usize>) -> Range<usize> {
        let headed = self.lines.and_then(|l| l.text.get(value.clone())).is_some_and(|t| t.starts_with('['));
        let inside = value.start <= key.start && key.end <= value.end;
        if headed && inside { value.clone() } else { key.clone() }
    }
}

/// A value of one entry, read or reported.
pub(super) fn read_one<T>(
    reader: &mut Reader<'_>,
    path: &str,
    span: &Range<usize>,
    read: Result<T, values::Flaw>,
) -> Option<T> {
    read.map_err(|flaw| reader.flaw(path, span, flaw)).ok()
}
