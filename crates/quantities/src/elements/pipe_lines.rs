//! Further lines of pipes: other waste water past the tank straight to the soak pit, a drain from another house.
//!
//! Each line has its own trench: length x width x mean depth, its bed over the width, earth put back above the bed;
//! nothing is taken off for the pipe. Where the depth is left out it follows from `start` and `fall`: the mean depth of
//! the invert, and the bed. Bends and tees are counted.

use tankwright_geometry::{Amount, Len};

use crate::cautions::Hole;
use crate::elements::{Element, backfill};
use crate::job::{Fallback, Field, Kind, Presence};
use crate::ledger::{Book, SetOut, Spec, count};
use crate::levels::{self, Run};
use crate::model::Model;
use crate::problem::Problem;
use crate::report::in_scope;
use crate::sheet::Times;
use crate::site::Site;
use crate::sketch::{Along, Sketch};
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::{earthwork, pipework};

/// The element.
pub static ELEMENT: PipeLines = PipeLines;

/// Further lines of pipes.
#[derive(Debug)]
pub struct PipeLines;

const PART: &str = "pipes";
const S: Stage = Stage::Pipes;

static CODES: &[(&str, &str)] = &[("J146", "the depth of a trench in two ways")];

static FIELDS: &[Field] = &[
    Field::part("pipes[]", Presence::List, "a further line of pipes, past the tank"),
    Field::value("pipes[].title", Kind::Text, Fallback::Required, "what it carries, and where to"),
    Field::length("pipes[].diameter", 200, Fallback::Required, "diameter"),
    Field::length("pipes[].length", 100, Fallback::Required, "length"),
    Field::length("pipes[].start", 10, Fallback::Nothing, "invert where it begins, below ground"),
    Field::value("pipes[].fall", Kind::Factor { places: 6 }, Fallback::Nothing, "as \"1 in 60\""),
    Field::part("pipes[].trench", Presence::Optional, "trench for its whole length"),
    Field::length("pipes[].trench.width", 100, Fallback::Required, "width"),
    Field::length(
        "pipes[].trench.depth",
        100,
        Fallback::Nothing,
        "mean depth; left out: it follows from start and fall",
    ),
    Field::length("pipes[].trench.bed", 0, Fallback::Nothing, "bed under the pipe"),
    Field::value("pipes[].bends", Kind::Count { least: 0, most: 100 }, Fallback::Nothing, "bends"),
    Field::value("pipes[].tees", Kind::Count { least: 0, most: 100 }, Fallback::Nothing, "tees"),
];

/// A line.
#[derive(Debug)]
pub struct Line {
    /// Where it stands in the job file.
    pub path: String,
    title: String,
    diameter: Len,
    length: Len,
    /// Its levels, where start and fall are given.
    pub run: Option<Run>,
    trench: Option<Trench>,
}

#[derive(Debug)]
struct Trench {
    width: Len,
    depth: Len,
    bed: Len,
    /// Elevation of the dig by the second formula, tenths of a millimetre squared.
    side: Amount,
}

/// Every line.
#[must_use]
pub fn lines(site: &Site<'_>) -> Vec<Line> {
    (0..site.job.count_of(PART)).map(|i| line(site, format!("{PART}[{i}]"))).collect()
}

fn line(site: &Site<'_>, path: String) -> Line {
    let job = site.job;
    let has = |k: &str| job.has(&format!("{path}.{k}"));
    let get = |k: &str| job.len(&format!("{path}.{k}"));
    let (length, start) = (get("length"), get("start"));
    let to = &start + &length.scaled(&get("fall"));
    let known = has("start") && has("fall");
    let run = known.then(|| Run { length: length.clone(), from: start, to });
    let bed = get("trench.bed");
    let depth = if has("trench.depth") {
        let depth = get("trench.depth");
        Some((length.amount() * depth.amount(), depth))
    } else {
        run.as_ref().map(|run| (run.elevation(&bed), &run.mean() + &bed))
    };
    let trench = depth.filter(|_| has("trench"));
    let trench = trench.map(|(side, depth)| Trench { width: get("trench.width"), depth, bed, side });
    let title = job.text(&format!("{path}.title")).to_owned();
    Line { title, diameter: get("diameter"), length, run, trench, path }
}

impl Element for PipeLines {
    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn codes(&self) -> &'static [(&'static str, &'static str)] {
        CODES
    }

    fn set_out(&self, site: &Site<'_>, _: &mut SetOut) {
        lines(site).iter().for_each(|line| refuse(site, line));
    }

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        let all = lines(site);
        // Equal pipes share a row of the bill, with those of the tank.
        let ends = ["inlet", "outlet"].map(|end| format!("tank.pipes.{end}.diameter"));
        let drawn = ends.iter().filter(|path| site.job.has(path)).map(|path| site.job.len(path));
        let diameters: Vec<Len> = drawn.chain(all.iter().map(|line| line.diameter.clone())).collect();
        for (i, one) in diameters.iter().enumerate().filter(|_| !all.is_empty()) {
            diameters.iter().take(i).for_each(|other| {
                site.judge.cmp(other, one);
            });
        }
        for line in all {
            let note = || Phrase::with("plain", &[&line.title]);
            let (one, size, length) = ([count(1)], site.mm(&line.diameter), &line.length);
            book.line(&Spec::of(&pipework::PIPE, &size, &[]), S, note(), &one, &[length]);
            for (key, work) in [("bends", &pipework::PIPE_BEND), ("tees", &pipework::PIPE_TEE)] {
                let (id, n) = site.job.count(&format!("{}.{key}", line.path));
                book.line(&Spec::of(work, &size, &[]), S, note(), &[Times::Input(id, n)], &[]);
            }
            let Some(Trench { width, depth, bed, .. }) = &line.trench else { continue };
            let dug = Spec::plain(&earthwork::EXCAVATION_TRENCH);
            book.line(&dug, S, note(), &one, &[length, width, depth]);
            book.line(&Spec::plain(&pipework::PIPE_BED), S, note(), &one, &[length, width, bed]);
            let back = Spec::plain(&earthwork::BACKFILL);
            book.line(&back, S, note(), &one, &[length, width, &(depth - bed)]);
            book.line(&backfill::disposal(site), S, note(), &one, &[length, width, bed]);
        }
    }

    fn holes(&self, site: &Site<'_>) -> Vec<Hole> {
        let hole = |l: Line| {
            let given = site.job.has(&format!("{}.trench.depth", l.path));
            let trench = l.trench?;
            let end = l.run.filter(|_| !given).map(|run| &run.to + &trench.bed);
            Some(Hole {
                depth: end.unwrap_or(trench.depth),
                held: false,
                path: format!("{}.trench", l.path),
                stages: &[Stage::Pipes],
                bare: ("C009", "caution-deep-trench"),
                other: None,
            })
        };
        lines(site).into_iter().filter_map(hole).collect()
    }

    fn marks(&self, site: &Site<'_>) -> Vec<(Stage, Phrase, Len)> {
        let both = |(n, run): (usize, Run)| {
            let n = n.to_string();
            let [start, end] = ["level-line-start", "level-line-end"].map(|key| Phrase::with(key, &[&n]));
            [(Stage::Pipes, start, -&run.from), (Stage::Pipes, end, -&run.to)]
        };
        let runs = (1..).zip(lines(site)).filter_map(|(n, line)| Some((n, line.run?)));
        runs.flat_map(both).collect()
    }

    fn sketch(&self, site: &Site<'_>, out: &mut Sketch) {
        for line in lines(site) {
            let name = Phrase::with("plain", &[&line.title]);
            out.run(Along::Beside, &name, &line.length, &line.diameter, line.run.as_ref());
        }
    }

    fn scope(&self, site: &Site<'_>) -> Vec<Phrase> {
        let one =
            |l: Line| Phrase::with("scope-pipes", &[&l.title, &in_scope(&l.length), &site.mm(&l.diameter)]);
        lines(site).into_iter().map(one).collect()
    }

    fn prove(&self, site: &Site<'_>, _: &Model, book: &mut Book<'_>) {
        for line in lines(site) {
            // From the elevation of the trench: with levels, a strip and a wedge.
            let Some(Trench { width, bed, side, .. }) = &line.trench else { continue };
            let width = width.amount();
            let (dug, bedded) = (side * &width, line.length.amount() * bed.amount() * width);
            book.prove(&Spec::plain(&earthwork::EXCAVATION_TRENCH), S, dug.clone());
            book.prove(&Spec::plain(&pipework::PIPE_BED), S, bedded.clone());
            book.prove(&Spec::plain(&earthwork::BACKFILL), S, dug - &bedded);
            book.prove(&backfill::disposal(site), S, bedded);
        }
    }
}

fn refuse(site: &Site<'_>, line: &Line) {
    let job = site.job;
    let (part, path) = (format!("{}.trench", line.path), &line.path);
    let given = |k: &str| job.has(&format!("{path}.{k}"));
    let lacks = [("start", "fall"), ("fall", "start")].into_iter().find(|(is, not)| given(is) && !given(not));
    if let Some((is, not)) = lacks {
        levels::missing_at(site, &format!("{path}.{is}"), [path, not], "start and fall go together");
        return;
    }
    let Some(trench) = &line.trench else {
        if job.has(&part) {
            levels::missing(site, &part, "depth", "mean depth; or give start and fall of the line");
        }
        return;
    };
    if given("trench.depth") && line.run.is_some() {
        let place = job.place(&format!("{part}.depth"));
        let problem = Problem::error("J146", place, "the depth of the trench is given in two ways")
            .label("start and fall of the line give it too")
            .hint("leave out depth, or start and fall");
        job.report(problem);
    }
    if site.less(&trench.depth, &trench.bed) {
        let place = job.place(&format!("{part}.bed"));
        let problem = Problem::error("J067", place, "the bed is deeper than the trench")
            .label(format!("the trench is {} mm deep", site.mm(&trench.depth)))
            .hint("a bed is usually 50 to 150 mm");
        job.report(problem);
    }
}
