//! Bars of beams: round all four walls, or straight.

use tankwright_geometry::Len;

use super::bars::Bars;
use super::bench::{Bench, Order, Want};
use super::details::Place;
use super::shapes::Shape;
use crate::problem::Problem;
use crate::stage::Stage;
use crate::words::Phrase;

/// A beam round the four outer walls.
#[derive(Debug)]
pub struct Round {
    /// The part of the job file that gives its bars: `steel.ring_beams`.
    pub part: &'static str,
    /// Words of the member, each with `name` filled in: bars along the sides, the ends, links along the sides, the ends.
    pub words: [&'static str; 4],
    /// What tells the beam from others of its kind; empty where there is one.
    pub name: String,
    /// Its depth.
    pub depth: Len,
    /// Its underside and top.
    pub z: [Len; 2],
    /// Words of its detail, with `name` filled in.
    pub title: &'static str,
    /// Place in the schedule.
    pub order: Order,
    /// When it is cast.
    pub stage: Stage,
}

impl Round {
    /// Main bars on each of the four sides, with legs round the corners, and links.
    pub fn reinforce(&self, bench: &mut Bench<'_>) {
        let (site, from) = (bench.site, bench.added());
        let sides = [
            (site.outer_length(), site.length.clone()),
            (site.outer_width(), bench.inside(&site.outer_width())),
        ];
        if let Some(bars) = bench.bars(&format!("{}.main", self.part)) {
            let corner = site.job.len("steel.beam_corner");
            // The legs of the bars along the sides lie in the ends, and the other way round.
            let rooms = [bench.inside(&sides[1].0), bench.inside(&sides[0].0)];
            for (((outer, _), room), words) in sides.iter().zip(&rooms).zip(self.words) {
                if site.judge.cmp(&corner, room).is_gt() {
                    refuse_corner(bench, &bars, &corner, room);
                    break;
                }
                let shape = Shape::Ends { a: corner.clone(), b: bench.inside(outer), c: corner.clone() };
                let each = bars.number.clone();
                self.add(bench, words, &bars, shape, each, Vec::new());
            }
        }
        if let Some(bars) = bench.bars(&format!("{}.links", self.part)) {
            let link = link(bench, &site.wall, &self.depth);
            for ((_, run), words) in sides.iter().zip(&self.words[2..]) {
                let Some((each, spacing)) = bench.spaces(&bars, run) else { continue };
                self.add(bench, words, &bars, link.clone(), each, vec![spacing]);
            }
        }
        // All four sides have one section: it is cut through a long one.
        let title = Phrase::with(self.title, &[&self.name]);
        let rect = [[-&site.wall, Len::ZERO], self.z.clone()];
        let place = Place { title, axis: 0, run: [Len::ZERO, site.length.clone()], rect };
        bench.detail(from, &place, None);
    }

    fn add(
        &self,
        bench: &mut Bench<'_>,
        words: &'static str,
        bars: &Bars,
        shape: Shape,
        each: crate::sheet::Times,
        remarks: Vec<Phrase>,
    ) {
        let member = Phrase::with(words, &[&self.name]);
        let (order, stage) = (self.order, self.stage);
        bench.add(Want { order, member, bars, shape, members: 2, each, stage, remarks });
    }
}

/// A link round the bars of a member of this breadth and depth.
#[must_use]
pub fn link(bench: &Bench<'_>, breadth: &Len, depth: &Len) -> Shape {
    Shape::Link { a: bench.inside(breadth), b: bench.inside(depth), c: Len::ZERO }
}

/// Straight beams: bars over `length` less covers, links over `links`.
#[derive(Debug)]
pub struct Straight {
    /// The part of the job file that gives the bars.
    pub part: &'static str,
    /// Words of the member: bars, links.
    pub words: [&'static str; 2],
    /// How many beams.
    pub beams: usize,
    /// Length of the beam.
    pub length: Len,
    /// Length over which links stand.
    pub links: Len,
    /// Breadth and depth.
    pub section: [Len; 2],
    /// Where it can be cut.
    pub place: Place,
    /// Place in the schedule.
    pub order: Order,
    /// When it is cast.
    pub stage: Stage,
    /// What is to be said at its links.
    pub of_links: Option<Phrase>,
}

impl Straight {
    /// Main bars and links.
    pub fn reinforce(&self, bench: &mut Bench<'_>) {
        let from = bench.added();
        let (order, members, stage) = (self.order, self.beams, self.stage);
        if let Some(bars) = bench.bars(&format!("{}.main", self.part)) {
            let shape = Shape::Straight { a: bench.inside(&self.length) };
            let (member, each) = (Phrase::new(self.words[0]), bars.number.clone());
            let bars = &bars;
            bench.add(Want { order, member, bars, shape, members, each, stage, remarks: Vec::new() });
        }
        if let Some(bars) = bench.bars(&format!("{}.links", self.part))
            && let Some((each, spacing)) = bench.spaces(&bars, &self.links)
        {
            let shape = link(bench, &self.section[0], &self.section[1]);
            let (member, mut remarks) = (Phrase::new(self.words[1]), vec![spacing]);
            remarks.extend(self.of_links.clone());
            bench.add(Want { order, member, bars: &bars, shape, members, each, stage, remarks });
        }
        bench.detail(from, &self.place, None);
    }
}

fn refuse_corner(bench: &Bench<'_>, bars: &Bars, corner: &Len, room: &Len) {
    let site = bench.site;
    let what = "the legs of the bars do not fit round the corners of the beam";
    let place = site.job.place("steel.beam_corner").filter(|_| site.job.given("steel.beam_corner"));
    let problem = Problem::error("J091", place.or_else(|| site.job.place(&bars.path)), what)
        .label(format!("legs of {} mm, the beam round the corner has {} mm", site.mm(corner), site.mm(room)))
        .hint("a leg is usually 25 to 40 diameters: beam_corner = \"300 mm\"");
    site.job.report(problem);
}
