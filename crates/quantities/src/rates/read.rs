//! Reads data files into a stock, entry by entry: the built-in ones first, then the user's own over them.

use std::collections::BTreeSet;

use tankwright_geometry::Ratio;
use toml::Spanned;
use toml::de::DeTable;

use super::entry::{Doc, Fields, is_id};
use super::read_profile::{profile, sourced};
use super::{CheckItem, MasonryUnit, Soil, Stock, read_goods, read_recipes};
use crate::halves::in_halves;
use crate::money::Currency;
use crate::problem::{Place, Problem, Severity, in_order};
use crate::source::Source;

/// The longest data file read, in bytes.
const LONGEST: usize = 1_000_000;

/// Reads files (path and text) over what the stock holds; an entry of the same id replaces the older one.
///
/// A path's last part says what is in it: `soils.toml`, `units.toml`, `currencies.toml`, `checklist.toml`,
/// `mixes.toml`, `recipes.toml`, `materials.toml`, `waste.toml`, `bars.toml`, `packs.toml`, `programme.toml`,
/// `checks.toml`, `tables.toml`, or any
/// `.toml` in a folder `profiles` or `build-ups`. Price lists (`.csv`) and `.md` files are passed over.
/// What was replaced or added is named in [`Stock::overridden`], unless the stock was empty before.
pub fn read_stock(files: &[(String, String)], into: &mut Stock) -> Vec<Problem> {
    let first = into.profiles.is_empty() && into.soils.is_empty();
    let mut problems = Vec::new();
    let ours: Vec<_> = files.iter().filter(is_ours).collect();
    // Every command waits for the built-in ones.
    let parsed = in_halves(&ours, |(_, text)| text.len(), |(_, text)| parse(text));
    for ((path, text), parsed) in ours.iter().zip(parsed) {
        problems.extend(read_file(path, text, parsed, into));
    }
    if first {
        into.overridden.clear();
    }
    in_order(&mut problems);
    problems
}

/// A text as the parser has it; nothing where it is too long.
type Parsed<'a> = Option<(Spanned<DeTable<'a>>, Vec<toml::de::Error>)>;

fn parse(text: &str) -> Parsed<'_> {
    (text.len() <= LONGEST).then(|| DeTable::parse_recoverable(text))
}

/// Is it for this reader? Sizing rules and trade words are read by the crates that know them.
fn is_ours((path, _): &&(String, String)) -> bool {
    let (folder, name) = folder_and_name(path);
    !(name.ends_with(".csv") || name.ends_with(".md") || folder == "rules" || name == "wording.toml")
}

fn folder_and_name(path: &str) -> (&str, &str) {
    let mut parts = path.rsplit(['/', '\\']);
    let name = parts.next().unwrap_or_default();
    (parts.next().unwrap_or_default(), name)
}

fn read_file(path: &str, text: &str, parsed: Parsed<'_>, into: &mut Stock) -> Vec<Problem> {
    let (folder, name) = folder_and_name(path);
    let stem = name.strip_suffix(".toml");
    let mut known = true;
    let problems = read_parsed((path, text), parsed, |top| match (folder, stem) {
        ("profiles", Some(id)) => read_profile(id, top, into),
        ("build-ups", Some(_)) => super::read_build_ups::read(top, path, into),
        (_, Some("soils")) => each(top, "soil", "id", soil, |s| put(into, "soil", path, s)),
        (_, Some("units")) => each(top, "unit", "id", unit, |u| put(into, "unit", path, u)),
        (_, Some("currencies")) => {
            each(top, "currency", "code", currency, |c| put(into, "currency", path, c))
        }
        (_, Some("bars")) => super::read_bars::bars(top, into),
        (_, Some("tables")) => super::tables::read(top, path, into),
        (_, Some("packs")) => read_goods::packs(top, into),
        (_, Some("programme")) => read_goods::times(top, into),
        (_, Some("checklist")) => each(top, "item", "id", check_item, |i| put(into, "checklist", path, i)),
        (_, Some(stem)) if read_recipes::read(stem, top, path, into) => {}
        _ => known = false,
    });
    if known {
        return problems;
    }
    let hint = "files are bars, soils, units, currencies, checklist, mixes, recipes, materials, waste, packs, \
                programme, checks, tables (.toml), profiles/NAME.toml, rules/NAME.toml and build-ups/NAME.toml";
    let place = Place { file: path.to_owned(), span: 0..0, line: 1 };
    let mut problem = Problem::error("P002", Some(place), format!("nothing reads {name}")).hint(hint);
    problem.severity = Severity::Caution;
    vec![problem]
}

/// Parses one data file and reads it; gives every problem, the parser's first thoughts only.
pub fn read_fields(path: &str, text: &str, read: impl FnOnce(&Fields<'_, '_>)) -> Vec<Problem> {
    read_parsed((path, text), parse(text), read)
}

fn read_parsed(
    (path, text): (&str, &str),
    parsed: Parsed<'_>,
    read: impl FnOnce(&Fields<'_, '_>),
) -> Vec<Problem> {
    let doc = Doc::new(path, text);
    let Some((tree, errors)) = parsed else {
        doc.report(
            doc.error("P018", 0..0, "the data file is larger than 1 MB")
                .hint("split it or look what is in it"),
        );
        return doc.into_problems();
    };
    for error in errors {
        let message = error.message().lines().next().unwrap_or_default().trim_end_matches('.').to_owned();
        doc.report(doc.error("P001", error.span().unwrap_or(0..0), format!("not TOML: {message}")));
    }
    read(&Fields::new(&doc, tree.get_ref(), 0..0));
    // What the parser made of a broken line is not the user's doing; nor its second thoughts about it.
    let mut problems = doc.into_problems();
    let place = |p: &Problem| p.place.as_ref().map_or((0, true), |p| (p.line, p.span.is_empty()));
    let broken: BTreeSet<_> = problems.iter().filter(|p| p.code == "P001").map(|p| place(p).0).collect();
    let mut told = BTreeSet::new();
    problems.retain(|p| match place(p) {
        (line, _) if p.code == "P001" => told.insert(line),
        (line, empty) => broken.is_empty() || !(empty || broken.contains(&line)),
    });
    problems
}

fn read_profile(id: &str, top: &Fields<'_, '_>, into: &mut Stock) {
    if !is_id(id) {
        let hint = "lower-case letters, digits, points and hyphens";
        top.report("P013", 0..0, format!("`{id}` cannot be the name of a profile"), hint);
    } else if let Some(profile) = profile(id, top) {
        put(into, "profile", top.doc.file, profile);
    }
}

/// Reads every entry of a file's one list and refuses an id that stands there twice.
fn each<'a, T>(
    top: &Fields<'a, '_>,
    list: &'static str,
    key: &'static str,
    read: impl Fn(&Fields<'a, '_>) -> Option<T>,
    keep: impl FnMut(T),
) {
    if top.get(list).is_none() {
        let _ = top.list(list); // says that it is missing
    }
    each_of(top, list, key, read, keep);
    top.done();
}

/// The same for a file of several lists, none of which need be there; the caller closes the file.
pub(super) fn each_of<'a, T>(
    top: &Fields<'a, '_>,
    list: &'static str,
    key: &'static str,
    read: impl Fn(&Fields<'a, '_>) -> Option<T>,
    mut keep: impl FnMut(T),
) {
    if top.get(list).is_none() {
        return;
    }
    let mut ids = BTreeSet::new();
    for entry in top.list(list) {
        let fresh = id_once(&entry, key, &mut ids);
        if let Some(value) = read(&entry).filter(|_| fresh) {
            keep(value);
        }
    }
}

/// Is the id of an entry new in its file? Told where it is not.
pub(super) fn id_once(entry: &Fields<'_, '_>, key: &'static str, ids: &mut BTreeSet<String>) -> bool {
    let id = entry.get(key).and_then(|v| v.get_ref().as_str()).unwrap_or_default();
    let again = !id.is_empty() && !ids.insert(id.to_owned());
    if again {
        let message = format!("`{id}` stands twice in this file");
        entry.report("P014", entry.span_of(key), message, "keep one of the two");
    }
    !again
}

/// Something that the stock keeps by id.
pub(super) trait Kept {
    /// Puts it into the stock and tells its id.
    fn put(self, into: &mut Stock) -> String;
}

pub(super) fn put(into: &mut Stock, kind: &str, path: &str, value: impl Kept) {
    let id = value.put(into);
    into.overridden.push(format!("{kind} {id}, from {path}"));
}

impl Kept for super::Profile {
    fn put(self, into: &mut Stock) -> String {
        let id = self.id.clone();
        into.profiles.insert(id.clone(), self);
        id
    }
}

impl Kept for Soil {
    fn put(self, into: &mut Stock) -> String {
        let id = self.id.clone();
        into.soils.insert(id.clone(), self);
        id
    }
}

impl Kept for MasonryUnit {
    fn put(self, into: &mut Stock) -> String {
        let id = self.id.clone();
        into.units.insert(id.clone(), self);
        id
    }
}

impl Kept for (Currency, Source) {
    fn put(self, into: &mut Stock) -> String {
        let id = self.0.code.clone();
        into.currencies.insert(id.clone(), self);
        id
    }
}

impl Kept for CheckItem {
    fn put(self, into: &mut Stock) -> String {
        let id = self.id.clone();
        match into.checklist.iter_mut().find(|i| i.id == id) {
            Some(old) => *old = self,
            None => into.checklist.push(self),
        }
        id
    }
}

fn soil(f: &Fields<'_, '_>) -> Option<Soil> {
    let (id, title) = (f.id("id"), f.text("title"));
    let swell = used(f, "swell", |f| f.number("value", Ratio::ONE, Ratio::int(3)));
    let weight = used(f, "weight", |f| f.number("value", Ratio::of(1, 2), Ratio::int(4)));
    let sides_stand = used(f, "sides_stand", |f| f.flag("value"));
    f.done();
    Some(Soil { id: id?, title: title?, swell: swell?, weight: weight?, sides_stand: sides_stand? })
}

/// The value that counts: the only one, or of several sources the one marked as used.
pub(super) fn used<T>(
    f: &Fields<'_, '_>,
    key: &'static str,
    read: impl Fn(&Fields<'_, '_>) -> Option<T>,
) -> Option<(T, Source)> {
    let entries = f.list(key);
    let several = entries.len() > 1;
    let mut chosen = Vec::new();
    for entry in &entries {
        let counts = if several || entry.get("used").is_some() { entry.flag("used") } else { Some(true) };
        let value = sourced(entry, &read);
        if counts? {
            chosen.push(value);
        }
    }
    if chosen.len() != 1 && !entries.is_empty() {
        let span = entries.first().map_or(0..0, |e| e.span.clone());
        f.report(
            "P017",
            span,
            format!("{} values of `{key}` are marked as used", chosen.len()),
            "mark one of them",
        );
        return None;
    }
    chosen.pop().flatten()
}

fn unit(f: &Fields<'_, '_>) -> Option<MasonryUnit> {
    let (id, title) = (f.id("id"), f.text("title"));
    let size = f.lengths("size").and_then(|size| three(f, size));
    let (joint, walls, hollow) = (f.length("joint"), f.lengths("walls"), f.flag("hollow"));
    let voids = f.get("voids").and_then(|_| f.number("voids", Ratio::ZERO, Ratio::of(9, 10)));
    let filled = f.get("joints_filled").and_then(|_| f.number("joints_filled", Ratio::of(1, 10), Ratio::ONE));
    let source = f.source();
    f.done();
    let (id, size) = (id?, size?);
    if let Some(said) = size_in(&id).filter(|said| *said != size) {
        let say = |s: [i64; 3]| s.map(|t| crate::decimal::plain(Ratio::of(t.into(), 10))).join(" x ");
        let message = format!("`{id}` says {} mm, its size {} mm", say(said), say(size));
        f.report("P015", f.span_of("size"), message, "length, breadth, height as it lies in the wall");
        return None;
    }
    Some(MasonryUnit {
        id,
        title: title?,
        size,
        joint: joint?,
        walls: walls?,
        hollow: hollow?,
        voids,
        filled: filled.unwrap_or(Ratio::ONE),
        source: source?,
    })
}

fn three(f: &Fields<'_, '_>, size: Vec<i64>) -> Option<[i64; 3]> {
    let size = <[i64; 3]>::try_from(size).ok();
    if size.is_none() {
        f.report(
            "P011",
            f.span_of("size"),
            "`size` should be three lengths".into(),
            "length, breadth, height",
        );
    }
    size
}

/// The size that an id like `brick-215x102.5x65` names, in tenths of a millimetre.
fn size_in(id: &str) -> Option<[i64; 3]> {
    let numbers = id.rsplit('-').next()?.split('x');
    let tenths: Option<Vec<i64>> =
        numbers.map(|n| tankwright_geometry::parse_length(&format!("{n} mm")).ok()).collect();
    <[i64; 3]>::try_from(tenths?).ok()
}

fn currency(f: &Fields<'_, '_>) -> Option<(Currency, Source)> {
    let code = f.text("code");
    let (digits, unit, minor) = (f.whole("digits", 4), f.text("unit"), f.text_or_empty("minor"));
    let one = [f.text_or_empty("unit_one"), f.text_or_empty("minor_one")];
    let source = f.source();
    f.done();
    let (code, digits) = (code?, digits?);
    if !is_currency(&code) {
        f.report(
            "P013",
            f.span_of("code"),
            format!("`{code}` is not a currency code"),
            "three capital letters, ISO 4217",
        );
        return None;
    }
    if digits == 0 && !minor.is_empty() {
        let message = "a currency without minor digits has no minor unit".into();
        f.report("P011", f.span_of("digits"), message, "leave `minor` empty, or say how many digits it has");
        return None;
    }
    Some((Currency { code, digits, unit: unit?, minor, one, ..Currency::default() }, source?))
}

/// Three capital letters.
pub(super) fn is_currency(code: &str) -> bool {
    code.len() == 3 && code.bytes().all(|b| b.is_ascii_uppercase())
}

fn check_item(f: &Fields<'_, '_>) -> Option<CheckItem> {
    let (id, title, words) = (f.id("id"), f.text("title"), f.texts("words"));
    let not = if f.get("not").is_some() { f.texts("not") } else { Some(Vec::new()) };
    let source = f.source();
    f.done();
    Some(CheckItem { id: id?, title: title?, words: words?, not: not?, source: source? })
}
