//! A drainage field by Approved Document H2: 5 people, mean of 2700 s, a trench 0.6 m wide.

use tankwright_tests::figures::{Figure, Publication, same};
use tankwright_tests::sized;

pub(super) const OF: Publication = Publication {
    title: "Drainage field by Approved Document H2",
    source: "tekneka.co.uk/resources/percolation-tests; W2 of the project's notes",
    remarks: &[],
};

pub(super) fn figures() -> Vec<Figure> {
    let given = [("persons", "5"), ("percolation", "2700 s"), ("trench-width", "0.6 m")];
    let s = sized("ad-h2-field", &given).unwrap();
    vec![
        same("area, m2", "22.5", s["area"]),    // 5 x 18 x 0.25, 18 = 2700 / 150
        same("trench, m", "37.5", s["length"]), // 22.5 / 0.6
    ]
}
