//! Openings through the partitions, at mid-width; several stand evenly spaced.
//!
//! The opening has the partition's place; its four reveals are plastered (three where it stands on the floor).

use tankwright_geometry::{Axis, Len, Z};

use crate::elements::{Element, partitions, span_beam};
use crate::job::{Fallback, Field, Kind, Presence};
use crate::ledger::{Book, Carrier, Claim, Face, Rank, SetOut, Side, Spec, count};
use crate::problem::Problem;
use crate::sheet::Times;
use crate::site::Site;
use crate::sketch::{Over, span};
use crate::space::tenths;
use crate::stage::Stage;
use crate::steel::{self, Bars, Bench, Order, Place, Shape, Want};
use crate::words::Phrase;
use crate::works::voids;

/// The element.
pub static ELEMENT: Openings = Openings;

/// Openings in partitions.
#[derive(Debug)]
pub struct Openings;

/// Openings wider than this carry a lintel; its bars bear so far on either side. Tenths of a millimetre; common
/// practice, no source, and so is the number of bars.
const WIDE: i64 = 2_500;
const BEARING: i64 = 1_500;
const LINTEL: i64 = 3;
/// The bed of mortar that they lie in, as drawn: common practice, no source.
const BED: i64 = 150;

const PART: &str = "tank.partitions.opening";

static CODES: &[(&str, &str)] = &[
    ("J049", "openings as wide as the tank"),
    ("J050", "an opening that reaches the top of its partition or a beam"),
    ("J051", "an opening with its sill below the floor"),
];

static FIELDS: &[Field] = &[
    Field::part(PART, Presence::Optional, "opening through each partition"),
    Field::length("tank.partitions.opening.width", 10, Fallback::Required, "width"),
    Field::length("tank.partitions.opening.height", 10, Fallback::Required, "height"),
    Field::length(
        "tank.partitions.opening.below_top",
        0,
        Fallback::Required,
        "top edge, below the top of the masonry",
    ),
    Field::value(
        "tank.partitions.opening.number",
        Kind::Count { least: 1, most: 10 },
        Fallback::Default("1", "one opening unless said otherwise"),
        "openings side by side in each partition",
    ),
];

struct Opening {
    width: Len,
    height: Len,
    z: [Len; 2],
    number: i64,
}

fn read(site: &Site<'_>) -> Option<Opening> {
    if !site.job.has(PART) || site.partitions.is_empty() {
        return None;
    }
    let [width, height, below] =
        ["width", "height", "below_top"].map(|k| site.job.len(&format!("tank.partitions.opening.{k}")));
    let top = &site.masonry_top - &below;
    let z = [&top - &height, top];
    Some(Opening { width, height, z, number: site.job.count("tank.partitions.opening.number").1 })
}

/// Does an opening share the room of a part with this extent across the tank and this top?
#[must_use]
pub fn meets(site: &Site<'_>, y: [&Len; 2], top: &Len) -> bool {
    let hits = |s: &[Len; 2]| site.less(&s[0], y[1]) && site.less(y[0], &s[1]);
    read(site).is_some_and(|o| site.less(&o.z[0], top) && o.across(site).iter().any(hits))
}

impl Opening {
    /// Extents across the tank.
    fn across(&self, site: &Site<'_>) -> Vec<[Len; 2]> {
        let bay = |i: i64| {
            site.width
                .times(tankwright_geometry::Ratio::of(i128::from(2 * i + 1), i128::from(2 * self.number)))
        };
        let half = self.width.half();
        (0..self.number).map(|i| [&bay(i) - &half, &bay(i) + &half]).collect()
    }

    /// Does it stand above the floor at this partition, so that it has a sill?
    fn has_sill(&self, site: &Site<'_>, p: &[Len; 2]) -> bool {
        site.judge.positive(&site.above_floor(&self.z[0], [&p[0], &p[0]]))
    }
}

impl Element for Openings {
    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn codes(&self) -> &'static [(&'static str, &'static str)] {
        CODES
    }

    fn set_out(&self, site: &Site<'_>, out: &mut SetOut) {
        let Some(opening) = read(site) else { return };
        refuse(site, &opening);
        let spec = Spec::plain(&voids::OPENING);
        let z = opening.z.clone().map(Z::flat);
        for p in &site.partitions {
            for y in opening.across(site) {
                let block = Site::block([&p[0], &p[1]], [&y[0], &y[1]], [&z[0], &z[1]]);
                out.claims.push(Claim::new("opening", Rank::OPENING, &spec, Stage::WallsLower, block));
                let Some(plaster) = site.plaster() else { continue };
                let mut faces = vec![
                    ([&y[0], &y[0]], [&z[0], &z[1]], (Axis::Y, Side::High)),
                    ([&y[1], &y[1]], [&z[0], &z[1]], (Axis::Y, Side::Low)),
                    ([&y[0], &y[1]], [&z[1], &z[1]], (Axis::Z, Side::Low)),
                ];
                if opening.has_sill(site, p) {
                    faces.push(([&y[0], &y[1]], [&z[0], &z[0]], (Axis::Z, Side::High)));
                }
                for (y, z, look) in faces {
                    let block = Site::block([&p[0], &p[1]], y, z);
                    out.faces.push(Face::new(
                        plaster,
                        Rank::PARTITION,
                        Carrier::Lined,
                        look,
                        Stage::Plaster,
                        block,
                    ));
                }
            }
        }
    }

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        let Some(opening) = read(site) else { return };
        let spec = Spec::plain(&voids::OPENING);
        let (n, t) = (opening.number, &site.partition);
        for p in &site.partitions {
            let dims = [&opening.width, t, &opening.height];
            book.line(&spec, Stage::WallsLower, Phrase::new("through-partition"), &[count(n)], &dims);
            let Some(plaster) = site.plaster() else { continue };
            // Where the profile keeps the void, its reveals stay unmeasured with it.
            let face = [&opening.width, &opening.height];
            let kept = if opening.has_sill(site, p) { book.no_reveals(plaster.work, face) } else { None };
            let mut reveal = |key, times: i64, dims: [&Len; 2]| match &kept {
                Some(clause) => {
                    book.leave_out(
                        plaster,
                        Stage::Plaster,
                        Phrase::new("reveal-left-out"),
                        &[count(times)],
                        &dims,
                        clause.clone(),
                    );
                }
                None => book.line(plaster, Stage::Plaster, Phrase::new(key), &[count(times)], &dims),
            };
            reveal("reveal-sides", 2 * n, [t, &opening.height]);
            reveal("reveal-head", n, [t, &opening.width]);
            if opening.has_sill(site, p) {
                reveal("reveal-sill", n, [t, &opening.width]);
            }
        }
    }

    fn reinforce(&self, site: &Site<'_>, bench: &mut Bench<'_>) {
        let Some(opening) = read(site).filter(|_| site.job.has("steel")) else { return };
        if !needs_lintel(site) {
            return;
        }
        let Some((bars, each)) = lintel_bars(site, bench) else { return };
        // How many there are is structure.
        let number = site.job.len("tank.partitions.opening.number");
        site.judge.cmp(&number, &Len::fixed(opening.number));
        let a = &opening.width + &Len::fixed(2 * BEARING);
        // The head stands in the lift above the lowest ring beam, or where there is none in the one lift.
        let under = site.lowest_ring.and_then(|i| site.ring_beams.get(i)).map(|[under, _]| under);
        let above = under.is_some_and(|under| site.judge.cmp(&opening.z[1], under).is_ge());
        let from = bench.added();
        bench.add(Want {
            order: Order::Lintels,
            member: Phrase::new("bars-lintel"),
            bars: &bars,
            shape: Shape::Straight { a },
            members: site.partitions.len() * usize::try_from(opening.number).unwrap_or(1),
            each,
            stage: if above { Stage::WallsUpper } else { Stage::WallsLower },
            remarks: vec![Phrase::new("bars-lintel-offcuts")],
        });
        if let (Some(across), Some([x0, x1])) = (opening.across(site).first(), site.partitions.first()) {
            let [sill, head] = &opening.z;
            let bearing = Len::fixed(BEARING);
            let place = Place {
                title: Phrase::new("draw-lintel"),
                axis: 1,
                run: [&across[0] - &bearing, &across[1] + &bearing],
                rect: [[x0.clone(), x1.clone()], [head.clone(), head + &Len::fixed(BED)]],
            };
            bench.detail_over(from, &place, Over { width: span(across), sill: tenths(sill) });
        }
    }
}

/// Is the opening so wide that the masonry over it needs carrying?
#[must_use]
pub fn needs_lintel(site: &Site<'_>) -> bool {
    read(site).is_some_and(|o| site.judge.cmp(&o.width, &Len::fixed(WIDE)).is_gt())
}

/// The job's own bars, or three of its thinnest ribbed ones.
fn lintel_bars(site: &Site<'_>, bench: &Bench<'_>) -> Option<(Bars, Times)> {
    if site.job.has("steel.lintel") {
        let bars = bench.bars("steel.lintel")?;
        let each = bars.number.clone();
        return Some((bars, each));
    }
    let data = &site.stock.bars;
    let given = steel::KEYS.iter().filter_map(|key| steel::split(site.job.text(key)));
    let ribbed = given.filter(|k| data.grades.get(&k.grade).is_some_and(|g| g.ribbed));
    let thinnest = ribbed.min_by_key(|k| (k.diameter, k.grade.clone()))?;
    bench.of_kind(thinnest, "steel.lintel").map(|bars| (bars, Times::Count(LINTEL)))
}

fn refuse(site: &Site<'_>, o: &Opening) {
    let job = site.job;
    let place = |k: &str| job.place(&format!("tank.partitions.opening.{k}"));
    let report = |code, key: &str, what: &str, label: String, hint: &str| {
        job.report(Problem::error(code, place(key), what).label(label).hint(hint));
    };
    if !site.less(&o.width.times(o.number), &site.width) {
        let label = format!("the tank is {} mm wide", site.mm(&site.width));
        report(
            "J049",
            "width",
            "the openings are as wide as the tank",
            label,
            "leave masonry on both sides of every opening",
        );
    }
    let top = partitions::top(site);
    let beam =
        span_beam::across(site).map(|y| (y, &site.cover_bottom - &job.len("tank.cover.span_beam.depth")));
    let under_beam = beam.is_some_and(|(y, z)| {
        !site.less(&o.z[1], &z)
            && o.across(site).iter().any(|s| site.less(&s[0], &y[1]) && site.less(&y[0], &s[1]))
    });
    if !site.less(&o.z[1], &top) || under_beam {
        let label = if under_beam {
            "it reaches the span beam".to_owned()
        } else {
            "it reaches the top of the partition".to_owned()
        };
        report(
            "J050",
            "below_top",
            "the opening has no masonry over it",
            label,
            "lower the opening: its top edge must stay below the partition's top and below any beam",
        );
    }
    let high = |p: &[Len; 2]| site.floor.at(site.judge, &p[1]);
    if site.partitions.iter().any(|p| site.less(&o.z[0], &high(p))) {
        let depth = site.mm(&(&(&site.masonry_top - &o.z[1]) + &o.height));
        report(
            "J051",
            "below_top",
            "the sill of the opening lies below the floor",
            format!("its sill is {depth} mm below the top of masonry"),
            "raise the opening or make it less high",
        );
    }
}
