//! A student's design by SLS 745-1:2004, Appendix C: six people of 240 l, five years, 25 C.

use rust_decimal::Decimal;
use tankwright_tests::figures::{Figure, Publication, near, same, slip};
use tankwright_tests::sized;

pub(super) const OF: Publication = Publication {
    title: "A student's design by SLS 745-1:2004, Appendix C",
    source: "es.scribd.com/document/363649819; W7 of the project's notes",
    remarks: &[
        "The unit of p is printed as m3/d/person.",
        "\"Area = V/3\" mixes m2 and m3.",
        "It builds 3.0 x 1.0 x 1.5 m in 2 + 1 m.",
    ],
};

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

pub(super) fn figures() -> Vec<Figure> {
    let given = [("flow", "1.44 m3/d"), ("years", "5"), ("temperature", "25")];
    let s = sized("sls-745", &given).unwrap();
    let pit = sized("sls-pit", &[("flow", "1.44 m3/d"), ("percolation", "50 mm/h")]).unwrap();
    let with_33 = d("0.001") * d("33") * d("7.2");
    let rounded = "the days of digestion are rounded before";
    vec![
        near("settling, m3", "2.09", s["settling"]),
        slip("days of digestion", "33", "33.147", s["digestion-time"], "rounded before"),
        same("digestion of 33 days, m3", "0.2376", with_33),
        slip("digestion, m3", "0.2376", "0.2387", s["digestion"], rounded),
        same("sludge, m3", "1.44", s["sludge"]), // 0.04 x 7.2 x 5
        near("tank, m3", "4.49", s["capacity"]),
        near("tank with 33 days, m3", "4.49", s["capacity"] - s["digestion"] + with_33),
        near("soak pit, m2", "24.5", pit["area"]), // 17 x 1.44 = 24.48
    ]
}

#[test]
fn steps_exactly() {
    let given = [("flow", "1.44 m3/d"), ("years", "5"), ("temperature", "25")];
    let s = sized("sls-745", &given).unwrap();
    assert_eq!(s["people"], d("1.44") / d("0.20"));
    assert_eq!(s["scum"], d("0.5") * d("1.44"));
    assert_eq!(s["capacity"].round_dp(4), d("4.4902"));
    assert_eq!((s["capacity"] - s["digestion"] + d("0.2376")).round_dp(3), d("4.489")); // with 33 days
    let s = sized("sls-pit", &[("flow", "1.44 m3/d"), ("percolation", "50 mm/h")]).unwrap();
    assert_eq!(s["area"], d("17") * d("1.44")); // 24.48, printed 24.5
}
