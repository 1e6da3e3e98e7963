//! Calculation sheet of a retaining wall (scribd.com 252708753): earth under water, top free. No slip found.

use tankwright_quantities::checks::pressure::{at_foot, cantilever};
use tankwright_tests::goods::{printed, r};

#[test]
fn pressure_and_bending_at_the_foot() {
    // Ka 0.33, 18 kN/m3 of which 8.19 weigh under water of 9.81, 5 m: 0.33 x 8.19 x 5 + 9.81 x 5
    let p = at_foot(r("0.33"), r("18"), r("9.81"), r("5"), r("5"));
    assert_eq!(printed(p, 2), "62.56");
    // 62.56 x 5 / 2 x 5 / 3: the sheet multiplies the pressure as it is printed.
    assert_eq!(printed(cantilever(r("62.56"), r("5")), 2), "260.67");
}
