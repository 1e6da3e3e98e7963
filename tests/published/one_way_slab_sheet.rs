//! Calculation sheet of a one-way slab by BS 8110.

use tankwright_quantities::checks::bending::simple;
use tankwright_tests::figures::{Figure, Publication, near, slip};
use tankwright_tests::goods::r;

pub(super) const OF: Publication = Publication {
    title: "Calculation sheet of a one-way slab by BS 8110",
    source: "scribd.com 558676541",
    remarks: &[],
};

pub(super) fn figures() -> Vec<Figure> {
    // 1.2 x 0.185 x 24 + 1.6 x 4, and with 1.4
    let load = |factor: &str| r(factor) * r("0.185") * r("24") + r("1.6") * r("4");
    let why = "the slab's own weight is taken 1.2 times, where BS 8110 wants 1.4";
    vec![
        near("load as taken, kN/m2", "11.728", load("1.2")),
        slip("load, kN/m2", "11.728", "12.616", load("1.4"), why),
        near("moment as taken, kNm", "26.48", simple(load("1.2"), r("4.25"))),
        slip("moment, kNm", "26.48", "28.48", simple(load("1.4"), r("4.25")), why),
    ]
}
