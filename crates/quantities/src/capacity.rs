//! What the tank holds: finished dimensions, to the water line, chamber by chamber.
//!
//! A chamber's water stands at the outlet's invert, or at the finished sill of the way to the next chamber where that
//! is higher. Lengths between plastered faces; the floor carries the screed; columns standing inward and a span beam
//! under water are taken out. Water in openings and pipes is not counted.

use tankwright_geometry::{Len, Ratio};

use crate::elements::partitions;
use crate::estimate::Capacity;
use crate::site::Site;

/// Finished capacity of a site.
#[must_use]
pub fn capacity(site: &Site<'_>) -> Capacity {
    let to = |levels: Option<Vec<Ratio>>| levels.and_then(|w| litres(volume(site, &w)));
    let full = vec![site.cover_bottom.value(); site.chambers.len()];
    Capacity { to_water_line: to(water_lines(site)), full: to(Some(full)).unwrap_or(0) }
}

fn litres(tenths: Ratio) -> Option<u64> {
    let whole = (tenths / Ratio::int(1_000_000_000)).floor();
    u64::try_from(whole.numer()).ok().filter(|_| whole.is_known())
}

/// Water level of each chamber, from the outlet back; `None` without an outlet or where chambers are not joined.
fn water_lines(site: &Site<'_>) -> Option<Vec<Ratio>> {
    let job = site.job;
    let mut level = site.water_line.as_ref()?.value();
    let plaster = job.len("tank.plaster.thickness").value();
    let sill = if job.has("tank.partitions.opening") {
        let get = |k: &str| job.len(&format!("tank.partitions.opening.{k}")).value();
        Some(site.masonry_top.value() - get("below_top") - get("height") + plaster)
    } else if site.air_gap.is_zero() {
        None
    } else {
        Some(partitions::top(site).value() + plaster)
    };
    let mut levels = vec![level];
    for _ in &site.partitions {
        level = level.max(sill?);
        levels.insert(0, level);
    }
    Some(levels)
}

/// Volume under one water level per chamber, cubic tenths of a millimetre.
fn volume(site: &Site<'_>, levels: &[Ratio]) -> Ratio {
    let job = site.job;
    let (plaster, screed) =
        (job.len("tank.plaster.thickness").value(), job.len("tank.plaster.screed.thickness").value());
    let twice = plaster * Ratio::int(2);
    let floor = |x: &Len| site.floor.mean(site.judge, [x, x]).value() + screed;
    let width = site.width.value() - twice;
    let beam = job.has("tank.cover.span_beam").then(|| {
        let get = |k: &str| job.len(&format!("tank.cover.span_beam.{k}")).value();
        (get("width"), site.cover_bottom.value() - get("depth"))
    });
    let mut total = Ratio::ZERO;
    let mut from = Len::ZERO;
    for (chamber, level) in site.chambers.iter().zip(levels) {
        let middle = &from + &chamber.half();
        let length = chamber.value() - twice;
        total = total + length * width * (*level - floor(&middle)).max(Ratio::ZERO);
        if let Some((across, under)) = beam {
            total = total - length * across * (*level - under).max(Ratio::ZERO);
        }
        from = &(&from + chamber) + &site.partition;
    }
    let [a, b] = job.size("tank.columns.size");
    let (in_a, in_b) = (&a - &site.wall, &b - &site.wall);
    if in_a.value().signum() > 0 && in_b.value().signum() > 0 {
        let ends = [(in_a.half(), levels.first()), (&site.length - &in_a.half(), levels.last())];
        for (middle, level) in ends {
            let depth = level.map_or(Ratio::ZERO, |l| *l - floor(&middle)).max(Ratio::ZERO);
            total = total - in_a.value() * in_b.value() * depth * Ratio::int(2);
        }
    }
    total.max(Ratio::ZERO)
}
