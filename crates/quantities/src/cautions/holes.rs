//! Holes that people work in: their sides can fall.

use tankwright_geometry::{Len, Ratio};

use super::{metres, shown};
use crate::checks;
use crate::elements::ALL;
use crate::estimate::{Caution, On};
use crate::rates::FigureValue;
use crate::site::Site;
use crate::stage::Stage;
use crate::words::Phrase;

/// A hole: what is dug, and how it is told.
#[derive(Clone, Debug)]
pub struct Hole {
    /// Its depth from ground.
    pub depth: Len,
    /// Does anything hold its sides?
    pub held: bool,
    /// Where it stands in the job.
    pub path: String,
    /// Stages on whose card it is told.
    pub stages: &'static [Stage],
    /// Code and words of the caution with nothing to hold the sides beyond the limit.
    pub bare: (&'static str, &'static str),
    /// The same otherwise.
    pub other: Option<(&'static str, &'static str)>,
}

/// Told of each: beyond the limit on every paper, else on its card.
pub(super) fn holes(site: &Site<'_>, found: &mut Vec<Caution>) {
    let limit = |id| checks::limit(site.stock, id);
    let (Some(figure), Some(limit)) = (site.stock.checks.get("dig-unsupported"), limit("dig-unsupported"))
    else {
        return;
    };
    let who: Vec<_> = figure.values.iter().map(|v: &FigureValue| v.source.to_string()).collect();
    // Of several that an element digs the deepest is told; the holes in the order of the stages.
    let deepest = |e: &&dyn crate::elements::Element| {
        e.holes(site).into_iter().filter(|h| !h.depth.is_zero()).max_by_key(|h| h.depth.value())
    };
    let mut holes: Vec<Hole> = ALL.iter().filter_map(deepest).collect();
    holes.sort_by_key(|h| h.stages.first().copied());
    for hole in &holes {
        let deep = hole.depth.value() > limit.value * Ratio::int(10_000);
        let bare = deep && !hole.held;
        let Some((code, key)) = (if bare { Some(hole.bare) } else { hole.other }) else { continue };
        let says = Phrase::with(key, &[&metres(&hole.depth), &shown(limit)]);
        let place = site.job.place(&hole.path);
        let told = Caution::new(code, says, &who.join("; ")).at(place).cards(hole.stages);
        found.push(if bare { told } else { told.on(On::Cards) });
    }
}
