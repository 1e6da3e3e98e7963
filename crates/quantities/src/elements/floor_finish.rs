//! Plaster's companions: the keys of `[tank.plaster]`, the screed, the paste on both, and the water test.

use tankwright_geometry::{Axis, Len, Z};

use crate::elements::Element;
use crate::job::{Fallback, Field, Kind, Presence};
use crate::ledger::{Book, Carrier, Face, Rank, SetOut, Side, Spec, count};
use crate::made::Made;
use crate::site::Site;
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::{concrete, finishes};

/// The element.
pub static ELEMENT: FloorFinish = FloorFinish;

/// Screed, paste and water test.
#[derive(Debug)]
pub struct FloorFinish;

const NO_SOURCE: &str = "common practice, no source";

static FIELDS: &[Field] = &[
    Field::part("tank.plaster", Presence::Optional, "plaster inside"),
    Field::length("tank.plaster.thickness", 30, Fallback::Default("20 mm", NO_SOURCE), "thickness"),
    Field::value(
        "tank.plaster.mix",
        Kind::Mix { parts: 2 },
        Fallback::Default("1:3", NO_SOURCE),
        "cement to sand",
    ),
    Field::value(
        "tank.plaster.waterproofer",
        Kind::Flag,
        Fallback::Nothing,
        "waterproofer in plaster, screed and paste",
    ),
    Field::part("tank.plaster.screed", Presence::Optional, "screed on the floor"),
    Field::length("tank.plaster.screed.thickness", 100, Fallback::Default("30 mm", NO_SOURCE), "thickness"),
    Field::value(
        "tank.plaster.screed.mix",
        Kind::Mix { parts: 2 },
        Fallback::Default("1:3", NO_SOURCE),
        "cement to sand",
    ),
    Field::value(
        "tank.plaster.paste",
        Kind::Flag,
        Fallback::Nothing,
        "neat cement paste on plaster and screed",
    ),
    Field::value(
        "tank.plaster.outside",
        Kind::Flag,
        Fallback::Nothing,
        "plaster outside: open pits and above ground",
    ),
];

fn screed(site: &Site<'_>) -> Option<Spec> {
    site.finish("tank.plaster.screed", &finishes::SCREED)
}

impl Element for FloorFinish {
    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn set_out(&self, site: &Site<'_>, out: &mut SetOut) {
        let Some(spec) = screed(site) else { return };
        let floor = Z::floor(Len::ZERO);
        let mut from = Len::ZERO;
        for chamber in &site.chambers {
            let to = &from + chamber;
            let block = Site::block([&from, &to], [&Len::ZERO, &site.width], [&floor, &floor]);
            let carrier = Carrier::On(&concrete::CONCRETE_BASE);
            out.faces.push(Face::new(
                &spec,
                Rank::BASE,
                carrier,
                (Axis::Z, Side::High),
                Stage::Plaster,
                block,
            ));
            from = &to + &site.partition;
        }
    }

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        let s = Stage::Plaster;
        if let Some(spec) = screed(site) {
            for (i, chamber) in site.chambers.iter().enumerate() {
                let note = Phrase::with("chamber", &[&(i + 1).to_string()]);
                book.line(&spec, s, note, &[count(1)], &[chamber, &site.width]);
            }
        }
        if site.job.flag("tank.plaster.paste") {
            let proofed = site.waterproofed();
            let spec = if proofed.is_empty() { "" } else { "waterproofed" }.to_owned();
            let paste =
                Spec { spec, ..Spec::plain(&finishes::CEMENT_PASTE).worded("cement-paste", &[proofed]) };
            let made = Made { waterproofed: !proofed.is_empty(), ..Made::NOTHING };
            let paste = paste.made(made);
            book.refer(&paste, s, Phrase::new("on-plaster"), &finishes::PLASTER_WALL);
            book.refer(&paste, s, Phrase::new("on-screed"), &finishes::SCREED);
        }
        book.line(&Spec::plain(&finishes::WATER_TEST), s, Phrase::new("fill-and-hold"), &[count(1)], &[]);
    }
}
