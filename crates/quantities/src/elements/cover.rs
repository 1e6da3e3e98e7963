//! The cover slab over the outer plan, its manholes, formwork and membrane.

use tankwright_geometry::{Axis, Len, Z};

use crate::band::{outer_planes, planes};
use crate::elements::{Element, manhole_shafts, span_beam};
use crate::job::{Fallback, Field, Kind, Presence};
use crate::ledger::{Book, Carrier, Claim, Face, Rank, SetOut, Side, Spec, count};
use crate::problem::Problem;
use crate::site::{Site, Span};
use crate::sketch::{Heap, Lid, Sketch, span};
use crate::space::tenths;
use crate::stage::Stage;
use crate::steel::{Bench, Mat, Order, Trimmers, chairs};
use crate::words::Phrase;
use crate::works::{concrete, finishes, formwork, pipework, voids};

/// The element.
pub static ELEMENT: Cover = Cover;

/// Cover slab.
#[derive(Debug)]
pub struct Cover;

const NO_SOURCE: &str = "common practice, no source";

static CODES: &[(&str, &str)] = &[
    ("J053", "neither no manholes nor one per chamber"),
    ("J054", "a manhole that does not fit over its chamber"),
    ("J055", "a manhole that meets a column"),
    ("J056", "a beam under the cover as deep as the tank"),
];

static FIELDS: &[Field] = &[
    Field::part("tank.cover", Presence::Always, "the cover slab"),
    Field::length("tank.cover.thickness", 500, Fallback::Default("150 mm", NO_SOURCE), "thickness"),
    Field::value(
        "tank.cover.mix",
        Kind::Mix { parts: 3 },
        Fallback::Default("1:1.5:3", NO_SOURCE),
        "concrete of slab and beams",
    ),
    Field::value(
        "tank.cover.manholes",
        Kind::Sizes { least: 1000, most: 30_000 },
        Fallback::Nothing,
        "along, across; one per chamber, in order; [] for none",
    ),
    Field::value("tank.cover.membrane", Kind::Flag, Fallback::Nothing, "membrane under the slab"),
    Field::value(
        "tank.cover.finish",
        Kind::Choice(&["trowelled", "floated", "tamped"]),
        Fallback::Default("trowelled", NO_SOURCE),
        "finish of the top",
    ),
    Field::value(
        "tank.cover.traffic",
        Kind::Choice(&["none", "garden", "car", "lorry"]),
        Fallback::Default("garden", "our choice, printed: 2.5 kN/m2, EN 12566-1 (recalled)"),
        "what goes over it",
    ),
    Field::length(
        "tank.cover.soil",
        0,
        Fallback::Nothing,
        "soil heaped on it, besides what lies over a cover below ground",
    ),
];

/// A manhole: its size, and where it lies.
#[derive(Debug)]
pub struct Manhole {
    /// Along and across.
    pub size: [Len; 2],
    /// Extents along and across.
    pub at: [Span; 2],
}

/// The manholes, in order; none where the list does not fit the chambers (which is refused).
#[must_use]
pub fn manholes(site: &Site<'_>) -> Vec<Manhole> {
    let n = site.job.count_of("tank.cover.manholes");
    if n != site.chambers.len() {
        return Vec::new();
    }
    let bay = span_beam::across(site).map_or_else(|| site.width.clone(), |y| y[0].clone());
    let mut from = Len::ZERO;
    let mut found = Vec::new();
    for (i, chamber) in site.chambers.iter().enumerate() {
        let [a, b] = site.job.size(&format!("tank.cover.manholes[{i}]"));
        let x = match i {
            0 => Len::ZERO,
            _ if i + 1 == n => &site.length - &a,
            _ => &from + &(chamber - &a).half(),
        };
        let y = (&bay - &b).half();
        let at = [[x.clone(), &x + &a], [y.clone(), &y + &b]];
        found.push(Manhole { size: [a, b], at });
        from = &(&from + chamber) + &site.partition;
    }
    found
}

fn spec(site: &Site<'_>) -> Spec {
    let (mix, mm) = (site.job.text("tank.cover.mix"), site.mm(&site.job.len("tank.cover.thickness")));
    Spec::of(&concrete::CONCRETE_COVER, mix, &[&mm, site.job.text("tank.cover.finish")])
}

impl Element for Cover {
    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn codes(&self) -> &'static [(&'static str, &'static str)] {
        CODES
    }

    fn set_out(&self, site: &Site<'_>, out: &mut SetOut) {
        refuse(site);
        let ([x0, x1], [y0, y1]) = (site.outer_x(), site.outer_y());
        let z = [Z::flat(site.cover_bottom.clone()), Z::flat(site.cover_top.clone())];
        let (spec, s) = (spec(site), Stage::Cover);
        let block = Site::block([&x0, &x1], [&y0, &y1], [&z[0], &z[1]]);
        out.claims.push(Claim::new("cover", Rank::COVER, &spec, s, block));
        let mut formed = |work, rank, look, x: &Span, y: &Span, z: &[Z; 2]| {
            let block = Site::block([&x[0], &x[1]], [&y[0], &y[1]], [&z[0], &z[1]]);
            out.faces.push(Face::new(&Spec::plain(work), rank, Carrier::Formed, look, s, block));
        };
        let soffit = [z[0].clone(), z[0].clone()];
        let clear = [[Len::ZERO, site.length.clone()], [Len::ZERO, site.width.clone()]];
        formed(
            &formwork::FORMWORK_COVER_SOFFIT,
            Rank::COVER,
            (Axis::Z, Side::Low),
            &clear[0],
            &clear[1],
            &soffit,
        );
        if let Some(open) = site.outside(&z) {
            for (x, y, look) in outer_planes(site) {
                formed(&formwork::FORMWORK_COVER_EDGE, Rank::COVER, look, &x, &y, &open);
            }
        }
        let holes = manholes(site);
        for hole in &holes {
            for (x, y, look) in planes(hole.at[0].clone(), hole.at[1].clone(), [Side::High, Side::Low]) {
                formed(&formwork::FORMWORK_MANHOLE, Rank::COVER, look, &x, &y, &z);
            }
        }
        let void = Spec::plain(&voids::MANHOLE);
        for Manhole { at: [x, y], .. } in &holes {
            let block = Site::block([&x[0], &x[1]], [&y[0], &y[1]], [&z[0], &z[1]]);
            out.claims.push(Claim::new("manhole", Rank::MANHOLE, &void, s, block));
        }
        if site.job.flag("tank.cover.membrane") {
            let sheet = Spec::plain(&finishes::DAMP_PROOF_MEMBRANE);
            let block = Site::block([&x0, &x1], [&y0, &y1], [&z[0], &z[0]]);
            let carrier = Carrier::On(&concrete::CONCRETE_COVER);
            let mut face = Face::new(&sheet, Rank::COVER, carrier, (Axis::Z, Side::Low), s, block);
            face.covered = true;
            out.faces.push(face);
        }
    }

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        let (length, breadth) = (site.outer_length(), site.outer_width());
        let thickness = site.job.len("tank.cover.thickness");
        let s = Stage::Cover;
        let one = [count(1)];
        book.line(&spec(site), s, Phrase::new("whole-plan"), &one, &[&length, &breadth, &thickness]);
        let soffit = Spec::plain(&formwork::FORMWORK_COVER_SOFFIT);
        book.line(&soffit, s, Phrase::new("between-the-walls"), &one, &[&site.length, &site.width]);
        let z = [Z::flat(site.cover_bottom.clone()), Z::flat(site.cover_top.clone())];
        if let Some([low, high]) = site.outside(&z) {
            let edge = Spec::plain(&formwork::FORMWORK_COVER_EDGE);
            let open = &high.off - &low.off;
            book.line(&edge, s, Phrase::new("long-edges"), &[count(2)], &[&length, &open]);
            book.line(&edge, s, Phrase::new("short-edges"), &[count(2)], &[&breadth, &open]);
        }
        let all = manholes(site);
        // Manholes of one size share a row of the bill.
        for (i, hole) in all.iter().enumerate() {
            for (one, other) in all.iter().take(i).flat_map(|m| m.size.iter().zip(&hole.size)) {
                site.judge.cmp(one, other);
            }
        }
        for Manhole { size: [a, b], .. } in all {
            let form = Spec::plain(&formwork::FORMWORK_MANHOLE);
            book.line(&form, s, Phrase::new("along-manhole"), &[count(2)], &[&a, &thickness]);
            book.line(&form, s, Phrase::new("across-manhole"), &[count(2)], &[&b, &thickness]);
            book.line(&Spec::plain(&voids::MANHOLE), s, Phrase::new("manhole"), &one, &[&a, &b, &thickness]);
            let size = format!("{}x{}", site.mm(&a), site.mm(&b));
            let lid = Spec::of(&pipework::MANHOLE_COVER, &size, &[]);
            book.line(&lid, Stage::Finish, Phrase::new("one-per-manhole"), &one, &[]);
        }
        if site.job.flag("tank.cover.membrane") {
            let sheet = Spec::plain(&finishes::DAMP_PROOF_MEMBRANE);
            book.line(&sheet, s, Phrase::new("whole-plan"), &one, &[&length, &breadth]);
        }
    }

    fn reinforce(&self, site: &Site<'_>, bench: &mut Bench<'_>) {
        if !site.job.has("steel.cover") {
            return;
        }
        let (x, y, stage) = (site.outer_x(), site.outer_y(), Stage::Cover);
        let layers = site.job.count("steel.cover.layers").1;
        // One layer or two is structure: a workbook must not change it.
        site.judge.cmp(&site.job.len("steel.cover.layers"), &Len::fixed(layers));
        let layers = usize::try_from(layers).unwrap_or(1);
        let holes: Vec<[Span; 2]> = manholes(site).into_iter().map(|m| m.at).collect();
        let turned = holes.iter().map(|[x, y]| [y.clone(), x.clone()]).collect();
        let order = Order::Cover;
        let (path, words) = ("steel.cover.short", ["bars-cover-short", "bars-cover-short-cut"]);
        let (run, across) = (y.clone(), x.clone());
        Mat { path, words, axis: Axis::Y, run, across, holes: turned, layers, order, stage }.reinforce(bench);
        let (path, words) = ("steel.cover.long", ["bars-cover-long", "bars-cover-long-cut"]);
        let (run, across) = (x.clone(), y.clone());
        Mat { path, words, axis: Axis::X, run, across, holes: holes.clone(), layers, order, stage }
            .reinforce(bench);
        let (path, words) = ("steel.cover.trimmers", ["bars-trimmer-along", "bars-trimmer-across"]);
        if !holes.is_empty() && !site.job.has(path) {
            bench.remark(Phrase::new("bars-no-trimmers"));
        }
        Trimmers { path, words, slab: [x, y], holes, layers, stage }.reinforce(bench);
        if layers > 1 {
            let mats = ["steel.cover.short", "steel.cover.long"];
            let thickness = site.job.len("tank.cover.thickness");
            chairs(bench, "steel.chairs", "bars-chairs", &thickness, mats, stage);
        } else if site.job.has("steel.chairs") {
            bench.remark(Phrase::new("bars-chairs-idle"));
        }
    }

    fn sketch(&self, site: &Site<'_>, out: &mut Sketch) {
        let soil = tenths(&site.job.len("tank.cover.soil"));
        let plan = [span(&site.outer_x()), span(&site.outer_y())];
        let from = tenths(&site.cover_top).max(0);
        let stage = Stage::Finish;
        out.heaps.extend((soil > 0).then_some(Heap { plan, z: [from, from + soil], stage }));
        let level = tenths(&manhole_shafts::top(site));
        let lid = |m: Manhole| Lid { plan: m.at.map(|s| span(&s)), level, stage };
        out.lids.extend(manholes(site).into_iter().map(lid));
    }
}

fn refuse(site: &Site<'_>) {
    let job = site.job;
    let n = job.count_of("tank.cover.manholes");
    if n != 0 && n != site.chambers.len() {
        let problem = Problem::error(
            "J053",
            job.place("tank.cover.manholes"),
            "there must be one manhole per chamber, or none",
        )
        .label(format!("{n} given, the tank has {} chambers", site.chambers.len()))
        .hint("list one size per chamber in order from the inlet, or write []");
        job.report(problem);
    }
    let columns = job.size("tank.columns.size");
    let stands_in = columns.map(|c| &c - &site.wall);
    for (i, (hole, chamber)) in manholes(site).iter().zip(&site.chambers).enumerate() {
        let beam = span_beam::across(site);
        let bay = beam.as_ref().map_or(&site.width, |y| &y[0]);
        let across = if beam.is_some() { "room beside the span beam" } else { "tank" };
        for (k, room, what, way) in [(0, chamber, "chamber", "long"), (1, bay, across, "wide")] {
            if site.less(room, &hole.size[k]) {
                let place = job.place(&format!("tank.cover.manholes[{i}][{k}]"));
                let problem = Problem::error("J054", place, "the manhole does not fit over its chamber")
                    .label(format!("the {what} is {} mm {way} here", site.mm(room)))
                    .hint("a manhole lies clear of walls and beams: make it smaller");
                job.report(problem);
            }
        }
        let ends = i == 0 || i + 1 == site.chambers.len();
        let [x, y] = &hole.at;
        let hits = |span: &Span, clear: &Len, by: &Len| {
            site.less(&span[0], by) || site.less(&(clear - by), &span[1])
        };
        let hits = || hits(x, &site.length, &stands_in[0]) && hits(y, &site.width, &stands_in[1]);
        let inward = || stands_in.iter().all(|s| site.less(&Len::ZERO, s));
        if ends && job.has("tank.columns") && inward() && hits() {
            let problem = Problem::error(
                "J055",
                job.place(&format!("tank.cover.manholes[{i}]")),
                "the manhole meets a column",
            )
            .label("a column stands inward under it")
            .hint("make the manhole narrower, or the columns smaller");
            job.report(problem);
        }
    }
    let height = &job.len("tank.height");
    for path in ["tank.cover.wall_beams", "tank.cover.span_beam.depth"] {
        if !job.len(path).is_zero() && !site.less(&job.len(path), height) {
            let problem = Problem::error("J056", job.place(path), "the beam is as deep as the tank")
                .label(format!("the tank is {} mm high", site.mm(height)))
                .hint("beams under a cover are usually 150 to 300 mm deep");
            job.report(problem);
        }
    }
}
