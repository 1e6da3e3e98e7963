//! Partitions between the chambers, from the floor to the top of masonry or to an air gap under the slab.

use tankwright_geometry::{Axis, Len, Z};

use crate::elements::Element;
use crate::job::{Fallback, Field, Kind, Presence};
use crate::ledger::{Book, Carrier, Claim, Face, Lift, Rank, SetOut, Side, Spec, count};
use crate::problem::Problem;
use crate::site::{Over, Site};
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::masonry;

/// The element.
pub static ELEMENT: Partitions = Partitions;

/// Partitions.
#[derive(Debug)]
pub struct Partitions;

static CODES: &[(&str, &str)] = &[("J048", "an air gap as high as the tank")];

static FIELDS: &[Field] = &[
    Field::part("tank.partitions", Presence::Always, "one between each two chambers"),
    Field::length("tank.partitions.thickness", 500, Fallback::Nothing, "thickness; left out: as the walls"),
    Field::value(
        "tank.partitions.unit",
        Kind::Text,
        Fallback::Nothing,
        "masonry unit; left out: as the walls",
    ),
    Field::value(
        "tank.partitions.mortar",
        Kind::Mix { parts: 2 },
        Fallback::Nothing,
        "mortar; left out: as the walls",
    ),
    Field::length("tank.partitions.air_gap", 0, Fallback::Nothing, "left open under the cover slab"),
];

/// Top of a partition: under the air gap, or where masonry ends.
#[must_use]
pub fn top(site: &Site<'_>) -> Len {
    if site.air_gap.is_zero() { site.masonry_top.clone() } else { &site.cover_bottom - &site.air_gap }
}

fn spec(site: &Site<'_>) -> Spec {
    let made = site.masonry("tank.partitions", &site.partition);
    let more = [site.unit_title(&made.unit).to_owned(), made.mix.clone()];
    Spec::of(&masonry::BRICKWORK_PARTITION, &site.mm(&site.partition), &[&more[0], &more[1]]).made(made)
}

fn lifts(site: &Site<'_>) -> Vec<Lift> {
    site.lifts(&top(site), Over::Left)
}

impl Element for Partitions {
    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn codes(&self) -> &'static [(&'static str, &'static str)] {
        CODES
    }

    fn set_out(&self, site: &Site<'_>, out: &mut SetOut) {
        refuse(site);
        let (spec, lifts, level) = (spec(site), lifts(site), top(site));
        let (floor, top) = (site.on_floor(), Z::flat(level.clone()));
        let under = Z::flat(if site.air_gap.is_zero() { site.cover_bottom.clone() } else { level });
        let across = [&Len::ZERO, &site.width];
        for p in &site.partitions {
            let block = Site::block([&p[0], &p[1]], across, [&floor, &top]);
            let claim = Claim::new("partition", Rank::PARTITION, &spec, Stage::WallsLower, block);
            out.claims.push(claim.in_lifts(&lifts).wall(Axis::X));
            let Some(plaster) = site.plaster() else { continue };
            let mut faces = vec![
                ([&p[0], &p[0]], [&floor, &under], (Axis::X, Side::Low)),
                ([&p[1], &p[1]], [&floor, &under], (Axis::X, Side::High)),
            ];
            if !site.air_gap.is_zero() {
                faces.push(([&p[0], &p[1]], [&top, &top], (Axis::Z, Side::High)));
            }
            for (x, z, look) in faces {
                let block = Site::block(x, across, z);
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

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        let spec = spec(site);
        for p in &site.partitions {
            for lift in lifts(site) {
                let height = site.lift_height(&lift, [&p[0], &p[1]]);
                let dims = [&site.width, &site.partition, &height];
                book.line(&spec, lift.stage, Phrase::new("between-chambers"), &[count(1)], &dims);
            }
            let Some(plaster) = site.plaster() else { continue };
            let under = if site.air_gap.is_zero() { site.cover_bottom.clone() } else { top(site) };
            for (x, key) in [(&p[0], "partition-inlet-side"), (&p[1], "partition-outlet-side")] {
                let height = site.above_floor(&under, [x, x]);
                book.line(plaster, Stage::Plaster, Phrase::new(key), &[count(1)], &[&site.width, &height]);
            }
            if !site.air_gap.is_zero() {
                let dims = [&site.width, &site.partition];
                book.line(plaster, Stage::Plaster, Phrase::new("partition-top"), &[count(1)], &dims);
            }
        }
    }
}

fn refuse(site: &Site<'_>) {
    let place = |k: &str| site.job.place(&format!("tank.partitions.{k}"));
    if !site.air_gap.is_zero() && !site.less(&site.air_gap, &site.job.len("tank.height")) {
        let problem =
            Problem::error("J048", place("air_gap"), "the air gap is not less than the height of the tank")
                .label(format!("the tank is {} mm high", site.mm(&site.job.len("tank.height"))))
                .hint("an air gap is usually 50 to 150 mm");
        site.job.report(problem);
    }
}
