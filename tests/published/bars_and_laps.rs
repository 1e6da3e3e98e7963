//! Bars: lengths by BS 8666:2005, masses per metre, laps, and the mesh of the worked sheet of trade practice. d2 / 162 gives
//! 0.889 for 12 mm.

use tankwright_geometry::{Len, Ratio};
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::sheet::Times;
use tankwright_quantities::steel::{Mark, Shape};
use tankwright_tests::figures::{Figure, Publication, near, same, slip};
use tankwright_tests::{measured, stock};

pub(super) const OF: Publication = Publication {
    title: "Bars: lengths, bending data, masses, laps, a mesh, six-metre bars",
    source: "BS 8666:2005 by fabricators' reproductions (S45 of the project's notes on quantities, section 4.3; lengths worked there by its formulas), masses (4.1), laps (4.5: S49 Eurocode 2, S50 BS 8110, S68 six-metre bars); the mesh of section 2.2 of the notes on trade practice",
    remarks: &[
        "d2 / 162 gives 0.889 kg/m for 12 mm.",
        "Of the bars as they are cut, each up to the next 25 mm, only the figures before are published.",
    ],
};

fn mm(n: i64) -> Len {
    Len::fixed(n * 10)
}

/// Length by the formula, mm.
fn length(shape: &Shape, d: u32) -> Ratio {
    shape.sum(&stock().bars.sizes[&d]).value() / Ratio::int(10)
}

pub(super) fn figures() -> Vec<Figure> {
    [lengths(), masses(), bending_data(), laps(), mesh(), ring_beam()].concat()
}

/// Lengths of shape 11 and 21.
fn lengths() -> Vec<Figure> {
    let corner = |a, b| Shape::Corner { a: mm(a), b: mm(b) };
    let ends = Shape::Ends { a: mm(300), b: mm(1500), c: mm(300) };
    vec![
        // A + (B) - 0.5r - d
        same("shape 11, 10 mm, 1500 + 300: mm", "1780", length(&corner(1500, 300), 10)), // - 20 / 2 - 10
        same("shape 11, 12 mm, 1000 + 400: mm", "1376", length(&corner(1000, 400), 12)), // - 24 / 2 - 12
        same("shape 11, 20 mm, 2000 + 600: mm", "2545", length(&corner(2000, 600), 20)), // - 70 / 2 - 20
        // A + B + (C) - r - 2d
        same("shape 21, 10 mm, 300 + 1500 + 300: mm", "2060", length(&ends, 10)), // - 20 - 2 * 10
    ]
}

/// 4.1, 0.00785 x area.
fn masses() -> Vec<Figure> {
    let printed = [
        (6, "0.222"),
        (8, "0.395"),
        (10, "0.617"),
        (12, "0.888"),
        (16, "1.578"),
        (20, "2.466"),
        (25, "3.853"),
        (32, "6.313"),
    ];
    let mass = |d| stock().bars.mass_per_metre(d);
    let mut all: Vec<Figure> =
        printed.iter().map(|(d, kg)| same(&format!("mass of {d} mm, kg/m"), kg, mass(*d))).collect();
    let why = "7850 x pi / 4 x d2";
    all.push(slip("mass of 10 mm by the fabricator's table, kg/m", "0.616", "0.617", mass(10), why));
    all.push(slip("mass of 16 mm by the fabricator's table, kg/m", "1.579", "1.578", mass(16), why));
    all
}

/// BS 8666, table 2; least size of two bends: 4.2.
fn bending_data() -> Vec<Figure> {
    // d, r, P, P of links, least size of two bends.
    let printed = [
        (6, ["12", "110", "110", "60"]),
        (8, ["16", "115", "115", "80"]),
        (10, ["20", "120", "130", "100"]),
        (12, ["24", "125", "160", "120"]),
        (16, ["32", "130", "210", "160"]),
        (20, ["70", "190", "290", "260"]),
        (25, ["87", "240", "365", "325"]),
        (32, ["112", "305", "465", "416"]),
    ];
    let mut all = Vec::new();
    for (d, want) in printed {
        let s = &stock().bars.sizes[&d];
        let ours = [s.radius, s.projection, s.projection_links, s.two_bends];
        let named = ["radius", "projection", "projection of links", "least of two bends"];
        for ((name, want), ours) in named.into_iter().zip(want).zip(ours) {
            all.push(same(&format!("{d} mm: {name}, mm"), want, Ratio::of(ours.into(), 10)));
        }
    }
    all
}

fn laps() -> Vec<Figure> {
    let laps = &stock().bars.laps;
    let lap = |id: &str, d: u32| laps[id].lap(d).map_or(Ratio::UNKNOWN, |l| l / Ratio::int(10));
    let mut all = Vec::new();
    for (d, good, poor) in [(8, "340", "480"), (12, "610", "870"), (16, "890", "1270"), (32, "1940", "2770")]
    {
        all.push(same(&format!("lap of {d} mm by Eurocode 2, good, mm"), good, lap("ec2-c25-good-all", d)));
        all.push(same(&format!("lap of {d} mm by Eurocode 2, poor, mm"), poor, lap("ec2-c25-poor-all", d)));
    }
    // 40 and 32 diameters.
    all.push(same("lap of 12 mm by BS 8110, tension, mm", "480", lap("bs8110-30-tension", 12)));
    all.push(same("lap of 12 mm by BS 8110, compression, mm", "384", lap("bs8110-30-compression", 12)));
    all
}

#[test]
fn laps_that_are_not_there_and_the_default() {
    assert_eq!(stock().bars.laps["ec2-c25-good-all"].lap(6), None);
    assert_eq!(stock().bars.lap_rule().map(|l| l.id.as_str()), Some("bs8110-30-tension"));
}

const MESH: &str = r#"
format = 1
[job]
title = "worked sheet 2.2"
date = "2026-11-25"
currency = "UGX"
profile = "exact"
[tank]
chambers = ["3.00 m"]
width = "1.20 m"
height = "1.80 m"
[tank.pit]
face = "open"
[tank.base]
concrete = { thickness = "150 mm" }
projection = "150 mm"
[tank.walls]
thickness = "230 mm"
[steel]
base = { short = "Y10@150", long = "Y10@150" }
cover_to_steel = "50 mm"
"#;

fn marks(e: &Estimate) -> &[Mark] {
    &e.steel.marks
}

fn metres(m: &Mark) -> Ratio {
    Ratio::from(m.count as i64) * m.sum.value() / Ratio::int(10_000)
}

/// Base 3.76 x 1.96, cover 50, 150 c/c.
fn mesh() -> Vec<Figure> {
    let e = measured(MESH, None).unwrap();
    let [short, long] = marks(&e) else { panic!("{:?}", marks(&e)) };
    let sum = metres(short) + metres(long);
    vec![
        same("mesh: bars along", "14", long.count as i64),
        same("mesh: length along, m", "3.66", long.sum.value() / Ratio::int(10_000)),
        same("mesh: bars across", "26", short.count as i64),
        same("mesh: length across, m", "1.86", short.sum.value() / Ratio::int(10_000)),
        same("mesh: all bars, m", "99.6", sum), // 14 x 3.66 + 26 x 1.86
        near("mesh: by 0.617, kg", "61.5", sum * Ratio::of(617, 1000)),
    ]
}

#[test]
fn mesh_of_the_worked_sheet_as_cut() {
    let e = measured(MESH, None).unwrap();
    let [short, long] = marks(&e) else { panic!("{:?}", marks(&e)) };
    // As cut, each up to the next 25 mm: 1.875 and 3.675.
    let kg = (Ratio::of(26 * 1875, 1000) + Ratio::of(14 * 3675, 1000)) * Ratio::of(617, 1000);
    assert_eq!(short.mass + long.mass, kg);
    let item = e.sheet.find("bars/Y10/base").unwrap();
    assert_eq!(tankwright_quantities::decimal::ratio(item.quantity), kg);
    assert!(matches!(item.lines[0].times[1], Times::Spaces { value: 26, .. }));
}

fn in_a_ring_beam() -> Estimate {
    // S68: 2 x 24.8 m of 6 m bars, 8 joints of 40d (12 mm: 0.48): 2 x 24.8 + 8 x 0.48 = 53.44.
    let text = MESH
        .replace("chambers = [\"3.00 m\"]", "chambers = [\"24.42 m\"]")
        .replace("projection = \"150 mm\"", "projection = \"0 mm\"")
        .replace(
            "base = { short = \"Y10@150\", long = \"Y10@150\" }",
            "base = { short = \"Y12@1000\", long = \"Y12@2000\" }",
        )
        .replace("cover_to_steel = \"50 mm\"", "cover_to_steel = \"40 mm\"\nstock_length = \"6 m\"");
    // 24.42 + 2 x 0.23 - 2 x 0.04 = 24.80; 1.20 + 2 x 0.23 - 2 x 0.04 = 1.58: two bars at most 2 m apart.
    measured(&text, None).unwrap()
}

fn along(e: &Estimate) -> Vec<&Mark> {
    marks(e).iter().filter(|m| m.member.to_string() == "base, along").collect()
}

fn ring_beam() -> Vec<Figure> {
    let e = in_a_ring_beam();
    vec![same(
        "2 x 24.8 m of 12 mm in bars of 6 m, m",
        "53.44",
        along(&e).into_iter().map(metres).sum::<Ratio>(),
    )]
}

#[test]
fn six_metre_bars_in_a_ring_beam() {
    let e = in_a_ring_beam();
    let long = along(&e);
    let got: Vec<_> = long.iter().map(|m| (m.count, m.sum.value())).collect();
    // Each: 24.80 + 4 x 0.48 = 26.72 = 4 x 6.00 + 2.72.
    assert_eq!(got, [(2 * 4, Ratio::int(60_000)), (2, Ratio::int(248_000 + 4 * 4_800 - 4 * 60_000))]);
}
