//! Reads one measurement profile.

use std::collections::BTreeMap;

use tankwright_geometry::Ratio;

use super::entry::Fields;
use super::{Profile, VoidLimit};
use crate::source::Source;
use crate::works::{Class, Unit};

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
    let step = top.part("step").and_then(|f| sourced(&f, |f| f.length("value")));
    let slab_step = top.part("slab_step").and_then(|f| sourced(&f, |f| f.length("value")));
    let bands = top.part("bands").and_then(|f| sourced(&f, bands));
    let walls = top.part("walls").and_then(|f| sourced(&f, |f| f.choice("value", &["m3", "m2"])));
    let space =
        top.part("working_space").and_then(|f| sourced(&f, |f| f.choice("value", &["billed", "in-rate"])));
    let places = top.part("places").and_then(|f| places(&f));
    let voids = top.part_if_any("voids").map_or_else(|| Some(BTreeMap::new()), |f| voids(&f));
    top.done();
    let second = |(chosen, source): (usize, Source)| (chosen == 1).then_some(source);
    Some(Profile {
        id: id.to_owned(),
        title: title?,
        step: step?,
        slab_step: slab_step?,
        places: places?,
        bands: bands?,
        walls_by_area: second(walls?),
        working_space_in_rate: second(space?),
        voids: voids?,
    })
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

fn places(f: &Fields<'_, '_>) -> Option<BTreeMap<Unit, (u32, Source)>> {
    let read = |unit: Unit| {
        let entry = f.part(unit.id()).and_then(|f| sourced(&f, |f| f.whole("value", 12)));
        Some((unit, entry?))
    };
    let all: Vec<_> = UNITS.into_iter().map(read).collect();
    f.done();
    all.into_iter().collect()
}

fn voids(f: &Fields<'_, '_>) -> Option<BTreeMap<Class, VoidLimit>> {
    let read = |(key, class): (&'static str, Class)| f.part_if_any(key).map(|f| Some((class, limit(&f)?)));
    let all: Vec<_> = CLASSES.into_iter().filter_map(read).collect();
    f.done();
    all.into_iter().collect()
}

fn limit(f: &Fields<'_, '_>) -> Option<VoidLimit> {
    let value = f.number("value", Ratio::ZERO, Ratio::int(100));
    let unit = f.choice("unit", &["m2", "m3"]);
    let source = f.source();
    f.done();
    // Square and cubic tenths of a millimetre.
    let (unit, scale) = if unit? == 0 { (Unit::M2, 100_000_000) } else { (Unit::M3, 1_000_000_000_000) };
    Some(VoidLimit { unit, limit: value? * Ratio::int(scale), source: source? })
}
