//! Soak pits, their neighbours, lining and cover; drains, and trenches that lie too high.

use tankwright_geometry::Ratio;

use super::{NO_SOURCE, OURS, add, metres};
use crate::decimal;
use crate::elements::{pipes, soak_cover};
use crate::estimate::Caution;
use crate::site::Site;
use crate::words::Phrase;

/// Soak pits, then drains and their trenches.
pub(super) fn cautions(site: &Site<'_>, found: &mut Vec<Caution>) {
    if site.job.has("soak_pit") {
        pits(site, found);
    }
    drains(site, found);
}

fn drains(site: &Site<'_>, found: &mut Vec<Caution>) {
    if let Some(needs) = pipes::too_shallow(site) {
        let mm = decimal::rounded(needs / Ratio::int(10), 0).map(|d| d.to_string()).unwrap_or_default();
        let path = "tank.pipes.trench.depth";
        add(site, found, "C062", Phrase::with("caution-shallow-trench", &[&mm]), OURS, path);
    }
    if site.job.has("drain") {
        let source = format!("{OURS}; distances: {NO_SOURCE}");
        add(site, found, "C063", Phrase::new("caution-drain"), &source, "drain");
    }
}

fn pits(site: &Site<'_>, found: &mut Vec<Caution>) {
    let job = site.job;
    add(site, found, "C008", Phrase::new("caution-soakage"), OURS, "soak_pit");
    if job.count("soak_pit.number").1 > 1 {
        let (apart, least) = (job.len("soak_pit.spacing"), job.len("soak_pit.diameter").times(3));
        // The stone round a lining counts there, so that the dig is the pit.
        let source = "New York 75-A, as restated (inspectapedia.com): pits three effective diameters apart";
        if !job.given("soak_pit.spacing") {
            add(
                site,
                found,
                "C066",
                Phrase::with("caution-soak-apart", &[&metres(&least)]),
                source,
                "soak_pit.number",
            );
        } else if apart.value() < least.value() {
            let says = Phrase::with("caution-soak-near", &[&metres(&apart), &metres(&least)]);
            add(site, found, "C065", says, source, "soak_pit.spacing");
        }
    }
    if job.has("soak_pit.cover") {
        let (hole, soil) = (soak_cover::manhole(site).is_some(), job.len("soak_pit.cover.soil"));
        if !hole && job.len("soak_pit.fill_depth").is_zero() {
            add(site, found, "C067", Phrase::new("caution-soak-no-manhole"), OURS, "soak_pit.cover");
        }
        if hole && !soil.is_zero() {
            let says = Phrase::with("caution-soak-buried", &[&site.mm(&soil)]);
            add(site, found, "C068", says, OURS, "soak_pit.cover.soil");
        }
    }
    if job.has("soak_pit.lining") {
        let says = Phrase::with("caution-soak-strength", &[&metres(&job.len("soak_pit.depth"))]);
        add(site, found, "C069", says, OURS, "soak_pit.lining");
    }
}
