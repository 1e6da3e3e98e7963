//! Bars: lengths by BS 8666:2005 (fabricators' reproductions, source S45 of the project's notes on quantities, section
//! 4.3), masses per metre (section 4.1), laps (section 4.5: S49 Eurocode 2, S50 BS 8110, S68 six-metre bars), and the
//! mesh of the worked sheet of trade practice, section 2.2.
//!
//! Known differences: the fabricator's table prints 0.616 for 10 mm and 1.579 for 16 mm, 7850 x pi / 4 x d2 gives 0.617
//! and 1.578; d2 / 162 gives 0.889 for 12 mm.

use tankwright_geometry::{Len, Ratio};
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::sheet::Times;
use tankwright_quantities::steel::{Mark, Shape};
use tankwright_tests::{measured, stock};

fn mm(n: i64) -> Len {
    Len::fixed(n * 10)
}

/// Length by the formula, mm.
fn length(shape: &Shape, d: u32) -> Ratio {
    shape.sum(&stock().bars.sizes[&d]).value() / Ratio::int(10)
}

#[test]
fn lengths_of_shape_11_and_21() {
    let corner = |a, b| Shape::Corner { a: mm(a), b: mm(b) };
    // A + (B) - 0.5r - d
    assert_eq!(length(&corner(1500, 300), 10), Ratio::int(1500 + 300 - 20 / 2 - 10)); // 1780
    assert_eq!(length(&corner(1000, 400), 12), Ratio::int(1000 + 400 - 24 / 2 - 12)); // 1376
    assert_eq!(length(&corner(2000, 600), 20), Ratio::int(2000 + 600 - 70 / 2 - 20)); // 2545
    // A + B + (C) - r - 2d
    let ends = Shape::Ends { a: mm(300), b: mm(1500), c: mm(300) };
    assert_eq!(length(&ends, 10), Ratio::int(300 + 1500 + 300 - 20 - 2 * 10)); // 2060
}

#[test]
fn kilograms_per_metre() {
    // 4.1, 0.00785 x area.
    let printed = [(6, 222), (8, 395), (10, 617), (12, 888), (16, 1578), (20, 2466), (25, 3853), (32, 6313)];
    for (d, grams) in printed {
        assert_eq!(stock().bars.mass_per_metre(d), Ratio::of(grams, 1000), "{d}");
    }
}

#[test]
fn bending_data_of_bs_8666_table_2() {
    // d, r, P, P of links, least size of two bends: 4.2.
    let printed = [
        (6, 12, 110, 110, 60),
        (8, 16, 115, 115, 80),
        (10, 20, 120, 130, 100),
        (12, 24, 125, 160, 120),
        (16, 32, 130, 210, 160),
        (20, 70, 190, 290, 260),
        (25, 87, 240, 365, 325),
        (32, 112, 305, 465, 416),
    ];
    for (d, r, p, links, two) in printed {
        let s = &stock().bars.sizes[&d];
        assert_eq!(
            [s.radius, s.projection, s.projection_links, s.two_bends],
            [r, p, links, two].map(|n| n * 10)
        );
    }
}

#[test]
fn published_laps() {
    let laps = stock().bars.laps;
    let lap = |id: &str, d: u32| laps[id].lap(d).map(|l| l / Ratio::int(10));
    for (d, good, poor) in [(8, 340, 480), (12, 610, 870), (16, 890, 1270), (32, 1940, 2770)] {
        assert_eq!(lap("ec2-c25-good-all", d), Some(Ratio::int(good)));
        assert_eq!(lap("ec2-c25-poor-all", d), Some(Ratio::int(poor)));
    }
    assert_eq!(lap("ec2-c25-good-all", 6), None);
    assert_eq!(lap("bs8110-30-tension", 12), Some(Ratio::int(40 * 12)));
    assert_eq!(lap("bs8110-30-compression", 12), Some(Ratio::int(32 * 12)));
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

#[test]
fn mesh_of_the_worked_sheet() {
    // Base 3.76 x 1.96, cover 50, 150 c/c: 14 bars x 3.66 m + 26 bars x 1.86 m = 99.6 m; x 0.617 = 61.5 kg.
    let e = measured(MESH, None).unwrap();
    let [short, long] = marks(&e) else { panic!("{:?}", marks(&e)) };
    assert_eq!((short.count, short.sum.value()), (26, Ratio::int(18_600)));
    assert_eq!((long.count, long.sum.value()), (14, Ratio::int(36_600)));
    let metres = |m: &Mark| Ratio::from(m.count as i64) * m.sum.value() / Ratio::int(10_000);
    let sum = metres(short) + metres(long);
    assert_eq!(sum, Ratio::of(26 * 186 + 14 * 366, 100));
    assert_eq!(sum, Ratio::of(996, 10));
    assert_eq!((sum * Ratio::of(617, 1000)).round_half_away(Ratio::of(1, 10)), Ratio::of(615, 10));
    // As cut, each up to the next 25 mm: 1.875 and 3.675.
    let kg = (Ratio::of(26 * 1875, 1000) + Ratio::of(14 * 3675, 1000)) * Ratio::of(617, 1000);
    assert_eq!(short.mass + long.mass, kg);
    let item = e.sheet.find("bars/Y10/base").unwrap();
    assert_eq!(tankwright_quantities::decimal::ratio(item.quantity), kg);
    assert!(matches!(item.lines[0].times[1], Times::Spaces { value: 26, .. }));
}

#[test]
fn six_metre_bars_in_a_ring_beam() {
    // S68: 2 x 24.8 m of 6 m bars, 8 joints of 40d (12 mm: 0.48): 2 x 24.8 + 8 x 0.48 = 53.44.
    let text = MESH
        .replace("chambers = [\"3.00 m\"]", "chambers = [\"24.42 m\"]")
        .replace("projection = \"150 mm\"", "projection = \"0 mm\"")
        .replace(
            "base = { short = \"Y10@150\", long = \"Y10@150\" }",
            "base = { short = \"Y12@1000\", long = \"Y12@2000\" }",
        )
        .replace("cover_to_steel = \"50 mm\"", "cover_to_steel = \"40 mm\"\nstock_length = \"6 m\"");
    let e = measured(&text, None).unwrap();
    // 24.42 + 2 x 0.23 - 2 x 0.04 = 24.80; 1.20 + 2 x 0.23 - 2 x 0.04 = 1.58: two bars at most 2 m apart.
    let long: Vec<&Mark> = marks(&e).iter().filter(|m| m.member.to_string() == "base, along").collect();
    let got: Vec<_> = long.iter().map(|m| (m.count, m.sum.value())).collect();
    // Each: 24.80 + 4 x 0.48 = 26.72 = 4 x 6.00 + 2.72.
    assert_eq!(got, [(2 * 4, Ratio::int(60_000)), (2, Ratio::int(248_000 + 4 * 4_800 - 4 * 60_000))]);
    let total: Ratio = long.iter().map(|m| Ratio::from(m.count as i64) * m.sum.value()).sum();
    assert_eq!(total / Ratio::int(10_000), Ratio::of(2 * 2480 + 8 * 48, 100)); // 53.44
}
