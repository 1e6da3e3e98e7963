//! What the tank holds: finished dimensions, to the water line, chamber by chamber.
//!
//! A chamber's water stands at the outlet's invert, or at the finished sill of the way to the next chamber where that
//! is higher. Lengths between plastered faces; the floor carries the screed; whatever stands in the water (columns,
//! beams, haunches, boards) is taken out. Water in openings and pipes is not counted.

use tankwright_geometry::cells::Painted;
use tankwright_geometry::{Cells, Len, Ratio, Z};

use crate::elements::partitions;
use crate::estimate::Capacity;
use crate::ledger::SetOut;
use crate::site::Site;
use crate::works::voids;

/// Finished capacity of a site.
#[must_use]
pub fn capacity(site: &Site<'_>, set: &SetOut) -> Capacity {
    let to = |levels: Option<Vec<Ratio>>| levels.and_then(|w| litres(volume(site, set, &w)));
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

/// Volume under one water level per chamber, cubic tenths of a millimetre: finished plan times depth, less what the
/// cells find standing between finished floor and water.
fn volume(site: &Site<'_>, set: &SetOut, levels: &[Ratio]) -> Ratio {
    let plaster = site.job.len("tank.plaster.thickness").value() * Ratio::int(2);
    let screed = site.job.len("tank.plaster.screed.thickness");
    let width = site.width.value();
    let painted: Vec<_> =
        set.claims.iter().map(|c| Painted { block: &c.block, rank: c.rank.0, round: c.round }).collect();
    let level = |l: &Ratio| Z::flat(Len::fixed(i64::try_from(l.floor().numer()).unwrap_or(0)));
    let mut cuts: Vec<Z> = levels.iter().map(level).collect();
    cuts.push(Z::floor(screed.clone()));
    let cells = Cells::paint(&painted, &cuts, &site.floor);
    let clear = |cell| cells.fill(cell).owner.is_some_and(|o| set.claims[o].spec.work == &voids::CLEAR_SPACE);
    let mut total = Ratio::ZERO;
    let mut from = Len::ZERO;
    for (chamber, water) in site.chambers.iter().zip(levels) {
        let to = &from + chamber;
        let middle = (&from + &to).half();
        let depth = *water - site.floor.mean(site.judge, [&middle, &middle]).value() - screed.value();
        if depth.signum() > 0 {
            let plan = [from.value(), to.value(), Ratio::ZERO, width];
            let slab = [Z::floor(screed.clone()), level(water)];
            let wet =
                |cell: &[usize; 3]| cells.between(cell[2], &slab, &site.floor) && cells.within(*cell, plan);
            let open: Ratio = cells.all().filter(|c| wet(c) && clear(*c)).map(|c| cells.volume(c)).sum();
            let solids = chamber.value() * width * depth - open;
            total = total + (chamber.value() - plaster) * (width - plaster) * depth - solids;
        }
        from = &to + &site.partition;
    }
    total.max(Ratio::ZERO)
}
