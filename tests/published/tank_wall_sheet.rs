//! Calculation sheet of a tank wall held at its top (scribd.com 413700735). No slip found.

use tankwright_quantities::checks::pressure::{active, at_foot, propped};
use tankwright_tests::goods::{printed, r};

#[test]
fn pressure_and_both_moments() {
    // 16 kN/m3, 6 degrees, 1.52 m
    let sine = tankwright_tests::stock().tables["sine"].at("sine", r("6")).unwrap();
    let p = at_foot(active(sine), r("16"), r("9.81"), r("1.52"), r("0"));
    assert_eq!(printed(p, 3), "19.717");
    assert_eq!(printed(propped(p, r("1.52"), r("15")), 3), "3.037");
    assert_eq!(printed(propped(p, r("1.52"), r("33.5")), 3), "1.360");
}
