//! A rectangular concrete step along the foot of both long walls, on the floor, over the clear length.
//!
//! ```text
//!   wall |      | top: `height` above the floor at the outlet end, level
//!        |__    |
//!        |  |__ | inner side, formed and plastered
//!   =====floor=====
//! ```
//! It comes after the partition, which cuts it. It takes screed and clear space.

use tankwright_geometry::{Axis, Len, Z};

use crate::elements::{Element, openings};
use crate::job::{Fallback, Field, Kind, Presence};
use crate::ledger::{Book, Carrier, Claim, Face, Rank, SetOut, Side, Spec, count};
use crate::problem::Problem;
use crate::site::Site;
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::haunch as works;

/// The element.
pub static ELEMENT: Haunch = Haunch;

/// Haunches.
#[derive(Debug)]
pub struct Haunch;

const PART: &str = "tank.haunch";
const RANK: Rank = Rank::PARTITION.after();

static CODES: &[(&str, &str)] = &[
    ("J072", "haunches that fill the width of the tank"),
    ("J073", "a haunch as high as the walls"),
    ("J074", "a haunch that blocks an opening"),
];

static FIELDS: &[Field] = &[
    Field::part(PART, Presence::Optional, "concrete step along the foot of both long walls"),
    Field::length("tank.haunch.width", 10, Fallback::Required, "from the wall inwards"),
    Field::length("tank.haunch.height", 10, Fallback::Required, "top, above the floor at the outlet end"),
    Field::value(
        "tank.haunch.mix",
        Kind::Mix { parts: 3 },
        Fallback::Default("1:2:4", "common practice, no source"),
        "concrete",
    ),
];

/// Width, and level of the top.
fn read(site: &Site<'_>) -> Option<[Len; 2]> {
    let [width, height] = ["width", "height"].map(|k| site.job.len(&format!("{PART}.{k}")));
    site.job.has(PART).then(|| [width, &site.floor.outlet + &height])
}

/// Does its end stand before a hole in an end wall that begins at `y`, on this level?
#[must_use]
pub fn reaches(site: &Site<'_>, y: &Len, z: &Len) -> bool {
    read(site).is_some_and(|[width, top]| site.less(y, &width) && site.less(z, &top))
}

fn spec(site: &Site<'_>) -> Spec {
    Spec::of(&works::CONCRETE_HAUNCH, site.job.text("tank.haunch.mix"), &[])
}

impl Element for Haunch {
    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn codes(&self) -> &'static [(&'static str, &'static str)] {
        CODES
    }

    fn set_out(&self, site: &Site<'_>, out: &mut SetOut) {
        let Some([width, top]) = read(site) else { return };
        refuse(site, &width, &top);
        let (concrete, form, s) = (spec(site), Spec::plain(&works::FORMWORK_HAUNCH), Stage::WallsLower);
        let (floor, top) = (site.on_floor(), Z::flat(top));
        let along = [&Len::ZERO, &site.length];
        let right = &site.width - &width;
        for (y, inner, side) in
            [([&Len::ZERO, &width], &width, Side::High), ([&right, &site.width], &right, Side::Low)]
        {
            let block = Site::block(along, y, [&floor, &top]);
            out.claims.push(Claim::new("haunch", RANK, &concrete, s, block));
            let look = (Axis::Y, side);
            let block = Site::block(along, [inner, inner], [&floor, &top]);
            out.faces.push(Face::new(&form, RANK, Carrier::Formed, look, s, block.clone()));
            if let Some(plaster) = site.plaster() {
                out.faces.push(Face::new(plaster, RANK, Carrier::Lined, look, Stage::Plaster, block));
                let (look, block) = ((Axis::Z, Side::High), Site::block(along, y, [&top, &top]));
                out.faces.push(Face::new(plaster, RANK, Carrier::Lined, look, Stage::Plaster, block));
            }
        }
    }

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        let Some([width, top]) = read(site) else { return };
        let (concrete, form, two) = (spec(site), Spec::plain(&works::FORMWORK_HAUNCH), [count(2)]);
        let height = site.above_floor(&top, [&Len::ZERO, &site.length]);
        let s = Stage::WallsLower;
        book.line(&concrete, s, Phrase::new("along-the-tank"), &two, &[&site.length, &width, &height]);
        book.line(&form, s, Phrase::new("haunch-sides"), &two, &[&site.length, &height]);
        if let Some(plaster) = site.plaster() {
            book.line(plaster, Stage::Plaster, Phrase::new("haunch-sides"), &two, &[&site.length, &height]);
            book.line(plaster, Stage::Plaster, Phrase::new("haunch-tops"), &two, &[&site.length, &width]);
        }
    }
}

fn refuse(site: &Site<'_>, width: &Len, top: &Len) {
    let report = |code, key: &str, what: &str, label: String, hint: &str| {
        let place = site.job.place(&format!("{PART}.{key}"));
        site.job.report(Problem::error(code, place, what).label(label).hint(hint));
    };
    if !site.less(&width.times(2), &site.width) {
        let label = format!("the tank is {} mm wide", site.mm(&site.width));
        report(
            "J072",
            "width",
            "the two haunches fill the width of the tank",
            label,
            "leave a channel between them",
        );
    }
    if !site.less(top, &site.masonry_top) {
        let label = format!("the tank is {} mm high", site.mm(&site.job.len("tank.height")));
        report(
            "J073",
            "height",
            "the haunch is as high as the walls",
            label,
            "a haunch is usually 100 to 300 mm high",
        );
    }
    let right = &site.width - width;
    if [[&Len::ZERO, width], [&right, &site.width]].into_iter().any(|y| openings::meets(site, y, top)) {
        let label = "its end would stand in the opening of a partition".to_owned();
        report(
            "J074",
            "width",
            "the haunch blocks an opening",
            label,
            "make the haunch narrower or lower, or move the opening",
        );
    }
}
