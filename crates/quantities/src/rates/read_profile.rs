//! Reads one measurement profile.

use std::collections::BTreeMap;

use tankwright_geometry::Ratio;

use super::entry::Fields;
use super::profile::{Boundary, Rounding, Support};
use super::{Profile, VoidLimit, read_method};
use crate::source::Source;
use crate::works::{Class, Unit};

/// Square tenths of a millimetre in a square metre.
pub(super) const SQUARE: i128 = 100_000_000;

const UNITS: [Unit; 6] = [Unit::M3, Unit::M2, Unit::M, Unit::Kg, Unit::Nr, Unit::Item];

/// Classes that may have a void limit, by the key in the file.
const CLASSES: [(&str, Class); 5] = [
    ("concrete", Class::Concrete),
    ("formwork", Class::Formwork),
    ("masonry", Class::Masonry),
    ("plaster", Class::Plaster),
    ("sheet", Class::Sheet),
];

/// Reads a profile; `None` where something is wrong, all of it reported.
pub(super) fn profile(id: &str, top: &Fields<'_, '_>) -> Option<Profile> {
    let title = top.text("title");
    let method = if_any(top, "method", |f| f.text("value"));
    let step = top.part("step").and_then(|f| sourced(&f, |f| f.length("value")));
    let slab_step = top.part("slab_step").and_then(|f| sourced(&f, |f| f.length("value")));
    let bands = top.part("bands").and_then(|f| sourced(&f, bands));
    let walls = top.part("walls").and_then(|f| sourced(&f, |f| f.choice("value", &["m3", "m2"])));
    let thin_walls = if_any(top, "thin_walls", |f| f.length("value"));
    if let (Some((1, _)), Some(Some(_))) = (&walls, &thin_walls) {
        let message = "a limit for thin walls where all walls are in m2".into();
        top.report(
            "P019",
            top.span_of("thin_walls"),
            message,
            "leave [thin_walls] out, or say m3 in [walls]",
        );
    }
    let places = top.part("places").and_then(|f| places(&f));
    let (voids, one_face) = match top.part_if_any("voids") {
        None => (Some(BTreeMap::new()), Some(None)),
        Some(f) => voids(&f),
    };
    let chosen = |key, words: &[&str]| if_any(top, key, |f| f.choice("value", words));
    let by_row = chosen("total", &["item", "row"]);
    let by_greatest = chosen("band_rule", &["slices", "greatest"]);
    let laps = chosen("laps", &["included"]);
    let boundary = chosen("boundary", &["face", "part", "anywhere"]);
    let support = chosen("support", &["m2", "item", "in-rate"]);
    let working_space = top.part("working_space").and_then(|f| read_method::room(&f));
    let dig_class = read_method::class(top);
    let edges = if_any(top, "edges", self::bands);
    let pipes = by_class(top, "pipes", |f| f.length("value"));
    let narrow = by_class(top, "narrow", |f| f.length("value"));
    let ends = by_class(top, "ends", read_method::end);
    let in_rate = read_method::of_works(top, "in_rate", false);
    let states = read_method::of_works(top, "states", true);
    let notes = read_method::notes(top);
    top.done();
    let second = |found: Option<(usize, Source)>| found.and_then(|(n, source)| (n == 1).then_some(source));
    Some(Profile {
        id: id.to_owned(),
        title: title?,
        method: method?,
        step: step?,
        slab_step: slab_step?,
        places: places?,
        by_row: second(by_row?),
        bands: bands?,
        by_greatest_depth: second(by_greatest?),
        dig_class: dig_class?,
        walls_by_area: second(walls),
        thin_walls: thin_walls?,
        working_space: working_space?,
        support: match support? {
            Some((1, source)) => Support::Item(source),
            Some((2, source)) => Support::InRate(source),
            _ => Support::Area,
        },
        laps: laps?.map(|(_, source)| source),
        voids: voids?,
        one_face: one_face?,
        pipes: pipes?,
        boundary: match boundary? {
            Some((1, source)) => (Boundary::Part, Some(source)),
            Some((2, source)) => (Boundary::Anywhere, Some(source)),
            other => (Boundary::Face, other.map(|(_, source)| source)),
        },
        ends: ends?,
        edges: edges?,
        narrow: narrow?,
        in_rate: in_rate?,
        states: states?,
        notes: notes?,
    })
}

/// A part that may be left out: nothing then.
#[expect(clippy::option_option, reason = "a part left out is different from one that is wrong")]
fn if_any<'d, T>(
    top: &Fields<'_, 'd>,
    key: &'d str,
    read: impl FnOnce(&Fields<'_, '_>) -> Option<T>,
) -> Option<Option<(T, Source)>> {
    match top.part_if_any(key) {
        None if top.get(key).is_some() => None,
        None => Some(None),
        Some(f) => sourced(&f, read).map(Some),
    }
}

/// A value for each class of work that has one.
fn by_class<'d, T>(
    top: &Fields<'_, 'd>,
    key: &'d str,
    read: impl Fn(&Fields<'_, '_>) -> Option<T>,
) -> Option<BTreeMap<Class, (T, Source)>> {
    let Some(f) = top.part_if_any(key) else { return Some(BTreeMap::new()) };
    let one = |(key, class): (&'static str, Class)| {
        f.part_if_any(key).map(|f| Some((class, sourced(&f, |f| read(f))?)))
    };
    let all: Vec<_> = CLASSES.into_iter().filter_map(one).collect();
    f.done();
    all.into_iter().collect()
}

/// A value with its source; closes the entry.
pub(super) fn sourced<T>(
    f: &Fields<'_, '_>,
    read: impl FnOnce(&Fields<'_, '_>) -> Option<T>,
) -> Option<(T, Source)> {
    let (value, source) = (read(f), f.source());
    f.done();
    Some((value?, source?))
}

fn bands(f: &Fields<'_, '_>) -> Option<Vec<i64>> {
    let bands = f.lengths("value")?;
    if bands.is_sorted_by(|a, b| a < b) {
        return Some(bands);
    }
    f.report(
        "P016",
        f.span_of("value"),
        "the depth bands do not go down".into(),
        "each deeper than the one before",
    );
    None
}

fn places(f: &Fields<'_, '_>) -> Option<BTreeMap<Unit, Rounding>> {
    let read = |unit: Unit| {
        let entry = f.part(unit.id()).and_then(|f| {
            let whole =
                |key, other, most| if f.get(key).is_some() { f.whole(key, most) } else { Some(other) };
            let (of, least) = (whole("of", 1, 1000), whole("least", 0, 1000));
            let (places, source) = sourced(&f, |f| f.whole("value", 12))?;
            Some(Rounding { places, of: of?.max(1), least: least?, source })
        });
        Some((unit, entry?))
    };
    let all: Vec<_> = UNITS.into_iter().map(read).collect();
    f.done();
    all.into_iter().collect()
}

type OneFace = Option<(Ratio, Source)>;

/// Limits by class; of plaster, up to which size one face of two is deducted.
fn voids(f: &Fields<'_, '_>) -> (Option<BTreeMap<Class, VoidLimit>>, Option<OneFace>) {
    let mut one_face = Some(None);
    let mut limits = Vec::new();
    for (key, class) in CLASSES {
        let Some(entry) = f.part_if_any(key) else { continue };
        let second = (class == Class::Plaster && entry.get("one_face").is_some())
            .then(|| entry.number("one_face", Ratio::ZERO, Ratio::int(100)));
        let span = entry.span_of("one_face");
        let Some(limit) = limit(&entry) else {
            limits.push(None);
            continue;
        };
        match second {
            None => {}
            Some(Some(m2)) if m2 > limit.shown() && limit.unit == Unit::M2 => {
                one_face = Some(Some((m2 * Ratio::int(SQUARE), limit.source.clone())));
            }
            Some(found) => {
                if found.is_some() {
                    let message = "one face of two is deducted above the limit, not below it".into();
                    entry.report("P019", span, message, "`one_face` is in m2 and more than `value`");
                }
                one_face = None;
            }
        }
        limits.push(Some((class, limit)));
    }
    f.done();
    (limits.into_iter().collect(), one_face)
}

fn limit(f: &Fields<'_, '_>) -> Option<VoidLimit> {
    let value = f.number("value", Ratio::ZERO, Ratio::int(100));
    let unit = f.choice("unit", &["m2", "m3"]);
    let source = f.source();
    f.done();
    // Square and cubic tenths of a millimetre.
    let (unit, scale) = if unit? == 0 { (Unit::M2, SQUARE) } else { (Unit::M3, SQUARE * 10_000) };
    Some(VoidLimit { unit, limit: value? * Ratio::int(scale), source: source? })
}
