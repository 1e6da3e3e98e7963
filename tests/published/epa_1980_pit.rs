//! Walls of seepage pits by a table of the US EPA of 1980.

use rust_decimal::Decimal;
use tankwright_tests::figures::{Figure, Publication, near};
use tankwright_tests::sized;

pub(super) const OF: Publication = Publication {
    title: "US EPA 625/1-80-012 of 1980, Table 7-6: walls of pits",
    source: "yumpu.com, 21030839; W21 of the project's notes",
    remarks: &[],
};

fn wall(diameter: &str, depth: &str) -> Decimal {
    let pit = [("pit-diameter", diameter), ("pit-depth", depth), ("pit-inlet", "1 ft")];
    let mut given = vec![("flow", "1 m3/d"), ("soil", "loam")];
    given.extend(pit);
    let square_foot: Decimal = "0.09290304".parse().unwrap();
    (sized("who-pit", &given).unwrap()["wall"] / square_foot).round_dp(6)
}

pub(super) fn figures() -> Vec<Figure> {
    let (ten, fifteen) = (wall("5 ft", "11 ft"), wall("5 ft", "16 ft"));
    vec![
        near("5 ft across, 10 ft deep, ft2", "157", ten),
        near("5 ft across, 5 ft more, ft2", "79", fifteen - ten),
        near("5 ft across, 15 ft deep, ft2", "236", fifteen),
        near("12 ft across, 10 ft deep, ft2", "377", wall("12 ft", "11 ft")),
    ]
}

#[test]
fn walls_to_the_tenth() {
    let tenth = |diameter, depth| wall(diameter, depth).round_dp(1).to_string();
    assert_eq!(tenth("5 ft", "11 ft"), "157.1");
    assert_eq!(tenth("5 ft", "16 ft"), "235.6"); // printed 157 + 79 = 236
    assert_eq!(tenth("12 ft", "11 ft"), "377.0");
}
