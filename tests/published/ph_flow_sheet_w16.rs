//! A sheet that sizes by "V = 1.125 + 0.75 Q" (scribd.com/document/490351557; W16 of the notes): nine people of 75 US
//! gallons. It prints 675 and 507.375 gallons, 1.92 m3. Slip in the rule, a dangerous one: the constant is 1125 US
//! gallons, for more than 1500 a day; below that a tank is one and a half days of flow. No rule of the program takes 1.125.

use rust_decimal::Decimal;
use tankwright_tests::sized_by;

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

#[test]
fn as_printed_a_third_of_what_was_meant() {
    let s = sized_by(
        r#"
[inputs.flow]
[[step]]
id = "printed"
gives = "usgal"
add = [{ factor = "1.125" }, { factor = "0.75", of = { flow = "usgal/d" } }]
[[step]]
id = "printed-m3"
gives = "m3"
add = [{ of = { printed = "m3" } }]
[[step]]
id = "meant"
gives = "usgal"
add = [{ factor = "1125" }, { factor = "0.75", of = { flow = "usgal/d" } }]
[[step]]
id = "meant-m3"
gives = "m3"
add = [{ of = { meant = "m3" } }]
[[step]]
id = "below"
title = "up to 1500 gallons a day"
gives = "usgal"
add = [{ factor = "1.5", of = { flow = "usgal/d" } }]
[[step]]
id = "capacity"
gives = "m3"
add = [{ of = { below = "m3" } }]
"#,
        &[("persons", "9"), ("water-use", "75 usgal/p/d")],
        "3.83",
    )
    .unwrap();
    assert_eq!((s["printed"], s["printed-m3"].round_dp(2)), (d("1.125") + d("0.75") * d("675"), d("1.92")));
    assert_eq!((s["meant"], s["meant-m3"].round_dp(3)), (d("1631.25"), d("6.175")));
    assert_eq!((s["below"], s["capacity"].round_dp(2)), (d("1012.5"), d("3.83")));
}
