//! An agency's technical brief: 540 l a day stay two days; three times that where all of it comes within eight hours.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use tankwright_tests::figures::{Figure, Publication, same, slip};
use tankwright_tests::sized_by;

pub(super) const OF: Publication = Publication {
    title: "Oxfam technical brief TBN9",
    source: "Oxfam TBN9; W22 of the project's notes",
    remarks: &[],
};

pub(super) fn figures() -> Vec<Figure> {
    let printed = by(&[("flow", "540 l/d")]);
    let eaters = Decimal::from(60) * Decimal::new(9, 1);
    vec![
        same("two days, l", "1080", printed["spread"]), // 540 x 2
        same("within eight hours, l", "3240", printed["capacity"]), // 540 x 2 x 3
        slip("60 x 0.9, l a day", "540", "54", eaters, "60 x 0.9 is 54: 540 l are ten people by it"),
    ]
}

fn by(given: &[(&str, &str)]) -> BTreeMap<String, Decimal> {
    let steps = r#"
[inputs.flow]
[[step]]
id = "spread"
title = "two days of a flow that is spread over the day"
gives = "l"
add = [{ factor = "2", of = { flow = "l/d" } }]
[[step]]
id = "capacity"
title = "where it comes within eight hours"
gives = "l"
add = [{ factor = "3", of = { spread = "l" } }]
"#;
    sized_by(steps, given, "3240").unwrap()
}

#[test]
fn ten_people_are_540_l_a_day() {
    // 60 x 0.9 each.
    assert_eq!(by(&[("persons", "10"), ("water-use", "54 l/p/d")]), by(&[("flow", "540 l/d")]));
}
