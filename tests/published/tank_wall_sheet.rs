//! Calculation sheet of a tank wall held at its top. No slip found.

use tankwright_quantities::checks::pressure::{active, at_foot, propped};
use tankwright_tests::figures::{Figure, Publication, near};
use tankwright_tests::goods::r;

pub(super) const OF: Publication = Publication {
    title: "Calculation sheet of a tank wall held at its top",
    source: "scribd.com 413700735",
    remarks: &["No slip found."],
};

pub(super) fn figures() -> Vec<Figure> {
    // 16 kN/m3, 6 degrees, 1.52 m
    let sine = tankwright_tests::stock().tables["sine"].at("sine", r("6")).unwrap();
    let p = at_foot(active(sine), r("16"), r("9.81"), r("1.52"), r("0"));
    vec![
        near("pressure, kN/m2", "19.717", p),
        near("moment at the foot, kNm", "3.037", propped(p, r("1.52"), r("15"))),
        near("moment of the span, kNm", "1.360", propped(p, r("1.52"), r("33.5"))),
    ]
}
