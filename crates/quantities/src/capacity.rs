//! What the tank holds: finished dimensions, to the water line, chamber by chamber.
//!
//! A chamber's water stands at the outlet's invert, or at the finished sill of the way to the next chamber where that
//! is higher. Lengths between plastered faces; the floor carries the screed; whatever stands in the water (columns,
//! beams, haunches, boards) is taken out. Water in openings and pipes is not counted.

use tankwright_geometry::{Amount, Len, Ratio, Z};

use crate::elements::{drain, partitions, soak_pit};
use crate::estimate::{Capacity, Chamber, Way};
use crate::ledger::SetOut;
use crate::open_space::{Room, Space, Spaces};
use crate::site::Site;

/// Tenths of a millimetre in a metre, in a square and a cubic metre.
const METRE: Ratio = Ratio::int(10_000);
const SQUARE: Ratio = Ratio::int(100_000_000);
const CUBIC: Ratio = Ratio::int(1_000_000_000_000);

/// Finished capacity of a site.
#[must_use]
pub fn capacity(site: &Site<'_>, set: &SetOut) -> Capacity {
    capacity_in(site, set, &mut Spaces::default())
}

/// The same where spaces of other sites are at hand.
pub(crate) fn capacity_in(site: &Site<'_>, set: &SetOut, spaces: &mut Spaces) -> Capacity {
    let space = Space::paint(site, set, spaces, levels(site).into_iter());
    of_space(site, space.as_ref(), &mut Vec::new())
}

/// The same where the open space is known; gives the rooms for which it was asked.
pub(crate) fn of_space(site: &Site<'_>, space: Option<&Space>, rooms: &mut Vec<Room>) -> Capacity {
    let open = |room: Room| {
        let volume = space.map_or(Ratio::UNKNOWN, |s| s.volume(&room));
        rooms.push(room);
        volume.into()
    };
    Held::of(site, &mut { open }).read(&mut |amount| amount.value())
}

/// Every level at which open space is asked for.
pub(crate) fn levels(site: &Site<'_>) -> Vec<Z> {
    let lines = lines(site).unwrap_or_default();
    let all = lines.into_iter().chain(inlet_level(site)).chain([site.cover_bottom.clone()]);
    all.map(Z::flat).chain([screed(site)]).collect()
}

/// What a tank holds as amounts, in metres and cubic metres.
#[derive(Debug)]
pub(crate) struct Held {
    /// Of each chamber to the underside of the cover.
    full: Vec<Amount>,
    chambers: Vec<Water>,
    inlet: Option<Amount>,
    soak_inlet: Option<Amount>,
    drains: Vec<Amount>,
    cover: Amount,
    beams: Vec<Amount>,
}

/// A chamber with its water.
#[derive(Debug)]
struct Water {
    length: Amount,
    width: Amount,
    level: Amount,
    depth: Amount,
    volume: Amount,
    to_inlet: Option<Amount>,
    way: Option<Through>,
}

/// The finished way to the next chamber.
#[derive(Debug)]
struct Through {
    top: Amount,
    sill: Amount,
    /// The sill as a length.
    ends: Len,
    area: Option<Amount>,
    partition: Option<Amount>,
}

impl Held {
    /// `open` finds the open space of a room, cubic tenths of a millimetre.
    pub(crate) fn of(site: &Site<'_>, open: &mut dyn FnMut(Room) -> Amount) -> Self {
        let (lines, inlet) = (lines(site).unwrap_or_default(), inlet_level(site));
        let mut from = Len::ZERO;
        let (mut chambers, mut full) = (Vec::new(), Vec::new());
        for (i, clear) in site.chambers.iter().enumerate() {
            let ends = [i == 0, i + 1 == site.chambers.len()];
            let at = Place { to: &from + clear, from: from.clone(), clear, ends };
            full.push(at.volume(site, &site.cover_bottom, open));
            if let Some(level) = lines.get(i) {
                let finished = |l: &Len| metres(&(l - &plaster(site).times(2)));
                chambers.push(Water {
                    length: finished(clear),
                    width: finished(&site.width),
                    level: metres(level),
                    depth: metres(&at.depth(site, level)),
                    volume: at.volume(site, level, open),
                    to_inlet: inlet.as_ref().map(|level| at.volume(site, level, open)),
                    way: (!ends[1]).then(|| through(site)).flatten(),
                });
            }
            from = &at.to + &site.partition;
        }
        Self {
            full,
            chambers,
            inlet: inlet.map(|z| metres(&z)),
            soak_inlet: soak_pit::inlet(site).map(|z| metres(&z)),
            drains: drain::trenches(site).iter().map(|t| metres(&-&t.depth)).collect(),
            cover: metres(&site.cover_bottom),
            beams: beams(site).iter().map(metres).collect(),
        }
    }

    /// The figures, by the value of each amount: they are asked for in a fixed order.
    pub(crate) fn read(&self, of: &mut dyn FnMut(&Amount) -> Ratio) -> Capacity {
        // What stands in a chamber can be more than its water has room for.
        let volume = |v: Ratio| if v.signum() < 0 { Ratio::ZERO } else { v };
        let filled: Ratio = self.full.iter().map(|v| volume(of(v))).sum();
        let mut chambers = Vec::with_capacity(self.chambers.len());
        for c in &self.chambers {
            chambers.push(Chamber {
                length: of(&c.length),
                width: of(&c.width),
                level: of(&c.level),
                depth: of(&c.depth),
                volume: volume(of(&c.volume)),
                to_inlet: c.to_inlet.as_ref().map(|v| volume(of(v))),
                way: c.way.as_ref().map(|w| w.read(of)),
            });
        }
        let litres = |m3: Ratio| {
            let whole = (m3 * Ratio::int(1_000)).floor();
            u64::try_from(whole.numer()).ok().filter(|_| whole.is_known())
        };
        let held = (!chambers.is_empty()).then(|| chambers.iter().map(|c| c.volume).sum());
        Capacity {
            to_water_line: held.and_then(litres),
            full: litres(filled).unwrap_or(0),
            chambers,
            inlet: self.inlet.as_ref().map(&mut *of),
            soak_inlet: self.soak_inlet.as_ref().map(&mut *of),
            drain_bottom: self.drains.iter().map(&mut *of).min(),
            cover: of(&self.cover),
            beam: self.beams.iter().map(&mut *of).min(),
        }
    }
}

impl Through {
    fn read(&self, of: &mut dyn FnMut(&Amount) -> Ratio) -> Way {
        Way {
            top: of(&self.top),
            sill: of(&self.sill),
            partition: self.partition.as_ref().map(&mut *of),
            area: self.area.as_ref().map(&mut *of),
        }
    }
}

fn metres(len: &Len) -> Amount {
    len.amount() / METRE
}

fn plaster(site: &Site<'_>) -> Len {
    site.job.len("tank.plaster.thickness")
}

fn inlet_level(site: &Site<'_>) -> Option<Len> {
    let below = site.job.len("tank.pipes.inlet.below_top");
    site.job.has("tank.pipes.inlet").then(|| &site.masonry_top - &below)
}

/// Invert of the inlet.
#[must_use]
pub fn inlet(site: &Site<'_>) -> Option<Ratio> {
    inlet_level(site).map(|z| z.value())
}

/// Undersides of beams over the water: under the slab, or on the walls.
fn beams(site: &Site<'_>) -> Vec<Len> {
    let span = "tank.cover.span_beam";
    let depth = || site.job.len(&format!("{span}.depth"));
    let span = site.job.has(span).then(|| &site.cover_bottom - &depth());
    let walls = (!site.wall_beams.is_zero()).then(|| site.masonry_top.clone());
    span.into_iter().chain(walls).collect()
}

/// Underside of the lowest beam over the water.
#[must_use]
pub fn beam(site: &Site<'_>) -> Option<Ratio> {
    beams(site).iter().map(Len::value).min()
}

/// The finished way to the next chamber; `None` where the chambers are not joined.
#[must_use]
pub fn way(site: &Site<'_>) -> Option<Way> {
    through(site).map(|way| way.read(&mut |amount| amount.value()))
}

fn through(site: &Site<'_>) -> Option<Through> {
    let (job, p) = (site.job, plaster(site));
    let partition = (!site.air_gap.is_zero()).then(|| &partitions::top(site) + &p);
    if !job.has("tank.partitions.opening") {
        let (ends, top) = (partition?, metres(&site.cover_bottom));
        let partition = Some(metres(&ends));
        return Some(Through { top, sill: metres(&ends), ends, area: None, partition });
    }
    let get = |k: &str| job.len(&format!("tank.partitions.opening.{k}"));
    let top = &site.masonry_top - &get("below_top");
    let number = Ratio::from(job.count("tank.partitions.opening.number").1);
    let [width, height] = ["width", "height"].map(|k| (&get(k) - &p.times(2)).amount());
    let (ends, area) = (&(&top - &get("height")) + &p, Some(width * height * (number / SQUARE)));
    let partition = partition.map(|z| metres(&z));
    Some(Through { top: metres(&(&top - &p)), sill: metres(&ends), ends, area, partition })
}

fn lines(site: &Site<'_>) -> Option<Vec<Len>> {
    let mut level = site.water_line.clone()?;
    let mut levels = vec![level.clone()];
    for _ in &site.partitions {
        let sill = through(site)?.ends;
        if site.less(&level, &sill) {
            level = sill;
        }
        levels.insert(0, level.clone());
    }
    Some(levels)
}

/// Water level of each chamber, from the outlet back; `None` without an outlet or where chambers are not joined.
#[must_use]
pub fn water_lines(site: &Site<'_>) -> Option<Vec<Ratio>> {
    lines(site).map(|lines| lines.iter().map(Len::value).collect())
}

/// A chamber along the tank.
struct Place<'a> {
    from: Len,
    to: Len,
    clear: &'a Len,
    /// Is it the first, is it the last?
    ends: [bool; 2],
}

impl Place<'_> {
    /// Mean depth under a level, over the screed.
    fn depth(&self, site: &Site<'_>, level: &Len) -> Len {
        let middle = (&self.from + &self.to).half();
        let floor = site.floor.mean(site.judge, [&middle, &middle]);
        &(level - &floor) - &site.job.len("tank.plaster.screed.thickness")
    }

    /// Plaster on a column that stands inward moves what it takes from the water along the falling floor by its own
    /// thickness: less at the inlet end, more at the outlet end.
    fn columns_moved(&self, site: &Site<'_>) -> Amount {
        let [a, b] = site.job.size("tank.columns.size").map(|l| &l - &site.wall);
        if !site.less(&Len::ZERO, &a) || !site.less(&Len::ZERO, &b) {
            return Amount::ZERO;
        }
        let fall = site.floor.fall.amount() * plaster(site).amount() / site.length.amount();
        let each = a.amount() * b.amount() * fall * Ratio::int(2);
        let ends = self.ends.map(|there| if there { each.clone() } else { Amount::ZERO });
        let [first, last] = ends;
        last - first
    }

    /// Volume of a chamber under a level, m3: finished plan times depth, less what the
    /// cells find standing between finished floor and water.
    fn volume(&self, site: &Site<'_>, level: &Len, open: &mut dyn FnMut(Room) -> Amount) -> Amount {
        let depth = self.depth(site, level);
        if !site.less(&Len::ZERO, &depth) {
            return Amount::ZERO;
        }
        let (depth, width, length) = (depth.amount(), &site.width, self.clear);
        let open = open(Room {
            x: [self.from.clone(), self.to.clone()],
            y: [Len::ZERO, width.clone()],
            z: [screed(site), Z::flat(level.clone())],
        });
        let solids = length.amount() * width.amount() * &depth - open;
        let faces = plaster(site).times(2);
        let finished = (length - &faces).amount() * (width - &faces).amount() * depth;
        (finished - (solids + self.columns_moved(site))) / CUBIC
    }
}

/// The finished floor.
fn screed(site: &Site<'_>) -> Z {
    Z::floor(site.job.len("tank.plaster.screed.thickness"))
}
