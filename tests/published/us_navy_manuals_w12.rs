//! US Navy training manuals 14045 and 14043: brick and block walls. Mortar is reckoned there on the bricks with waste in them,
//! so waste acts twice on the mortar.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;
use tankwright_quantities::decimal::round;
use tankwright_quantities::materials::Materials;
use tankwright_tests::figures::{Figure, Publication, near, slip};
use tankwright_tests::goods::{goods, item, made, needed, printed, r};
use tankwright_tests::{crosschecked, explained, slips};

pub(super) const OF: Publication = Publication {
    title: "US Navy training manuals 14045 and 14043: brick and block walls",
    source: "constructionmanuals.tpub.com/14045; W12 of the project's notes",
    remarks: &[],
};

/// 4-in wall, 8 x 14 ft, joints 1/2 in: 6.16 to a ft2, 690 bricks, 759 with 10 % (printed 760). 2 1/4 in are 57.15 mm;
/// 57.2 here.
const OWN: &str = "[waste]\nbricks = \"10\"\n[[materials.units]]\nid = \"us-brick\"\nlength = \"8 in\"\nbreadth = \"95.3 mm\"\nheight = \"57.2 mm\"\njoint = \"12.7 mm\"\n";

fn wall(more: &str) -> Materials {
    // 8 ft x 14 ft x 95.3 mm
    let net = r("2.4384") * r("4.2672") * r("0.0953");
    let wall = item("brickwork-wall", &printed(net, 9), "95.3", made("1:3", 953, "us-brick"));
    goods(more, vec![wall])
}

pub(super) fn figures() -> Vec<Figure> {
    let m = wall(OWN);
    let bricks = needed(&m, "bricks/us-brick");
    let gross = m.rows.iter().find(|row| row.material == "bricks/us-brick").unwrap().gross;
    let mortar = |bricks: &str| r(bricks) * r("11.7") * r("1.2");
    let twice = "reckoned on the bricks with waste in them: waste acts twice";
    let report = crosschecked(BUILDING, BLOCK_WALLS, None).unwrap();
    let blocks_a_foot = Decimal::new(1_125, 3);
    let corners = "over the outside faces, 448 ft2 for 426.67: corners counted twice, the manual's rule";
    let outside = report.rows.first().unwrap();
    let found = slips(&crosschecked(BUILDING, COURSE, None).unwrap());
    vec![
        near("bricks in 1 ft2", "6.16", bricks / Ratio::int(112)),
        slip("bricks of the wall", "690", "689.5", bricks, "from its rounded 6.16: 6.16 x 112 = 689.9"),
        slip("bricks with 10 % of waste", "760", "758", gross, "690 x 1.1 = 759, printed 760; unrounded 758"),
        slip("690 bricks with 10 %", &found[0].1, "759", &found[0].2, "690 x 1.1 = 759"),
        slip(
            "mortar on 760 bricks with 20 %, ft3",
            "10.68",
            "10.67",
            mortar("0.76"),
            "from its rounded 8.90",
        ),
        slip("mortar with 20 %, ft3", "10.68", "9.69", mortar("0.69"), twice),
        near("blocks over the outside faces", "504", needed(&blocks(), "blocks/block-us")), // 0.75 x 56 x 12
        slip("blocks, the corners once", "504", "480", round(outside.ours * blocks_a_foot, 2), corners),
        slip("blocks of one course of 79", "790", "79", &found[1].2, "790 are ten courses"),
    ]
}

#[test]
fn bricks_with_waste_once() {
    let m = wall(OWN);
    let bricks = needed(&m, "bricks/us-brick");
    assert_eq!(printed(bricks / Ratio::int(112), 2), "6.16");
    assert!(r("689") < bricks && bricks < r("690"));
    let row = m.rows.iter().find(|row| row.material == "bricks/us-brick").unwrap();
    assert_eq!(row.gross.round().to_string(), "758"); // 689.5 x 1.1; 690 x 1.1 = 759
}

#[test]
fn mortar_is_not_reckoned_on_wasted_bricks() {
    let with = wall(OWN);
    let without = wall(&OWN.replace("\"10\"", "\"0\""));
    assert_eq!(needed(&with, "cement"), needed(&without, "cement"));
    assert_eq!(needed(&with, "sand-building"), needed(&without, "sand-building"));
}

/// 20 x 8 x 8 ft of blocks 8 x 8 x 16 in with their joints: 1.125 to a ft2; over the outside faces 504, the corners
/// counted twice by the manual's rule.
fn blocks() -> Materials {
    let own = "[[materials.units]]\nid = \"block-us\"\nlength = \"396.4 mm\"\nbreadth = \"193.2 mm\"\nheight = \"193.2 mm\"\nhollow = true\n";
    // 56 ft x 8 ft outside faces
    let net = r("448") * r("0.09290304") * r("0.1932");
    let wall = item("brickwork-wall", &printed(net, 9), "193.2", made("1:3", 1932, "block-us"));
    goods(own, vec![wall])
}

/// The building 20 x 8 x 8 ft, walls 8 in thick: between the inner faces 18 ft 8 in and 6 ft 8 in.
const BUILDING: &str = r#"
format = 1
[job]
title = "block building"
date = "2026-11-25"
currency = "USD"
profile = "exact"
[tank]
chambers = ["18 ft 8 in"]
width = "6 ft 8 in"
height = "8 ft"
[tank.walls]
thickness = "8 in"
"#;

const BLOCK_WALLS: &str = "description,length,height,unit,quantity\nConcrete block walls,56,8,sft,448\n";

const COURSE: &str = "description,nr,length,quantity\nBricks,,,690\nBricks with 10 % waste,,,760\n\
    Blocks for a basement of one course,1,79,790\n";

#[test]
fn the_cross_check_names_the_corners_of_the_block_walls() {
    // 56 ft round outside x 8 ft; the corners once: 2 x 20 + 2 x (6 + 8/12) = 53 1/3 ft
    let report = crosschecked(BUILDING, BLOCK_WALLS, None).unwrap();
    // 448 is 426.67 x 1.05 as well: by chance it is also what 5 % of waste would give.
    assert_eq!(explained(&report, 2), ["corners-twice", "full-length-both-ways", "waste-billed"]);
    let ours = report.rows.first().map(|r| r.ours.to_string());
    assert_eq!(ours.as_deref(), Some("426.667"));
}

#[test]
fn the_cross_check_adds_up_the_brick_wall_and_the_course() {
    let found = slips(&crosschecked(BUILDING, COURSE, None).unwrap());
    assert_eq!(found.len(), 2, "{found:?}");
    // 690 x 1.1 = 759
    assert_eq!((found[0].0, found[0].1.as_str(), found[0].2.as_str()), (3, "760", "759"));
    // 79 a course: 790 are ten courses
    assert_eq!((found[1].0, found[1].2.as_str()), (4, "79"));
    assert!(found[1].3.iter().any(|w| w == "point-shifted" || w == "dimension-misprinted"), "{found:?}");
}
