//! Earth and water against the walls: printed for an engineer, never passed.
//!
//! The wall as a strip a metre long, its foot fixed, its top held by the cover; and before the cover is on, its top
//! free. Corners, ring beams and columns help, and are not reckoned.

use tankwright_geometry::Ratio;

use super::desk::{Desk, printed, says};
use super::{Check, Finished, METRE, MM, Verdict, pressure};
use crate::site::Site;
use crate::stage::Stage;
use crate::words::Phrase;

const WALLS: &[Stage] = &[Stage::WallsLower, Stage::Cover];

/// Adds the checks of the outer walls.
pub(super) fn check(of: &Finished<'_>, found: &mut Vec<Check>) {
    let site = of.site;
    // The floor is lowest at the inlet end.
    let height = (site.floor.fall.value() - site.floor.outlet.value()) / METRE;
    let mut desk = Desk::new(of);
    let Some(earth) = press(site, height, &mut desk) else { return };
    let (mm, metres) = (says(site.wall.value() / MM), says(height));
    let place = site.job.place("tank.walls");
    let mut add = |id, says, working, source, stages| {
        let verdict = Verdict::Flagged;
        found.push(Check { id, verdict, says, working, source, stages, place: place.clone() });
    };

    let mut working = earth.working;
    let divisors = ["wall-foot", "wall-between"].map(|id| desk.figure(id));
    let moments = divisors.map(|by| printed(pressure::propped(earth.pressure, height, by), 3));
    let pulled = |moment| printed(pressure::tension(moment, earth.section), 3);
    let pull = pulled(moments[0]);
    let args = [earth.pressure, height, divisors[0], moments[0], divisors[1], moments[1], pull].map(says);
    working.push(Phrase::with("wall-held", &args.each_ref().map(String::as_str)));
    let words = Phrase::with("wall-earth", &[&metres, &mm, &says(pull)]);
    add("wall-earth", words, working, desk.source(), WALLS);

    let free = printed(pressure::cantilever(earth.pressure, height), 3);
    let args = [earth.pressure, height, free, pulled(free)].map(says);
    let working = vec![Phrase::with("wall-free", &args.each_ref().map(String::as_str))];
    let times = says(printed(free / moments[0], 1));
    let words = Phrase::with("wall-backfill", &[&times, &args[3]]);
    add("wall-backfill", words, working, desk.source(), WALLS);

    let mut desk = Desk::new(of);
    let [liquid, difference] = ["wall-liquid", "wall-difference"].map(|id| desk.figure(id));
    let held = of.capacity.chambers.iter().map(|c| printed(c.depth, 3)).max();
    let over = held.is_some_and(|d| d > liquid) || height > difference;
    let held = held.map_or_else(|| Phrase::new("wall-liquid-unknown").to_string(), says);
    let key = if over { "wall-deep" } else { "wall-shallow" };
    let words = Phrase::with(key, &[&mm, &held, &metres, &says(liquid), &says(difference)]);
    add("wall-depth", words, Vec::new(), desk.source(), &[Stage::WallsLower]);
}

/// What presses on the wall, and the wall.
struct Earth {
    /// At the foot, kN/m2.
    pressure: Ratio,
    /// Section modulus of a metre, m3.
    section: Ratio,
    working: Vec<Phrase>,
}

fn press(site: &Site<'_>, height: Ratio, desk: &mut Desk<'_>) -> Option<Earth> {
    let job = site.job;
    if height.signum() <= 0 {
        return None;
    }
    let soil = job.text("ground.soil");
    let [angle, weight] = ["earth-angle", "earth-weight"].map(|id| desk.choice(id, soil));
    let sine = site.stock.tables.get("sine").and_then(|t| t.at("sine", angle)).unwrap_or(Ratio::UNKNOWN);
    let active = printed(pressure::active(sine), 5);
    let level = job.input("ground.water_table").map(|(_, i)| i.value / METRE);
    let wet = level.map_or(Ratio::ZERO, |z| (height - z).max(Ratio::ZERO).min(height));
    let water = if wet.signum() > 0 { desk.figure("weight-water") } else { Ratio::ZERO };
    let foot = printed(pressure::at_foot(active, weight, water, height, wet), 3);
    let args = [angle, active, weight, height, foot].map(says);
    let mut working = vec![Phrase::with("wall-pressure", &args.each_ref().map(String::as_str))];
    if wet.signum() > 0 {
        working.push(Phrase::with("wall-wet", &[&says(wet), &says(water)]));
    }
    let section = printed(pressure::section(site.wall.value() / METRE), 7);
    working.push(Phrase::with("wall-section", &[&says(site.wall.value() / MM), &says(section)]));
    Some(Earth { pressure: foot, section, working })
}
