//! Bars as the job gives them: which keys hold them, their laps, and what of them is not known.

use tankwright_geometry::Len;

use crate::job::{Job, Scale, suggestion};
use crate::problem::Problem;
use crate::rates::BarSize;
use crate::sheet::Times;
use crate::site::Site;
use crate::steel::BarKind;

/// Every key that holds bars.
pub(crate) const KEYS: [&str; 17] = [
    "steel.base.short",
    "steel.base.long",
    "steel.columns.main",
    "steel.columns.links",
    "steel.ring_beams.main",
    "steel.ring_beams.links",
    "steel.wall_beams.main",
    "steel.wall_beams.links",
    "steel.span_beam.main",
    "steel.span_beam.links",
    "steel.cover.short",
    "steel.cover.long",
    "steel.cover.trimmers",
    "steel.soak_pit_cover.bars",
    "steel.soak_pit_cover.trimmers",
    "steel.lintel",
    "steel.chairs",
];

/// Bars as the job gives them at a key.
#[derive(Clone, Debug)]
pub struct Bars {
    /// Grade and diameter.
    pub kind: BarKind,
    /// What a bender must keep to.
    pub size: BarSize,
    /// Spacing, where they are given by it.
    pub spacing: Len,
    /// Number, where they are given by it: a multiplier.
    pub number: Times,
    /// Their key in the job file.
    pub path: String,
}

/// The lap of a diameter: the job's length, or its number of diameters.
pub(crate) fn lap(job: &Job, diameter: u32) -> Len {
    let given = job.len("steel.lap");
    let plain = job.input("steel.lap").is_some_and(|(_, i)| i.scale == Scale::Plain);
    if plain { given.times(i64::from(diameter) * 10) } else { given }
}

/// Letter and diameter of a bar as the reader keeps it.
pub(crate) fn split(bar: &str) -> Option<BarKind> {
    let at = bar.find(|c: char| c.is_ascii_digit())?;
    let (grade, diameter) = bar.split_at(at);
    Some(BarKind { grade: grade.to_owned(), diameter: diameter.parse().ok()? })
}

/// Reports bars that the data do not know.
pub(super) fn check(site: &Site<'_>, path: &str) {
    let (job, data) = (site.job, &site.stock.bars);
    let Some(kind) = split(job.text(path)) else { return };
    if !data.grades.contains_key(&kind.grade) {
        let known = data.grades.values().map(|g| format!("{} ({})", g.letter, g.title.to_lowercase()));
        let near = suggestion(&kind.grade.to_uppercase(), data.grades.keys().map(String::as_str));
        let problem =
            Problem::error("J086", job.place(path), format!("{path}: the grade {} is not known", kind.grade))
                .label("no steel of this letter")
                .hint(format!("{near}known: {}", known.collect::<Vec<_>>().join(", ")));
        job.report(problem);
    } else if !data.sizes.contains_key(&kind.diameter) {
        let known = data.sizes.keys().map(u32::to_string).collect::<Vec<_>>().join(", ");
        let what = format!("{path}: no bar of {} mm is known", kind.diameter);
        let problem = Problem::error("J087", job.place(path), what)
            .label("not a diameter that is rolled")
            .hint(format!("diameters in mm: {known}"));
        job.report(problem);
    }
}
