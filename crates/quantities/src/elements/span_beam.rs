//! Beam under the slab, along the tank at mid-width, between the end walls (plus a bearing into each).

use tankwright_geometry::{Axis, Len, Z};

use crate::elements::Element;
use crate::job::{Fallback, Field, Presence};
use crate::ledger::{Book, Carrier, Claim, Face, Rank, SetOut, Side, Spec, count};
use crate::problem::Problem;
use crate::site::Site;
use crate::stage::Stage;
use crate::steel::{Bench, Order, Place, Straight};
use crate::words::Phrase;
use crate::works::{concrete, formwork};

/// The element.
pub static ELEMENT: SpanBeam = SpanBeam;

/// Beam under the cover.
#[derive(Debug)]
pub struct SpanBeam;

const PART: &str = "tank.cover.span_beam";

static CODES: &[(&str, &str)] = &[
    ("J045", "a span beam as wide as the tank"),
    ("J046", "a span beam that bears beyond the wall"),
    ("J047", "a column that meets the span beam"),
];

static FIELDS: &[Field] = &[
    Field::part(PART, Presence::Optional, "beam under the slab, along the tank, mid-width"),
    Field::length("tank.cover.span_beam.width", 500, Fallback::Required, "width"),
    Field::length("tank.cover.span_beam.depth", 500, Fallback::Required, "depth under the slab"),
    Field::length("tank.cover.span_beam.bearing", 0, Fallback::Nothing, "into each end wall"),
];

/// Its extent across the tank.
#[must_use]
pub fn across(site: &Site<'_>) -> Option<[Len; 2]> {
    let width = site.job.has(PART).then(|| site.job.len("tank.cover.span_beam.width"))?;
    Some([(&site.width - &width).half(), (&site.width + &width).half()])
}

/// What is open outside of the ends of a beam that goes through the whole wall.
fn open_ends(site: &Site<'_>) -> Option<[Z; 2]> {
    let [depth, bearing] = ["depth", "bearing"].map(|k| site.job.len(&format!("tank.cover.span_beam.{k}")));
    let z = [Z::flat(&site.cover_bottom - &depth), Z::flat(site.cover_bottom.clone())];
    site.outside(&z).filter(|_| site.judge.cmp(&bearing, &site.wall).is_eq())
}

fn specs(site: &Site<'_>) -> [Spec; 2] {
    let mix = site.job.text("tank.cover.mix");
    [Spec::of(&concrete::CONCRETE_SPAN_BEAM, mix, &[]), Spec::plain(&formwork::FORMWORK_SPAN_BEAM)]
}

impl Element for SpanBeam {
    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn codes(&self) -> &'static [(&'static str, &'static str)] {
        CODES
    }

    fn set_out(&self, site: &Site<'_>, out: &mut SetOut) {
        let Some([y0, y1]) = across(site) else { return };
        refuse(site, &y0);
        let [concrete, form] = specs(site);
        let (zero, l) = (Len::ZERO, &site.length);
        let bearing = site.job.len("tank.cover.span_beam.bearing");
        let low = Z::flat(&site.cover_bottom - &site.job.len("tank.cover.span_beam.depth"));
        let high = Z::flat(site.cover_bottom.clone());
        let block = Site::block([&-&bearing, &(l + &bearing)], [&y0, &y1], [&low, &high]);
        let claim = Claim::new("span-beam", Rank::SPAN_BEAM, &concrete, Stage::Cover, block);
        out.claims.push(claim.runs(Axis::X));
        let faces = [
            ([&y0, &y0], [&low, &high], (Axis::Y, Side::Low)),
            ([&y1, &y1], [&low, &high], (Axis::Y, Side::High)),
            ([&y0, &y1], [&low, &low], (Axis::Z, Side::Low)),
        ];
        for (y, z, look) in faces {
            let block = Site::block([&zero, l], y, z);
            out.faces.push(Face::new(&form, Rank::SPAN_BEAM, Carrier::Formed, look, Stage::Cover, block));
        }
        let Some([low, high]) = open_ends(site) else { return };
        for (x, side) in [(-&bearing, Side::Low), (l + &bearing, Side::High)] {
            let block = Site::block([&x, &x], [&y0, &y1], [&low, &high]);
            let look = (Axis::X, side);
            out.faces.push(Face::new(&form, Rank::SPAN_BEAM, Carrier::Formed, look, Stage::Cover, block));
        }
    }

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        if !site.job.has(PART) {
            return;
        }
        let [concrete, form] = specs(site);
        let [width, depth, bearing] =
            ["width", "depth", "bearing"].map(|k| site.job.len(&format!("tank.cover.span_beam.{k}")));
        let s = Stage::Cover;
        let run = &site.length + &bearing.times(2);
        book.line(&concrete, s, Phrase::new("along-the-tank"), &[count(1)], &[&run, &width, &depth]);
        book.line(&form, s, Phrase::new("sides"), &[count(2)], &[&site.length, &depth]);
        book.line(&form, s, Phrase::new("underside"), &[count(1)], &[&site.length, &width]);
        if let Some([low, high]) = open_ends(site) {
            let open = &high.off - &low.off;
            book.line(&form, s, Phrase::new("outside-across"), &[count(2)], &[&width, &open]);
        }
    }

    fn reinforce(&self, site: &Site<'_>, bench: &mut Bench<'_>) {
        let Some(y) = across(site) else { return };
        let [width, depth, bearing] =
            ["width", "depth", "bearing"].map(|k| site.job.len(&format!("tank.cover.span_beam.{k}")));
        let z = [&site.cover_bottom - &depth, site.cover_bottom.clone()];
        let (title, run) = (Phrase::new("draw-span-beam"), [Len::ZERO, site.length.clone()]);
        let place = Place { title, axis: 0, run, rect: [y, z] };
        let (part, words, beams) = ("steel.span_beam", ["bars-span", "bars-span-links"], 1);
        let (length, links) = (&site.length + &bearing.times(2), site.length.clone());
        let (section, order, stage) = ([width, depth], Order::SpanBeam, Stage::Cover);
        // The beam is cast with the slab; how far its links stand up is not this program's to say.
        let of_links = Some(Phrase::new("bars-span-up"));
        Straight { part, words, beams, length, links, section, place, order, stage, of_links }
            .reinforce(bench);
    }
}

fn refuse(site: &Site<'_>, y0: &Len) {
    let job = site.job;
    let place = |k: &str| job.place(&format!("tank.cover.span_beam.{k}"));
    if !site.less(&Len::ZERO, y0) {
        let problem = Problem::error("J045", place("width"), "the span beam is as wide as the tank")
            .label(format!("the tank is {} mm wide", site.mm(&site.width)))
            .hint("a beam under the cover is usually 200 to 300 mm wide");
        job.report(problem);
    }
    if site.less(&site.wall, &job.len("tank.cover.span_beam.bearing")) {
        let problem = Problem::error("J046", place("bearing"), "the span beam bears beyond the wall")
            .label(format!("the end walls are {} mm thick", site.mm(&site.wall)))
            .hint("at most the thickness of the wall");
        job.report(problem);
    }
    if job.has("tank.columns") {
        let [a, b] = job.size("tank.columns.size");
        let reach = &b - &site.wall;
        let bears =
            site.less(&Len::ZERO, &job.len("tank.cover.span_beam.bearing")) || site.less(&site.wall, &a);
        if bears && site.less(y0, &reach) {
            let problem =
                Problem::error("J047", job.place("tank.columns.size[1]"), "a column meets the span beam")
                    .label(format!(
                        "it reaches {} mm into the tank, the beam begins at {} mm",
                        site.mm(&reach),
                        site.mm(y0)
                    ))
                    .hint("make the column narrower across the tank, or the beam narrower");
            job.report(problem);
        }
    }
}
