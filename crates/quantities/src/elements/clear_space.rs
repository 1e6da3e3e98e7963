//! The clear space of the tank: what nothing else claims between floor and cover.

use tankwright_geometry::{Len, Z};

use crate::capacity;
use crate::elements::Element;
use crate::job::Field;
use crate::ledger::{Book, Claim, Rank, SetOut, Spec, count};
use crate::site::Site;
use crate::sketch::{Room, Sketch, Water, span};
use crate::space::whole;
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::voids;

/// The element.
pub static ELEMENT: ClearSpace = ClearSpace;

/// Clear space.
#[derive(Debug)]
pub struct ClearSpace;

impl Element for ClearSpace {
    fn fields(&self) -> &'static [Field] {
        &[]
    }

    fn set_out(&self, site: &Site<'_>, out: &mut SetOut) {
        let zero = Len::ZERO;
        let z = [site.on_floor(), Z::flat(site.cover_bottom.clone())];
        let block = Site::block([&zero, &site.length], [&zero, &site.width], [&z[0], &z[1]]);
        let spec = Spec::plain(&voids::CLEAR_SPACE);
        out.claims.push(Claim::new("clear-space", Rank::CLEAR_SPACE, &spec, Stage::WallsLower, block));
    }

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        let spec = Spec::plain(&voids::CLEAR_SPACE);
        let height = site.above_floor(&site.cover_bottom, [&Len::ZERO, &site.length]);
        let dims = [&site.length, &site.width, &height];
        book.line(&spec, Stage::WallsLower, Phrase::new("between-the-walls"), &[count(1)], &dims);
    }
    fn sketch(&self, site: &Site<'_>, out: &mut Sketch) {
        let levels = capacity::water_lines(site).unwrap_or_default();
        let y = span(&[Len::ZERO, site.width.clone()]);
        let mut from = Len::ZERO;
        for (i, clear) in site.chambers.iter().enumerate() {
            let to = &from + clear;
            let plan = [span(&[from, to.clone()]), y];
            let title = Phrase::with("draw-chamber", &[&(i + 1).to_string()]);
            out.rooms.push(Room { title, plan, stage: Stage::WallsLower });
            out.waters.extend(levels.get(i).map(|level| Water { plan, level: whole(*level) }));
            from = &to + &site.partition;
        }
    }
}
