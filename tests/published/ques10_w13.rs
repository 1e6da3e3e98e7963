//! A web exercise: 150 people of 120 l a day, 20 hours, 15 l of sludge a head. Its total is right in spite of two noughts.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;
use tankwright_tests::figures::{Figure, Publication, same, slip};
use tankwright_tests::sized_by;

pub(super) const OF: Publication = Publication {
    title: "A web exercise, ques10",
    source: "ques10.com/p/29464; W13 of the project's notes",
    remarks: &[],
};

pub(super) fn figures() -> Vec<Figure> {
    let s = sized_by(
        r#"
[inputs.persons]
[inputs.flow]
[[step]]
id = "stay"
gives = "h"
add = [{ factor = "20" }]
[[step]]
id = "settling"
gives = "l"
add = [{ of = { flow = "l/d", stay = "d" } }]
[[step]]
id = "sludge"
gives = "l"
add = [{ factor = "15", of = { persons = "1" } }]
[[step]]
id = "capacity"
gives = "l"
add = [{ of = { settling = "l" } }, { of = { sludge = "l" } }]
"#,
        &[("persons", "150"), ("water-use", "120 l/p/d")],
        "17250",
    )
    .unwrap();
    let day = Decimal::from(150 * 120);
    vec![
        slip("a day, l", "1800", "18000", day, "150 x 120 = 18 000"),
        slip("20 hours, l", "1500", "15000", s["settling"], "18 000 x 20 / 24 = 15 000"),
        same("sludge, l", "2250", s["sludge"]), // 15 x 150
        same("tank, l", "17250", s["capacity"]),
    ]
}

#[test]
fn twenty_hours_exactly() {
    let found = figures().into_iter().find(|f| f.what == "20 hours, l").unwrap();
    assert_eq!(found.ours, Ratio::int(150 * 120 * 20 / 24)); // printed 1500
}
