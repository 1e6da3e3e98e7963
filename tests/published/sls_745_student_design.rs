//! A student's design by SLS 745-1:2004, Appendix C (es.scribd.com/document/363649819; W7 of the notes): six people of
//! 240 l, five years, 25 C. It rounds 33.147 days of digestion to 33 and prints 2.09, 0.2376, 1.44 and 4.49 m3; L 3.0,
//! W 1.0, D 1.5 m in 2 + 1 m; 24.5 m2 of soak pit. Slips: the unit of p is printed as m3/d/person, and "area = V/3"
//! mixes m2 and m3.

use rust_decimal::Decimal;
use tankwright_tests::sized;

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

#[test]
fn volumes_as_printed_but_for_the_rounded_days() {
    let given = [("flow", "1.44 m3/d"), ("years", "5"), ("temperature", "25")];
    let s = sized("sls-745", &given).unwrap();
    assert_eq!(s["people"], d("1.44") / d("0.20"));
    assert_eq!(s["settling"].round_dp(2), d("2.09"));
    assert_eq!(s["sludge"], d("0.04") * d("7.2") * d("5"));
    assert_eq!(s["scum"], d("0.5") * d("1.44"));
    assert_eq!(s["digestion-time"].round_dp(3), d("33.147"));
    assert_eq!(d("0.001") * d("33") * d("7.2"), d("0.2376"));
    assert_eq!((s["capacity"].round_dp(2), s["capacity"].round_dp(4)), (d("4.49"), d("4.4902")));
    assert_eq!((s["capacity"] - s["digestion"] + d("0.2376")).round_dp(3), d("4.489")); // with 33 days
}

#[test]
fn soak_pit_as_printed() {
    let s = sized("sls-pit", &[("flow", "1.44 m3/d"), ("percolation", "50 mm/h")]).unwrap();
    assert_eq!(s["area"], d("17") * d("1.44")); // 24.48, printed 24.5
}
