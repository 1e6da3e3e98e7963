//! Values of every kind, with the lists and tables made of them, kept under their paths.

use toml::Spanned;
use toml::de::{DeArray, DeValue};

use super::field::Kind;
use super::model::{Scale, Value};
use super::near::nearest;
use super::read::{Reader, read_one};
use super::values::{self, Flaw, Lap, unfit};
use super::{changes, codes};

/// Most entries a list may have: more is a slip.
const LONGEST: usize = 1000;

/// Reads the value at a path and keeps it.
pub(super) fn value(reader: &mut Reader<'_>, path: &str, kind: Kind, written: &Spanned<DeValue<'_>>) {
    let (span, found) = (written.span(), written.get_ref());
    let given = reader.given(&span);
    match kind {
        Kind::Length { least, most } => length(reader, path, written, (least, most)),
        Kind::LengthOr(word) => match read_one(reader, path, &span, values::length_or(found, word)) {
            Some(None) => reader.keep(path, Value::Text(word.to_owned()), given),
            Some(Some(tenths)) => reader.keep_input(path, tenths.into(), Scale::Length, false, given),
            None => {}
        },
        Kind::Count { least, most } => {
            if let Some(n) = read_one(reader, path, &span, values::count(found, least, most)) {
                reader.keep_input(path, n.into(), Scale::Plain, least < 0, given);
            }
        }
        Kind::Factor { places } => {
            if let Some(n) = read_one(reader, path, &span, values::factor(found, places)) {
                reader.keep_input(path, n, Scale::Plain, false, given);
            }
        }
        Kind::Number { places } => {
            if let Some(n) = read_one(reader, path, &span, values::number(found, places)) {
                reader.keep(path, Value::Number(n), given);
            }
        }
        Kind::Flag => {
            if let Some(flag) = read_one(reader, path, &span, values::flag(found)) {
                reader.keep(path, Value::Flag(flag), given);
            }
        }
        Kind::Choice(words) => text(reader, path, written, values::choice(found, words)),
        Kind::Mix { parts } => text(reader, path, written, values::mix(found, parts)),
        Kind::Bars { spaced } => {
            if let Some(bars) = read_one(reader, path, &span, values::bars(found, spaced)) {
                let (key, scale) = if spaced { ("spacing", Scale::Length) } else { ("number", Scale::Plain) };
                reader.keep_input(&format!("{path}.{key}"), bars.amount.into(), scale, false, given.clone());
                reader.keep(path, Value::Text(bars.bar), given);
            }
        }
        Kind::Lap => match read_one(reader, path, &span, values::lap(found)) {
            Some(Lap::Diameters(n)) => reader.keep_input(path, n.into(), Scale::Plain, false, given),
            Some(Lap::Length(n)) => reader.keep_input(path, n.into(), Scale::Length, false, given),
            None => {}
        },
        Kind::Text => text(reader, path, written, values::free(found)),
        Kind::Date => text(reader, path, written, values::date(found)),
        Kind::Texts => texts(reader, path, written),
        Kind::Groups(words) => groups(reader, path, written, words),
        Kind::Lengths { least, most, count } => {
            let example = "[\"2.00 m\", \"1.00 m\"]";
            let Some(array) = list(reader, path, written, "a list of lengths", example, (1, count)) else {
                return;
            };
            entries(reader, path, written, array, |r, below, entry| length(r, below, entry, (least, most)));
        }
        Kind::Size { least, most } => size(reader, path, written, (least, most)),
        Kind::Sizes { least, most } => {
            let example = "[[\"600 mm\", \"600 mm\"]], along and across";
            let Some(array) = list(reader, path, written, "a list of sizes", example, (0, LONGEST)) else {
                return;
            };
            if !array.is_empty() && array.iter().all(|e| !e.get_ref().is_array()) {
                let flaw =
                    Flaw::new(codes::WRONG_SHAPE, "a list of sizes is wanted here, each with two lengths");
                reader.flaw(
                    path,
                    &span,
                    flaw.label("this is one list of values").hint(format!("write it as {example}")),
                );
                return;
            }
            entries(reader, path, written, array, |r, below, entry| size(r, below, entry, (least, most)));
        }
        Kind::Open => open(reader, path, written),
        Kind::Changes => changes::changes(reader, path, written),
    }
}

fn text(reader: &mut Reader<'_>, path: &str, written: &Spanned<DeValue<'_>>, read: Result<String, Flaw>) {
    let span = written.span();
    if let Some(text) = read_one(reader, path, &span, read) {
        reader.keep(path, Value::Text(text), reader.given(&span));
    }
}

fn length(reader: &mut Reader<'_>, path: &str, written: &Spanned<DeValue<'_>>, (least, most): (i64, i64)) {
    let span = written.span();
    if let Some(tenths) = read_one(reader, path, &span, values::length(written.get_ref(), least, most)) {
        let given = reader.given(&span);
        reader.keep_input(path, tenths.into(), Scale::Length, least < 0, given);
    }
}

fn size(reader: &mut Reader<'_>, path: &str, written: &Spanned<DeValue<'_>>, limits: (i64, i64)) {
    let example = "[\"600 mm\", \"600 mm\"], along and across";
    if let Some(array) = list(reader, path, written, "two lengths", example, (2, 2)) {
        entries(reader, path, written, array, |r, below, entry| length(r, below, entry, limits));
    }
}

/// The list at a path, if it is one and has as many entries as it may have.
fn list<'t, 'i>(
    reader: &mut Reader<'_>,
    path: &str,
    written: &'t Spanned<DeValue<'i>>,
    wanted: &str,
    example: &str,
    (least, most): (usize, usize),
) -> Option<&'t DeArray<'i>> {
    let span = written.span();
    let DeValue::Array(array) = written.get_ref() else {
        reader.flaw(path, &span, unfit(written.get_ref(), wanted, example));
        return None;
    };
    if (least..=most).contains(&array.len()) {
        return Some(array);
    }
    let many = match (least, most) {
        (a, b) if a == b => format!("{a} entries are"),
        (a, LONGEST) if a > 0 => format!("at least {a} entry is"),
        (0, b) => format!("at most {b} entries are"),
        (a, b) => format!("{a} to {b} entries are"),
    };
    let has = match array.len() {
        1 => "this has 1 entry".to_owned(),
        n => format!("this has {n} entries"),
    };
    let flaw = Flaw::new(codes::LIST_LENGTH, format!("{many} wanted here"));
    reader.flaw(path, &span, flaw.label(has).hint(format!("write it as {example}")));
    None
}

/// Reads every entry of a list; the list itself holds their paths.
fn entries(
    reader: &mut Reader<'_>,
    path: &str,
    written: &Spanned<DeValue<'_>>,
    array: &DeArray<'_>,
    read: impl Fn(&mut Reader<'_>, &str, &Spanned<DeValue<'_>>),
) {
    let mut paths = Vec::new();
    for (i, entry) in array.iter().enumerate() {
        let below = format!("{path}[{i}]");
        read(reader, &below, entry);
        paths.push(below);
    }
    let given = reader.given(&written.span());
    reader.keep(path, Value::Group(paths), given);
}

fn texts(reader: &mut Reader<'_>, path: &str, written: &Spanned<DeValue<'_>>) {
    let given = reader.given(&written.span());
    if written.get_ref().is_str() {
        if let Some(one) = read_one(reader, path, &written.span(), values::free(written.get_ref())) {
            reader.keep(path, Value::Texts(vec![one]), given);
        }
        return;
    }
    let Some(array) = list(reader, path, written, "a list of texts", "[\"one\", \"another\"]", (0, LONGEST))
    else {
        return;
    };
    let read = |(i, entry): (usize, &Spanned<DeValue<'_>>)| {
        read_one(reader, &format!("{path}[{i}]"), &entry.span(), values::free(entry.get_ref()))
    };
    let texts = array.iter().enumerate().filter_map(read).collect();
    reader.keep(path, Value::Texts(texts), given);
}

fn groups(
    reader: &mut Reader<'_>,
    path: &str,
    written: &Spanned<DeValue<'_>>,
    words: &'static [&'static str],
) {
    let example = "[[\"...\", \"...\"]], a list of lists";
    let Some(array) = list(reader, path, written, "a list of lists of words", example, (0, LONGEST)) else {
        return;
    };
    entries(reader, path, written, array, |reader, below, entry| {
        let Some(inner) = list(reader, below, entry, "a list of words", "[\"...\", \"...\"]", (1, LONGEST))
        else {
            return;
        };
        let read = |(i, word): (usize, &Spanned<DeValue<'_>>)| {
            read_one(reader, &format!("{below}[{i}]"), &word.span(), values::choice(word.get_ref(), words))
        };
        let texts = inner.iter().enumerate().filter_map(read).collect();
        let given = reader.given(&entry.span());
        reader.keep(below, Value::Texts(texts), given);
    });
}

/// A table of the user's own keys.
fn open(reader: &mut Reader<'_>, path: &str, written: &Spanned<DeValue<'_>>) {
    let DeValue::Table(table) = written.get_ref() else {
        let flaw = Flaw::new(codes::NOT_A_PART, "a part with keys is wanted here");
        let flaw = flaw.label(format!("this is {}", values::what(written.get_ref())));
        reader.flaw(
            path,
            &written.span(),
            flaw.hint(format!("write it as [{path}], with a line for each key")),
        );
        return;
    };
    let mut keys: Vec<_> = table.iter().collect();
    keys.sort_by_key(|(key, _)| key.span().start);
    let mut paths = Vec::new();
    for (key, value) in keys {
        let name: &str = key.get_ref();
        let fit = !name.is_empty()
            && name.len() <= 60
            && name.bytes().all(|b| b.is_ascii_alphanumeric() || b"_-./".contains(&b));
        if !fit {
            let flaw =
                Flaw::new(codes::OWN_KEY, "a name of your own is made of letters, digits, - _ . and /");
            reader.flaw(
                path,
                &key.span(),
                flaw.label("cannot be kept").hint("use a short plain name, as sand-building"),
            );
            continue;
        }
        let below = format!("{path}.{name}");
        let (span, given) = (value.span(), reader.given(&value.span()));
        match value.get_ref() {
            DeValue::String(_) => text(reader, &below, value, values::free(value.get_ref())),
            DeValue::Integer(_) | DeValue::Float(_) => {
                if let Some(n) = read_one(reader, &below, &span, values::number(value.get_ref(), 6)) {
                    reader.keep(&below, Value::Number(n), given);
                }
            }
            DeValue::Array(_) => texts(reader, &below, value),
            DeValue::Datetime(_) => text(reader, &below, value, values::date(value.get_ref())),
            other => reader.flaw(
                &below,
                &span,
                unfit(other, "a text, a number or a list of texts", "\"5\" or [\"one\", \"another\"]"),
            ),
        }
        paths.push(below);
    }
    let given = reader.given(&written.span());
    reader.keep(path, Value::Group(paths), given);
}

/// The nearest of some names as half a sentence for a hint.
#[must_use]
pub fn suggestion<'a>(word: &str, names: impl IntoIterator<Item = &'a str>) -> String {
    nearest(word, names).map(|(_, n)| format!("did you mean \"{n}\"? ")).unwrap_or_default()
}
