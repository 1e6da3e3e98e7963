//! Calculation sheet of a one-way slab by BS 8110 (scribd.com 558676541).
//!
//! Slip named: the slab's own weight is taken 1.2 times, where BS 8110 wants 1.4: 11.728 kN/m2 should be 12.616.

use tankwright_quantities::checks::bending::simple;
use tankwright_tests::goods::{printed, r};

#[test]
fn bending_of_the_span() {
    // 1.2 x 0.185 x 24 + 1.6 x 4, and with 1.4
    let load = |factor: &str| r(factor) * r("0.185") * r("24") + r("1.6") * r("4");
    assert_eq!([printed(load("1.2"), 3), printed(load("1.4"), 3)], ["11.728", "12.616"]);
    assert_eq!(printed(simple(load("1.2"), r("4.25")), 2), "26.48");
    assert_eq!(printed(simple(load("1.4"), r("4.25")), 2), "28.48");
}
