//! An agency's technical brief (Oxfam TBN9; W22 of the notes): 540 l a day stay two days, 1080 l; three times that, 3240,
//! where all of it comes within eight hours. Slip: "60 x 0.9 = 540" is 54; 540 l are ten people by it.

use rust_decimal::Decimal;
use tankwright_tests::sized_by;

#[test]
fn two_days_and_three_times_that() {
    let by = |given: &[(&str, &str)]| {
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
    };
    let printed = by(&[("flow", "540 l/d")]);
    assert_eq!(
        (printed["spread"], printed["capacity"]),
        (Decimal::from(540 * 2), Decimal::from(540 * 2 * 3))
    );
    assert_eq!(by(&[("persons", "10"), ("water-use", "54 l/p/d")]), printed); // 60 x 0.9 each
}
