//! Examples 8.4, 8.6 and 8.7 of a WHO guide: a tank, a pit, trenches.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use tankwright_tests::figures::{Figure, Publication, same};
use tankwright_tests::sized;

pub(super) const OF: Publication = Publication {
    title: "WHO guide of 1992 (Franceys, Pickford, Reed), examples 8.4, 8.6 and 8.7",
    source: "W4 to W6 of the project's notes",
    remarks: &[
        "Of 8.4 only A = 1440 was seen, the rest is recalled; of 8.6 the inputs were seen, its figures are pictures: none is listed; 8.7 prints two trenches of 30 m.",
    ],
};

pub(super) fn figures() -> Vec<Figure> {
    let given = [("persons", "8"), ("water-use", "200 l/p/d"), ("years", "3"), ("temperature", "25")];
    let tank = sized("who-1992", &given).unwrap();
    vec![
        same("8.4: liquid, l", "1440", tank["liquid"]), // 8 x 0.9 x 200
        same("8.4: sludge, l (recalled)", "960", tank["sludge"]), // 8 x 3 x 1.0 x 40
        same("8.4: tank, l (recalled)", "2400", tank["capacity"]),
        // 72 / (2 x 0.6): both sides count.
        same("8.7: each of two trenches, m", "30", trenches()["length"] / Decimal::from(2)),
    ]
}

fn trenches() -> BTreeMap<String, Decimal> {
    sized("who-trench", &[("flow", "1440 l/d"), ("soil", "porous-silty-clay"), ("trench-depth", "0.6 m")])
        .unwrap()
}

#[test]
fn what_was_not_seen_printed() {
    let given = [("flow", "200 l/d"), ("soil", "porous-silty-clay"), ("pit-diameter", "1.5 m")];
    let s = sized("who-pit", &given).unwrap();
    assert_eq!(s["area"], Decimal::from(200 / 20));
    assert_eq!(s["depth"].round_dp(2).to_string(), "2.12"); // 10 / (pi x 1.5)
    assert_eq!(trenches()["area"], Decimal::from(1440 / 20));
}
