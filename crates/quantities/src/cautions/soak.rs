//! Cautions of a soak pit: its depth, its neighbours, its lining and its cover.

use super::{DEEP, OURS, UNSUPPORTED, add, less, metres};
use crate::elements::{soak_cover, soak_pit};
use crate::estimate::Caution;
use crate::site::Site;
use crate::words::Phrase;

/// A deep pit without support: told beside the tank's dig.
pub(super) fn deep(site: &Site<'_>, found: &mut Vec<Caution>) {
    let deep = site.job.len("soak_pit.depth");
    if site.job.has("soak_pit") && soak_pit::support(site) == "none" && !less(&deep, UNSUPPORTED + 1) {
        let says = Phrase::with("caution-deep-soak-pit", &[&metres(&deep)]);
        add(site, found, "C002", says, DEEP, "soak_pit.depth");
    }
}

/// All others.
pub(super) fn cautions(site: &Site<'_>, found: &mut Vec<Caution>) {
    let job = site.job;
    if !job.has("soak_pit") {
        return;
    }
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
