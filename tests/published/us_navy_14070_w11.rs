//! US Navy training manual 14070, p. 103: concrete of a building 20 x 32 ft (engineeringtraining.tpub.com/14070). Source
//! W11 of the project's notes. Its footing is printed 133.032 for 133.32; walls 8 in thick are entered as 0.67 ft.
//! Its order, 21 cubic yards for 21.49, is short: an order rounds up. That is no slip of adding, and not found here.

use tankwright_tests::{crosschecked, explained, slips};

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
