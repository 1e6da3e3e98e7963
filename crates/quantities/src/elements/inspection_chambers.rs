//! Inspection chambers in the line of a drain: masonry on a concrete base, benching, plaster inside, a cover.
//!
//! `size` is clear inside; `depth` from ground to the top of the base; the walls stand on the base's edge, which is the
//! outer plan, and end `upstand` above ground. Dug to the outer plan and `working_space` all round, which is put back.
//! Benching is a mean depth over the clear plan, its channel not taken off; plaster begins above it. Pipes that come in
//! take nothing off. A trench is measured through the chamber: nothing is taken off where they meet.

use tankwright_geometry::{Amount, Len, Ratio};

use crate::cautions::Hole;
use crate::elements::{Element, backfill, cover, pit};
use crate::job::{Fallback, Field, Kind, Presence};
use crate::ledger::{Book, SetOut, Spec, count};
use crate::made::Made;
use crate::model::Model;
use crate::problem::Problem;
use crate::report::in_scope;
use crate::sheet::Times;
use crate::site::Site;
use crate::sketch::{Along, Body, Figure, Mark, Plan, Sketch, Stop};
use crate::space::tenths;
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::Drawn;
use crate::works::{earthwork, inspection_chambers as works, pipework};

/// The element.
pub static ELEMENT: InspectionChambers = InspectionChambers;

/// Inspection chambers.
#[derive(Debug)]
pub struct InspectionChambers;

const PART: &str = "inspection_chambers";
const S: Stage = Stage::Pipes;

static CODES: &[(&str, &str)] = &[
    ("J145", "benching as deep as its inspection chamber"),
    ("J147", "plaster that fills its inspection chamber"),
];

static FIELDS: &[Field] = &[
    Field::part("inspection_chambers[]", Presence::List, "a masonry chamber in the line of a drain"),
    Field::value(
        "inspection_chambers[].number",
        Kind::Count { least: 1, most: 50 },
        Fallback::Default("1", "one chamber unless said otherwise"),
        "chambers like this",
    ),
    Field::value(
        "inspection_chambers[].size",
        Kind::Size { least: 1000, most: 50_000 },
        Fallback::Required,
        "clear inside: along the drain, across it",
    ),
    Field::length(
        "inspection_chambers[].depth",
        1000,
        Fallback::Required,
        "from ground to the top of its base",
    ),
    Field::length("inspection_chambers[].upstand", 0, Fallback::Nothing, "walls above ground"),
    Field::length("inspection_chambers[].working_space", 0, Fallback::Nothing, "dug all round and put back"),
    Field::length(
        "inspection_chambers[].thickness",
        500,
        Fallback::Default("110 mm", "common practice, no source: half a brick"),
        "thickness of its walls",
    ),
    Field::value(
        "inspection_chambers[].unit",
        Kind::Text,
        Fallback::Nothing,
        "masonry unit; left out: as the walls",
    ),
    Field::value(
        "inspection_chambers[].mortar",
        Kind::Mix { parts: 2 },
        Fallback::Nothing,
        "mortar; left out: as the walls",
    ),
    Field::part("inspection_chambers[].base", Presence::Always, "concrete under the whole chamber"),
    Field::length(
        "inspection_chambers[].base.thickness",
        300,
        Fallback::Default("100 mm", "common practice, no source"),
        "thickness",
    ),
    Field::value(
        "inspection_chambers[].base.mix",
        Kind::Mix { parts: 3 },
        Fallback::Default("1:2:4", "common practice, no source"),
        "concrete",
    ),
    Field::part("inspection_chambers[].benching", Presence::Optional, "concrete beside the channel"),
    Field::length("inspection_chambers[].benching.depth", 100, Fallback::Required, "mean depth"),
    Field::value(
        "inspection_chambers[].benching.mix",
        Kind::Mix { parts: 3 },
        Fallback::Default("1:2:4", "common practice, no source"),
        "concrete",
    ),
    Field::part("inspection_chambers[].plaster", Presence::Optional, "plaster inside, without waterproofer"),
    Field::length(
        "inspection_chambers[].plaster.thickness",
        50,
        Fallback::Default("15 mm", "common practice, no source"),
        "thickness",
    ),
    Field::value(
        "inspection_chambers[].plaster.mix",
        Kind::Mix { parts: 2 },
        Fallback::Default("1:3", "common practice, no source"),
        "cement and sand",
    ),
];

struct Chamber {
    path: String,
    number: Times,
    n: Ratio,
    size: [Len; 2],
    t: Len,
    space: Len,
    depth: Len,
    upstand: Len,
    base: Len,
    benching: Len,
}

impl Chamber {
    /// The outer plan.
    fn outer(&self) -> [Len; 2] {
        [&self.size[0] + &self.t.times(2), &self.size[1] + &self.t.times(2)]
    }

    /// From ground to the bottom of the base.
    fn dig(&self) -> Len {
        &self.depth + &self.base
    }

    fn walls(&self) -> Len {
        &self.depth + &self.upstand
    }

    /// Of all of them: the clear plan and a border of so much all round, part by part. Tenths of a millimetre squared.
    fn plan(&self, border: &Amount) -> Amount {
        let [a, b] = [self.size[0].amount(), self.size[1].amount()];
        (&a * &b + (a + b) * border * Ratio::int(2) + border * border * Ratio::int(4)) * self.n
    }
}

fn chambers(site: &Site<'_>) -> Vec<Chamber> {
    let one = |i: usize| {
        let path = format!("{PART}[{i}]");
        let get = |k: &str| site.job.len(&format!("{path}.{k}"));
        let (id, n) = site.job.count(&format!("{path}.number"));
        Chamber {
            number: Times::Input(id, n),
            n: Ratio::from(n),
            size: site.job.size(&format!("{path}.size")),
            t: get("thickness"),
            space: get("working_space"),
            depth: get("depth"),
            upstand: get("upstand"),
            base: get("base.thickness"),
            benching: get("benching.depth"),
            path,
        }
    };
    (0..site.job.count_of(PART)).map(one).collect()
}

/// Base, walls, and benching, plaster where they are asked for.
struct Specs {
    base: Spec,
    walls: Spec,
    benching: Spec,
    plaster: Option<Spec>,
}

fn specs(site: &Site<'_>, c: &Chamber) -> Specs {
    let text = |k: &str| site.job.text(&format!("{}.{k}", c.path));
    let made = site.masonry(&c.path, &c.t);
    let more = [site.unit_title(&made.unit).to_owned(), made.mix.clone()];
    let plaster = format!("{}.plaster", c.path);
    Specs {
        base: Spec::of(&works::CONCRETE_CHAMBER_BASE, text("base.mix"), &[]),
        walls: {
            // Chambers of other bricks or mortar are other items.
            let spec = format!("{}/{}/{}", site.mm(&c.t), made.unit, made.mix);
            let walls = Spec::of(&works::BRICKWORK_CHAMBER, &site.mm(&c.t), &[&more[0], &more[1]]);
            Spec { spec, ..walls.made(made) }
        },
        benching: Spec::of(&works::CONCRETE_BENCHING, text("benching.mix"), &[]),
        plaster: site.job.has(&plaster).then(|| {
            let (thickness, mix) = (site.job.len(&format!("{plaster}.thickness")), text("plaster.mix"));
            let mm = site.mm(&thickness);
            let made = Made { mix: mix.to_owned(), thickness: Some(thickness), ..Made::NOTHING };
            let spec = Spec::of(&works::PLASTER_CHAMBER, &mm, &[mix]).made(made);
            Spec { spec: format!("{mm}/{mix}"), ..spec }
        }),
    }
}

impl Element for InspectionChambers {
    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn codes(&self) -> &'static [(&'static str, &'static str)] {
        CODES
    }

    fn set_out(&self, site: &Site<'_>, _: &mut SetOut) {
        for c in chambers(site).iter().filter(|c| !site.less(&c.benching, &c.depth)) {
            let place = site.job.place(&format!("{}.benching.depth", c.path));
            let problem = Problem::error("J145", place, "the benching fills the inspection chamber")
                .label(format!("the chamber is {} mm deep", site.mm(&c.depth)))
                .hint("a mean depth: usually the pipe's diameter and a little more");
            site.job.report(problem);
        }
        for c in chambers(site) {
            let path = format!("{}.plaster.thickness", c.path);
            let (twice, narrow) =
                (site.job.len(&path).times(2), site.judge.min(&c.size[0], &c.size[1]).clone());
            if site.less(&twice, &narrow) {
                continue;
            }
            let problem =
                Problem::error("J147", site.job.place(&path), "the plaster fills the inspection chamber")
                    .label(format!("the chamber is {} mm wide before plastering", site.mm(&narrow)))
                    .hint("plaster is usually 10 to 20 mm thick");
            site.job.report(problem);
        }
    }

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        let all = chambers(site);
        share_rows(site, &all);
        for (i, c) in (1..).zip(&all) {
            let (n, specs) = (i32::to_string(&i), specs(site, c));
            let note = |key| Phrase::with(key, &[&n]);
            let number = [c.number.clone()];
            let ([l, b], [ol, ob], dig) = (&c.size, &c.outer(), c.dig());
            let [dl, db] = [ol, ob].map(|side| side + &c.space.times(2));
            let dug = Spec::plain(&works::EXCAVATION_CHAMBER);
            book.line(&dug, S, note("inspection-chamber"), &number, &[&dl, &db, &dig]);
            book.line(&backfill::disposal(site), S, note("inspection-chamber"), &number, &[ol, ob, &dig]);
            // Centre line of the working space: its corners count once.
            let around = &(ol + ob).times(2) + &c.space.times(4);
            let back = Spec::plain(&earthwork::BACKFILL);
            book.line(&back, S, note("round-inspection-chamber"), &number, &[&around, &c.space, &dig]);
            book.line(&specs.base, S, note("inspection-chamber"), &number, &[ol, ob, &c.base]);
            let girth = &(l + b).times(2) + &c.t.times(4);
            book.line(
                &specs.walls,
                S,
                note("inspection-chamber-girth"),
                &number,
                &[&girth, &c.t, &c.walls()],
            );
            book.line(&specs.benching, S, note("inspection-chamber"), &number, &[l, b, &c.benching]);
            if let Some(plaster) = &specs.plaster {
                let high = &c.walls() - &c.benching;
                let inside = (l + b).times(2);
                book.line(plaster, S, note("inspection-chamber-inside"), &number, &[&inside, &high]);
            }
            let size = format!("{}x{}", site.mm(l), site.mm(b));
            let lid = Spec::of(&pipework::MANHOLE_COVER, &size, &[]);
            book.line(&lid, S, note("inspection-chamber"), &number, &[]);
            if site.job.text("ground.support") != "none" {
                let sides = [c.number.clone(), count(2)];
                book.line(&pit::support(site), S, note("inspection-chamber"), &sides, &[&(&dl + &db), &dig]);
            }
        }
    }

    fn holes(&self, site: &Site<'_>) -> Vec<Hole> {
        let hole = |c: Chamber| Hole {
            depth: c.dig(),
            held: site.job.text("ground.support") != "none",
            path: c.path,
            stages: &[S],
            bare: ("C061", "caution-deep-chamber"),
            other: None,
        };
        chambers(site).into_iter().map(hole).collect()
    }

    fn marks(&self, site: &Site<'_>) -> Vec<(Stage, Phrase, Len)> {
        let one = |(n, c): (usize, Chamber)| {
            (Stage::Pipes, Phrase::with("level-chamber-dig", &[&n.to_string()]), -&c.dig())
        };
        (1..).zip(chambers(site)).map(one).collect()
    }

    fn sketch(&self, site: &Site<'_>, out: &mut Sketch) {
        for c in chambers(site) {
            let number = u32::try_from(c.n.numer()).unwrap_or(1);
            let [a, b] = c.size.clone().map(|l| site.mm(&l));
            let title = Phrase::with("draw-inspection-chamber", &[&a, &b]);
            let plan = Plan::Box(c.outer().map(|l| tenths(&l)));
            let says = vec![Phrase::with("draw-deep", &[&site.mm(&c.depth)])];
            let along = Along::Inspected;
            out.stops.push(Stop { along, title: title.clone(), says, plan, number, apart: None });
            let [depth, dig, base, bench] = [&c.depth, &c.dig(), &c.base, &c.benching].map(tenths);
            let [inner, outer] = [tenths(&c.size[0]) / 2, tenths(&c.outer()[0]) / 2];
            let body = |title, drawn, half, z| Body { title, drawn, half, z };
            let (walls, base_mix) =
                (site.masonry(&c.path, &c.t).mix, site.job.text(&format!("{}.base.mix", c.path)));
            let concrete = |key, mix| Phrase::with(key, &[mix]);
            let mut bodies = vec![
                body(
                    Phrase::with("draw-base", &[&site.mm(&c.base), base_mix]),
                    Drawn::Concrete,
                    [0, outer],
                    [-dig, base - dig],
                ),
                body(
                    Phrase::with("draw-wall", &[&site.mm(&c.t), &walls]),
                    Drawn::Masonry,
                    [inner, outer],
                    [-depth, tenths(&c.upstand)],
                ),
            ];
            if bench > 0 {
                let mix = site.job.text(&format!("{}.benching.mix", c.path));
                bodies.push(body(
                    concrete("draw-benching", mix),
                    Drawn::Concrete,
                    [0, inner],
                    [-depth, bench - depth],
                ));
            }
            let marks = vec![Mark { title: Phrase::new("draw-level-base"), level: -depth }];
            out.figures.push(Figure {
                title,
                number,
                bodies,
                lids: vec![(c.size.clone().map(|l| tenths(&l)), tenths(&c.upstand))],
                marks,
                ..Figure::new("inspection-chamber", S, plan, dig)
            });
        }
    }

    fn scope(&self, site: &Site<'_>) -> Vec<Phrase> {
        let one = |i| {
            let path = format!("{PART}[{i}]");
            let n = site.job.count(&format!("{path}.number")).1.to_string();
            let key = if n == "1" { "scope-chamber" } else { "scope-chambers" };
            let [along, across] = site.job.size(&format!("{path}.size"));
            let [along, across, deep] =
                [&along, &across, &site.job.len(&format!("{path}.depth"))].map(in_scope);
            Phrase::with(key, &[&n, &along, &across, &deep])
        };
        (0..site.job.count_of(PART)).map(one).collect()
    }

    fn prove(&self, site: &Site<'_>, _: &Model, book: &mut Book<'_>) {
        for c in chambers(site) {
            // From the clear plan outwards: borders of the walls, and of walls and working space.
            let specs = specs(site, &c);
            let (t, dig) = (c.t.amount(), c.dig().amount());
            let wide = &t + c.space.amount();
            let (clear, outer, dug) = (c.plan(&Amount::ZERO), c.plan(&t), c.plan(&wide));
            book.prove(&Spec::plain(&works::EXCAVATION_CHAMBER), S, &dug * &dig);
            book.prove(&backfill::disposal(site), S, &outer * &dig);
            book.prove(&Spec::plain(&earthwork::BACKFILL), S, (dug - &outer) * &dig);
            book.prove(&specs.base, S, &outer * c.base.amount());
            book.prove(&specs.walls, S, (outer - &clear) * c.walls().amount());
            book.prove(&specs.benching, S, clear * c.benching.amount());
            let faces = |border: &Amount, high: &Amount| {
                let twice = high * (c.n * Ratio::int(2));
                let face = |side: &Len| (side.amount() + border * Ratio::int(2)) * &twice;
                face(&c.size[0]) + face(&c.size[1])
            };
            if let Some(plaster) = &specs.plaster {
                let high = (&c.walls() - &c.benching).amount();
                book.prove(plaster, S, faces(&Amount::ZERO, &high));
            }
            if site.job.text("ground.support") != "none" {
                book.prove(&pit::support(site), S, faces(&wide, &dig));
            }
        }
    }
}

/// Chambers of one thickness, and covers of one size, those of the tank too, share a row of the bill.
fn share_rows(site: &Site<'_>, all: &[Chamber]) {
    let plaster = |c: &Chamber| site.job.len(&format!("{}.plaster.thickness", c.path));
    let manholes = cover::manholes(site);
    for (i, c) in all.iter().enumerate() {
        for (a, b) in manholes.iter().flat_map(|m| m.size.iter().zip(&c.size)) {
            site.judge.cmp(a, b);
        }
        for other in all.iter().take(i) {
            site.judge.cmp(&other.t, &c.t);
            site.judge.cmp(&plaster(other), &plaster(c));
            other.size.iter().zip(&c.size).for_each(|(a, b)| {
                site.judge.cmp(a, b);
            });
        }
    }
}
