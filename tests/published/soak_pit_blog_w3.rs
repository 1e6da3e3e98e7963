//! A blog's soak pit, a faulty take-off: lower dig without its depth, two brick rings whose printed heights do not give their
//! volumes.

use tankwright_geometry::{PI, Ratio};
use tankwright_tests::figures::{Figure, Publication, near, slip};
use tankwright_tests::goods::r;
use tankwright_tests::{crosschecked, slips};

pub(super) const OF: Publication = Publication {
    title: "A blog's soak pit",
    source: "engineeringinfohub.com/calculate-the-estimate-of-the-soakage-pit/; W3 of the project's notes, the second faulty take-off of section 7",
    remarks: &["Its slab fits no diameter that it prints."],
};

const JOB: &str = r#"
format = 1
[job]
title = "soak pit"
date = "2026-11-25"
currency = "INR"
profile = "exact"
[tank]
chambers = ["2 m"]
width = "1.2 m"
height = "1.5 m"
[soak_pit]
diameter = "3.4 m"
depth = "9 m"
fill_depth = "8 m"
"#;

const LIST: &str = "\
description,diameter,thickness,height,unit,quantity
\"Excavation of soak pit, upper\",3.8,,9.0,m3,102.08
\"Ditto, lower\",3.4,,0.3,m3,9.08
Total excavation,,,,m3,111.16
Mortared brick ring at top,3.2,0.2,0.1,m3,2.01
Mortared brick ring at bottom,3.2,0.2,0.3,m3,0.60
Dry brick ring,3.2,0.2,0.3,m3,14.68
Ballast at sides,3.6,0.2,8.0,m3,18.10
Ballast at bottom,3.4,,0.3,m3,2.72
Slab,3.3,,0.1,m3,0.911
";

pub(super) fn figures() -> Vec<Figure> {
    let found = slips(&crosschecked(JOB, LIST, None).unwrap());
    let row = |line: usize, what: &str, right: &str, why: &str| {
        let (_, printed, ours, _) = found.iter().find(|s| s.0 == line).unwrap();
        slip(what, printed, right, ours, why)
    };
    let height = "its height is misprinted";
    // pi/4 x d x d x h, and pi x d x t x h for rings: rows without a slip.
    let disc = |d: &str, h: &str| PI / Ratio::int(4) * r(d) * r(d) * r(h);
    let ring = |d: &str, t: &str, h: &str| PI * r(d) * r(t) * r(h);
    vec![
        row(2, "upper dig, m3", "102.07", "pi/4 x 3.8 x 3.8 x 9; pi = 3.14 gives 102.02"),
        row(3, "lower dig, m3", "2.72", "9.08 is the area: the depth of 0.3 is left out"),
        row(5, "ring at top, m3", "0.20", height), // pi x 3.2 x 0.2 x 0.1; 2.01 needs 1.0
        near("ring at bottom, m3", "0.60", ring("3.2", "0.2", "0.3")),
        row(7, "dry brick ring, m3", "0.60", height), // pi x 3.2 x 0.2 x 0.3; 14.68 needs 7.3
        near("ballast at sides, m3", "18.10", ring("3.6", "0.2", "8.0")),
        near("ballast at bottom, m3", "2.72", disc("3.4", "0.3")),
        row(10, "slab, m3", "0.855", "pi/4 x 3.3 x 3.3 x 0.1; it fits no diameter that it prints"),
    ]
}

#[test]
fn the_cross_check_names_the_slips() {
    let found = slips(&crosschecked(JOB, LIST, None).unwrap());
    let of = |line: usize| {
        let slip = found.iter().find(|s| s.0 == line);
        slip.map(|(_, printed, right, why)| (printed.as_str(), right.as_str(), why.clone())).unwrap()
    };
    // pi/4 x 3.4 x 3.4 x 0.3; 9.08 is the area
    let (_, right, why) = of(3);
    assert_eq!(right, "2.72");
    assert!(why.contains(&"depth-left-out".to_owned()), "{why:?}");
    // pi x 3.2 x 0.2 x 0.1; 2.01 needs 1.0
    let (_, right, why) = of(5);
    assert_eq!(right, "0.2");
    assert!(why.contains(&"dimension-misprinted".to_owned()), "{why:?}");
    // pi x 3.2 x 0.2 x 0.3; 14.68 needs 7.3
    let (_, right, why) = of(7);
    assert_eq!(right, "0.6");
    assert_eq!(why, ["dimension-misprinted"]);
    // pi/4 x 3.8 x 3.8 x 9; pi/4 x 3.3 x 3.3 x 0.1: wrong, and the second by nothing that is usual
    assert_eq!((of(2).0, of(10).0, of(10).2.len()), ("102.08", "0.911", 0));
    assert_eq!(found.iter().map(|s| s.0).collect::<Vec<_>>(), [2, 3, 5, 7, 10]);
}
