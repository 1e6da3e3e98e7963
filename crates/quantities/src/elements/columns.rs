//! Columns in the corners of the outer plan, from the floor to the underside of the cover, with pockets under them.
//!
//! A column larger than the wall stands inward; one smaller leaves masonry behind it.

use tankwright_geometry::{Axis, Len, Ratio, Z};

use crate::elements::{Element, backfill};
use crate::job::{Fallback, Field, Kind, Presence};
use crate::ledger::{Book, Carrier, Claim, Face, Lift, Rank, SetOut, Side, Spec, count};
use crate::model::Model;
use crate::problem::Problem;
use crate::site::{Over, Site};
use crate::stage::Stage;
use crate::steel::{Bench, Equal, Uprights};
use crate::words::Phrase;
use crate::works::{concrete, earthwork, formwork};

/// The element.
pub static ELEMENT: Columns = Columns;

/// Corner columns.
#[derive(Debug)]
pub struct Columns;

const PART: &str = "tank.columns";

static CODES: &[(&str, &str)] = &[
    ("J041", "two columns that meet in the middle of the tank"),
    ("J042", "a column that meets a partition"),
];

static FIELDS: &[Field] = &[
    Field::part(PART, Presence::Optional, "columns at the four corners"),
    Field::value(
        "tank.columns.size",
        Kind::Size { least: 500, most: 20_000 },
        Fallback::Required,
        "along the tank, across it",
    ),
    Field::value(
        "tank.columns.mix",
        Kind::Mix { parts: 3 },
        Fallback::Default("1:1.5:3", "common practice, no source"),
        "concrete",
    ),
    Field::length(
        "tank.columns.pocket",
        0,
        Fallback::Nothing,
        "dug and concreted below the dig, on the column's plan",
    ),
];

/// Extents of the columns along an axis: first and last.
fn spans(size: &Len, wall: &Len, clear: &Len) -> [[Len; 2]; 2] {
    let outer = clear + wall;
    [[-wall, size - wall], [&outer - size, outer]]
}

fn lifts(site: &Site<'_>) -> Vec<Lift> {
    site.lifts(&site.cover_bottom, Over::Beam)
}

fn spec(site: &Site<'_>) -> Spec {
    Spec::of(&concrete::CONCRETE_COLUMN, site.job.text("tank.columns.mix"), &[])
}

fn pocket_specs(site: &Site<'_>) -> [Spec; 2] {
    let mix = site.job.text("tank.base.concrete.mix");
    [Spec::plain(&earthwork::EXCAVATION_POCKET), Spec::of(&concrete::CONCRETE_POCKET, mix, &[])]
}

impl Element for Columns {
    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn codes(&self) -> &'static [(&'static str, &'static str)] {
        CODES
    }

    fn set_out(&self, site: &Site<'_>, out: &mut SetOut) {
        if !site.job.has(PART) {
            return;
        }
        let [a, b] = site.job.size("tank.columns.size");
        refuse(site, [&a, &b]);
        let (xs, ys) = (spans(&a, &site.wall, &site.length), spans(&b, &site.wall, &site.width));
        let (floor, top) = (site.on_floor(), Z::flat(site.cover_bottom.clone()));
        let (spec, lifts, form) = (spec(site), lifts(site), Spec::plain(&formwork::FORMWORK_COLUMN));
        let pocket = site.job.len("tank.columns.pocket");
        let bottom = site.dig_bottom();
        let below = Z::floor(&bottom.off - &pocket);
        let [_, in_pocket] = pocket_specs(site);
        for (i, x) in xs.iter().enumerate() {
            for (j, y) in ys.iter().enumerate() {
                for x in bends(site, x) {
                    let block = Site::block([&x[0], &x[1]], [&y[0], &y[1]], [&floor, &top]);
                    let claim = Claim::new("column", Rank::COLUMN, &spec, Stage::WallsLower, block);
                    out.claims.push(claim.in_lifts(&lifts));
                }
                if !pocket.is_zero() {
                    let block = Site::block([&x[0], &x[1]], [&y[0], &y[1]], [&below, &bottom]);
                    out.claims.push(Claim::new("pocket", Rank::BASE, &in_pocket, Stage::Base, block));
                }
                let look_x = (Axis::X, if i == 0 { Side::High } else { Side::Low });
                let look_y = (Axis::Y, if j == 0 { Side::High } else { Side::Low });
                let inner_x = &x[1 - i];
                let inner_y = &y[1 - j];
                let (clear_x, clear_y) = (inward(site, x, i, &site.length), inward(site, y, j, &site.width));
                let mut face =
                    |plain: &Spec, carrier, look, x: [&Len; 2], y: [&Len; 2], z: [&Z; 2], stages: &[Lift]| {
                        let block = Site::block(x, y, z);
                        out.faces.push(
                            Face::new(plain, Rank::COLUMN, carrier, look, Stage::Plaster, block)
                                .in_lifts(stages),
                        );
                    };
                let whole = Lift::one(Stage::Plaster, [floor.clone(), top.clone()]);
                if let (Some(y), true) = (&clear_y, at_least(site, &a)) {
                    let (x, y) = ([inner_x, inner_x], [&y[0], &y[1]]);
                    face(&form, Carrier::Formed, look_x, x, y, [&floor, &top], &lifts);
                    if let (Some(plaster), Some(_)) = (site.plaster(), &clear_x) {
                        face(plaster, Carrier::Lined, look_x, x, y, [&floor, &top], &whole);
                    }
                }
                if let (Some(x), true) = (&clear_x, at_least(site, &b)) {
                    let (x, y) = ([&x[0], &x[1]], [inner_y, inner_y]);
                    face(&form, Carrier::Formed, look_y, x, y, [&floor, &top], &lifts);
                    if let (Some(plaster), Some(_)) = (site.plaster(), &clear_y) {
                        face(plaster, Carrier::Lined, look_y, x, y, [&floor, &top], &whole);
                    }
                }
                let Some([low, high]) = site.outside(&[floor.clone(), top.clone()]) else { continue };
                let (out_x, out_y) = (&x[i], &y[j]);
                let away = |side: Side| if side == Side::High { Side::Low } else { Side::High };
                face(
                    &form,
                    Carrier::Formed,
                    (Axis::X, away(look_x.1)),
                    [out_x, out_x],
                    [&y[0], &y[1]],
                    [&low, &high],
                    &lifts,
                );
                for piece in if low.follows { bends(site, x) } else { vec![x.clone()] } {
                    let x = [&piece[0], &piece[1]];
                    face(
                        &form,
                        Carrier::Formed,
                        (Axis::Y, away(look_y.1)),
                        x,
                        [out_y, out_y],
                        [&low, &high],
                        &lifts,
                    );
                }
            }
        }
    }

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        if !site.job.has(PART) {
            return;
        }
        let [a, b] = site.job.size("tank.columns.size");
        let (spec, form) = (spec(site), Spec::plain(&formwork::FORMWORK_COLUMN));
        let t = &site.wall;
        let (in_a, in_b) = (&a - t, &b - t);
        let ends = [("at-inlet", Len::ZERO), ("at-outlet", site.length.clone())];
        for lift in lifts(site) {
            for (i, (key, end)) in ends.iter().enumerate() {
                // What stands inward stands over the falling part of the floor.
                let inner = if i == 0 { in_a.clone() } else { &site.length - &in_a };
                let level = site.lift_height(&lift, [end, end]);
                let slope = lift.z[0].follows && !site.floor.fall.is_zero();
                let note = || Phrase::new(if i == 0 { "columns-at-inlet" } else { "columns-at-outlet" });
                if slope && site.judge.positive(&in_a) {
                    let mean = site.lift_height(&lift, if i == 0 { [end, &inner] } else { [&inner, end] });
                    book.line(&spec, lift.stage, note(), &[count(2)], &[t, &b, &level]);
                    book.line(
                        &spec,
                        lift.stage,
                        Phrase::with("standing-inward", &[key]),
                        &[count(2)],
                        &[&in_a, &b, &mean],
                    );
                } else {
                    book.line(&spec, lift.stage, note(), &[count(2)], &[&a, &b, &level]);
                }
                let at_inner = site.lift_height(&lift, [&inner, &inner]);
                let mean = site.lift_height(&lift, if i == 0 { [end, &inner] } else { [&inner, end] });
                if at_least(site, &a) && site.judge.positive(&in_b) {
                    book.line(
                        &form,
                        lift.stage,
                        Phrase::with("column-across", &[key]),
                        &[count(2)],
                        &[&in_b, &at_inner],
                    );
                }
                if at_least(site, &b) && site.judge.positive(&in_a) {
                    book.line(
                        &form,
                        lift.stage,
                        Phrase::with("column-along", &[key]),
                        &[count(2)],
                        &[&in_a, &mean],
                    );
                }
                outside(site, book, &lift, &form, (key, end), [&a, &b, &in_a]);
            }
        }
        if let Some(plaster) =
            site.plaster().filter(|_| site.judge.positive(&in_a) && site.judge.positive(&in_b))
        {
            let height = |x: [&Len; 2]| site.above_floor(&site.cover_bottom, x);
            for (i, (key, end)) in ends.iter().enumerate() {
                let inner = if i == 0 { in_a.clone() } else { &site.length - &in_a };
                let along = if i == 0 { [end, &inner] } else { [&inner, end] };
                let s = Stage::Plaster;
                book.line(
                    plaster,
                    s,
                    Phrase::with("column-across", &[key]),
                    &[count(2)],
                    &[&in_b, &height([&inner, &inner])],
                );
                book.line(
                    plaster,
                    s,
                    Phrase::with("column-along", &[key]),
                    &[count(2)],
                    &[&in_a, &height(along)],
                );
            }
        }
        let pocket = site.job.len("tank.columns.pocket");
        for spec in pocket_specs(site) {
            let stage = spec.work.stage;
            book.line(&spec, stage, Phrase::new("pockets"), &[count(4)], &[&a, &b, &pocket]);
        }
        let away = backfill::disposal(site);
        book.line(&away, Stage::Dig, Phrase::new("pockets"), &[count(4)], &[&a, &b, &pocket]);
    }

    fn reinforce(&self, site: &Site<'_>, bench: &mut Bench<'_>) {
        if !site.job.has(PART) {
            return;
        }
        let floor = |x: &Len| site.floor.at(site.judge, x);
        let equal = |words, columns, at: &Len| Equal { words, columns, floor: floor(at) };
        let all = if site.floor.fall.is_zero() {
            vec![equal(["bars-column", "bars-column-links"], 4, &Len::ZERO)]
        } else {
            vec![
                equal(["bars-column-inlet", "bars-column-links-inlet"], 2, &Len::ZERO),
                equal(["bars-column-outlet", "bars-column-links-outlet"], 2, &site.length),
            ]
        };
        let pocket = site.job.len("tank.columns.pocket");
        let deep = if pocket.is_zero() { site.layers.base.clone() } else { &site.layers_deep() + &pocket };
        let (size, slab) =
            (site.job.size("tank.columns.size"), [site.cover_bottom.clone(), site.cover_top.clone()]);
        let (part, title, starters) = ("steel.columns", "draw-column", "bars-starters");
        let [x, y] = [spans(&size[0], &site.wall, &site.length), spans(&size[1], &site.wall, &site.width)];
        let plan = [x, y].map(|[first, _]| first);
        Uprights { part, title, starters, size, deep, slab, plan, all }.reinforce(bench);
    }

    fn prove(&self, site: &Site<'_>, model: &Model, book: &mut Book<'_>) {
        // The hole is what fills it: the model's own filling.
        let [dig, fill] = pocket_specs(site);
        let filled = model.fills(&fill, Stage::Base);
        for spec in [dig, backfill::disposal(site)] {
            book.prove(&spec, Stage::Dig, &filled * Ratio::int(1_000_000_000_000));
        }
    }
}

/// Open faces outside, in one lift.
fn outside(
    site: &Site<'_>,
    book: &mut Book<'_>,
    lift: &Lift,
    form: &Spec,
    end: (&str, &Len),
    dims: [&Len; 3],
) {
    let Some([low, high]) = site.outside(&lift.z) else { return };
    let open = Lift { stage: lift.stage, z: [low.clone(), high] };
    let ([a, b, in_a], (key, x)) = (dims, end);
    let level = site.lift_height(&open, [x, x]);
    book.line(form, lift.stage, Phrase::with("column-outside-across", &[key]), &[count(2)], &[b, &level]);
    if low.follows && !site.floor.fall.is_zero() && site.judge.positive(in_a) {
        let inner = if x.is_zero() { in_a.clone() } else { &site.length - in_a };
        let mean = site.lift_height(&open, if x.is_zero() { [x, &inner] } else { [&inner, x] });
        book.line(
            form,
            lift.stage,
            Phrase::with("column-outside-along", &[key]),
            &[count(2)],
            &[&site.wall, &level],
        );
        book.line(
            form,
            lift.stage,
            Phrase::with("column-outside-along", &[key]),
            &[count(2)],
            &[in_a, &mean],
        );
    } else {
        book.line(form, lift.stage, Phrase::with("column-outside-along", &[key]), &[count(2)], &[a, &level]);
    }
}

/// Does the column reach the inner plane of the wall?
fn at_least(site: &Site<'_>, size: &Len) -> bool {
    site.judge.cmp(size, &site.wall).is_ge()
}

/// The part of a column's extent that lies inside the clear extent.
fn inward(site: &Site<'_>, span: &[Len; 2], last: usize, clear: &Len) -> Option<[Len; 2]> {
    let zero = Len::ZERO;
    let inner = if last == 0 { [zero, span[1].clone()] } else { [span[0].clone(), clear.clone()] };
    site.judge.cmp(&inner[0], &inner[1]).is_lt().then_some(inner)
}

/// Cut where the floor bends under the column.
fn bends(site: &Site<'_>, x: &[Len; 2]) -> Vec<[Len; 2]> {
    if site.floor.fall.is_zero() {
        return vec![x.clone()];
    }
    let within = |p: &Len| site.judge.cmp(&x[0], p).is_lt() && site.judge.cmp(p, &x[1]).is_lt();
    for p in [Len::ZERO, site.length.clone()] {
        if within(&p) {
            return vec![[x[0].clone(), p.clone()], [p, x[1].clone()]];
        }
    }
    vec![x.clone()]
}

fn refuse(site: &Site<'_>, size: [&Len; 2]) {
    let place = |i: usize| site.job.place(&format!("tank.columns.size[{i}]"));
    let twice = |len: &Len| len.times(2);
    for (i, outer, what) in [(0, site.outer_length(), "length"), (1, site.outer_width(), "width")] {
        if site.less(&outer, &twice(size[i])) {
            let problem = Problem::error("J041", place(i), "two columns meet in the middle of the tank")
                .label(format!("two of these are more than the outer {what}, {} mm", site.mm(&outer)))
                .hint(format!("make it at most {} mm", site.mm(&outer.half())));
            site.job.report(problem);
        }
    }
    let ends = spans(size[0], &site.wall, &site.length);
    let meets = |p: &[Len; 2], c: &[Len; 2]| site.less(&p[0], &c[1]) && site.less(&c[0], &p[1]);
    let stands_in = site.less(&site.wall, size[1]);
    if stands_in && site.partitions.iter().any(|p| ends.iter().any(|c| meets(p, c))) {
        let problem = Problem::error("J042", place(0), "a column meets a partition")
            .label("it stands inward as far as the partition")
            .hint("make the column shorter along the tank, or move the partition by changing the chambers");
        site.job.report(problem);
    }
}
