//! Drainage trenches: a perforated pipe in stone, where the water of the tank soaks away.
//! ```text
//!   ground ___________            soil put back up to ground
//!                     |  ~~~~~    sheet over the stone
//!          stone_over |  . . .
//!                pipe |  o        along the whole trench, its invert where the pipe from the outlet ends
//!         stone_below |  . . .    the bottom is level
//! ```
//! Each entry is `number` equal trenches, side by side or one after the other; between them nothing is measured.
//! Dig = length x width x depth, stone = length x width x (below + pipe + over), nothing taken off for the pipe; soil
//! put back is the rest, disposal the room of the stone. The depth, where it is left out, is that of the pipe that
//! comes in (`invert`, or the far end of the outlet's pipe) and the stone below it.

use tankwright_geometry::{Amount, Len, Ratio};

use crate::cautions::Hole;
use crate::elements::{Element, backfill, pit};
use crate::job::{Fallback, Field, Kind, Presence};
use crate::ledger::{Book, SetOut, Spec, count};
use crate::levels;
use crate::model::Model;
use crate::problem::Problem;
use crate::report::in_scope;
use crate::sheet::Times;
use crate::site::Site;
use crate::sketch::{Along, Body, Figure, Inflow, Lies, Mark, Plan, Sketch, Stop};
use crate::space::tenths;
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::Drawn;
use crate::works::{drain as works, soak_pit};

/// The element.
pub static ELEMENT: Drain = Drain;

/// Drainage trenches.
#[derive(Debug)]
pub struct Drain;

const PART: &str = "drain";

static CODES: &[(&str, &str)] = &[
    ("J143", "more stone than the drainage trench is deep"),
    ("J144", "a drainage trench whose pipe lies above the one that feeds it"),
];

/// What soakage methods take: up to 10 m.
const METRES: Kind = Kind::Length { least: 100, most: 100_000 };

static FIELDS: &[Field] = &[
    Field::part("drain[]", Presence::List, "drainage trenches; soakage is not proved by drawing them"),
    Field::length("drain[].length", 1000, Fallback::Required, "length of one trench"),
    Field::value(
        "drain[].number",
        Kind::Count { least: 1, most: 50 },
        Fallback::Default("1", "one trench unless said otherwise"),
        "trenches of this length",
    ),
    Field::value("drain[].width", METRES, Fallback::Required, "width"),
    Field::length(
        "drain[].depth",
        100,
        Fallback::Nothing,
        "from ground level; left out: invert of the pipe that comes in, and stone_below",
    ),
    Field::length(
        "drain[].invert",
        10,
        Fallback::Nothing,
        "of the pipe that comes in, below ground; left out: the far end of the outlet's pipe",
    ),
    Field::value("drain[].stone_below", METRES, Fallback::Required, "stone under the pipe"),
    Field::length(
        "drain[].stone_over",
        0,
        Fallback::Default("50 mm", "common practice, no source"),
        "stone over the pipe",
    ),
    Field::part("drain[].pipe", Presence::Always, "perforated pipe along the whole trench"),
    Field::length(
        "drain[].pipe.diameter",
        200,
        Fallback::Default("110 mm", "common practice, no source"),
        "diameter",
    ),
    Field::value(
        "drain[].sheet",
        Kind::Choice(&["geotextile", "polythene", "none"]),
        Fallback::Default("geotextile", "common practice, no source: keeps the soil out of the stone"),
        "over the stone",
    ),
];

/// One entry.
#[derive(Debug)]
pub struct Trench {
    /// Where it stands in the job file.
    pub path: String,
    number: Times,
    n: Ratio,
    /// Length of one.
    pub length: Len,
    /// Width.
    pub width: Len,
    /// From ground to its bottom.
    pub depth: Len,
    /// Stone under the pipe.
    pub below: Len,
    /// All of the stone: below, beside and over the pipe.
    pub stone: Len,
    pipe: Len,
}

impl Trench {
    /// Invert of its pipe below ground.
    #[must_use]
    pub fn invert(&self) -> Len {
        &self.depth - &self.below
    }

    /// Plan of all of them, tenths of a millimetre squared.
    fn plan(&self) -> Amount {
        self.length.amount() * self.width.amount() * self.n
    }
}

/// Invert of the pipe that feeds an entry, below ground.
fn fed_at(site: &Site<'_>, path: &str) -> Option<Len> {
    let own = format!("{path}.invert");
    if site.job.has(&own) { Some(site.job.len(&own)) } else { levels::from_tank(site).map(|run| run.to) }
}

/// Every entry whose depth is known.
#[must_use]
pub fn trenches(site: &Site<'_>) -> Vec<Trench> {
    (0..site.job.count_of(PART)).filter_map(|i| trench(site, format!("{PART}[{i}]"))).collect()
}

fn trench(site: &Site<'_>, path: String) -> Option<Trench> {
    let get = |k: &str| site.job.len(&format!("{path}.{k}"));
    let (below, pipe) = (get("stone_below"), get("pipe.diameter"));
    let given = site.job.has(&format!("{path}.depth"));
    let depth = if given { get("depth") } else { &fed_at(site, &path)? + &below };
    let (id, n) = site.job.count(&format!("{path}.number"));
    let stone = &(&below + &pipe) + &get("stone_over");
    let (number, n) = (Times::Input(id, n), Ratio::from(n));
    Some(Trench { number, n, length: get("length"), width: get("width"), depth, stone, below, pipe, path })
}

fn sheet(site: &Site<'_>, path: &str) -> Option<Spec> {
    let kind = site.job.text(&format!("{path}.sheet"));
    let key = if kind == "polythene" { "drain-sheet-polythene" } else { "drain-sheet-geotextile" };
    (kind != "none").then(|| Spec::of(&works::DRAIN_SHEET, kind, &[]).worded(key, &[]))
}

fn soil() -> Spec {
    let spec = Spec::plain(&soak_pit::SOIL_COVER).worded("soil-cover-drain", &[]);
    Spec { spec: "drain".to_owned(), ..spec }
}

impl Element for Drain {
    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn codes(&self) -> &'static [(&'static str, &'static str)] {
        CODES
    }

    fn set_out(&self, site: &Site<'_>, _: &mut SetOut) {
        for i in 0..site.job.count_of(PART) {
            refuse(site, &format!("{PART}[{i}]"));
        }
    }

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        let (s, all) = (Stage::SoakPit, trenches(site));
        // Equal pipes share a row of the bill.
        for pair in all.windows(2) {
            site.judge.cmp(&pair[0].pipe, &pair[1].pipe);
        }
        for (i, t) in (1..).zip(&all) {
            let n = i32::to_string(&i);
            let note = |key| Phrase::with(key, &[&n]);
            let (number, l, w) = ([t.number.clone()], &t.length, &t.width);
            let dug = Spec::plain(&works::EXCAVATION_DRAIN);
            book.line(&dug, s, note("drain-trench"), &number, &[l, w, &t.depth]);
            let stone = Spec::plain(&works::DRAIN_STONE);
            book.line(&stone, s, note("drain-trench"), &number, &[l, w, &t.stone]);
            let pipe = Spec::of(&works::DRAIN_PIPE, &site.mm(&t.pipe), &[]);
            book.line(&pipe, s, note("drain-trench"), &number, &[l]);
            if let Some(sheet) = sheet(site, &t.path) {
                book.line(&sheet, s, note("drain-over-stone"), &number, &[l, w]);
            }
            book.line(&soil(), s, note("drain-trench"), &number, &[l, w, &(&t.depth - &t.stone)]);
            book.line(&backfill::disposal(site), s, note("drain-room-of-stone"), &number, &[l, w, &t.stone]);
            if site.job.text("ground.support") != "none" {
                let sides = [t.number.clone(), count(2)];
                book.line(&pit::support(site), s, note("drain-sides"), &sides, &[&(l + w), &t.depth]);
            }
        }
    }

    fn holes(&self, site: &Site<'_>) -> Vec<Hole> {
        let hole = |t: Trench| Hole {
            depth: t.depth,
            held: site.job.text("ground.support") != "none",
            path: t.path,
            stages: &[Stage::SoakPit],
            bare: ("C060", "caution-deep-drain"),
            other: None,
        };
        trenches(site).into_iter().map(hole).collect()
    }

    fn marks(&self, site: &Site<'_>) -> Vec<(Stage, Phrase, Len)> {
        let both = |(n, t): (usize, Trench)| {
            let n = n.to_string();
            let [invert, bottom] =
                ["level-drain-invert", "level-drain-bottom"].map(|key| Phrase::with(key, &[&n]));
            [(Stage::SoakPit, invert, -&t.invert()), (Stage::SoakPit, bottom, -&t.depth)]
        };
        (1..).zip(trenches(site)).flat_map(both).collect()
    }

    fn sketch(&self, site: &Site<'_>, out: &mut Sketch) {
        for t in trenches(site) {
            let number = u32::try_from(t.n.numer()).unwrap_or(1);
            let [long, wide] = [&t.length, &t.width].map(|l| site.mm(l));
            let title = Phrase::with("draw-drain", &[&long, &wide]);
            let plan = Plan::Box([tenths(&t.length), tenths(&t.width)]);
            let says = vec![Phrase::with("draw-deep", &[&site.mm(&t.depth)])];
            let along = Along::Ground;
            out.stops.push(Stop { along, title: title.clone(), says, plan, number, apart: None });
            let (depth, half) = (tenths(&t.depth), tenths(&t.width) / 2);
            let stone = tenths(&t.stone) - depth;
            let body = |key, drawn, z| Body { title: Phrase::new(key), drawn, half: [0, half], z };
            let mut bodies = vec![
                body("draw-stone", Drawn::Stone, [-depth, stone]),
                body("draw-soil-back", Drawn::Soil, [stone, 0]),
            ];
            if let Some(sheet) = sheet(site, &t.path) {
                let kind = Phrase::with("draw-sheet", &[&sheet.spec]);
                bodies.push(Body { title: kind, drawn: Drawn::Sheet, half: [0, half], z: [stone, stone] });
            }
            let pipe = Inflow {
                title: Phrase::with("draw-drain-pipe", &[&site.mm(&t.pipe)]),
                diameter: tenths(&t.pipe),
                lies: Lies::Through(-tenths(&t.invert())),
            };
            let marks = [("draw-level-invert", -tenths(&t.invert())), ("draw-level-bottom", -depth)];
            let marks = marks.map(|(key, level)| Mark { title: Phrase::new(key), level }).to_vec();
            out.figures.push(Figure {
                title,
                number,
                bodies,
                pipes: vec![pipe],
                marks,
                ..Figure::new("drain", Stage::SoakPit, plan, depth)
            });
        }
    }

    fn scope(&self, site: &Site<'_>) -> Vec<Phrase> {
        let one = |t: Trench| {
            let n = site.job.count(&format!("{}.number", t.path)).1.to_string();
            let key = if n == "1" { "scope-drain" } else { "scope-drains" };
            let [long, wide, deep] = [&t.length, &t.width, &t.depth].map(in_scope);
            Phrase::with(key, &[&n, &long, &wide, &deep])
        };
        trenches(site).into_iter().map(one).collect()
    }

    fn prove(&self, site: &Site<'_>, _: &Model, book: &mut Book<'_>) {
        let s = Stage::SoakPit;
        for t in trenches(site) {
            // One plan for all of them; stone from its layers, soil as what is left of the dig.
            let (plan, over) = (t.plan(), site.job.len(&format!("{}.stone_over", t.path)));
            let layers = [&t.below, &t.pipe, &over].map(|layer| &plan * layer.amount());
            let (dug, stone) = (&plan * t.depth.amount(), layers.into_iter().sum::<Amount>());
            book.prove(&Spec::plain(&works::EXCAVATION_DRAIN), s, dug.clone());
            book.prove(&Spec::plain(&works::DRAIN_STONE), s, stone.clone());
            book.prove(&soil(), s, dug - &stone);
            book.prove(&backfill::disposal(site), s, stone);
            if let Some(sheet) = sheet(site, &t.path) {
                book.prove(&sheet, s, plan);
            }
            if site.job.text("ground.support") != "none" {
                // Long sides, then ends.
                let side = |run: &Len| run.amount() * t.depth.amount() * (t.n * Ratio::int(2));
                book.prove(&pit::support(site), s, side(&t.length) + side(&t.width));
            }
        }
    }
}

fn refuse(site: &Site<'_>, path: &str) {
    let job = site.job;
    let (own, given) = (job.has(&format!("{path}.invert")), job.has(&format!("{path}.depth")));
    if !own && !given {
        levels::refuse_outlet(site);
    }
    let Some(t) = trench(site, path.to_owned()) else {
        let help = "from ground level, as no pipe from the outlet says how deep it comes in";
        return levels::missing(site, path, "depth", help);
    };
    if site.less(&t.depth, &t.stone) {
        let place = job.place(&format!("{path}.stone_below"));
        let problem = Problem::error("J143", place, "the stone would stand out of the drainage trench")
            .label(format!(
                "stone and pipe are {} mm high, the trench {} mm deep",
                site.mm(&t.stone),
                site.mm(&t.depth)
            ))
            .hint("less stone over the pipe, or a deeper trench; soil comes over the stone");
        job.report(problem);
    }
    let Some(fed) = fed_at(site, path).filter(|fed| given && site.less(&t.invert(), fed)) else {
        return;
    };
    let least = site.mm(&(&fed + &t.below));
    let place = job.place(&format!("{path}.depth"));
    let problem = Problem::error("J144", place, "the water would have to rise into the drainage trench")
        .label(format!(
            "its pipe lies {} mm below ground, the pipe that feeds it {} mm",
            site.mm(&t.invert()),
            site.mm(&fed)
        ))
        .hint(format!(
            "at least {least} mm deep, or leave depth out; another pipe feeds it: give its invert"
        ));
    job.report(problem);
}
