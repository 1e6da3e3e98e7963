//! Where values stand in the text of a job file, readable or not: by path, as the file is written.

use std::collections::BTreeMap;
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::repair;

/// Where a value stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Span {
    /// Bytes of its key; of the value itself in a list.
    pub key: Range<usize>,
    /// Bytes of the value; of a part under a heading its heading.
    pub value: Range<usize>,
    /// A text, number, yes or no: nothing below it.
    pub plain: bool,
}

/// Every value that is written, by path, whatever the table of fields says of it.
#[must_use]
pub fn written(text: &str) -> BTreeMap<String, Span> {
    let repaired = repair::repair(text);
    let (tree, _) = DeTable::parse_recoverable(&repaired.text);
    let mut all = BTreeMap::new();
    table(tree.get_ref(), "", &mut all);
    all.retain(|_, s| text.get(s.key.clone()).is_some() && text.get(s.value.clone()).is_some());
    all
}

/// The innermost value that a place lies in.
#[must_use]
pub fn path_at(all: &BTreeMap<String, Span>, place: &Range<usize>) -> Option<String> {
    let holds = |s: &Span| s.key.start <= place.start && place.start < s.value.end.max(s.key.end);
    let inside = all.iter().filter(|(_, s)| holds(s) && (s.plain || s.key != s.value));
    inside.min_by_key(|(_, s)| s.value.end.saturating_sub(s.key.start)).map(|(path, _)| path.clone())
}

fn table(table: &DeTable<'_>, path: &str, all: &mut BTreeMap<String, Span>) {
    for (key, value) in table {
        let name = key.get_ref();
        let below = if path.is_empty() { name.to_string() } else { format!("{path}.{name}") };
        one(value, key.span(), below, all);
    }
}

fn one(found: &Spanned<DeValue<'_>>, key: Range<usize>, path: String, all: &mut BTreeMap<String, Span>) {
    match found.get_ref() {
        DeValue::Table(below) => table(below, &path, all),
        DeValue::Array(entries) => {
            entries.iter().enumerate().for_each(|(i, e)| one(e, e.span(), format!("{path}[{i}]"), all));
        }
        _ => {}
    }
    let plain = !matches!(found.get_ref(), DeValue::Table(_) | DeValue::Array(_));
    all.insert(path, Span { key, value: found.span(), plain });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_found_though_nothing_can_read_them() {
        let text = "[tank]\nchambers = [\"2 m\", \"wide\"]\nwidth = \"1.\" # soon\nbase = { fall = \"x\" }\n";
        let all = written(text);
        let at = |path: &str| all.get(path).map(|s| &text[s.value.clone()]);
        assert_eq!(at("tank.width"), Some("\"1.\""));
        assert_eq!(at("tank.chambers[1]"), Some("\"wide\""));
        assert_eq!(at("tank.base.fall"), Some("\"x\""));
        assert_eq!(at("tank.height"), None);
        let found = |words: &str| text.find(words).and_then(|i| path_at(&all, &(i..i + 1)));
        assert_eq!(found("wide").as_deref(), Some("tank.chambers[1]"));
        assert_eq!(found("width").as_deref(), Some("tank.width"));
        assert_eq!(found("x\"").as_deref(), Some("tank.base.fall"));
    }

    #[test]
    fn broken_lines_hide_no_others() {
        let all = written("a = [1,\nb = 2\nc\nd = \"\n[e\nf = 3\n");
        assert!(all.contains_key("b") && !all.contains_key("c"));
    }
}
