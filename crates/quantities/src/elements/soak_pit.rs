//! The soak pit: a round pit with stone in it, a sheet over the stone and soil up to the ground.
//!
//! `diameter` is the dig's in every pit: excavation is circle x depth. A plain pit is filled from wall to wall. A lined
//! one (`soak_lining.rs`) has stone inside its ring up to `fill_depth`, none where that is 0, and between ring and earth
//! (`packing`) stone up to the inlet and soil above it. Under a cover (`soak_cover.rs`) the ring goes up to the slab and
//! soil lies on the slab; without one the ring ends with the stone and soil lies on both. What is put back is soil, and
//! all the rest of the dig is taken away. Water enters at `invert`; left out, where the pipe from the outlet ends.

use tankwright_geometry::{Amount, Len, PI, Ratio};

use crate::cautions::Hole;
use crate::elements::{Element, backfill, soak_cover, soak_lining};
use crate::job::{Fallback, Field, Kind, Presence};
use crate::ledger::{Book, SetOut, Spec};
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
use crate::works::{earthwork, soak_pit as works};

/// The element.
pub static ELEMENT: SoakPit = SoakPit;

/// Soak pit.
#[derive(Debug)]
pub struct SoakPit;

const PART: &str = "soak_pit";

static CODES: &[(&str, &str)] =
    &[("J068", "a fill deeper than the soak pit"), ("J150", "water that enters a soak pit below its base")];

static FIELDS: &[Field] = &[
    Field::part(PART, Presence::Optional, "round pit with stone in it; soakage is not proved by drawing it"),
    Field::length("soak_pit.diameter", 1000, Fallback::Required, "diameter of the dig"),
    Field::length("soak_pit.depth", 1000, Fallback::Required, "from ground level"),
    Field::length("soak_pit.fill_depth", 0, Fallback::Required, "hardcore, from the bottom; 0: left empty"),
    Field::length(
        "soak_pit.invert",
        10,
        Fallback::Nothing,
        "where water enters, below ground; left out: the outlet's invert less length x fall of its pipe",
    ),
    Field::part("soak_pit.pipe", Presence::Optional, "pipe in the fill"),
    Field::length("soak_pit.pipe.diameter", 200, Fallback::Required, "diameter"),
    Field::length("soak_pit.pipe.length", 0, Fallback::Required, "length"),
    Field::value("soak_pit.sheet", Kind::Flag, Fallback::Nothing, "polythene over the fill"),
    Field::value(
        "soak_pit.number",
        Kind::Count { least: 1, most: 20 },
        Fallback::Default("1", "one pit unless said otherwise"),
        "pits",
    ),
    Field::length("soak_pit.spacing", 10, Fallback::Nothing, "clear ground between two pits"),
    Field::value(
        "soak_pit.support",
        Kind::Choice(&["none", "open", "close"]),
        Fallback::Nothing,
        "sides of the soak pit; left out: as [ground]",
    ),
];

struct Round {
    diameter: Len,
    depth: Len,
    fill: Len,
}

fn read(site: &Site<'_>) -> Option<Round> {
    let get = |k: &str| site.job.len(&format!("soak_pit.{k}"));
    site.job.has(PART).then(|| Round {
        diameter: get("diameter"),
        depth: get("depth"),
        fill: get("fill_depth"),
    })
}

/// Level at which water enters: what the job says, else where the pipe from the outlet ends. `None` without either.
#[must_use]
pub fn inlet(site: &Site<'_>) -> Option<Len> {
    let own = site.job.given("soak_pit.invert").then(|| -&site.job.len("soak_pit.invert"));
    own.or_else(|| levels::far_end(site))
}

/// How the sides are held: the pit's own word, else that of the ground.
#[must_use]
pub fn support<'s>(site: &'s Site<'_>) -> &'s str {
    Some(site.job.text("soak_pit.support"))
        .filter(|own| !own.is_empty())
        .unwrap_or_else(|| site.job.text("ground.support"))
}

/// How many pits.
#[must_use]
pub fn number(site: &Site<'_>) -> Times {
    let (id, n) = site.job.count("soak_pit.number");
    Times::Input(id, n)
}

/// How many pits, then pi/4.
#[must_use]
pub fn circles(site: &Site<'_>) -> [Times; 3] {
    [number(site), Times::Fraction(Ratio::of(1, 4)), Times::Pi]
}

/// The same, to be taken off.
#[must_use]
pub fn less_circles(site: &Site<'_>) -> [Times; 4] {
    let [n, quarter, pi] = circles(site);
    [Times::Count(-1), n, quarter, pi]
}

/// Books a ring: the outer circle, less the inner one.
pub fn ring(
    site: &Site<'_>,
    book: &mut Book<'_>,
    spec: &Spec,
    note: &'static str,
    [outside, inside]: [&Len; 2],
    height: &Len,
) {
    let s = Stage::SoakPit;
    book.line(spec, s, Phrase::new(note), &circles(site), &[outside, outside, height]);
    let less = Phrase::with("less-inside", &[crate::words::look_up(note)]);
    book.line(spec, s, less, &less_circles(site), &[inside, inside, height]);
}

/// All pits' rings by their mean girth: n x pi x mean diameter x thickness x height, cubic tenths of a millimetre.
#[must_use]
pub fn ring_volume(site: &Site<'_>, [outside, inside]: [&Len; 2], height: &Len) -> Amount {
    let n = Ratio::from(site.job.count("soak_pit.number").1);
    let (mean, thickness) = ((outside + inside).half().amount(), (outside - inside).half().amount());
    mean * thickness * height.amount() * (n * PI)
}

fn fill() -> Spec {
    Spec::plain(&works::SOAK_FILL)
}

fn packing() -> Spec {
    let spec = Spec::plain(&works::SOAK_FILL).worded("soak-fill-packing", &[]);
    Spec { spec: "packing".to_owned(), ..spec }
}

fn sides(site: &Site<'_>) -> Option<Spec> {
    let kind = support(site);
    (kind != "none").then(|| Spec::of(&earthwork::EARTHWORK_SUPPORT, kind, &[]))
}

impl Element for SoakPit {
    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn codes(&self) -> &'static [(&'static str, &'static str)] {
        CODES
    }

    fn set_out(&self, site: &Site<'_>, _: &mut SetOut) {
        let Some(pit) = read(site) else { return };
        let deep = || format!("the pit is {} mm deep", site.mm(&pit.depth));
        if site.less(&pit.depth, &pit.fill) {
            let place = site.job.place("soak_pit.fill_depth");
            let problem = Problem::error("J068", place, "the fill is deeper than the soak pit");
            site.job.report(problem.label(deep()).hint("the rest, up to ground level, is soil put back"));
        }
        if !site.less(&site.job.len("soak_pit.invert"), &pit.depth) {
            let place = site.job.place("soak_pit.invert");
            let problem = Problem::error("J150", place, "the water enters below the base of the soak pit");
            let hint =
                "the invert is a depth below ground; what lies under it, down to the base, takes the water";
            site.job.report(problem.label(deep()).hint(hint));
        }
    }

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        let Some(pit) = read(site) else { return };
        let Round { diameter: d, depth, .. } = &pit;
        let (s, times) = (Stage::SoakPit, circles(site));
        let note = || Phrase::new("round-pit");
        book.line(&Spec::plain(&works::EXCAVATION_SOAK_PIT), s, note(), &times, &[d, d, depth]);
        match soak_lining::ring_of(site) {
            None => plain(site, book, &pit),
            Some(ring) => lined(site, book, &pit, &ring),
        }
        if site.job.has("soak_pit.pipe") {
            let size = site.mm(&site.job.len("soak_pit.pipe.diameter"));
            let pipe = Spec::of(&works::SOAK_PIPE, &size, &[]);
            let length = site.job.len("soak_pit.pipe.length");
            book.line(&pipe, s, Phrase::new("in-fill"), &times[..1], &[&length]);
        }
        if let Some(spec) = sides(site) {
            book.line(&spec, s, Phrase::new("round-side"), &[times[0].clone(), Times::Pi], &[d, depth]);
        }
    }

    fn holes(&self, site: &Site<'_>) -> Vec<Hole> {
        let hole = Hole {
            depth: site.job.len("soak_pit.depth"),
            held: support(site) != "none",
            path: "soak_pit.depth".to_owned(),
            stages: &[Stage::SoakPit],
            bare: ("C002", "caution-deep-soak-pit"),
            other: Some(("C073", "caution-soak-dig")),
        };
        site.job.has(PART).then_some(hole).into_iter().collect()
    }

    fn marks(&self, site: &Site<'_>) -> Vec<(Stage, Phrase, Len)> {
        let bottom = (Stage::SoakPit, Phrase::new("level-soak-pit"), -&site.job.len("soak_pit.depth"));
        site.job.has(PART).then_some(bottom).into_iter().collect()
    }

    fn sketch(&self, site: &Site<'_>, out: &mut Sketch) {
        let Some(pit) = read(site) else { return };
        let number = u32::try_from(site.job.count("soak_pit.number").1).unwrap_or(1);
        let [across, deep] = [&pit.diameter, &pit.depth].map(|l| site.mm(l));
        let (title, plan) = (Phrase::with("draw-soak-pit", &[&across]), Plan::Round(tenths(&pit.diameter)));
        let spacing = "soak_pit.spacing";
        let apart = site.job.has(spacing).then(|| tenths(&site.job.len(spacing)));
        let says = vec![Phrase::with("draw-deep", &[&deep])];
        out.stops.push(Stop { along: Along::Ground, title: title.clone(), says, plan, number, apart });
        let bodies = [stones(site, &pit), soak_lining::bodies(site), soak_cover::bodies(site)].concat();
        let mut figure = Figure {
            title,
            number,
            bodies,
            ..Figure::new("soak-pit", Stage::SoakPit, plan, tenths(&pit.depth))
        };
        figure.holes.extend(soak_cover::manhole(site).map(|hole| hole.map(|l| tenths(&l))));
        let top = figure.bodies.iter().map(|b| b.z[1]).max().unwrap_or(0);
        figure.lids.extend(figure.holes.iter().map(|hole| (*hole, top)));
        let mut mark = |key, level| figure.marks.push(Mark { title: Phrase::new(key), level });
        if let Some(invert) = inlet(site) {
            mark("draw-level-invert", tenths(&invert));
            let diameter = site.job.len("tank.pipes.outlet.diameter");
            let title = Phrase::with("draw-pipe-in", &[&site.mm(&diameter)]);
            if !diameter.is_zero() {
                let lies = Lies::In(tenths(&invert));
                figure.pipes.push(Inflow { title, diameter: tenths(&diameter), lies });
            }
        }
        mark("draw-level-bottom", -figure.depth);
        if site.job.has("soak_pit.pipe") {
            let [size, long] = ["diameter", "length"].map(|k| site.job.len(&format!("soak_pit.pipe.{k}")));
            let title = Phrase::with("draw-soak-pipe", &[&site.mm(&size)]);
            let lies = Lies::Upright([-figure.depth, tenths(&long) - figure.depth]);
            figure.pipes.push(Inflow { title, diameter: tenths(&size), lies });
        }
        out.figures.push(figure);
    }

    fn scope(&self, site: &Site<'_>) -> Vec<Phrase> {
        if !site.job.has(PART) {
            return Vec::new();
        }
        let [d, deep] = ["diameter", "depth"].map(|k| in_scope(&site.job.len(&format!("{PART}.{k}"))));
        let n = site.job.count("soak_pit.number").1.to_string();
        let key = if n == "1" { "scope-soak-pit" } else { "scope-soak-pits" };
        vec![Phrase::with(key, &[&n, &d, &deep])]
    }

    fn prove(&self, site: &Site<'_>, _: &Model, book: &mut Book<'_>) {
        let Some(pit) = read(site) else { return };
        // From the radius: n x pi x r x r.
        let n = Ratio::from(site.job.count("soak_pit.number").1);
        let plan = |d: &Len| d.half().amount() * d.half().amount() * (n * PI);
        let (depth, filled, whole) = (pit.depth.amount(), pit.fill.amount(), plan(&pit.diameter));
        let s = Stage::SoakPit;
        let (mut stone, mut around, mut over) = (&whole * &filled, Amount::ZERO, &pit.diameter);
        let mut back = &whole * (&depth - &filled);
        let ring = soak_lining::ring_of(site);
        if let Some(ring) = &ring {
            let [outside, inside] = [&ring.outside, &ring.inside];
            let gap = |height: &Len| ring_volume(site, [&pit.diameter, outside], height);
            stone = plan(inside) * &filled;
            around = gap(&ring.inlet);
            if let Some(foot) = &ring.foot {
                if site.less(&Len::ZERO, &pit.fill) {
                    stone = stone - ring_volume(site, [inside, &foot.inside], &foot.thickness);
                }
                around = around - ring_volume(site, [&foot.outside, outside], &foot.thickness);
            }
            let soil = soak_cover::slab(site).map_or(&depth - filled, |slab| slab.soil.amount());
            back = &whole * soil + gap(&(&ring.top - &ring.inlet));
            if soak_cover::slab(site).is_some() {
                over = inside;
            }
        }
        book.prove(&Spec::plain(&works::EXCAVATION_SOAK_PIT), s, &whole * &depth);
        book.prove(&fill(), s, stone);
        book.prove(&packing(), s, around);
        book.prove(&Spec::plain(&works::SOIL_COVER), s, back.clone());
        book.prove(&backfill::disposal(site), s, whole * &depth - back);
        if site.job.flag("soak_pit.sheet") {
            book.prove(&Spec::plain(&works::POLYTHENE_SHEET), s, plan(over));
        }
        if let Some(spec) = sides(site) {
            book.prove(&spec, s, pit.diameter.half().amount() * depth * (n * PI * Ratio::int(2)));
        }
    }
}

/// A pit filled from wall to wall.
fn plain(site: &Site<'_>, book: &mut Book<'_>, Round { diameter: d, depth, fill: filled }: &Round) {
    let (s, times) = (Stage::SoakPit, circles(site));
    let note = || Phrase::new("round-pit");
    book.line(&fill(), s, note(), &times, &[d, d, filled]);
    book.line(&Spec::plain(&works::SOIL_COVER), s, note(), &times, &[d, d, &(depth - filled)]);
    book.line(&backfill::disposal(site), s, Phrase::new("room-of-fill"), &times, &[d, d, filled]);
    if site.job.flag("soak_pit.sheet") {
        book.line(&Spec::plain(&works::POLYTHENE_SHEET), s, Phrase::new("over-fill"), &times, &[d, d]);
    }
}

/// Stone and soil about a ring of masonry.
fn lined(site: &Site<'_>, book: &mut Book<'_>, pit: &Round, ring_of: &soak_lining::Ring) {
    let (s, times) = (Stage::SoakPit, circles(site));
    let Round { diameter: d, depth, fill: filled } = pit;
    let soak_lining::Ring { outside, inside, top, inlet, foot } = ring_of;
    let slab = soak_cover::slab(site);
    book.line(&fill(), s, Phrase::new("inside-ring"), &times, &[inside, inside, filled]);
    if let Some(foot) = foot.as_ref().filter(|_| site.judge.positive(filled)) {
        for (times, d) in [(&less_circles(site)[..], inside), (&times[..], &foot.inside)] {
            book.line(&fill(), s, Phrase::new("less-foot"), times, &[d, d, &foot.thickness]);
        }
    }
    let (soil, away) = (Spec::plain(&works::SOIL_COVER), backfill::disposal(site));
    if site.judge.cmp(d, outside).is_gt() {
        ring(site, book, &packing(), "round-ring", [d, outside], inlet);
        if let Some(foot) = foot {
            let spec = packing();
            let dims = [&foot.outside, &foot.outside, &foot.thickness];
            book.line(&spec, s, Phrase::new("less-foot"), &less_circles(site), &dims);
            book.line(&spec, s, Phrase::new("less-foot"), &times, &[outside, outside, &foot.thickness]);
        }
        ring(site, book, &soil, "over-packing", [d, outside], &(top - inlet));
        ring(site, book, &away, "round-ring", [d, outside], inlet);
    }
    book.line(&away, s, Phrase::new("room-of-ring"), &times, &[outside, outside, top]);
    let over = match &slab {
        Some(slab) => {
            book.line(&away, s, Phrase::new("room-of-slab"), &times, &[d, d, &slab.thickness]);
            book.line(&soil, s, Phrase::new("over-slab"), &times, &[d, d, &slab.soil]);
            inside
        }
        None => {
            book.line(&soil, s, Phrase::new("round-pit"), &times, &[d, d, &(depth - filled)]);
            d
        }
    };
    if site.job.flag("soak_pit.sheet") {
        book.line(&Spec::plain(&works::POLYTHENE_SHEET), s, Phrase::new("over-fill"), &times, &[over, over]);
    }
}

/// Stone, soil and sheet as drawings show them.
fn stones(site: &Site<'_>, pit: &Round) -> Vec<Body> {
    let [r, depth, fill] = [tenths(&pit.diameter) / 2, tenths(&pit.depth), tenths(&pit.fill)];
    let body = |key, drawn, half, z: [i64; 2]| Body { title: Phrase::new(key), drawn, half, z };
    let (mut out, mut over) = (Vec::new(), r);
    if let Some(ring) = soak_lining::ring_of(site) {
        let [outside, inside] = [&ring.outside, &ring.inside].map(|l| tenths(l) / 2);
        let [inlet, top] = [&ring.inlet, &ring.top].map(|l| tenths(l) - depth);
        out.push(body("draw-packing", Drawn::Stone, [outside, r], [-depth, inlet]));
        out.push(body("draw-soil-back", Drawn::Soil, [outside, r], [inlet, top]));
        out.push(body("draw-stone", Drawn::Stone, [0, inside], [-depth, fill - depth]));
        over = if soak_cover::slab(site).is_some() { inside } else { r };
    } else {
        out.push(body("draw-stone", Drawn::Stone, [0, r], [-depth, fill - depth]));
    }
    if soak_cover::slab(site).is_none() {
        out.push(body("draw-soil-back", Drawn::Soil, [0, r], [fill - depth, 0]));
    }
    if site.job.flag("soak_pit.sheet") {
        let title = Phrase::with("draw-sheet", &[crate::words::look_up("draw-polythene")]);
        out.push(Body { title, drawn: Drawn::Sheet, half: [0, over], z: [fill - depth; 2] });
    }
    out.retain(|b| b.half[0] < b.half[1] && (b.z[0] < b.z[1] || b.drawn == Drawn::Sheet));
    out
}
