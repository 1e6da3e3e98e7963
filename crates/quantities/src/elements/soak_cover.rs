//! The cover of a lined soak pit: a round slab of reinforced concrete over the ring, as wide as the dig, with a manhole
//! in the middle and soil over it up to the ground.
//!
//! Its edge is cast against the earth; its underside is formed over the inside of the ring. A manhole is rectangular; it
//! stays under the soil where there is any (cautioned).

use tankwright_geometry::{Len, PI, Ratio};

use crate::elements::{Element, soak_lining, soak_pit};
use crate::job::{Fallback, Field, Kind, Presence};
use crate::ledger::{Book, SetOut, Spec};
use crate::model::Model;
use crate::problem::Problem;
use crate::sheet::Times;
use crate::site::Site;
use crate::sketch::Body;
use crate::space::tenths;
use crate::stage::Stage;
use crate::steel::{Bench, Disc};
use crate::words::Phrase;
use crate::works::Drawn;
use crate::works::{Work, pipework, soak_pit as works};

/// The element.
pub static ELEMENT: SoakCover = SoakCover;

/// Cover of the soak pit.
#[derive(Debug)]
pub struct SoakCover;

const PART: &str = "soak_pit.cover";
/// A slab that is wider is no cover of a soak pit, tenths of a millimetre.
const WIDEST: i64 = 100_000;
const NO_SOURCE: &str = "common practice, no source";

static CODES: &[(&str, &str)] = &[
    ("J155", "a cover of a soak pit that nothing carries: no lining, or wider than 10 m"),
    ("J158", "a cover as deep as the soak pit, or stone that reaches into it"),
    ("J159", "a manhole that does not fit over a soak pit"),
];

static FIELDS: &[Field] = &[
    Field::part(PART, Presence::Optional, "round slab over the lining"),
    Field::length("soak_pit.cover.thickness", 500, Fallback::Default("150 mm", NO_SOURCE), "thickness"),
    Field::value(
        "soak_pit.cover.mix",
        Kind::Mix { parts: 3 },
        Fallback::Default("1:1.5:3", NO_SOURCE),
        "concrete",
    ),
    Field::length("soak_pit.cover.soil", 0, Fallback::Nothing, "soil over the slab, up to the ground"),
    Field::value(
        "soak_pit.cover.manhole",
        Kind::Size { least: 1000, most: 30_000 },
        Fallback::Nothing,
        "in the middle: length and width; left out: none",
    ),
];

/// The slab.
#[derive(Debug)]
pub struct Slab {
    /// Thickness.
    pub thickness: Len,
    /// Soil over it.
    pub soil: Len,
}

/// The slab, where the job has one.
#[must_use]
pub fn slab(site: &Site<'_>) -> Option<Slab> {
    let [thickness, soil] = ["thickness", "soil"].map(|k| site.job.len(&format!("{PART}.{k}")));
    site.job.has(PART).then_some(Slab { thickness, soil })
}

/// The manhole, where the job has one.
#[must_use]
pub fn manhole(site: &Site<'_>) -> Option<[Len; 2]> {
    site.job.has("soak_pit.cover.manhole[0]").then(|| site.job.size("soak_pit.cover.manhole"))
}

/// The slab, its manhole and the soil over it as drawings show them.
#[must_use]
pub fn bodies(site: &Site<'_>) -> Vec<Body> {
    let Some(slab) = slab(site) else { return Vec::new() };
    let [soil, thick] = [&slab.soil, &slab.thickness].map(tenths);
    let r = tenths(&site.job.len("soak_pit.diameter")) / 2;
    let z = [-soil - thick, -soil];
    let mix = site.job.text("soak_pit.cover.mix");
    let title = Phrase::with("draw-slab", &[&site.mm(&slab.thickness), mix]);
    let mut all = vec![Body { title, drawn: Drawn::Reinforced, half: [0, r], z }];
    if let Some([along, _]) = manhole(site) {
        let title = Phrase::new("manhole");
        all.push(Body { title, drawn: Drawn::Hole, half: [0, tenths(&along) / 2], z });
    }
    if soil > 0 {
        let title = Phrase::new("draw-soil-back");
        all.push(Body { title, drawn: Drawn::Soil, half: [0, r], z: [-soil, 0] });
    }
    all
}

fn spec(site: &Site<'_>) -> Spec {
    let (mix, mm) = (site.job.text("soak_pit.cover.mix"), site.mm(&site.job.len("soak_pit.cover.thickness")));
    Spec::of(&works::CONCRETE_SOAK_COVER, mix, &[&mm])
}

/// Takes the manhole off, or leaves it in where the profile keeps a void of its size.
fn less_hole(site: &Site<'_>, book: &mut Book<'_>, spec: &Spec, dims: &[&Len], work: &Work) {
    let times = [Times::Count(-1), soak_pit::number(site)];
    let s = Stage::SoakPit;
    let word = || [crate::words::look_up("manhole")];
    match book.keeps_void(work, &dims[..2], dims.get(2).copied(), false) {
        Some(clause) => {
            book.leave_out(spec, s, Phrase::with("void-kept", &word()), &times, dims, clause);
        }
        None => book.line(spec, s, Phrase::with("less", &word()), &times, dims),
    }
}

impl Element for SoakCover {
    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn codes(&self) -> &'static [(&'static str, &'static str)] {
        CODES
    }

    fn set_out(&self, site: &Site<'_>, _: &mut SetOut) {
        refuse(site);
    }

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        let (Some(Slab { thickness, .. }), Some(ring)) = (slab(site), soak_lining::ring_of(site)) else {
            return;
        };
        let (s, times) = (Stage::SoakPit, soak_pit::circles(site));
        let (d, inside) = (site.job.len("soak_pit.diameter"), &ring.inside);
        book.line(&spec(site), s, Phrase::new("round-slab"), &times, &[&d, &d, &thickness]);
        let soffit = Spec::plain(&works::FORMWORK_SOAK_COVER);
        book.line(&soffit, s, Phrase::new("inside-ring"), &times, &[inside, inside]);
        let Some([a, b]) = manhole(site) else { return };
        less_hole(site, book, &spec(site), &[&a, &b, &thickness], &works::CONCRETE_SOAK_COVER);
        less_hole(site, book, &soffit, &[&a, &b], &works::FORMWORK_SOAK_COVER);
        let sides = Spec::plain(&works::FORMWORK_SOAK_MANHOLE);
        let twice = [Times::Count(2), times[0].clone()];
        book.line(&sides, s, Phrase::new("along-manhole"), &twice, &[&a, &thickness]);
        book.line(&sides, s, Phrase::new("across-manhole"), &twice, &[&b, &thickness]);
        let lid = Spec::of(&pipework::MANHOLE_COVER, &format!("{}x{}", site.mm(&a), site.mm(&b)), &[]);
        book.line(&lid, s, Phrase::new("one-per-soak-pit"), &times[..1], &[]);
    }

    fn reinforce(&self, site: &Site<'_>, bench: &mut Bench<'_>) {
        if slab(site).is_none() || !site.job.has("steel.soak_pit_cover") {
            return;
        }
        Disc {
            path: "steel.soak_pit_cover.bars",
            trimmers: "steel.soak_pit_cover.trimmers",
            diameter: site.job.len("soak_pit.diameter"),
            hole: manhole(site),
            discs: soak_pit::number(site),
            stage: Stage::SoakPit,
        }
        .reinforce(bench);
    }

    fn prove(&self, site: &Site<'_>, _: &Model, book: &mut Book<'_>) {
        let (Some(slab), Some(ring)) = (slab(site), soak_lining::ring_of(site)) else { return };
        // From the radius: n x (pi x r x r - hole).
        let n = Ratio::from(site.job.count("soak_pit.number").1);
        let circle = |d: &Len| d.half().amount() * d.half().amount() * PI;
        let [a, b] = manhole(site).unwrap_or([Len::ZERO; 2]).map(|l| l.amount());
        let (s, thick, hole) = (Stage::SoakPit, slab.thickness.amount(), &a * &b);
        let plan = circle(&site.job.len("soak_pit.diameter")) - &hole;
        book.prove(&spec(site), s, plan * &thick * n);
        book.prove(&Spec::plain(&works::FORMWORK_SOAK_COVER), s, (circle(&ring.inside) - hole) * n);
        book.prove(&Spec::plain(&works::FORMWORK_SOAK_MANHOLE), s, (a + b) * thick * (n * Ratio::int(2)));
    }
}

fn refuse(site: &Site<'_>) {
    let Some(slab) = slab(site) else { return };
    let report = |code, path: &str, what: &str, label: String, hint: &str| {
        let problem = Problem::error(code, site.job.place(path), what).label(label).hint(hint);
        site.job.report(problem);
    };
    if !site.job.has("soak_pit.lining") {
        let label = "no ring of masonry under it".to_owned();
        let hint = "give the pit a [soak_pit.lining]; a pit filled with stone and soil needs no cover";
        return report("J155", PART, "nothing carries the cover of the soak pit", label, hint);
    }
    if site.less(&Len::fixed(WIDEST), &site.job.len("soak_pit.diameter")) {
        let label = "a slab of more than 10 m".to_owned();
        let hint = "several smaller pits take more water than a wide one, and their covers carry";
        report("J155", "soak_pit.diameter", "nothing carries the cover of the soak pit", label, hint);
    }
    let depth = site.job.len("soak_pit.depth");
    let under = &(&depth - &slab.soil) - &slab.thickness;
    let fill = site.job.len("soak_pit.fill_depth");
    if !site.less(&Len::ZERO, &under) {
        let label = format!("the pit is {} mm deep", site.mm(&depth));
        report("J158", PART, "soil and cover fill the soak pit", label, "less soil over the cover");
    } else if site.less(&under, &fill) {
        let label = format!("the cover lies {} mm above the base", site.mm(&under));
        let hint = "the stone ends at the inlet or a little above it; 0 leaves the pit empty";
        report(
            "J158",
            "soak_pit.fill_depth",
            "the stone reaches into the cover of the soak pit",
            label,
            hint,
        );
    }
    let (Some([a, b]), Some(ring)) = (manhole(site), soak_lining::ring_of(site)) else { return };
    // Squares are compared as they are: where one of these changes, it is asked anew.
    for len in [&a, &b, &ring.inside] {
        site.judge.fix(len);
    }
    let [across, along, inside] = [&a, &b, &ring.inside].map(|l| l.value() * l.value());
    if site.less(&Len::ZERO, &ring.inside) && across + along >= inside {
        let label = format!("the ring is {} mm in diameter inside", site.mm(&ring.inside));
        let hint = "its corners must stay inside the ring: make it smaller";
        report("J159", "soak_pit.cover.manhole", "the manhole does not fit over the soak pit", label, hint);
    }
}
