//! The same tank under three methods, from the limits of each.
//! The tank of section 2.2 with pipes of 110 mm through its one-brick end walls: two manholes 600 x 600 in a cover of
//! 120 mm, the ends of a half-brick baffle 1.50 m high on the plaster.
//!
//! The table is before totals are rounded: SMM7 and NRM2 round to whole units. "Baffle ends 0.165 m2 each": 0.11 x 1.50.
//! East Africa is no column of it: it keeps the manholes in the slab and, as they lie against the end walls, takes them
//! off the soffit (see 2.2). SMM7 and NRM2 are read here at the edge of the slab, in which the manholes lie well inside.

use rust_decimal::Decimal;
use tankwright_quantities::decimal::{ratio, rounded};
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::sheet::Judged;
use tankwright_tests::figures::{Figure, Publication, near, same};
use tankwright_tests::measured;

pub(super) const OF: Publication = Publication {
    title: "One tank, three methods of measurement",
    source: "The project's notes on trade practice, section 1.3: worked there from the limits of each method",
    remarks: &[
        "The table is before totals are rounded.",
        "East Africa is no column of it. SMM7 and NRM2 are read at the edge of the slab, in which the manholes lie well inside.",
    ],
};

const JOB: &str = r#"
format = 1
[job]
title = "one tank, three methods"
date = "2026-11-25"
currency = "UGX"
[tank]
chambers = ["1.93 m", "0.96 m"]
width = "1.20 m"
height = "1.80 m"
[tank.walls]
thickness = "230 mm"
[tank.partitions]
thickness = "110 mm"
air_gap = "300 mm"
[tank.cover]
thickness = "120 mm"
manholes = [["600 mm", "600 mm"], ["600 mm", "600 mm"]]
[tank.plaster]
[tank.pipes]
inlet = { diameter = "110 mm", below_top = "350 mm" }
outlet = { diameter = "110 mm", below_top = "400 mm" }
"#;

const METHODS: [&str; 4] = ["exact", "is-1200", "smm7", "nrm2"];

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn under(profile: &str) -> Estimate {
    measured(JOB, Some(profile)).unwrap_or_else(|f| panic!("{profile}: {f:?}"))
}

/// What the lines of a work come to, three places, before the total is rounded.
fn booked(e: &Estimate, work: &str) -> Decimal {
    let lines = e.sheet.items.iter().filter(|i| i.work.id == work).flat_map(|i| &i.lines);
    rounded(lines.map(|l| l.value).sum(), 3).unwrap()
}

fn judged<'a>(e: &'a Estimate, work: &str, what: &str) -> Vec<&'a Judged> {
    let all = e.sheet.items.iter().filter(|i| i.work.id == work).flat_map(|i| &i.judged);
    all.filter(|j| j.what.key == what).collect()
}

/// What comes off the plaster where the baffle meets the walls.
fn ends_off(e: &Estimate) -> Decimal {
    let lines = e.sheet.items.iter().filter(|i| i.work.id == "plaster-wall").flat_map(|i| &i.lines);
    let ends = lines.filter(|l| l.note.key == "less" && l.note.args == ["partition"]);
    rounded(ends.map(|l| l.value).sum(), 3).unwrap().normalize()
}

pub(super) fn figures() -> Vec<Figure> {
    let mut all = Vec::new();
    // Cover slab, and why: see below. Soffit: 3.00 x 1.20, less 2 x 0.36 by exact; 0.36 is under 0.4 m2 and under 5 m2.
    let table = [
        ["0.603", "2.88", "0.33"],
        ["0.603", "3.60", "0"],
        ["0.689", "3.60", "0.33"],
        ["0.689", "3.60", "0.33"],
    ];
    for (method, [cover, soffit, ends]) in METHODS.into_iter().zip(table) {
        let e = under(method);
        all.push(same(&format!("{method}: cover slab, m3"), cover, booked(&e, "concrete-cover")));
        all.push(same(&format!("{method}: soffit form, m2"), soffit, booked(&e, "formwork-cover-soffit")));
        all.push(same(&format!("{method}: baffle ends off the plaster, m2"), ends, -ends_off(&e)));
    }
    let is = under("is-1200");
    all.push(near(
        "a pipe hole in the wall, m2",
        "0.0095",
        judged(&is, "brickwork-wall", "pipe-hole")[0].size,
    ));
    all.push(same("a baffle end, m2", "0.165", judged(&is, "plaster-wall", "partition")[0].size));
    all
}

#[test]
fn cover_slab() {
    // 3.46 x 1.66 x 0.12, less 2 x 0.6 x 0.6 x 0.12 where they are deducted.
    let whole = d("3.46") * d("1.66") * d("0.12");
    let less = whole - d("2") * d("0.6") * d("0.6") * d("0.12");
    assert_eq!([less, whole].map(|v| v.round_dp(3)), ["0.603", "0.689"].map(d));
    // Why: 0.36 m2 is over 0.1 m2; 0.0432 m3 is under 0.05 m3.
    for (method, kept, size, limit) in [("is-1200", false, "0.36", "0.1"), ("smm7", true, "0.0432", "0.05")] {
        let e = under(method);
        let [hole] = judged(&e, "concrete-cover", "manhole")[..] else { panic!("{method}") };
        assert_eq!((hole.times, hole.kept), (2, kept), "{method}");
        assert_eq!((hole.size, hole.limit), (ratio(d(size)), Some(ratio(d(limit)))), "{method}");
    }
    // 0.689 m3 is billed as 1 m3 by the rule of whole units.
    assert_eq!(tankwright_tests::quantity(&under("smm7"), "concrete-cover"), d("1"));
}

#[test]
fn pipe_holes_in_the_wall() {
    // Exact deducts them, all methods keep them.
    for method in METHODS {
        let e = under(method);
        let holes = judged(&e, "brickwork-wall", "pipe-hole");
        assert_eq!(holes.iter().map(|h| h.times).sum::<i64>(), 2, "{method}");
        for hole in holes {
            // 3.1416 x 0.11 x 0.11 / 4
            assert_eq!(rounded(hole.size, 4).unwrap(), d("0.0095"));
            assert_eq!(hole.kept, method != "exact", "{method}");
        }
    }
}

#[test]
fn baffle_ends_on_the_plaster() {
    // 2 x 0.11 x 1.50 = 0.33 off; IS 1200 keeps ends up to 0.5 m2; to the SMM family it is an abutment.
    assert_eq!(METHODS.map(|m| ends_off(&under(m))), ["-0.33", "0", "-0.33", "-0.33"].map(d));
    let is = under("is-1200");
    let [end] = judged(&is, "plaster-wall", "partition")[..] else { panic!("one kind of end") };
    assert_eq!((end.times, end.kept, end.size), (2, true, ratio(d("0.165"))));
}
