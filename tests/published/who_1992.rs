//! Examples 8.4, 8.6 and 8.7 of the WHO guide of 1992 (Franceys, Pickford, Reed; W4 to W6 of the notes). Of 8.4 only
//! A = 1440 was seen, the rest is recalled; of 8.6 the inputs were seen, its figures are pictures; 8.7 prints two
//! trenches of 30 m.

use rust_decimal::Decimal;
use tankwright_tests::sized;

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

#[test]
fn example_8_4_a_tank() {
    let given = [("persons", "8"), ("water-use", "200 l/p/d"), ("years", "3"), ("temperature", "25")];
    let s = sized("who-1992", &given).unwrap();
    assert_eq!(s["liquid"], d("8") * d("0.9") * d("200"));
    assert_eq!(s["sludge"], d("8") * d("3") * d("1.0") * d("40"));
    assert_eq!(s["capacity"], d("1440") + d("960"));
}

#[test]
fn example_8_6_a_pit() {
    let given = [("flow", "200 l/d"), ("soil", "porous-silty-clay"), ("pit-diameter", "1.5 m")];
    let s = sized("who-pit", &given).unwrap();
    assert_eq!(s["area"], d("200") / d("20"));
    assert_eq!(s["depth"].round_dp(2), d("2.12")); // 10 / (pi x 1.5)
}

#[test]
fn example_8_7_trenches() {
    let given = [("flow", "1440 l/d"), ("soil", "porous-silty-clay"), ("trench-depth", "0.6 m")];
    let s = sized("who-trench", &given).unwrap();
    assert_eq!(s["area"], d("1440") / d("20"));
    assert_eq!(s["length"], d("2") * d("30")); // 72 / (2 x 0.6): both sides count
}
