//! Outer walls: end walls over the outer width, side walls over the clear length between them.
//!
//! Their inner faces carry the plaster of every part that lies in the same plane (beams, columns).
//! Hoop iron lies in whole courses of each lift at the outlet end, on the centre-line girth.

use tankwright_geometry::{Axis, Len, Z};

use crate::band::{around, inner_planes, outer_planes};
use crate::elements::Element;
use crate::job::{Fallback, Field, Kind, Presence};
use crate::ledger::{Book, Carrier, Claim, Face, Lift, Rank, SetOut, Spec, count};
use crate::made::Made;
use crate::sheet::Times;
use crate::site::{Over, Site, Span};
use crate::sketch::{Along, Plan, Sketch, Stop};
use crate::space::tenths;
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::{finishes, masonry};

/// The element.
pub static ELEMENT: Walls = Walls;

/// Outer walls.
#[derive(Debug)]
pub struct Walls;

const NO_SOURCE: &str = "common practice, no source";

static FIELDS: &[Field] = &[
    Field::part("tank.walls", Presence::Always, "outer walls"),
    Field::value(
        "tank.walls.unit",
        Kind::Text,
        Fallback::Default("brick-220x105x65", "demo unit; measure ten of your own"),
        "masonry unit, from rates/units.toml",
    ),
    Field::length("tank.walls.thickness", 500, Fallback::Default("220 mm", NO_SOURCE), "thickness"),
    Field::value(
        "tank.walls.mortar",
        Kind::Mix { parts: 2 },
        Fallback::Default("1:3", NO_SOURCE),
        "mortar, cement to sand",
    ),
    Field::value(
        "tank.walls.hoop_iron_every",
        Kind::Count { least: 0, most: 50 },
        Fallback::Default("3", NO_SOURCE),
        "hoop iron every so many courses; 0 for none",
    ),
    Field::value(
        "tank.walls.hoop_iron_strips",
        Kind::Count { least: 1, most: 4 },
        Fallback::Default("1", NO_SOURCE),
        "strips side by side in a course",
    ),
    Field::value(
        "tank.walls.cells",
        Kind::Choice(&["hollow", "filled"]),
        Fallback::Nothing,
        "cells of hollow blocks",
    ),
    Field::value(
        "tank.walls.cells_mix",
        Kind::Mix { parts: 3 },
        Fallback::Nothing,
        "concrete in filled cells",
    ),
];

fn spec(site: &Site<'_>) -> Spec {
    let mm = site.mm(&site.wall);
    let job = site.job;
    let cells = match job.text("tank.walls.cells") {
        "filled" => Phrase::with("cells-filled", &[job.text("tank.walls.cells_mix")]).to_string(),
        "hollow" => Phrase::new("cells-hollow").to_string(),
        _ => String::new(),
    };
    let unit = site.unit_title(job.text("tank.walls.unit"));
    let filled = job.text("tank.walls.cells") == "filled";
    let made = Made {
        cells_mix: if filled { job.text("tank.walls.cells_mix").to_owned() } else { String::new() },
        ..site.masonry("tank.walls", &site.wall)
    };
    Spec::of(&masonry::BRICKWORK_WALL, &mm, &[unit, job.text("tank.walls.mortar"), &cells]).made(made)
}

/// The beam takes the masonry's place in its own depth: no lift there.
fn lifts(site: &Site<'_>) -> Vec<Lift> {
    let mut lifts = site.lifts(&site.masonry_top, Over::Beam);
    lifts.retain(|l| l.stage != Stage::RingBeam);
    lifts
}

impl Element for Walls {
    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn set_out(&self, site: &Site<'_>, out: &mut SetOut) {
        let (spec, lifts) = (spec(site), lifts(site));
        let (floor, top) = (site.on_floor(), Z::flat(site.masonry_top.clone()));
        for (i, (x, y)) in around(site).into_iter().enumerate() {
            let axis = if i < 2 { Axis::X } else { Axis::Y };
            let block = Site::block([&x[0], &x[1]], [&y[0], &y[1]], [&floor, &top]);
            let claim = Claim::new("wall", Rank::WALL, &spec, Stage::WallsLower, block);
            out.claims.push(claim.in_lifts(&lifts).wall(axis));
        }
        let under = Z::flat(site.cover_bottom.clone());
        let mut line = |spec: &Spec, look, x: &Span, y: &Span, z: [&Z; 2]| {
            let block = Site::block([&x[0], &x[1]], [&y[0], &y[1]], z);
            out.faces.push(Face::new(spec, Rank::WALL, Carrier::Lined, look, Stage::Plaster, block));
        };
        if let Some(plaster) = site.plaster() {
            for (x, y, look) in inner_planes(site) {
                line(plaster, look, &x, &y, [&floor, &under]);
            }
        }
        if let (Some(outside), Some([low, high])) =
            (outside(site), site.outside(&[floor.clone(), under.clone()]))
        {
            for (x, y, look) in outer_planes(site) {
                for x in pieces(site, &x, &low) {
                    line(&outside, look, &x, &y, [&low, &high]);
                }
            }
        }
    }

    fn sketch(&self, site: &Site<'_>, out: &mut Sketch) {
        let size = [tenths(&site.outer_length()), tenths(&site.outer_width())];
        let says = vec![Phrase::with(
            "draw-outside",
            &[&site.mm(&site.outer_length()), &site.mm(&site.outer_width())],
        )];
        let title = Phrase::new("draw-tank");
        out.stops.push(Stop {
            along: Along::Tank,
            title,
            says,
            plan: Plan::Box(size),
            number: 1,
            apart: None,
        });
    }

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        let spec = spec(site);
        let (zero, l) = (Len::ZERO, &site.length);
        let t = &site.wall;
        let over_all = site.outer_width();
        for lift in lifts(site) {
            let at_inlet = site.lift_height(&lift, [&zero, &zero]);
            let at_outlet = site.lift_height(&lift, [l, l]);
            let mean = site.lift_height(&lift, [&zero, l]);
            book.line(
                &spec,
                lift.stage,
                Phrase::new("end-wall-inlet"),
                &[count(1)],
                &[&over_all, t, &at_inlet],
            );
            book.line(
                &spec,
                lift.stage,
                Phrase::new("end-wall-outlet"),
                &[count(1)],
                &[&over_all, t, &at_outlet],
            );
            book.line(&spec, lift.stage, Phrase::new("side-walls"), &[count(2)], &[l, t, &mean]);
        }
        hoop_iron(site, book);
        let under = &site.cover_bottom;
        if let Some(plaster) = site.plaster() {
            let heights = [[&zero, &zero], [l, l], [&zero, l]].map(|x| site.above_floor(under, x));
            let s = Stage::Plaster;
            book.line(plaster, s, Phrase::new("end-wall-inlet"), &[count(1)], &[&site.width, &heights[0]]);
            book.line(plaster, s, Phrase::new("end-wall-outlet"), &[count(1)], &[&site.width, &heights[1]]);
            book.line(plaster, s, Phrase::new("side-walls"), &[count(2)], &[l, &heights[2]]);
        }
        if let (Some(outside), Some([low, _])) =
            (outside(site), site.outside(&[site.on_floor(), Z::flat(under.clone())]))
        {
            let height = |x| if low.follows { site.above_floor(under, x) } else { under - &low.off };
            let s = Stage::Plaster;
            book.line(
                &outside,
                s,
                Phrase::new("end-wall-inlet"),
                &[count(1)],
                &[&over_all, &height([&zero, &zero])],
            );
            book.line(
                &outside,
                s,
                Phrase::new("end-wall-outlet"),
                &[count(1)],
                &[&over_all, &height([l, l])],
            );
            let run = site.outer_length();
            if low.follows && !site.floor.fall.is_zero() {
                book.line(&outside, s, Phrase::new("side-walls"), &[count(2)], &[l, &height([&zero, l])]);
                book.line(
                    &outside,
                    s,
                    Phrase::new("side-walls-at-inlet"),
                    &[count(2)],
                    &[t, &height([&zero, &zero])],
                );
                book.line(
                    &outside,
                    s,
                    Phrase::new("side-walls-at-outlet"),
                    &[count(2)],
                    &[t, &height([l, l])],
                );
            } else {
                book.line(&outside, s, Phrase::new("side-walls"), &[count(2)], &[&run, &height([&zero, l])]);
            }
        }
    }
}

fn outside(site: &Site<'_>) -> Option<Spec> {
    let spec = site.finish("tank.plaster", &finishes::PLASTER_OUTSIDE);
    spec.filter(|_| site.job.flag("tank.plaster.outside"))
}

/// A stretch of x that stands on a falling floor is cut at the ends of the clear length.
fn pieces(site: &Site<'_>, x: &[Len; 2], bottom: &Z) -> Vec<[Len; 2]> {
    if !bottom.follows || site.floor.fall.is_zero() || x[0] == x[1] {
        return vec![x.clone()];
    }
    let (zero, l) = (Len::ZERO, site.length.clone());
    vec![[x[0].clone(), zero.clone()], [zero, l.clone()], [l, x[1].clone()]]
}

fn hoop_iron(site: &Site<'_>, book: &mut Book<'_>) {
    let every = site.job.count("tank.walls.hoop_iron_every");
    let side = site.job.count("tank.walls.hoop_iron_strips");
    let Some(unit) = site.unit.filter(|_| every.1 > 0) else { return };
    let course = Len::fixed(unit.size[2] + unit.joint);
    let spec = Spec::plain(&masonry::HOOP_IRON);
    let girth = &(&site.length + &site.width).times(2) + &site.wall.times(4);
    let mut rings: Vec<_> = site.ring_beams.iter().collect();
    rings.sort_by(|a, b| site.judge.cmp(&a[0], &b[0]));
    let mut from = site.floor.outlet.clone();
    let mut stage = Stage::WallsLower;
    for (to, next) in rings.iter().map(|r| (&r[0], &r[1])).chain([(&site.masonry_top, &site.masonry_top)]) {
        let lift = to - &from;
        let courses = (lift.value() / course.value()).floor().numer();
        let strips = i64::try_from((courses - 1).max(0) / i128::from(every.1)).unwrap_or(0);
        // A lift without a strip has no line: the first strip needs one course more than lie between strips.
        site.judge.cmp(&lift, &(&course + &course.scaled(&site.job.len("tank.walls.hoop_iron_every"))));
        let times = [
            Times::Strips { lift, course: course.clone(), every, value: strips },
            Times::Input(side.0, side.1),
        ];
        book.line(&spec, stage, Phrase::new("strips"), &times, &[&girth]);
        from = next.clone();
        stage = Stage::WallsUpper;
    }
}
