//! Hanging concrete boards across the tank, built into the side walls at both ends (scum boards, baffles).

use tankwright_geometry::{Axis, Len, Z};

use crate::elements::Element;
use crate::job::{Fallback, Field, Kind, Presence};
use crate::ledger::{Book, Carrier, Claim, Face, Rank, SetOut, Side, Spec, count};
use crate::problem::Problem;
use crate::site::Site;
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::boards as works;

/// The element.
pub static ELEMENT: Boards = Boards;

/// Hanging boards.
#[derive(Debug)]
pub struct Boards;

static CODES: &[(&str, &str)] = &[
    ("J059", "a board that reaches below the floor"),
    ("J060", "a board built in deeper than the wall"),
    ("J061", "a board that does not hang inside one chamber"),
    ("J062", "two boards in each other's way"),
];

static FIELDS: &[Field] = &[
    Field::part("tank.boards[]", Presence::List, "a hanging concrete board across the tank"),
    Field::length(
        "tank.boards[].from_inlet",
        0,
        Fallback::Required,
        "clear distance from the inlet wall to the board",
    ),
    Field::length("tank.boards[].thickness", 300, Fallback::Required, "thickness"),
    Field::length("tank.boards[].depth", 500, Fallback::Required, "depth"),
    Field::length("tank.boards[].below_top", 0, Fallback::Required, "top edge, below the top of the masonry"),
    Field::length("tank.boards[].built_in", 0, Fallback::Nothing, "into each side wall"),
    Field::value(
        "tank.boards[].mix",
        Kind::Mix { parts: 3 },
        Fallback::Default("1:1.5:3", "common practice, no source"),
        "concrete",
    ),
];

struct Board {
    mix: String,
    x: [Len; 2],
    z: [Len; 2],
    thickness: Len,
    depth: Len,
    built_in: Len,
}

fn boards(site: &Site<'_>) -> Vec<Board> {
    let one = |i: usize| {
        let get = |k: &str| site.job.len(&format!("tank.boards[{i}].{k}"));
        let (from, thickness, depth) = (get("from_inlet"), get("thickness"), get("depth"));
        let top = &site.masonry_top - &get("below_top");
        let mix = site.job.text(&format!("tank.boards[{i}].mix")).to_owned();
        let (x, z) = ([from.clone(), &from + &thickness], [&top - &depth, top]);
        Board { mix, x, z, thickness, depth, built_in: get("built_in") }
    };
    (0..site.job.count_of("tank.boards")).map(one).collect()
}

/// Does a board touch the end wall's inner face at `x` between two levels?
#[must_use]
pub fn stands_at(site: &Site<'_>, x: &Len, z: [&Len; 2]) -> bool {
    let touches = |b: &Board| b.x.iter().any(|face| site.same(face, x));
    boards(site).iter().any(|b| touches(b) && site.less(&b.z[0], z[1]) && site.less(z[0], &b.z[1]))
}

impl Element for Boards {
    fn fields(&self) -> &'static [Field] {
        FIELDS
    }

    fn codes(&self) -> &'static [(&'static str, &'static str)] {
        CODES
    }

    fn set_out(&self, site: &Site<'_>, out: &mut SetOut) {
        let (s, form) = (Stage::WallsLower, Spec::plain(&works::FORMWORK_BOARD));
        let (zero, w) = (Len::ZERO, &site.width);
        for (i, b) in boards(site).iter().enumerate() {
            refuse(site, i, b);
            let spec = Spec::of(&works::CONCRETE_BOARD, &b.mix, &[]);
            let z = b.z.clone().map(Z::flat);
            let ends = [&-&b.built_in, &(w + &b.built_in)];
            let block = Site::block([&b.x[0], &b.x[1]], ends, [&z[0], &z[1]]);
            out.claims.push(Claim::new("board", Rank::BOARD, &spec, s, block));
            let faces = [
                ([&b.x[0], &b.x[0]], [&z[0], &z[1]], (Axis::X, Side::Low)),
                ([&b.x[1], &b.x[1]], [&z[0], &z[1]], (Axis::X, Side::High)),
                ([&b.x[0], &b.x[1]], [&z[0], &z[0]], (Axis::Z, Side::Low)),
            ];
            for (x, z, look) in faces {
                let block = Site::block(x, [&zero, w], z);
                out.faces.push(Face::new(&form, Rank::BOARD, Carrier::Formed, look, s, block));
            }
        }
    }

    fn measure(&self, site: &Site<'_>, book: &mut Book<'_>) {
        let (s, form, w) = (Stage::WallsLower, Spec::plain(&works::FORMWORK_BOARD), &site.width);
        for b in boards(site) {
            let spec = Spec::of(&works::CONCRETE_BOARD, &b.mix, &[]);
            let run = w + &b.built_in.times(2);
            book.line(&spec, s, Phrase::new("board"), &[count(1)], &[&run, &b.thickness, &b.depth]);
            book.line(&form, s, Phrase::new("board-faces"), &[count(2)], &[w, &b.depth]);
            book.line(&form, s, Phrase::new("underside"), &[count(1)], &[w, &b.thickness]);
        }
    }
}

fn refuse(site: &Site<'_>, i: usize, b: &Board) {
    let report = |code, key: &str, what: &str, label: String, hint: &str| {
        let place = site.job.place(&format!("tank.boards[{i}].{key}"));
        site.job.report(Problem::error(code, place, what).label(label).hint(hint));
    };
    let floor = site.floor.at(site.judge, &b.x[1]);
    if site.less(&b.z[0], &floor) {
        report(
            "J059",
            "depth",
            "the board reaches below the floor",
            "it hangs lower than the floor under it".to_owned(),
            "make it less deep or hang it higher",
        );
    }
    if site.less(&site.wall, &b.built_in) {
        let label = format!("the side walls are {} mm thick", site.mm(&site.wall));
        report(
            "J060",
            "built_in",
            "the board is built in deeper than the wall",
            label,
            "at most the thickness of the wall",
        );
    }
    let hits = |s: &[Len; 2]| site.less(&b.x[0], &s[1]) && site.less(&s[0], &b.x[1]);
    let end = site.less(&site.length, &b.x[1]);
    if end || site.partitions.iter().any(hits) {
        report(
            "J061",
            "from_inlet",
            "the board does not hang inside one chamber",
            if end { "it meets the end wall" } else { "it meets a partition" }.to_owned(),
            "measure from the inner face of the inlet wall to the nearer face of the board",
        );
    }
    let over = |o: &Board| hits(&o.x) && site.less(&b.z[0], &o.z[1]) && site.less(&o.z[0], &b.z[1]);
    if boards(site)[..i].iter().any(over) {
        report(
            "J062",
            "from_inlet",
            "two boards are in each other's way",
            "an earlier board hangs here".to_owned(),
            "move one of them",
        );
    }
}
