//! The soak pit: a round pit filled with hardcore, a sheet over the fill and soil up to the ground.

use tankwright_geometry::{Len, PI, Ratio};

use crate::elements::{Element, backfill, pit};
use crate::job::{Fallback, Field, Kind, Presence};
use crate::ledger::{Book, SetOut, Spec};
use crate::model::Model;
use crate::problem::Problem;
use crate::sheet::Times;
use crate::site::Site;
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::soak_pit as works;

/// The element.
pub static ELEMENT: SoakPit = SoakPit;

/// Soak pit.
#[derive(Debug)]
pub struct SoakPit;

const PART: &str = "soak_pit";

static CODES: &[(&str, &str)] = &[("J068", "a fill deeper than the soak pit")];

static FIELDS: &[Field] = &[
    Field::part(
        PART,
        Presence::Optional,
        "round pit filled with hardcore; soakage is not proved by drawing it",
    ),
    Field::length("soak_pit.diameter", 1000, Fallback::Required, "diameter"),
    Field::length("soak_pit.depth", 1000, Fallback::Required, "from ground level"),
    Field::length("soak_pit.fill_depth", 0, Fallback::Required, "hardcore, from the bottom"),
    Field::part("soak_pit.pipe", Presence::Optional, "pipe in the fill"),
    Field::length("soak_pit.pipe.diameter", 200, Fallback::Required, "diameter"),
    Field::length("soak_pit.pipe.length", 0, Fallback::Required, "length"),
    Field::value("soak_pit.sheet", Kind::Flag, Fallback::Nothing, "polythene over the fill"),
    Field::value(
        "soak_pit.number",
        Kind::Count { least: 1, most: 20 },
        Fallback::Default("1", "one pit unless said otherwise"),
        "pits",
    ),
];

struct Round {
    diameter: Len,
    depth: Len,
    fill: Len,
}

fn read(site: &Site<'_>) -> Option<Round> {
    let get = |k: &str| site.job.len(&format!("soak_pit.{k}"));
    site.job.has(PART).then(|| Round {
        diameter: get("diameter"),
        depth: get("depth"),
        fill: get("fill_depth"),
    })
}

/// How many pits, then pi/4.
fn circles(site: &Site<'_>) -> [Times; 3] {
    let (id, n) = site.job.count("soak_pit.number");
    [Times::Input(id, n), Times::Fraction(Ratio::of(1, 4)), Times::Pi]
}

impl Element for SoakPit {
    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn codes(&self) -> &'static [(&'static str, &'static str)] {
        CODES
    }

    fn set_out(&self, site: &Site<'_>, _: &mut SetOut) {
        let Some(pit) = read(site) else { return };
        if pit.fill.value() > pit.depth.value() {
            let place = site.job.place("soak_pit.fill_depth");
            let problem = Problem::error("J068", place, "the fill is deeper than the soak pit")
                .label(format!("the pit is {} mm deep", site.mm(&pit.depth)))
                .hint("the rest, up to ground level, is soil put back");
            site.job.report(problem);
        }
    }

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        let Some(Round { diameter: d, depth, fill }) = read(site) else { return };
        let (s, times) = (Stage::SoakPit, circles(site));
        let note = || Phrase::new("round-pit");
        book.line(&Spec::plain(&works::EXCAVATION_SOAK_PIT), s, note(), &times, &[&d, &d, &depth]);
        book.line(&Spec::plain(&works::SOAK_FILL), s, note(), &times, &[&d, &d, &fill]);
        book.line(&Spec::plain(&works::SOIL_COVER), s, note(), &times, &[&d, &d, &(&depth - &fill)]);
        book.line(&backfill::disposal(site), s, Phrase::new("room-of-fill"), &times, &[&d, &d, &fill]);
        if site.job.flag("soak_pit.sheet") {
            book.line(&Spec::plain(&works::POLYTHENE_SHEET), s, Phrase::new("over-fill"), &times, &[&d, &d]);
        }
        if site.job.has("soak_pit.pipe") {
            let size = site.mm(&site.job.len("soak_pit.pipe.diameter"));
            let pipe = Spec::of(&works::SOAK_PIPE, &size, &[]);
            book.line(
                &pipe,
                s,
                Phrase::new("in-fill"),
                &times[..1],
                &[&site.job.len("soak_pit.pipe.length")],
            );
        }
        if site.job.text("ground.support") != "none" {
            let side = [times[0].clone(), Times::Pi];
            book.line(&pit::support(site), s, Phrase::new("round-side"), &side, &[&d, &depth]);
        }
    }

    fn prove(&self, site: &Site<'_>, _: &Model, book: &mut Book<'_>) {
        let Some(Round { diameter, depth, fill }) = read(site) else { return };
        // From the radius: n x pi x r x r.
        let n = Ratio::from(site.job.count("soak_pit.number").1);
        let r = diameter.value() / Ratio::int(2);
        let plan = n * PI * r * r;
        let s = Stage::SoakPit;
        book.prove(&Spec::plain(&works::EXCAVATION_SOAK_PIT), s, plan * depth.value());
        book.prove(&Spec::plain(&works::SOAK_FILL), s, plan * fill.value());
        book.prove(&Spec::plain(&works::SOIL_COVER), s, plan * (depth.value() - fill.value()));
        book.prove(&backfill::disposal(site), s, plan * fill.value());
        if site.job.flag("soak_pit.sheet") {
            book.prove(&Spec::plain(&works::POLYTHENE_SHEET), s, plan);
        }
        if site.job.text("ground.support") != "none" {
            book.prove(&pit::support(site), s, n * PI * r * depth.value() * Ratio::int(2));
        }
    }
}
