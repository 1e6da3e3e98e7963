//! Levels in order, from the ground down, and the fall of the drain to the tank.

use tankwright_geometry::Ratio;

use super::{Check, Finished, METRE, Verdict, limit, metres, number};
use crate::stage::Stage;
use crate::words::{Phrase, look_up};

const OURS: &str = "our own: water runs down";

/// Order of levels, inlet over outlet, the soak pit's inlet, the water under its base, the drain.
pub(super) fn check(of: &Finished<'_>, found: &mut Vec<Check>) {
    found.extend([order(of), inlet(of), pit_inlet(of), pit_water(of), drain(of)].into_iter().flatten());
}

fn from(met: bool) -> Verdict {
    if met { Verdict::Met } else { Verdict::NotMet }
}

/// A level as its distance from the ground.
fn level(z: Ratio) -> String {
    let key = if z.signum() > 0 { "check-above-ground" } else { "check-below-ground" };
    Phrase::with(key, &[&metres(z.abs())]).to_string()
}

/// Cover, inlet, water, way to the next chamber, floor: each below the one before.
fn order(of: &Finished<'_>) -> Option<Check> {
    let (site, capacity) = (of.site, of.capacity);
    let mut levels =
        vec![("check-level-top", site.cover_top.value() / METRE), ("check-level-cover", capacity.cover)];
    levels.extend(capacity.inlet.map(|z| ("check-level-inlet", z)));
    levels.extend(capacity.chambers.first().map(|c| ("check-level-water", c.level)));
    // An air gap alone stands over the water; an opening should not.
    let way = capacity.chambers.iter().find_map(|c| c.way.as_ref()).filter(|w| w.area.is_some());
    levels.extend(way.map(|w| ("check-level-opening", w.top)));
    levels.push(("check-level-floor", site.floor.outlet.value() / METRE));
    let wrong = |pair: &[(&str, Ratio)]| match pair {
        [above, below] if below.1 >= above.1 => {
            Some(format!("{} {}, {} {}", look_up(above.0), level(above.1), look_up(below.0), level(below.1)))
        }
        _ => None,
    };
    let wrong: Vec<String> = levels.windows(2).filter_map(wrong).collect();
    let says = match wrong[..] {
        [] => Phrase::new("check-levels"),
        _ => Phrase::with("check-levels-not", &[&wrong.join("; ")]),
    };
    Some(Check {
        id: "levels-order",
        verdict: from(wrong.is_empty()),
        says,
        working: levels
            .iter()
            .map(|(key, z)| Phrase::with("check-level", &[look_up(key), &level(*z)]))
            .collect(),
        source: OURS.to_owned(),
        stages: &[Stage::WallsUpper],
        place: site.job.place("tank.pipes"),
    })
}

/// How far the inlet stands over the water line: the outlet below it.
fn inlet(of: &Finished<'_>) -> Option<Check> {
    let (inlet, water) = (of.capacity.inlet?, of.capacity.chambers.first()?.level);
    let asked = limit(of.site.stock, "inlet-over-water")?;
    let over = (inlet - water) * Ratio::int(1_000);
    let args = [level(inlet), level(water), number(over, 1), number(asked.value, 1)];
    Some(Check {
        id: "levels-inlet",
        verdict: from(over >= asked.value),
        says: Phrase::with("check-inlet", &args.each_ref().map(String::as_str)),
        working: Vec::new(),
        source: asked.source.to_string(),
        stages: &[Stage::WallsUpper],
        place: of.site.job.place("tank.pipes.inlet.below_top"),
    })
}

/// Where the pipe from the outlet reaches the soak pit: below the ground, above its base; and in the stone of a pit that
/// is filled, or at the pipe that stands in it.
fn pit_inlet(of: &Finished<'_>) -> Option<Check> {
    let base = depth(of, "soak_pit.depth")?;
    let inlet = of.capacity.soak_inlet?;
    let stone = depth(of, "soak_pit.fill_depth").filter(|fill| fill.signum() > 0).map(|fill| fill - base);
    let stands = depth(of, "soak_pit.pipe.length").is_some_and(|pipe| pipe - base >= inlet);
    let lined = of.site.job.has("soak_pit.lining");
    let over = stone.filter(|top| inlet > *top && !stands && !lined);
    let met = inlet.signum() < 0 && inlet > -base;
    let (says, other) = match over.filter(|_| met) {
        Some(top) => ("check-pit-inlet-over", top),
        None => ("check-pit-inlet", -base),
    };
    let args = [level(inlet), level(other)];
    Some(Check {
        id: "levels-pit-inlet",
        verdict: from(met && over.is_none()),
        says: Phrase::with(says, &args.each_ref().map(String::as_str)),
        working: Vec::new(),
        source: OURS.to_owned(),
        stages: &[Stage::SoakPit, Stage::Pipes],
        place: of.site.job.place("soak_pit"),
    })
}

/// The highest water under the base of the soak pit.
fn pit_water(of: &Finished<'_>) -> Option<Check> {
    let job = of.site.job;
    let base = depth(of, "soak_pit.depth")?;
    let figure = of.site.stock.checks.get("water-under-pit")?;
    let asked = figure.value("")?;
    let least = number(asked.value, 3);
    let room = depth(of, "ground.water_table").map(|water| water - base);
    let (verdict, says) = match room {
        None => (Verdict::NotChecked, Phrase::with("check-pit-water-unknown", &[&level(-base), &least])),
        Some(room) if room.signum() < 0 => {
            let args = [level(-base), metres(-room), least];
            (Verdict::NotMet, Phrase::with("check-pit-water-in", &args.each_ref().map(String::as_str)))
        }
        Some(room) => {
            let args = [level(-base), metres(room), least];
            (from(room >= asked.value), Phrase::with("check-pit-water", &args.each_ref().map(String::as_str)))
        }
    };
    let others = figure.values.iter().filter(|v| !v.used).map(|v| {
        let key = match room {
            None => "check-pit-water-asks",
            Some(room) if room >= v.value => "check-distance-other",
            Some(_) => "check-distance-other-not",
        };
        Phrase::with(key, &[&number(v.value, 3), &v.source.to_string()])
    });
    Some(Check {
        id: "levels-pit-water",
        verdict,
        says,
        working: others.collect(),
        source: asked.source.to_string(),
        stages: &[Stage::SoakPit],
        place: job.place("ground.water_table"),
    })
}

/// Fall of the drain to the tank: enough to carry, and not steep where it comes in.
fn drain(of: &Finished<'_>) -> Option<Check> {
    let job = of.site.job;
    if !job.has("tank.pipes.inlet") {
        return None;
    }
    let path = "tank.pipes.inlet.fall";
    let (least, most) = (limit(of.site.stock, "fall-least")?, limit(of.site.stock, "fall-most")?);
    let bounds = [one_in(least.value), one_in(most.value)];
    let fall = job.input(path).map(|(_, i)| i.value).filter(|f| f.signum() > 0);
    let (verdict, says) = match fall {
        None => (Verdict::NotChecked, Phrase::with("check-fall-unknown", &[&bounds[0], &bounds[1]])),
        Some(fall) => {
            let met = fall >= least.value && fall <= most.value;
            let args = [one_in(fall), bounds[0].clone(), bounds[1].clone()];
            (from(met), Phrase::with("check-fall", &args.each_ref().map(String::as_str)))
        }
    };
    Some(Check {
        id: "levels-drain",
        verdict,
        says,
        working: Vec::new(),
        source: format!("{}; {}", least.source, most.source),
        stages: &[Stage::Pipes],
        place: job.place(path).or_else(|| job.place("tank.pipes.inlet")),
    })
}

/// `1 in 80`.
fn one_in(fall: Ratio) -> String {
    Phrase::with("check-one-in", &[&number(Ratio::ONE / fall, 1)]).to_string()
}

/// A depth below ground, m.
fn depth(of: &Finished<'_>, path: &str) -> Option<Ratio> {
    let (_, input) = of.site.job.input(path)?;
    Some(input.value / METRE)
}
