//! What is drawn: the ground, walls, water and cover.

use tankwright_geometry::{Len, Ratio};

use super::{NO_SOURCE, OURS, add, metres, shown, under};
use crate::capacity;
use crate::checks;
use crate::estimate::Caution;
use crate::site::Site;
use crate::words::Phrase;

/// The soil and its water.
pub(super) fn ground(site: &Site<'_>, found: &mut Vec<Caution>) {
    let job = site.job;
    if let Some(soil) =
        site.stock.soils.get(job.text("ground.soil")).filter(|s| !s.sides_stand.0 && !site.open)
    {
        let says = Phrase::with("caution-sides-fall", &[&soil.title]);
        add(site, found, "C003", says, &soil.sides_stand.1.to_string(), "ground.soil");
    }
    if !site.open && job.text("ground.support") != "none" {
        add(site, found, "C004", Phrase::new("caution-tight-sheeted"), NO_SOURCE, "ground.support");
    }
    if let Some(least) = under(site, &site.working_space, "working-space").filter(|_| site.open) {
        let says = Phrase::with("caution-working-space", &[&shown(least)]);
        add(site, found, "C005", says, &least.source.to_string(), "tank.pit.working_space");
    }
    if job.flag("tank.pit.termite") {
        add(site, found, "C006", Phrase::new("caution-termite"), OURS, "tank.pit.termite");
    }
    let deepest = &site.dig_depth() + &site.floor.fall;
    if let Some((_, water)) = job.input("ground.water_table").filter(|(_, w)| w.value < deepest.value()) {
        let depth = metres(&Len::fixed(i64::try_from(water.value.numer()).unwrap_or(0)));
        add(site, found, "C007", Phrase::with("caution-water", &[&depth]), NO_SOURCE, "ground.water_table");
    }
}

/// Walls, chambers, inlet, and how the water stands.
pub(super) fn walls(site: &Site<'_>, found: &mut Vec<Caution>) {
    let job = site.job;
    if let Some(least) = under(site, &site.wall, "wall-least") {
        let says = Phrase::with("caution-thin-wall", &[&shown(least)]);
        add(site, found, "C010", says, &least.source.to_string(), "tank.walls.thickness");
    }
    let fits = |unit: &str, t: &Len| {
        let Some(unit) = site.stock.units.get(unit) else { return true };
        unit.walls.iter().any(|w| t.value() == Ratio::from(*w))
    };
    let own = if job.has("tank.partitions.unit") { "tank.partitions.unit" } else { "tank.walls.unit" };
    let lining = job.len("soak_pit.lining.thickness");
    let of_lining = if job.has("soak_pit.lining.unit") { "soak_pit.lining.unit" } else { "tank.walls.unit" };
    for (path, unit, t) in [
        ("tank.walls.thickness", "tank.walls.unit", &site.wall),
        ("tank.partitions.thickness", own, &site.partition),
        ("soak_pit.lining.thickness", of_lining, &lining),
    ] {
        let used = match path {
            "tank.partitions.thickness" => !site.partitions.is_empty(),
            "soak_pit.lining.thickness" => job.has("soak_pit.lining"),
            _ => true,
        };
        if used && !fits(job.text(unit), t) {
            let says = Phrase::with("caution-unit", &[&site.mm(t), job.text(unit)]);
            add(site, found, "C011", says, OURS, path);
        }
    }
    if site.partitions.is_empty() && job.given("tank.partitions") {
        add(site, found, "C012", Phrase::new("caution-no-partition"), OURS, "tank.partitions");
    }
    let joined = job.has("tank.partitions.opening") || !site.air_gap.is_zero();
    if !site.partitions.is_empty() && !joined {
        add(site, found, "C013", Phrase::new("caution-not-joined"), OURS, "tank.partitions");
    }
    let below = job.len("tank.pipes.inlet.below_top");
    let high = under(site, &below, "inlet-below-top").filter(|_| job.has("tank.pipes.inlet"));
    if let Some(least) = high {
        let says = Phrase::with("caution-inlet-high", &[&shown(least)]);
        add(site, found, "C014", says, &least.source.to_string(), "tank.pipes.inlet.below_top");
    }
    water(site, found);
}

/// How the water stands: the inlet over it, from chamber to chamber.
fn water(site: &Site<'_>, found: &mut Vec<Caution>) {
    let Some(lines) = capacity::water_lines(site) else { return };
    let (Some(first), Some(last)) = (lines.first().copied(), lines.last().copied()) else { return };
    let path = "tank.pipes.inlet.below_top";
    let mm = |tenths: Ratio| crate::decimal::plain(tenths / Ratio::int(10));
    match capacity::inlet(site).map(|inlet| inlet - first) {
        Some(over) if over.signum() <= 0 => {
            add(site, found, "C015", Phrase::new("caution-drowned-inlet"), OURS, path);
        }
        Some(over) => {
            let asked = checks::limit(site.stock, "inlet-over-water");
            if let Some(asked) = asked.filter(|v| over / Ratio::int(10) < v.value) {
                let says = Phrase::with("caution-inlet-low", &[&mm(over), &shown(asked)]);
                add(site, found, "C018", says, &asked.source.to_string(), path);
            }
        }
        None => {}
    }
    let over = capacity::beam(site).unwrap_or_else(|| site.cover_bottom.value());
    if first >= over {
        let says = Phrase::with("caution-water-high", &[&mm(first - over)]);
        add(site, found, "C019", says, OURS, "tank.pipes.outlet.below_top");
    }
    let Some(way) = capacity::way(site).filter(|_| !site.partitions.is_empty()) else { return };
    let level = first / Ratio::int(10_000);
    let over = way.partition.is_some_and(|top| level >= top);
    let path = if job_opens(site) { "tank.partitions.opening.below_top" } else { "tank.partitions.air_gap" };
    if way.top >= level || over {
        let source = "Regeling Wvo septic tank (1997), article 1: 300 mm under water; Tennessee: 305 mm";
        add(site, found, "C016", Phrase::new("caution-scum"), source, path);
    }
    if first > last {
        add(site, found, "C017", Phrase::with("caution-cascade", &[&mm(first - last)]), OURS, path);
    }
}

fn job_opens(site: &Site<'_>) -> bool {
    site.job.has("tank.partitions.opening")
}

/// Cover, manholes, beam under it.
pub(super) fn cover(site: &Site<'_>, found: &mut Vec<Caution>) {
    let job = site.job;
    let buried = site.cover_top.value().signum() < 0;
    let holes = job.count_of("tank.cover.manholes");
    if buried && holes > 0 && !job.has("tank.manhole_shafts") {
        add(site, found, "C020", Phrase::new("caution-buried-manholes"), OURS, "tank.cover_top");
    }
    if holes == 0 {
        add(site, found, "C021", Phrase::new("caution-no-manholes"), OURS, "tank.cover");
    }
    let mut rain = vec![(site.cover_top.clone(), "caution-rain", "tank.cover_top")];
    if buried && holes > 0 && job.has("tank.manhole_shafts") {
        let path = "tank.manhole_shafts.upstand";
        rain.push((job.len(path), "caution-rain-shafts", path));
    }
    for (lid, says, path) in rain {
        if let Some(least) = under(site, &lid, "cover-over-ground") {
            add(site, found, "C022", Phrase::with(says, &[&shown(least)]), &least.source.to_string(), path);
        }
    }
    let bearing = job.len("tank.cover.span_beam.bearing");
    let bears = under(site, &bearing, "beam-bearing").filter(|_| job.has("tank.cover.span_beam"));
    if let Some(least) = bears {
        let says = Phrase::with("caution-bearing", &[&shown(least)]);
        add(site, found, "C023", says, &least.source.to_string(), "tank.cover.span_beam");
    }
    if job.has("tank.manhole_shafts") && !buried {
        add(site, found, "C024", Phrase::new("caution-shafts-idle"), OURS, "tank.manhole_shafts");
    }
}
