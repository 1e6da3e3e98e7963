//! Soak pits, their neighbours, lining and cover; drains, and trenches that lie too high.

use tankwright_geometry::Ratio;

use super::{NO_SOURCE, OURS, add, metres};
use crate::decimal;
use crate::elements::{pipes, soak_cover};
use crate::estimate::Caution;
use crate::site::Site;
use crate::stage::Stage;
use crate::words::Phrase;

/// Where the places of pits are pegged, and where they are dug and built.
const PEGGED: &[Stage] = &[Stage::SetOut];
const BUILT: &[Stage] = &[Stage::SoakPit];

/// Soak pits, then drains and their trenches.
pub(super) fn cautions(site: &Site<'_>, found: &mut Vec<Caution>) {
    if site.job.has("soak_pit") {
        pits(site, found);
    }
    drains(site, found);
}

fn drains(site: &Site<'_>, found: &mut Vec<Caution>) {
    if let Some((needs, known)) = pipes::too_shallow(site) {
        let mm = decimal::rounded(needs / Ratio::int(10), 0).map(|d| d.to_string()).unwrap_or_default();
        let path = "tank.pipes.trench.depth";
        let says = if known { "caution-shallow-trench" } else { "caution-shallow-trench-least" };
        add(site, found, "C062", Phrase::with(says, &[&mm]), OURS, path);
    }
    if site.job.has("drain") {
        let source = format!("{OURS}; distances: {NO_SOURCE}");
        add(site, found, "C063", Phrase::new("caution-drain"), &source, "drain");
    }
}

/// One that stands on cards too.
fn told(
    site: &Site<'_>,
    found: &mut Vec<Caution>,
    (code, says): (&'static str, Phrase),
    (source, path): (&str, &str),
    cards: &'static [Stage],
) {
    found.push(Caution::new(code, says, source).at(site.job.place(path)).cards(cards));
}

fn pits(site: &Site<'_>, found: &mut Vec<Caution>) {
    let job = site.job;
    add(site, found, "C008", Phrase::new("caution-soakage"), OURS, "soak_pit");
    if job.count("soak_pit.number").1 > 1 {
        let (apart, least) = (job.len("soak_pit.spacing"), job.len("soak_pit.diameter").times(3));
        // The stone round a lining counts there, so that the dig is the pit.
        let source = "New York 75-A, as restated (inspectapedia.com): pits three effective diameters apart";
        if !job.given("soak_pit.spacing") {
            let says = Phrase::with("caution-soak-apart", &[&metres(&least)]);
            told(site, found, ("C066", says), (source, "soak_pit.number"), PEGGED);
        } else if apart.value() < least.value() {
            let says = Phrase::with("caution-soak-near", &[&metres(&apart), &metres(&least)]);
            told(site, found, ("C065", says), (source, "soak_pit.spacing"), PEGGED);
        }
    }
    if job.has("soak_pit.cover") {
        let (hole, soil) = (soak_cover::manhole(site).is_some(), job.len("soak_pit.cover.soil"));
        if !hole && job.len("soak_pit.fill_depth").is_zero() {
            let says = Phrase::new("caution-soak-no-manhole");
            told(site, found, ("C067", says), (OURS, "soak_pit.cover"), BUILT);
        }
        if hole && !soil.is_zero() {
            let says = Phrase::with("caution-soak-buried", &[&site.mm(&soil)]);
            told(site, found, ("C068", says), (OURS, "soak_pit.cover.soil"), BUILT);
        }
    }
    if job.has("soak_pit.lining") {
        let says = Phrase::with("caution-soak-strength", &[&metres(&job.len("soak_pit.depth"))]);
        told(site, found, ("C069", says), (OURS, "soak_pit.lining"), BUILT);
    }
}
