//! A blog's septic tank (civilchapola.com/septic-tank-cost-to-install/; source W5 of the project's notes), a published
//! mistake: outer walls 9 ft 6 in x 6 ft 6 in, 9 in thick, 6 ft high, taken at full length both ways.
//! It prints 114 + 78 = 192 square feet; corners counted once it is 174: 18 too many.

use rust_decimal::Decimal;
use tankwright_tests::{measured, net};

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
