//! Reads `bars.toml`: grades, diameters, mass, laps.

use tankwright_geometry::Ratio;

use super::entry::Fields;
use super::read::{Kept, each_of, put, used};
use super::{BarSize, Grade, LapRule, Stock};
use crate::source::Source;

/// Reads the file over what the stock holds.
pub(super) fn bars(top: &Fields<'_, '_>, into: &mut Stock) {
    let path = top.doc.file;
    if top.get("grade").is_some() {
        each_of(top, "grade", "letter", grade, |g| put(into, "grade of bars", path, g));
    }
    if top.get("size").is_some() {
        each_of(top, "size", "id", size, |s| put(into, "bar", path, s));
    }
    if top.get("lap").is_some() {
        each_of(top, "lap", "id", lap, |l| put(into, "lap", path, l));
    }
    if top.get("density").is_some() {
        let read = used(top, "density", |f| {
            f.choice("unit", &["kg/m3"])?;
            f.number("value", Ratio::int(7_000), Ratio::int(9_000))
        });
        if let Some(value) = read {
            put(into, "density of bars", path, Density(value));
        }
    }
    top.done();
}

struct Density((Ratio, Source));

impl Kept for Grade {
    fn put(self, into: &mut Stock) -> String {
        let letter = self.letter.clone();
        into.bars.grades.insert(letter.clone(), self);
        letter
    }
}

impl Kept for BarSize {
    fn put(self, into: &mut Stock) -> String {
        let mm = self.diameter;
        into.bars.sizes.insert(mm, self);
        format!("{mm} mm")
    }
}

impl Kept for LapRule {
    fn put(self, into: &mut Stock) -> String {
        let id = self.id.clone();
        if self.used {
            into.bars.laps.values_mut().for_each(|l| l.used = false);
        }
        into.bars.laps.insert(id.clone(), self);
        id
    }
}

impl Kept for Density {
    fn put(self, into: &mut Stock) -> String {
        into.bars.density = Some(self.0);
        String::new()
    }
}

fn grade(f: &Fields<'_, '_>) -> Option<Grade> {
    let (letter, title, ribbed) = (f.text("letter"), f.text("title"), f.flag("ribbed"));
    let source = f.source();
    f.done();
    let letter = letter?;
    if letter.is_empty() || letter.len() > 2 || !letter.bytes().all(|b| b.is_ascii_uppercase()) {
        let message = format!("`{letter}` cannot be the letter of a grade");
        f.report("P013", f.span_of("letter"), message, "one or two capital letters, as Y");
        return None;
    }
    Some(Grade { letter, title: title?, ribbed: ribbed?, source: source? })
}

fn size(f: &Fields<'_, '_>) -> Option<BarSize> {
    // The id is the diameter in text, so that an entry that stands twice is found as everywhere else.
    let (id, radius) = (f.id("id"), f.length("radius"));
    let (general, links, two) = (f.length("projection"), f.length("projection_links"), f.length("two_bends"));
    let source = f.source();
    f.done();
    let id = id?;
    let Some(diameter) = id.parse::<u32>().ok().filter(|d| (1..=60).contains(d)) else {
        let message = format!("`{id}` is not a diameter");
        f.report("P013", f.span_of("id"), message, "whole millimetres, as \"12\"");
        return None;
    };
    Some(BarSize {
        diameter,
        radius: radius?,
        projection: general?,
        projection_links: links?,
        two_bends: two?,
        source: source?,
    })
}

fn lap(f: &Fields<'_, '_>) -> Option<LapRule> {
    let (id, title, used) = (f.id("id"), f.text("title"), f.flag("used"));
    let diameters = match f.get("diameters") {
        Some(_) => Some(f.number("diameters", Ratio::ONE, Ratio::int(200))?),
        None => None,
    };
    let [sizes, laps] = ["sizes", "laps"].map(|key| match f.get(key) {
        Some(_) => f.lengths(key),
        None => Some(Vec::new()),
    });
    let source = f.source();
    f.done();
    let (sizes, laps) = (sizes?, laps?);
    if sizes.len() != laps.len() || sizes.is_empty() == diameters.is_none() {
        let message = "a lap is so many diameters, or a table of as many laps as sizes".to_owned();
        f.report("P011", f.span_of("laps"), message, "give diameters, or sizes and laps");
        return None;
    }
    let row = |(size, lap): (i64, i64)| Some((u32::try_from(size / 10).ok()?, lap));
    let table = sizes.into_iter().zip(laps).map(row).collect::<Option<Vec<_>>>()?;
    Some(LapRule { id: id?, title: title?, used: used?, diameters, table, source: source? })
}
