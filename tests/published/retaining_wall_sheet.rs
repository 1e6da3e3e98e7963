//! Calculation sheet of a retaining wall: earth under water, top free. No slip found.

use tankwright_quantities::checks::pressure::{at_foot, cantilever};
use tankwright_tests::figures::{Figure, Publication, near};
use tankwright_tests::goods::r;

pub(super) const OF: Publication = Publication {
    title: "Calculation sheet of a retaining wall",
    source: "scribd.com 252708753",
    remarks: &["No slip found."],
};

pub(super) fn figures() -> Vec<Figure> {
    // Ka 0.33, 18 kN/m3 of which 8.19 weigh under water of 9.81, 5 m: 0.33 x 8.19 x 5 + 9.81 x 5
    let p = at_foot(r("0.33"), r("18"), r("9.81"), r("5"), r("5"));
    vec![
        near("pressure at the foot, kN/m2", "62.56", p),
        // 62.56 x 5 / 2 x 5 / 3: the sheet multiplies the pressure as it is printed.
        near("moment at the foot, of 62.56, kNm", "260.67", cantilever(r("62.56"), r("5"))),
    ]
}
