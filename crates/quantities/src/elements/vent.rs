//! The vent: a pipe that stands over the cover. The job gives its height; where it stands is the builder's.

use crate::elements::{Element, cover, span_beam};
use crate::job::{Fallback, Field, Kind};
use crate::ledger::{Book, SetOut, Spec, count};
use crate::site::Site;
use crate::sketch::{Sketch, Vent as Drawn, span};
use crate::space::tenths;
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::pipework;

/// The element.
pub static ELEMENT: Vent = Vent;

/// Vent.
#[derive(Debug)]
pub struct Vent;

const HEIGHT: &str = "tank.pipes.vent_height";

static FIELDS: &[Field] = &[Field::value(
    HEIGHT,
    Kind::Length { least: 0, most: 1_000_000 },
    Fallback::Nothing,
    "vent above the cover",
)];

/// Its diameter as drawn: the job gives neither size nor place. Common practice, no source.
const ACROSS: i64 = 1_000;

/// Where it is drawn: over the first chamber, near its walls, clear of its manhole and of beams.
fn at(site: &Site<'_>) -> Option<[i64; 2]> {
    let length = tenths(site.chambers.first()?);
    let bay = span_beam::across(site).map_or_else(|| tenths(&site.width), |y| tenths(&y[0]));
    let ends = |long: i64| {
        let off = (2 * ACROSS).min(long / 2);
        [long - off, off]
    };
    let holes: Vec<_> = cover::manholes(site).into_iter().map(|m| m.at.map(|s| span(&s))).collect();
    let clear = |at: &[i64; 2]| {
        !holes.iter().any(|h| (0..2).all(|i| h[i][0] - ACROSS < at[i] && at[i] < h[i][1] + ACROSS))
    };
    let [along, across] = [ends(length), ends(bay)];
    let all = || along.into_iter().flat_map(|x| across.into_iter().rev().map(move |y| [x, y]));
    all().find(clear).or_else(|| all().next())
}

impl Element for Vent {
    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn set_out(&self, _: &Site<'_>, _: &mut SetOut) {}

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        let (spec, says) = (Spec::plain(&pipework::VENT_PIPE), Phrase::new("above-cover"));
        book.line(&spec, Stage::Finish, says, &[count(1)], &[&site.job.len(HEIGHT)]);
    }

    fn sketch(&self, site: &Site<'_>, out: &mut Sketch) {
        let height = site.job.len(HEIGHT);
        let Some(at) = at(site).filter(|_| !height.is_zero()) else { return };
        let title = Phrase::with("draw-vent", &[&site.mm(&height)]);
        let top = tenths(&site.cover_top);
        let z = [top, top + tenths(&height)];
        out.vents.push(Drawn { title, at, z, diameter: ACROSS, stage: Stage::Finish });
    }
}
