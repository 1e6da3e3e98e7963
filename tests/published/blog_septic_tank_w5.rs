//! A blog's septic tank, a published mistake: outer walls 9 ft 6 in x 6 ft 6 in, 9 in thick, 6 ft high, taken at full
//! length both ways.

use rust_decimal::Decimal;
use tankwright_tests::figures::{Figure, Publication, same, slip};
use tankwright_tests::{crosschecked, explained, measured, net, slips};

pub(super) const OF: Publication = Publication {
    title: "A blog's septic tank, corners counted twice",
    source: "civilchapola.com/septic-tank-cost-to-install/; W5 of the project's notes",
    remarks: &[],
};

const JOB: &str = r#"
format = 1
[job]
title = "corners"
date = "2026-11-25"
currency = "INR"
profile = "exact"
[tank]
chambers = ["8 ft"]
width = "5 ft"
height = "6 ft"
[tank.walls]
thickness = "9 in"
"#;

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

#[test]
fn corners_are_counted_once() {
    let e = measured(JOB, None).unwrap();
    let printed = d("2") * (d("9.5") + d("6.5")) * d("6");
    let right = d("2") * (d("9.5") + d("5.0")) * d("6");
    assert_eq!((printed, right), (d("192"), d("174")));
    // A foot is 0.3048 m; 9 in is three quarters of it.
    let foot = d("0.3048");
    assert_eq!(net(&e, "brickwork-wall"), right * d("0.75") * foot * foot * foot);
}

/// The blog's lines as it prints them, in feet; the cross-check must name the slip.
const LIST: &str = "\
description,nr,length,width,height,unit,quantity
Excavation for septic tank,,10.5,7.5,6.5,cft,511.87
\"Brick wall 9 in, long sides\",2,9.5,,6,sft,114
\"Brick wall 9 in, short sides\",2,6.5,,6,sft,78
Total of walls,,,,,sft,192
";

pub(super) fn figures() -> Vec<Figure> {
    let report = crosschecked(JOB, LIST, None).unwrap();
    let wall = report.rows.iter().find(|r| r.lines == [3, 4]).unwrap();
    let full = |each: &str| d("2") * d(each) * d("6");
    let twice = "9.5 ft and 6.5 ft, both outside: corners counted twice, 18 too many";
    vec![
        same("long walls, sq ft", "114", full("9.5")),
        slip(
            "short walls, sq ft",
            "78",
            "60",
            full("5.0"),
            "6.5 ft outside for 5.0 ft between the long walls",
        ),
        slip("walls, sq ft", "192", "174", wall.ours, twice),
        slip(
            "excavation, cu ft",
            "511.87",
            "511.88",
            d("10.5") * d("7.5") * d("6.5"),
            "511.875, cut and not rounded",
        ),
    ]
}

#[test]
fn the_cross_check_names_the_corners() {
    let report = crosschecked(JOB, LIST, None).unwrap();
    assert_eq!(explained(&report, 3), ["corners-twice", "full-length-both-ways"]);
    let wall = report.rows.iter().find(|r| r.lines == [3, 4]).unwrap();
    assert_eq!((wall.theirs, wall.ours, wall.difference), (d("192"), d("174"), d("18")));
    // 10.5 x 7.5 x 6.5 = 511.875
    let found = slips(&report);
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!((found[0].0, found[0].1.as_str(), found[0].2.as_str()), (2, "511.87", "511.88"));
    assert!(found[0].3.contains(&"cut-not-rounded".to_owned()), "{found:?}");
}
