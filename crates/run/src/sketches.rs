//! Drawings as sheets of a paper: those of a stage's card, one of the set, a view without its sheet.

use std::collections::BTreeMap;

use tankwright_draw::{Drawing, View, of_stage};
use tankwright_papers::Sheet;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::stage::Stage;

/// Drawings of these stages, of all where none is named.
pub(crate) fn of_stages(e: &Estimate, only: Option<&str>) -> BTreeMap<&'static str, Vec<Sheet>> {
    let stages = Stage::ALL.into_iter().filter(|s| only.is_none_or(|o| o == s.id()));
    stages.map(|s| (s.id(), of_stage(e, s).iter().map(sheet).collect())).collect()
}

/// A drawing on a page of its own.
pub(crate) fn sheet(d: &Drawing) -> Sheet {
    let side = |mm: u32| i32::try_from(mm).unwrap_or(0) * 100;
    let size = [side(d.width_mm), side(d.height_mm)];
    Sheet { svg: d.svg.clone(), title: d.title.clone(), alt: d.alt.clone(), size }
}

/// The view of a drawing without its sheet: larger letters where a page is narrow.
pub(crate) fn view(v: View) -> Sheet {
    let size = v.size.map(|n| i32::try_from(n).unwrap_or(0));
    Sheet { svg: v.svg, title: v.title, alt: v.alt, size }
}
