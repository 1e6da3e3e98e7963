//! The cover as panels between what bears it, and the load on it.

use tankwright_geometry::Ratio;

use super::MM;
use super::desk::{Desk, printed, says};
use crate::elements::span_beam;
use crate::site::Site;
use crate::words::Phrase;

/// A part of the slab between what bears it: outer walls, partitions that reach it, a beam under it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Panel {
    /// Where it lies, tenths of a millimetre: along the tank, across it.
    pub(super) at: [[Ratio; 2]; 2],
    /// Half of what bears it on either side, together; along, across.
    pub(super) bearing: [Ratio; 2],
}

impl Panel {
    /// Clear sizes, along and across, tenths of a millimetre.
    pub(super) fn clear(&self) -> [Ratio; 2] {
        [0, 1].map(|way| self.at[way][1] - self.at[way][0])
    }

    /// Does a place lie in it?
    pub(super) fn holds(&self, place: [Ratio; 2]) -> bool {
        [0, 1].into_iter().all(|way| self.at[way][0] <= place[way] && place[way] <= self.at[way][1])
    }
}

/// Clear stretches along the tank between what bears the cover, with half of their bearings.
pub(super) fn stretches(site: &Site<'_>) -> Vec<([Ratio; 2], Ratio)> {
    let wall = site.wall.value() / Ratio::int(2);
    let inner = if site.air_gap.is_zero() { site.partitions.as_slice() } else { &[] };
    let half = site.partition.value() / Ratio::int(2);
    let (mut from, mut before, mut found) = (Ratio::ZERO, wall, Vec::new());
    for [low, high] in inner {
        found.push(([from, low.value()], before + half));
        (from, before) = (high.value(), half);
    }
    found.push(([from, site.length.value()], before + wall));
    found
}

/// Every panel.
pub(super) fn panels(site: &Site<'_>) -> Vec<Panel> {
    let (width, wall) = (site.width.value(), site.wall.value() / Ratio::int(2));
    let across = match span_beam::across(site).map(|y| y.map(|l| l.value())) {
        Some([low, high]) => {
            let bearing = wall + (high - low) / Ratio::int(2);
            vec![([Ratio::ZERO, low], bearing), ([high, width], bearing)]
        }
        None => vec![([Ratio::ZERO, width], wall + wall)],
    };
    let panel =
        |x: &([Ratio; 2], Ratio), y: &([Ratio; 2], Ratio)| Panel { at: [x.0, y.0], bearing: [x.1, y.1] };
    stretches(site).iter().flat_map(|x| across.iter().map(move |y| panel(x, y))).collect()
}

/// Load on the cover.
#[derive(Debug)]
pub(super) struct Load {
    /// kN on a square metre, the slab's own weight in it.
    pub(super) total: Ratio,
    /// How it comes about.
    pub(super) working: Phrase,
    /// Are there wheels on it? They press on one place: an even load does not stand for them.
    pub(super) wheels: bool,
}

/// Slab, what stands on it, soil over it.
pub(super) fn load(site: &Site<'_>, desk: &mut Desk<'_>) -> Load {
    let traffic = site.job.text("tank.cover.traffic");
    let kind = if traffic.is_empty() { "garden" } else { traffic };
    let mm = |path: &str| site.job.len(path).value() / MM;
    let thickness = mm("tank.cover.thickness");
    // What is heaped on it, and what lies over a cover below ground.
    let soil = mm("tank.cover.soil") + (Ratio::ZERO - site.cover_top.value() / MM).max(Ratio::ZERO);
    let [slab, live] = [desk.figure("weight-reinforced"), desk.figure(&format!("load-{kind}"))];
    let per_mm = Ratio::of(1, 1_000);
    let mut total = slab * thickness * per_mm + live;
    let mut earth = Ratio::ZERO;
    if soil.signum() > 0 {
        earth = desk.figure("weight-soil");
        total = total + earth * soil * per_mm;
    }
    let total = printed(total, 3);
    let kind = if site.job.given("tank.cover.traffic") {
        kind.to_owned()
    } else {
        Phrase::with("slab-by-default", &[kind]).to_string()
    };
    let mut args = vec![says(total), says(thickness), says(slab), says(live), kind];
    let key = if soil.signum() > 0 {
        args.extend([says(soil), says(earth)]);
        "slab-load-soil"
    } else {
        "slab-load"
    };
    let wheels = matches!(traffic, "car" | "lorry");
    Load { total, working: Phrase { key, args }, wheels }
}
