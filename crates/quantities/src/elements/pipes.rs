//! Pipes: holes through the end walls, tees, the pipe outside, its trench and bed.
//!
//! A hole is a circle through the full wall, its lowest point at the invert. The trench takes both lengths, at the mean
//! depth that is given; where it is left out, each pipe's own: the mean depth of its invert, and the bed.

use tankwright_geometry::{Amount, Len, Ratio, Z};

use crate::cautions::Hole;
use crate::elements::{Element, backfill, boards, haunch};
use crate::job::{Fallback, Field, Kind, Presence};
use crate::ledger::{Book, Claim, Rank, SetOut, Spec, count};
use crate::levels;
use crate::model::Model;
use crate::problem::Problem;
use crate::sheet::Times;
use crate::site::Site;
use crate::sketch::{Along, Sketch, Through};
use crate::space::tenths;
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::{earthwork, pipework, voids};

/// The element.
pub static ELEMENT: Pipes = Pipes;

/// Pipes.
#[derive(Debug)]
pub struct Pipes;

static CODES: &[(&str, &str)] = &[
    ("J063", "a pipe hole outside the masonry"),
    ("J064", "a pipe hole that meets a ring beam"),
    ("J065", "a pipe hole that meets a column"),
    ("J066", "a pipe hole that meets the end of a beam"),
    ("J067", "a bed deeper than its trench"),
    ("J075", "a pipe hole with a board or a haunch before it"),
];

static FIELDS: &[Field] = &[
    Field::part("tank.pipes", Presence::Optional, "pipes in and out; inverts below the top of the masonry"),
    Field::part("tank.pipes.inlet", Presence::Optional, "the pipe in"),
    Field::length(
        "tank.pipes.inlet.diameter",
        200,
        Fallback::Required,
        "outside diameter: the hole is of this size",
    ),
    Field::length(
        "tank.pipes.inlet.below_top",
        0,
        Fallback::Default("300 mm", "common practice, no source: at least 300 mm"),
        "invert, below the top of the masonry",
    ),
    Field::length("tank.pipes.inlet.length", 0, Fallback::Nothing, "outside the tank"),
    Field::length(
        "tank.pipes.inlet.start",
        10,
        Fallback::Nothing,
        "invert at the house, below ground; the fall follows, or is held against it",
    ),
    Field::value(
        "tank.pipes.inlet.fall",
        Kind::Factor { places: 6 },
        Fallback::Nothing,
        "of the drain from the house, as \"1 in 60\"; the invert at the house follows",
    ),
    Field::length("tank.pipes.inlet.drop", 0, Fallback::Nothing, "pipe under the tee"),
    Field::part("tank.pipes.outlet", Presence::Optional, "the pipe out"),
    Field::length(
        "tank.pipes.outlet.diameter",
        200,
        Fallback::Required,
        "outside diameter: the hole is of this size",
    ),
    Field::length(
        "tank.pipes.outlet.below_top",
        0,
        Fallback::Required,
        "invert, below the top of the masonry",
    ),
    Field::length("tank.pipes.outlet.length", 0, Fallback::Nothing, "outside the tank"),
    Field::length("tank.pipes.outlet.drop", 0, Fallback::Nothing, "pipe under the tee"),
    Field::value(
        "tank.pipes.outlet.fall",
        Kind::Factor { places: 6 },
        Fallback::Default("1 in 100", "our own"),
        "of the pipe to soak pit or drain, as \"1 in 100\"",
    ),
    Field::part("tank.pipes.trench", Presence::Optional, "trench for both lengths"),
    Field::length("tank.pipes.trench.width", 100, Fallback::Required, "width"),
    Field::length(
        "tank.pipes.trench.depth",
        100,
        Fallback::Nothing,
        "mean depth; left out: it follows from the inverts and the bed",
    ),
    Field::length("tank.pipes.trench.bed", 0, Fallback::Nothing, "bed under the pipe"),
];

struct Pipe {
    name: &'static str,
    diameter: Len,
    x: [Len; 2],
    y: [Len; 2],
    z: [Len; 2],
    length: Len,
    drop: Len,
}

fn pipes(site: &Site<'_>) -> Vec<Pipe> {
    let ([x0, x1], l) = (site.outer_x(), site.length.clone());
    let ends = [("inlet", [x0, Len::ZERO]), ("outlet", [l, x1])];
    let there = ends.into_iter().filter(|(name, _)| site.job.has(&format!("tank.pipes.{name}")));
    let one = |(name, x)| {
        let get = |k: &str| site.job.len(&format!("tank.pipes.{name}.{k}"));
        let diameter = get("diameter");
        let invert = &site.masonry_top - &get("below_top");
        let y = [(&site.width - &diameter).half(), (&site.width + &diameter).half()];
        let z = [invert.clone(), &invert + &diameter];
        Pipe { name, x, y, z, length: get("length"), drop: get("drop"), diameter }
    };
    there.map(one).collect()
}

/// A trench with a bed, in one stretch or one for each pipe.
struct Trench {
    width: Len,
    bed: Len,
    stretches: Vec<Stretch>,
}

struct Stretch {
    note: Phrase,
    length: Len,
    depth: Len,
    /// Its elevation by the second formula: pipe by pipe, or a strip and a wedge.
    side: Amount,
}

/// Is the depth of the trench left out, so that it follows from the inverts?
fn follows(site: &Site<'_>) -> bool {
    site.job.has("tank.pipes.trench") && !site.job.has("tank.pipes.trench.depth")
}

/// Levels of every pipe with a length outside the tank; `None` where one is not known.
#[must_use]
pub fn runs(site: &Site<'_>) -> Option<Vec<(&'static str, levels::Run)>> {
    runs_or(site, |_| None)
}

/// The same; where the levels of the drain from the house are not known, what is said of one so long.
fn runs_or(
    site: &Site<'_>,
    unknown: impl Fn(Len) -> Option<levels::Run>,
) -> Option<Vec<(&'static str, levels::Run)>> {
    let run = |name, length| match name {
        "inlet" => levels::from_house(site).or_else(|| unknown(length)),
        _ => levels::from_tank(site),
    };
    let long = pipes(site).into_iter().filter(|p| !p.length.is_zero());
    long.map(|p| Some((p.name, run(p.name, p.length)?))).collect()
}

fn trench(site: &Site<'_>) -> Option<Trench> {
    let job = site.job;
    let [width, depth, bed] = ["width", "depth", "bed"].map(|k| job.len(&format!("tank.pipes.trench.{k}")));
    if !job.has("tank.pipes.trench") {
        return None;
    }
    let stretches = if follows(site) {
        let one = |(name, run): (&str, levels::Run)| Stretch {
            note: Phrase::with("outside-tank", &[crate::words::look_up(name)]),
            side: run.elevation(&bed),
            depth: &run.mean() + &bed,
            length: run.length,
        };
        runs(site)?.into_iter().map(one).collect()
    } else {
        let all = pipes(site);
        let length = all.iter().fold(Len::ZERO, |sum, p| sum + &p.length);
        let side = all.iter().map(|p| p.length.amount() * depth.amount()).sum();
        vec![Stretch { note: Phrase::new("both-lengths"), length, depth, side }]
    };
    Some(Trench { width, bed, stretches })
}

/// Deepest point of the trench.
#[must_use]
pub fn deepest(site: &Site<'_>) -> Option<Len> {
    if !follows(site) {
        return site.job.has("tank.pipes.trench").then(|| site.job.len("tank.pipes.trench.depth"));
    }
    let bed = site.job.len("tank.pipes.trench.bed");
    runs(site)?.into_iter().map(|(_, run)| &run.to + &bed).max_by_key(Len::value)
}

/// A depth that is given and less than the pipes need: what they need, mean over their lengths; and whether that is all
/// known, or the least: a drain of which only the inlet is known begins at the ground.
#[must_use]
pub fn too_shallow(site: &Site<'_>) -> Option<(Ratio, bool)> {
    let depth = site.job.len("tank.pipes.trench.depth").value();
    let bed = site.job.len("tank.pipes.trench.bed");
    let from_ground = |length| Some(levels::Run { length, from: Len::ZERO, to: levels::inlet(site)? });
    let known = runs(site).is_some();
    let runs = runs_or(site, from_ground).filter(|runs| !runs.is_empty() && !depth.is_zero())?;
    let side: Ratio = runs.iter().map(|(_, run)| run.elevation(&bed).value()).sum();
    let length: Ratio = runs.iter().map(|(_, run)| run.length.value()).sum();
    Some(side / length).filter(|needs| *needs > depth).map(|needs| (needs, known))
}

impl Element for Pipes {
    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn codes(&self) -> &'static [(&'static str, &'static str)] {
        CODES
    }

    fn set_out(&self, site: &Site<'_>, out: &mut SetOut) {
        let spec = Spec::plain(&voids::PIPE_HOLE);
        levels::refuse(site);
        refuse_trench(site);
        for p in pipes(site) {
            refuse(site, &p);
            let z = p.z.clone().map(Z::flat);
            let block = Site::block([&p.x[0], &p.x[1]], [&p.y[0], &p.y[1]], [&z[0], &z[1]]);
            let mut claim = Claim::new("pipe-hole", Rank::PIPE_HOLE, &spec, Stage::WallsLower, block);
            claim.round = true;
            out.claims.push(claim);
        }
    }

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        let hole = Spec::plain(&voids::PIPE_HOLE);
        let circle = [count(1), Times::Fraction(Ratio::of(1, 4)), Times::Pi];
        let all = pipes(site);
        // Equal pipes share a row of the bill.
        for pair in all.windows(2) {
            site.judge.cmp(&pair[0].diameter, &pair[1].diameter);
        }
        for p in all {
            let size = site.mm(&p.diameter);
            let note = |key| Phrase::with(key, &[crate::words::look_up(p.name)]);
            book.line(
                &hole,
                Stage::WallsLower,
                note("through-wall-at"),
                &circle,
                &[&site.wall, &p.diameter, &p.diameter],
            );
            let pipe = Spec::of(&pipework::PIPE, &size, &[]);
            book.line(&pipe, Stage::Pipes, note("outside-tank"), &[count(1)], &[&p.length]);
            book.line(&pipe, Stage::Pipes, note("under-tee"), &[count(1)], &[&p.drop]);
            let tee = Spec::of(&pipework::PIPE_TEE, &size, &[]);
            book.line(&tee, Stage::WallsUpper, note("at"), &[count(1)], &[]);
        }
        let Some(Trench { width, bed, stretches }) = trench(site) else { return };
        let (one, s) = ([count(1)], Stage::Pipes);
        let given = !follows(site);
        for Stretch { note, length, depth, .. } in &stretches {
            let says = |key| if given { Phrase::new(key) } else { note.clone() };
            let dug = Spec::plain(&earthwork::EXCAVATION_TRENCH);
            book.line(&dug, s, note.clone(), &one, &[length, &width, depth]);
            book.line(&Spec::plain(&pipework::PIPE_BED), s, note.clone(), &one, &[length, &width, &bed]);
            let back = Spec::plain(&earthwork::BACKFILL);
            book.line(&back, s, says("above-bed"), &one, &[length, &width, &(depth - &bed)]);
            book.line(&backfill::disposal(site), s, says("room-of-bed"), &one, &[length, &width, &bed]);
        }
    }

    fn holes(&self, site: &Site<'_>) -> Vec<Hole> {
        let own = site.job.has("tank.pipes.trench.depth");
        let path = if own { "tank.pipes.trench.depth" } else { "tank.pipes.trench" };
        let hole = |depth| Hole {
            depth,
            held: false,
            path: path.to_owned(),
            stages: &[Stage::Pipes],
            bare: ("C009", "caution-deep-trench"),
            other: None,
        };
        deepest(site).map(hole).into_iter().collect()
    }

    fn sketch(&self, site: &Site<'_>, out: &mut Sketch) {
        for p in pipes(site) {
            let (inwards, along) = if p.name == "inlet" { (true, Along::In) } else { (false, Along::Out) };
            let run = if inwards { levels::from_house(site) } else { levels::from_tank(site) };
            let rise = |run: &levels::Run| {
                let drop = tenths(&run.to) - tenths(&run.from);
                if inwards { drop } else { -drop }
            };
            let [x0, x1] = p.x.clone().map(|x| tenths(&x));
            let name = Phrase::with("draw-pipe", &[crate::words::look_up(p.name), &site.mm(&p.diameter)]);
            out.run(along, &name, &p.length, &p.diameter, run.as_ref());
            out.through(&Through {
                name,
                wall: if inwards { [x0, x1] } else { [x1, x0] },
                y: tenths(&site.width.half()),
                invert: tenths(&p.z[0]),
                diameter: tenths(&p.diameter),
                drop: tenths(&p.drop),
                length: tenths(&p.length),
                rise: run.as_ref().map_or(0, rise),
            });
        }
    }

    fn prove(&self, site: &Site<'_>, _: &Model, book: &mut Book<'_>) {
        let Some(Trench { width, bed, stretches }) = trench(site) else { return };
        let whole: Amount = stretches.iter().map(|t| &t.side * width.amount()).sum();
        let bedded: Amount =
            pipes(site).iter().map(|p| p.length.amount() * width.amount() * bed.amount()).sum();
        let s = Stage::Pipes;
        book.prove(&Spec::plain(&earthwork::EXCAVATION_TRENCH), s, whole.clone());
        book.prove(&Spec::plain(&pipework::PIPE_BED), s, bedded.clone());
        book.prove(&Spec::plain(&earthwork::BACKFILL), s, whole - &bedded);
        book.prove(&backfill::disposal(site), s, bedded);
    }
}

fn refuse(site: &Site<'_>, p: &Pipe) {
    let job = site.job;
    let report = |code, what: &str, label: String, hint: &str| {
        let place = job.place(&format!("tank.pipes.{}.below_top", p.name));
        job.report(Problem::error(code, place, what).label(label).hint(hint));
    };
    let floor = site.floor.at(site.judge, if p.name == "inlet" { &p.x[1] } else { &p.x[0] });
    let above = &p.z[1] - &site.masonry_top;
    let below = &floor - &p.z[0];
    let zero = Len::ZERO;
    let label = if site.less(&p.y[0], &zero) {
        Some(format!("the hole is {} mm wide, the tank {} mm", site.mm(&p.diameter), site.mm(&site.width)))
    } else if site.less(&zero, &above) {
        Some(format!("the hole would reach {} mm above the top of the masonry", site.mm(&above)))
    } else if site.less(&zero, &below) {
        Some(format!("the hole would begin {} mm below the floor there", site.mm(&below)))
    } else {
        None
    };
    if let Some(label) = label {
        let hint = format!(
            "below_top is the invert: at least the diameter, {} mm, and above the floor",
            site.mm(&p.diameter)
        );
        report("J063", "the pipe hole lies outside the masonry", label, &hint);
    }
    let meets = |z: &[Len; 2]| site.less(&p.z[0], &z[1]) && site.less(&z[0], &p.z[1]);
    if site.ring_beams.iter().any(meets) {
        let label = format!("the {} pipe goes through a ring beam here", p.name);
        report("J064", "the pipe hole meets a ring beam", label, "raise or lower the beam or the invert");
    }
    let [a, b] = job.size("tank.columns.size");
    if job.has("tank.columns") && site.less(&zero, &a) && site.less(&p.y[0], &(&b - &site.wall)) {
        report(
            "J065",
            "the pipe hole meets a column",
            "a column stands at mid-width here".to_owned(),
            "make the columns narrower across the tank",
        );
    }
    let beam = &site.cover_bottom - &job.len("tank.cover.span_beam.depth");
    if job.has("tank.cover.span_beam") && site.less(&beam, &p.z[1]) {
        let label = format!(
            "the span beam ends here, {} mm below the cover",
            site.mm(&job.len("tank.cover.span_beam.depth"))
        );
        report(
            "J066",
            "the pipe hole meets the end of a beam",
            label,
            "lower the invert or make the beam less deep",
        );
    }
    let end = if p.name == "inlet" { &p.x[1] } else { &p.x[0] };
    let what = if boards::stands_at(site, end, [&p.z[0], &p.z[1]]) {
        Some("a board against the wall covers it")
    } else if haunch::reaches(site, &p.y[0], &p.z[0]) {
        Some("the end of a haunch covers it")
    } else {
        None
    };
    if let Some(label) = what {
        let hint = "move the board away from the wall, make the haunch narrower or lower, or move the pipe";
        report("J075", "something stands before the pipe hole", label.to_owned(), hint);
    }
}

fn refuse_trench(site: &Site<'_>) {
    let job = site.job;
    if follows(site) {
        if !job.len("tank.pipes.outlet.length").is_zero() {
            levels::refuse_outlet(site);
        }
        if runs(site).is_none() {
            let help = "mean depth, or give tank.pipes.inlet.start or fall: it follows from the inverts";
            levels::missing(site, "tank.pipes.trench", "depth", help);
        }
        return;
    }
    let depth = job.len("tank.pipes.trench.depth");
    if site.less(&depth, &job.len("tank.pipes.trench.bed")) {
        let place = job.place("tank.pipes.trench.bed");
        let problem = Problem::error("J067", place, "the bed is deeper than the trench")
            .label(format!("the trench is {} mm deep", site.mm(&depth)))
            .hint("a bed is usually 50 to 150 mm");
        job.report(problem);
    }
}
