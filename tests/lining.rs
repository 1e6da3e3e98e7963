//! A lined soak pit by hand: quantities, bricks and bars as the sums that make them.

use rust_decimal::Decimal;
use tankwright_geometry::{PI, Ratio};
use tankwright_quantities::decimal::rounded;
use tankwright_quantities::estimate::Estimate;
use tankwright_tests::measured;

/// Two pits of 2.00 m, 3.00 m deep, water in at 0.60 m; half a brick thick, 150 mm of stone behind, a foot of 250 x 150 mm,
/// 200 mm of soil over a cover of 150 mm.
const JOB: &str = r#"format = 1
[job]
title = "lined"
date = "2026-11-25"
currency = "UGX"
profile = "exact"
[tank]
chambers = ["1.60 m"]
width = "1.20 m"
height = "1.00 m"
[soak_pit]
diameter = "2.00 m"
depth = "3.00 m"
fill_depth = "400 mm"
number = 2
invert = "600 mm"
[soak_pit.lining]
unit = "brick-220x105x65"
thickness = "105 mm"
mortar = "1:4"
packing = "150 mm"
foot = { thickness = "150 mm", width = "250 mm" }
[soak_pit.cover]
thickness = "150 mm"
soil = "200 mm"
manhole = ["600 mm", "500 mm"]
[steel]
soak_pit_cover = { bars = "Y10@200", trimmers = "1Y10" }
cover_to_steel = "50 mm"
"#;

fn job(profile: &str) -> Estimate {
    measured(JOB, Some(profile)).unwrap_or_else(|f| panic!("{f:?}"))
}

fn m(text: &str) -> Ratio {
    tankwright_geometry::parse::decimal(text).unwrap()
}

fn net(e: &Estimate, id: &str) -> Decimal {
    e.sheet.items.iter().find(|i| i.id == id).unwrap_or_else(|| panic!("{id}")).net
}

/// Two circles of this diameter.
fn circles(diameter: &str) -> Ratio {
    PI * m(diameter) * m(diameter) * Ratio::of(1, 4) * Ratio::int(2)
}

#[test]
fn quantities() {
    let e = job("exact");
    // Ring from 1.70 to 1.49 m; foot about its middle, 1.595 + 0.25 = 1.845 m to 1.345 m.
    let [dig, out, inn, foot, hole] = ["2", "1.7", "1.49", "1.845", "1.345"].map(circles);
    let manhole = m("0.6") * m("0.5") * Ratio::int(2);
    for (id, want) in [
        ("excavation-soak-pit/soak-pit", dig * m("3")),
        // From the foot to the inlet at 2.40 m, and to the cover at 2.65 m.
        ("brickwork-soak-pit/105/dry/soak-pit", (out - inn) * m("2.25")),
        ("brickwork-soak-pit/105/soak-pit", (out - inn) * m("0.25")),
        ("concrete-soak-foot/1:2:4/soak-pit", (foot - hole) * m("0.15")),
        ("formwork-soak-foot/soak-pit", PI * Ratio::int(2) * (m("1.345") + m("1.845")) * m("0.15")),
        ("soak-fill/soak-pit", inn * m("0.4") - (inn - hole) * m("0.15")),
        ("soak-fill/packing/soak-pit", (dig - out) * m("2.4") - (foot - out) * m("0.15")),
        ("soil-cover/soak-pit", dig * m("0.2") + (dig - out) * m("0.25")),
        ("concrete-soak-cover/1:1.5:3/soak-pit", (dig - manhole) * m("0.15")),
        ("formwork-soak-cover/soak-pit", inn - manhole),
        ("formwork-soak-manhole/soak-pit", Ratio::int(4) * (m("0.6") + m("0.5")) * m("0.15")),
    ] {
        assert_eq!(Some(net(&e, id)), rounded(want, 12), "{id}");
    }
    // All that does not go back goes away.
    let away = dig * m("3") - dig * m("0.2") - (dig - out) * m("0.25");
    assert_eq!(Some(net(&e, "disposal/cart/soak-pit")), rounded(away, 12));
    assert_eq!(net(&e, "manhole-cover/600x500/soak-pit"), Decimal::from(2));
}

#[test]
fn a_profile_that_keeps_small_voids_leaves_the_manhole_out_by_a_decision() {
    let e = job("east-africa");
    let item = e.sheet.items.iter().find(|i| i.work.id == "concrete-soak-cover").unwrap();
    let kept = item.decisions.iter().any(|d| d.what.to_string().contains("manhole"));
    let taken = item.lines.iter().any(|l| l.note.to_string() == "less manhole");
    assert!(kept != taken, "{:?}", item.decisions);
    assert_eq!(item.net, net(&job("exact"), "concrete-soak-cover/1:1.5:3/soak-pit"));
}

#[test]
fn bricks_of_the_dry_part_lie_closer_and_take_no_mortar() {
    let e = job("exact");
    let of = |item: &str, material: &str| {
        let uses = e.materials.uses.iter().filter(|u| u.item == item && u.material.starts_with(material));
        uses.map(|u| u.amount).sum::<Ratio>()
    };
    let dry = "brickwork-soak-pit/105/dry/soak-pit";
    let face = m(&net(&e, dry).to_string()) / m("0.105");
    // 220 mm and a joint of 10 mm, 65 mm and none.
    assert_eq!(of(dry, "bricks/"), face / (m("0.23") * m("0.065")));
    for material in ["cement", "sand", "water"] {
        assert_eq!(of(dry, material), Ratio::ZERO, "{material}");
    }
    let wet = "brickwork-soak-pit/105/soak-pit";
    let face = m(&net(&e, wet).to_string()) / m("0.105");
    assert_eq!(of(wet, "bricks/"), face / (m("0.23") * m("0.075")));
    assert!(of(wet, "cement").signum() > 0);
}

#[test]
fn bars_are_as_long_as_their_chords() {
    let e = job("exact");
    let marks: Vec<(String, u64, i64)> =
        e.steel.marks.iter().map(|k| (k.member.to_string(), k.count, k.length_mm)).collect();
    // 1.90 m between the covers: ten bars 190 mm apart, at 855, 665, 475, 285 and 95 mm from the middle. The chords:
    // twice the root of 950 x 950 less the square of that: 828.2, 1356.8, 1645.4, 1812.5, 1890.5 mm.
    let edge = "from the edge";
    let along = |n: u8| format!("soak pit cover, along the manhole, bar {n} {edge}");
    let across = |n: u8| format!("soak pit cover, across the manhole, bar {n} {edge}");
    // The hole is 600 x 500: bars along it are cut within 300 mm of the middle, bars across it within 350 mm; pieces are
    // half the chord less 300 or 250 mm and the cover of 50 mm.
    let cut = |member: String| format!("{member}, cut at it");
    for (member, count, length) in [
        (along(1), 4, 850),
        (along(2), 4, 1_375),
        (along(3), 4, 1_650),
        (cut(along(4)), 8, 575), // 906.25 - 350
        (cut(along(5)), 8, 600), // 945.25 - 350
        (across(3), 4, 1_650),
        (cut(across(4)), 8, 625), // 906.25 - 300
        (cut(across(5)), 8, 650), // 945.25 - 300
        // 600 and 500 mm and a lap of 400 mm at either end, one on each side of each hole.
        ("beside manhole of soak pit, along".into(), 4, 1_400),
        ("beside manhole of soak pit, across".into(), 4, 1_300),
    ] {
        assert!(marks.contains(&(member.clone(), count, length)), "{member}: {marks:?}");
    }
    assert_eq!(marks.len(), 12);
}

/// The figure that drawings are cut from: half widths and levels from ground, tenths of a millimetre.
#[test]
fn drawings_show_the_ring_that_is_measured() {
    let e = job("exact");
    let figure = e.sketch.figures.iter().find(|f| f.id == "soak-pit").unwrap();
    let of = |key: &str| -> Vec<[[i64; 2]; 2]> {
        figure.bodies.iter().filter(|b| b.title.key == key).map(|b| [b.half, b.z]).collect()
    };
    // Ring of 1.49 to 1.70 m, from the foot to the inlet at 0.60 m, then up to the slab: 0.20 of soil, 0.15 of concrete.
    assert_eq!(of("draw-lining-dry"), [[[7_450, 8_500], [1_500 - 30_000, -6_000]]]);
    assert_eq!(of("draw-lining"), [[[7_450, 8_500], [-6_000, -2_000 - 1_500]]]);
    // Foot of 1.345 to 1.845 m; a manhole of 0.60 m along.
    assert_eq!(of("draw-foot"), [[[6_725, 9_225], [-30_000, 1_500 - 30_000]]]);
    assert_eq!(of("manhole"), [[[0, 3_000], [-2_000 - 1_500, -2_000]]]);
}
