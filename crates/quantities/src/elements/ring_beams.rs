//! Ring beams round the four outer walls, full thickness, at any height between floor and top of masonry.

use tankwright_geometry::Len;

use crate::band::Band;
use crate::elements::Element;
use crate::job::{Fallback, Field, Kind, Presence};
use crate::ledger::{Book, Rank, SetOut, Spec};
use crate::problem::Problem;
use crate::site::Site;
use crate::stage::Stage;
use crate::steel::{Bench, Order, Round};
use crate::works::{concrete, formwork};

/// The element.
pub static ELEMENT: RingBeams = RingBeams;

/// Ring beams.
#[derive(Debug)]
pub struct RingBeams;

static CODES: &[(&str, &str)] = &[
    ("J043", "a ring beam that is not between the floor and the top of masonry"),
    ("J044", "two ring beams that overlap"),
];

static FIELDS: &[Field] = &[
    Field::part("tank.ring_beams[]", Presence::List, "a ring beam round the outer walls"),
    Field::length(
        "tank.ring_beams[].above_floor",
        0,
        Fallback::Required,
        "underside, above top of base at the outlet end",
    ),
    Field::length(
        "tank.ring_beams[].depth",
        500,
        Fallback::Default("200 mm", "common practice, no source"),
        "depth",
    ),
    Field::value(
        "tank.ring_beams[].mix",
        Kind::Mix { parts: 3 },
        Fallback::Default("1:1.5:3", "common practice, no source"),
        "concrete",
    ),
];

impl Element for RingBeams {
    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn codes(&self) -> &'static [(&'static str, &'static str)] {
        CODES
    }

    fn set_out(&self, site: &Site<'_>, out: &mut SetOut) {
        refuse(site);
        each(site, |band, _| band.set_out(site, out));
    }

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        each(site, |band, depth| band.measure(site, book, depth));
    }

    fn reinforce(&self, site: &Site<'_>, bench: &mut Bench<'_>) {
        let (part, order, title) = ("steel.ring_beams", Order::RingBeams, "draw-ring-beam");
        let words = ["bars-ring-sides", "bars-ring-ends", "bars-ring-links-sides", "bars-ring-links-ends"];
        let (mut n, several) = (0_usize, site.ring_beams.len() > 1);
        each(site, |band, depth| {
            n += 1;
            let name = if several { format!(" {n}") } else { String::new() };
            let (depth, stage, z) = (depth.clone(), band.stage, band.z.clone());
            Round { part, words, name, depth, z, title, order, stage }.reinforce(bench);
        });
    }
}

fn each(site: &Site<'_>, mut with: impl FnMut(&Band<'_>, &Len)) {
    let form = Spec::plain(&formwork::FORMWORK_RING_BEAM);
    for (i, z) in site.ring_beams.iter().enumerate() {
        let concrete =
            Spec::of(&concrete::CONCRETE_RING_BEAM, site.job.text(&format!("tank.ring_beams[{i}].mix")), &[]);
        let stage = if site.lowest_ring == Some(i) { Stage::RingBeam } else { Stage::WallsUpper };
        let (part, rank, z) = ("ring-beam", Rank::RING_BEAM, z.clone());
        let band = Band { part, rank, concrete: &concrete, form: &form, stage, z };
        with(&band, &site.job.len(&format!("tank.ring_beams[{i}].depth")));
    }
}

fn refuse(site: &Site<'_>) {
    let job = site.job;
    for (i, [bottom, top]) in site.ring_beams.iter().enumerate() {
        let place = || job.place(&format!("tank.ring_beams[{i}].above_floor"));
        if site.less(&site.masonry_top, top) || site.less(bottom, &site.floor.outlet) {
            let room = &site.masonry_top - &site.floor.outlet;
            let problem = Problem::error(
                "J043",
                place(),
                "the ring beam does not lie between the floor and the top of masonry",
            )
            .label(format!("its top is {} mm above the floor", site.mm(&(top - &site.floor.outlet))))
            .hint(format!("masonry ends {} mm above the floor at the outlet end", site.mm(&room)));
            job.report(problem);
        }
        let hits = |o: &&[Len; 2]| site.less(bottom, &o[1]) && site.less(&o[0], top);
        if site.ring_beams[..i].iter().any(|o| hits(&o)) {
            let problem = Problem::error("J044", place(), "two ring beams overlap")
                .label("this one begins or ends inside another")
                .hint("leave masonry between them, or make one deeper beam");
            job.report(problem);
        }
    }
}
