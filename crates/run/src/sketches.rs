//! Which drawing shows a stage, and its parts of that stage drawn bold.

use std::collections::{BTreeMap, BTreeSet};

use tankwright_draw::{Drawing, View};
use tankwright_papers::Sheet;
use tankwright_quantities::estimate::Estimate;

/// A stage and the drawings that show it, the best first: the first that the job has is taken; every one whose name goes
/// on with a number (`drain-2`) goes with it.
const SHOWN: [(&str, &[&str]); 12] = [
    ("set-out", &["site", "plan-floor"]),
    ("dig", &["long-section"]),
    ("base", &["long-section"]),
    ("walls-lower", &["plan-floor"]),
    ("ring-beam", &["cross-section"]),
    ("walls-upper", &["long-section"]),
    ("plaster", &["cross-section"]),
    ("cover", &["cover-steel", "plan-cover"]),
    ("soak-pit", &["soak-pit", "drain", "site"]),
    ("pipes", &["site", "long-section"]),
    ("strike", &["formwork", "cross-section"]),
    ("finish", &["plan-cover"]),
];

/// Drawings by stage.
pub(crate) fn of_stages(e: &Estimate, all: &[Drawing]) -> BTreeMap<&'static str, Vec<Sheet>> {
    let of = |(stage, ids): &(&'static str, &[&str])| {
        let same = |d: &&Drawing, id: &str| {
            let rest = d.id.strip_prefix(id);
            rest.is_some_and(|r| {
                r.is_empty() || r.strip_prefix('-').is_some_and(|n| n.parse::<u32>().is_ok())
            })
        };
        let found = ids.iter().map(|id| all.iter().filter(|d| same(d, id)).collect::<Vec<_>>());
        let found = found.into_iter().find(|f| !f.is_empty()).unwrap_or_default();
        let parts = parts(e, stage);
        (*stage, found.into_iter().map(|d| sheet(d, &parts)).collect())
    };
    SHOWN.iter().map(of).collect()
}

/// Parts that works of a stage are drawn as.
fn parts(e: &Estimate, stage: &str) -> BTreeSet<&'static str> {
    let works: BTreeSet<&str> =
        e.sheet.items.iter().filter(|i| i.stage.id() == stage).map(|i| i.work.id).collect();
    e.space.looks.iter().filter(|l| works.contains(l.work)).map(|l| l.part).collect()
}

/// A drawing with some of its parts bold.
pub(crate) fn sheet(d: &Drawing, bold: &BTreeSet<&str>) -> Sheet {
    let side = |mm: u32| i32::try_from(mm).unwrap_or(0) * 100;
    let rule = |part: &&str| format!("[data-of=\"{part}\"]{{stroke:#000;stroke-width:1.1}}");
    let rules: String = bold.iter().map(rule).collect();
    let svg = d.svg.replacen("</style>", &format!("{rules}</style>"), 1);
    Sheet { svg, title: d.title.clone(), alt: d.alt.clone(), size: [side(d.width_mm), side(d.height_mm)] }
}

/// The view of a drawing without its sheet: larger letters where a page is narrow.
pub(crate) fn view(v: View) -> Sheet {
    let size = v.size.map(|n| i32::try_from(n).unwrap_or(0));
    Sheet { svg: v.svg, title: v.title, alt: v.alt, size }
}

#[cfg(test)]
mod tests {
    use tankwright_quantities::stage::Stage;

    #[test]
    fn every_stage_has_its_drawing() {
        let shown: Vec<&str> = super::SHOWN.iter().map(|(stage, _)| *stage).collect();
        assert_eq!(shown, Stage::ALL.map(Stage::id));
    }
}
