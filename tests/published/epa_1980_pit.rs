//! US EPA 625/1-80-012 of 1980, Table 7-6 (yumpu.com, 21030839; W21 of the notes): the wall of a pit 5 ft across is 157
//! ft2 for 10 ft and 79 for 5 more, 236 together; 12 ft across and 10 ft deep 377.

use rust_decimal::Decimal;
use tankwright_tests::sized;

fn wall(diameter: &str, depth: &str) -> Decimal {
    let pit = [("pit-diameter", diameter), ("pit-depth", depth), ("pit-inlet", "1 ft")];
    let mut given = vec![("flow", "1 m3/d"), ("soil", "loam")];
    given.extend(pit);
    let square_foot: Decimal = "0.09290304".parse().unwrap();
    (sized("who-pit", &given).unwrap()["wall"] / square_foot).round_dp(1)
}

#[test]
fn walls_as_printed() {
    assert_eq!(wall("5 ft", "11 ft").to_string(), "157.1");
    assert_eq!(wall("5 ft", "16 ft").to_string(), "235.6"); // printed 157 + 79 = 236
    assert_eq!(wall("12 ft", "11 ft").to_string(), "377.0");
}
