//! What the tank holds: finished dimensions, to the water line, chamber by chamber.
//!
//! A chamber's water stands at the outlet's invert, or at the finished sill of the way to the next chamber where that
//! is higher. Lengths between plastered faces; the floor carries the screed; whatever stands in the water (columns,
//! beams, haunches, boards) is taken out. Water in openings and pipes is not counted.

use std::rc::Rc;

use tankwright_geometry::cells::Painted;
use tankwright_geometry::cuts::{Part, merged};
use tankwright_geometry::{Cells, Cuts, Len, Ratio, Z};

use crate::elements::{drain, partitions};
use crate::estimate::{Capacity, Chamber, Way};
use crate::ledger::{Claim, SetOut};
use crate::site::Site;
use crate::works::voids;

/// Tenths of a millimetre in a metre.
const METRE: Ratio = Ratio::int(10_000);
const TWO: Ratio = Ratio::int(2);

/// Finished capacity of a site.
#[must_use]
pub fn capacity(site: &Site<'_>, set: &SetOut) -> Capacity {
    capacity_in(site, set, &mut Spaces::default())
}

/// The same where spaces of other sites are at hand.
pub(crate) fn capacity_in(site: &Site<'_>, set: &SetOut, spaces: &mut Spaces) -> Capacity {
    let lines = water_lines(site).unwrap_or_default();
    let inlet = inlet(site);
    let full = site.cover_bottom.value();
    let space = Space::paint(site, set, spaces, lines.iter().copied().chain(inlet).chain([full]));
    let mut from = Len::ZERO;
    let (mut chambers, mut filled) = (Vec::new(), Ratio::ZERO);
    for (i, clear) in site.chambers.iter().enumerate() {
        let at = Place { to: &from + clear, from: from.clone(), clear };
        filled = filled + space.volume(site, &at, full);
        if let Some(level) = lines.get(i) {
            let [length, width] =
                [clear.value(), site.width.value()].map(|l| (l - plaster(site) * TWO) / METRE);
            let volume = |level| space.volume(site, &at, level) / (METRE * METRE * METRE);
            chambers.push(Chamber {
                length,
                width,
                level: *level / METRE,
                depth: at.depth(site, *level) / METRE,
                volume: volume(*level),
                to_inlet: inlet.map(volume),
                way: (i + 1 < site.chambers.len()).then(|| way(site)).flatten(),
            });
        }
        from = &at.to + &site.partition;
    }
    let litres = |m3: Ratio| {
        let whole = (m3 * Ratio::int(1_000)).floor();
        u64::try_from(whole.numer()).ok().filter(|_| whole.is_known())
    };
    let held = (!chambers.is_empty()).then(|| chambers.iter().map(|c| c.volume).sum());
    Capacity {
        to_water_line: held.and_then(litres),
        full: litres(filled / (METRE * METRE * METRE)).unwrap_or(0),
        chambers,
        inlet: inlet.map(|z| z / METRE),
        soak_inlet: crate::elements::soak_pit::inlet(site).map(|z| z.value() / METRE),
        drain_bottom: drain::trenches(site).iter().map(|t| -t.depth.value() / METRE).min(),
        cover: full / METRE,
        beam: beam(site).map(|z| z / METRE),
    }
}

fn plaster(site: &Site<'_>) -> Ratio {
    site.job.len("tank.plaster.thickness").value()
}

/// Invert of the inlet.
#[must_use]
pub fn inlet(site: &Site<'_>) -> Option<Ratio> {
    let below = site.job.len("tank.pipes.inlet.below_top");
    site.job.has("tank.pipes.inlet").then(|| site.masonry_top.value() - below.value())
}

/// Underside of the lowest beam over the water: under the slab, or on the walls.
#[must_use]
pub fn beam(site: &Site<'_>) -> Option<Ratio> {
    let span = "tank.cover.span_beam";
    let span = site
        .job
        .has(span)
        .then(|| site.cover_bottom.value() - site.job.len(&format!("{span}.depth")).value());
    let walls = (!site.wall_beams.is_zero()).then(|| site.masonry_top.value());
    span.into_iter().chain(walls).min()
}

/// The finished way to the next chamber; `None` where the chambers are not joined.
#[must_use]
pub fn way(site: &Site<'_>) -> Option<Way> {
    let (job, p) = (site.job, plaster(site));
    let over = (!site.air_gap.is_zero()).then(|| partitions::top(site).value() + p);
    let partition = over.map(|z| z / METRE);
    if !job.has("tank.partitions.opening") {
        return Some(Way { top: site.cover_bottom.value() / METRE, sill: partition?, area: None, partition });
    }
    let get = |k: &str| job.len(&format!("tank.partitions.opening.{k}")).value();
    let top = site.masonry_top.value() - get("below_top");
    let number = i128::from(job.count("tank.partitions.opening.number").1);
    let area = (get("width") - p * TWO) * (get("height") - p * TWO) * Ratio::int(number) / METRE / METRE;
    Some(Way { top: (top - p) / METRE, sill: (top - get("height") + p) / METRE, area: Some(area), partition })
}

/// Water level of each chamber, from the outlet back; `None` without an outlet or where chambers are not joined.
#[must_use]
pub fn water_lines(site: &Site<'_>) -> Option<Vec<Ratio>> {
    let mut level = site.water_line.as_ref()?.value();
    let mut levels = vec![level];
    for _ in &site.partitions {
        level = level.max(way(site)?.sill * METRE);
        levels.insert(0, level);
    }
    Some(levels)
}

/// A chamber along the tank.
struct Place<'a> {
    from: Len,
    to: Len,
    clear: &'a Len,
}

impl Place<'_> {
    /// Mean depth under a level, over the screed.
    fn depth(&self, site: &Site<'_>, level: Ratio) -> Ratio {
        let middle = (&self.from + &self.to).half();
        let floor = site.floor.mean(site.judge, [&middle, &middle]).value();
        level - floor - site.job.len("tank.plaster.screed.thickness").value()
    }

    /// Plaster on a column that stands inward moves what it takes from the water along the falling floor by its own
    /// thickness: less at the inlet end, more at the outlet end.
    fn columns_moved(&self, site: &Site<'_>) -> Ratio {
        let [a, b] = site.job.size("tank.columns.size").map(|l| l.value() - site.wall.value());
        if a.signum() <= 0 || b.signum() <= 0 || site.length.is_zero() {
            return Ratio::ZERO;
        }
        let each = a * b * TWO * site.floor.fall.value() * plaster(site) / site.length.value();
        let end = |there: bool| if there { each } else { Ratio::ZERO };
        end(self.to.value() == site.length.value()) - end(self.from.is_zero())
    }
}

/// Which cells are open, in boxes: it hangs on the order of the planes alone.
#[derive(Debug)]
struct Open {
    size: [usize; 3],
    blocks: Vec<Painted>,
    clear: Vec<bool>,
    parts: Vec<Part>,
}

/// Open spaces painted before, the latest first.
#[derive(Debug, Default)]
pub(crate) struct Spaces(Vec<Rc<Open>>);

/// So many are kept.
const KEPT: usize = 256;

impl Spaces {
    fn of(&mut self, cuts: &Cuts, set: &SetOut) -> Option<Rc<Open>> {
        let painted =
            |c: &Claim| Some(Painted { part: cuts.part(&c.block)?, rank: c.rank.0, round: c.round });
        let blocks = set.claims.iter().map(painted).collect::<Option<Vec<_>>>()?;
        let (size, _) = cuts.size();
        let clear = |c: &Claim| c.spec.work == &voids::CLEAR_SPACE;
        let same = |o: &Open| {
            o.size == size && o.blocks == blocks && set.claims.iter().map(clear).eq(o.clear.iter().copied())
        };
        if let Some(at) = self.0.iter().position(|o| same(o)) {
            self.0.swap(0, at);
        } else {
            let clear: Vec<bool> = set.claims.iter().map(clear).collect();
            let cells = Cells::paint(&blocks, size);
            let open = |c: &[usize; 3]| cells.fill(*c).owner.is_some_and(|o| clear.get(o) == Some(&true));
            let parts = merged(cells.all().filter(open).map(|c| Cells::part(c, None)).collect());
            self.0.truncate(KEPT - 1);
            self.0.insert(0, Rc::new(Open { size, blocks, clear, parts }));
        }
        self.0.first().cloned()
    }
}

/// The open space of the site, cut at every level that is asked for.
struct Space {
    /// `None` where the numbers grow too large to be held.
    cut: Option<(Cuts, Rc<Open>)>,
}

impl Space {
    fn paint(
        site: &Site<'_>,
        set: &SetOut,
        spaces: &mut Spaces,
        levels: impl Iterator<Item = Ratio>,
    ) -> Self {
        let mut planes: Vec<Z> = levels.map(at).collect();
        planes.push(screed(site));
        let cuts = Cuts::of(set.claims.iter().map(|c| &c.block), planes.iter(), &site.floor);
        let cut = cuts.and_then(|cuts| {
            let open = spaces.of(&cuts, set)?;
            Some((cuts, open))
        });
        Self { cut }
    }

    /// Open space over a plan in a slab, cubic tenths of a millimetre.
    fn open(&self, plan: [Ratio; 4], slab: &[Z; 2]) -> Ratio {
        let sum = || {
            let (cuts, open) = self.cut.as_ref()?;
            let [x, y] = cuts.within(plan);
            let within = [x, y, cuts.slab(slab)];
            let mut sum = 0_i128;
            for part in &open.parts {
                let mut part = *part;
                for (run, limit) in part.iter_mut().zip(within) {
                    *run = [run[0].max(limit[0]), run[1].min(limit[1])];
                }
                if part.iter().all(|[from, to]| from < to) {
                    sum = sum.checked_add(cuts.volume(&part)?)?;
                }
            }
            Some(Ratio::of(sum, cuts.cubic()?))
        };
        sum().unwrap_or(Ratio::UNKNOWN)
    }

    /// Volume of a chamber under a level, cubic tenths of a millimetre: finished plan times depth, less what the
    /// cells find standing between finished floor and water.
    fn volume(&self, site: &Site<'_>, place: &Place<'_>, level: Ratio) -> Ratio {
        let depth = place.depth(site, level);
        if depth.signum() <= 0 {
            return Ratio::ZERO;
        }
        let width = site.width.value();
        let plan = [place.from.value(), place.to.value(), Ratio::ZERO, width];
        let open = self.open(plan, &[screed(site), at(level)]);
        let clear_length = place.clear.value();
        let solids = clear_length * width * depth - open;
        let faces = plaster(site) * TWO;
        let plastered = solids + place.columns_moved(site);
        ((clear_length - faces) * (width - faces) * depth - plastered).max(Ratio::ZERO)
    }
}

/// The finished floor.
fn screed(site: &Site<'_>) -> Z {
    Z::floor(site.job.len("tank.plaster.screed.thickness"))
}

/// A level as the cells know it.
fn at(level: Ratio) -> Z {
    Z::flat(Len::fixed(i64::try_from(level.floor().numer()).unwrap_or(0)))
}
