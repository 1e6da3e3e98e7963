//! A US Navy training manual: concrete of a building 20 x 32 ft, a misprint and a rounded thickness. Its order is short: an
//! order rounds up. That is no slip of adding, and not found by the cross-check.

use tankwright_geometry::Ratio;
use tankwright_tests::figures::{Figure, Publication, near, same, slip};
use tankwright_tests::goods::r;
use tankwright_tests::{crosschecked, explained, slips};

pub(super) const OF: Publication = Publication {
    title: "US Navy training manual 14070, p. 103: concrete of a building 20 x 32 ft",
    source: "engineeringtraining.tpub.com/14070; W11 of the project's notes",
    remarks: &["Walls 8 in thick are entered as 0.67 ft."],
};

const JOB: &str = r#"
format = 1
[job]
title = "foundation"
date = "2026-11-25"
currency = "USD"
profile = "exact"
[tank]
chambers = ["30 ft 8 in"]
width = "18 ft 8 in"
height = "2 ft"
[tank.walls]
thickness = "8 in"
"#;

/// Breadth x depth of the footing is 2.0 by its printed products.
const LIST: &str = "\
description,nr,length,breadth,height,unit,quantity
\"Foundation wall, long sides\",2,32.00,0.67,2.0,ft3,85.76
\"Ditto, short sides\",2,18.67,0.67,2.0,ft3,50.04
\"Footing, long sides\",2,33.33,2.0,1.0,ft3,133.032
\"Footing, short sides\",2,17.33,2.0,1.0,ft3,69.32
\"Paving slab, 4 in\",,30.67,18.67,0.33,ft3,188.96
Total,,,,,ft3,527.40
Total with 10 % waste,,,,,ft3,580.14
";

pub(super) fn figures() -> Vec<Figure> {
    let found = slips(&crosschecked(JOB, LIST, None).unwrap());
    let of = |n: &str, parts: [&str; 3]| r(n) * parts.iter().map(|p| r(p)).fold(Ratio::ONE, |a, b| a * b);
    let right = r("85.76") + r("50.04") + r(&found[0].2) + r("69.32") + r("188.96");
    let waste = right * r("1.1");
    vec![
        near("long walls, ft3", "85.76", of("2", ["32.00", "0.67", "2.0"])),
        near("short walls, ft3", "50.04", of("2", ["18.67", "0.67", "2.0"])),
        slip("footing, long sides, ft3", &found[0].1, "133.32", &found[0].2, "133.032 misprinted for 133.32"),
        near("footing, short sides, ft3", "69.32", of("2", ["17.33", "2.0", "1.0"])),
        near("paving slab, ft3", "188.96", of("1", ["30.67", "18.67", "0.33"])),
        same("total, with the footing right, ft3", "527.40", right),
        slip("total of what is printed, ft3", "527.40", "527.11", &found[1].2, "the footing's misprint"),
        same("with 10 % waste, ft3", "580.14", waste),
        slip("order, yd3", "21", "21.49", waste / r("27"), "short: an order rounds up"),
    ]
}

#[test]
fn the_cross_check_names_the_misprint_and_the_rounded_thickness() {
    let report = crosschecked(JOB, LIST, None).unwrap();
    let found = slips(&report);
    // 2 x 33.33 x 2.0 = 133.32; as printed the column adds up to 527.112, with the right figure to 527.40
    assert_eq!((found[0].0, found[0].1.as_str(), found[0].2.as_str()), (4, "133.032", "133.32"));
    assert_eq!(found[0].3, ["digit-wrong"]);
    assert_eq!((found[1].0, found[1].2.as_str()), (7, "527.11"));
    assert_eq!(found.len(), 2, "{found:?}");
    // 8 in as 0.67 ft, 18 ft 8 in as 18.67 ft
    assert!(explained(&report, 2).contains(&"thickness-rounded".to_owned()), "{:?}", report.rows);
}
