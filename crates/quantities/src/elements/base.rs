//! Hardcore, blinding and base: constant thickness, following the floor; the same plan for all three.

use tankwright_geometry::{Axis, Len, Z};

use crate::band::planes;
use crate::elements::Element;
use crate::job::{Fallback, Field, Kind, Presence};
use crate::ledger::{Book, Carrier, Claim, Face, Rank, SetOut, Side, Spec, count};
use crate::site::{Site, Span};
use crate::stage::Stage;
use crate::steel::{Bench, Mat, Order};
use crate::words::Phrase;
use crate::works::{concrete, earthwork, formwork};

/// The element.
pub static ELEMENT: Base = Base;

/// Base and the layers under it.
#[derive(Debug)]
pub struct Base;

const NO_SOURCE: &str = "common practice, no source";

static FIELDS: &[Field] = &[
    Field::part("tank.base", Presence::Always, "what the tank stands on"),
    Field::length("tank.base.hardcore", 0, Fallback::Nothing, "hardcore under everything"),
    Field::part("tank.base.blinding", Presence::Optional, "blinding under the base"),
    Field::length("tank.base.blinding.thickness", 0, Fallback::Required, "thickness"),
    Field::value(
        "tank.base.blinding.mix",
        Kind::Mix { parts: 3 },
        Fallback::Default("1:3:6", NO_SOURCE),
        "concrete",
    ),
    Field::part("tank.base.concrete", Presence::Always, "base slab"),
    Field::length("tank.base.concrete.thickness", 500, Fallback::Default("100 mm", NO_SOURCE), "thickness"),
    Field::value(
        "tank.base.concrete.mix",
        Kind::Mix { parts: 3 },
        Fallback::Default("1:2:4", NO_SOURCE),
        "concrete",
    ),
    Field::length("tank.base.projection", 0, Fallback::Nothing, "beyond the walls; 0 in a tight pit"),
    Field::length(
        "tank.base.fall",
        0,
        Fallback::Nothing,
        "floor and dig fall this much from the outlet end to the inlet end",
    ),
];

/// Plan of the base: along, across.
#[must_use]
pub fn plan(site: &Site<'_>) -> [Span; 2] {
    let p = &site.projection;
    let grow = |s: Span| [&s[0] - p, &s[1] + p];
    [grow(site.outer_x()), grow(site.outer_y())]
}

/// Length and breadth of the base.
#[must_use]
pub fn size(site: &Site<'_>) -> [Len; 2] {
    let twice = site.projection.times(2);
    [&site.outer_length() + &twice, &site.outer_width() + &twice]
}

/// The layers from the top: specification, thickness, part, note.
fn layers<'s>(site: &'s Site<'_>) -> [(Spec, &'s Len, &'static str); 3] {
    let mix = |k: &str| site.job.text(&format!("tank.base.{k}.mix"));
    [
        (Spec::of(&concrete::CONCRETE_BASE, mix("concrete"), &[]), &site.layers.base, "base"),
        (Spec::of(&concrete::CONCRETE_BLINDING, mix("blinding"), &[]), &site.layers.blinding, "blinding"),
        (Spec::plain(&earthwork::HARDCORE_BED), &site.layers.hardcore, "hardcore"),
    ]
}

impl Element for Base {
    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn set_out(&self, site: &Site<'_>, out: &mut SetOut) {
        let [x, y] = plan(site);
        let mut top = site.on_floor();
        for (spec, thickness, part) in layers(site) {
            if thickness.is_zero() {
                continue;
            }
            let bottom = Z::floor(&top.off - thickness);
            let block = Site::block([&x[0], &x[1]], [&y[0], &y[1]], [&bottom, &top]);
            if part == "base" && site.open {
                let form = Spec::plain(&formwork::FORMWORK_BASE_EDGE);
                for (x, y, look) in planes(x.clone(), y.clone(), [Side::Low, Side::High]) {
                    let block = Site::block([&x[0], &x[1]], [&y[0], &y[1]], [&bottom, &top]);
                    out.faces.push(Face::new(&form, Rank::BASE, Carrier::Formed, look, Stage::Base, block));
                }
            }
            out.claims.push(Claim::new(part, Rank::BASE, &spec, Stage::Base, block));
            top = bottom;
        }
    }

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        let [length, breadth] = size(site);
        for (spec, thickness, _) in layers(site) {
            book.line(
                &spec,
                Stage::Base,
                Phrase::new("whole-plan"),
                &[count(1)],
                &[&length, &breadth, thickness],
            );
        }
        if site.open {
            let form = Spec::plain(&formwork::FORMWORK_BASE_EDGE);
            for (key, run) in [("long-edges", &length), ("short-edges", &breadth)] {
                book.line(&form, Stage::Base, Phrase::new(key), &[count(2)], &[run, &site.layers.base]);
            }
        }
    }

    fn reinforce(&self, site: &Site<'_>, bench: &mut Bench<'_>) {
        let [x, y] = plan(site);
        for (path, words, axis, run, across) in [
            ("steel.base.short", ["bars-base-short", "bars-base-short"], Axis::Y, &y, &x),
            ("steel.base.long", ["bars-base-long", "bars-base-long"], Axis::X, &x, &y),
        ] {
            let (run, across, holes) = (run.clone(), across.clone(), Vec::new());
            let (layers, order, stage) = (1, Order::Base, Stage::Base);
            Mat { path, words, axis, run, across, holes, layers, order, stage }.reinforce(bench);
        }
    }
}
