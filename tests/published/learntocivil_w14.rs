//! A web example (learntocivilfield 2018/02; W14 of the notes): 800 people of 150 l a day, 0.8 of it, 40 l of sludge a
//! head in a year; 1.6 m deep, four times as long as wide; a pit by 1.26 m3 a day for each m3, 3.5 m deep. It prints
//! "128 litres" (128 000 l), 80 m2, 4.5 x 18 m, a pit of 101.6 m3 and 6 m across. Slips: "4B = 80" for 4 B2; the pit's
//! 6.08 m are rounded down; and it is reckoned from the tank's volume, not from the water of a day.

use rust_decimal::Decimal;
use tankwright_tests::sized_by;

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

#[test]
fn tank_as_printed_pit_of_the_wrong_volume() {
    let s = sized_by(
        r#"
[inputs.persons]
[inputs.flow]
[inputs.years]
default = "1"
[[step]]
id = "settling"
gives = "m3"
add = [{ factor = "0.8", of = { flow = "m3/d" } }]
[[step]]
id = "sludge"
gives = "l"
add = [{ factor = "40", of = { persons = "1", years = "yr" } }]
[[step]]
id = "capacity"
gives = "m3"
add = [{ of = { settling = "m3" } }, { of = { sludge = "m3" } }]
[[step]]
id = "deep"
gives = "m"
add = [{ factor = "1.6" }]
[[step]]
id = "plan"
gives = "m2"
add = [{ of = { capacity = "m3" }, over = { deep = "m" } }]
[[step]]
id = "width"
title = "root of a quarter of the plan"
gives = "m"
curve = { shape = "a x^b", a = "0.5", b = "0.5", x = "plan", in = "m2" }
[[step]]
id = "takes"
gives = "m3"
add = [{ factor = "1.26" }]
[[step]]
id = "pit"
gives = "m3"
add = [{ of = { capacity = "m3" }, over = { takes = "m3" } }]
[[step]]
id = "pit-of-a-day"
gives = "m3"
add = [{ of = { settling = "m3" }, over = { takes = "m3" } }]
[[step]]
id = "pit-deep"
gives = "m"
add = [{ factor = "3.5" }]
[[step]]
id = "pit-plan"
gives = "m2"
add = [{ of = { pit = "m3" }, over = { pit-deep = "m" } }]
[[step]]
id = "across"
title = "root of 4 / pi"
gives = "m"
curve = { shape = "a x^b", a = "1.128379167", b = "0.5", x = "pit-plan", in = "m2" }
"#,
        &[("persons", "800"), ("water-use", "150 l/p/d")],
        "128",
    )
    .unwrap();
    assert_eq!((s["settling"], s["sludge"]), (d("96"), Decimal::from(800 * 40)));
    assert_eq!((s["capacity"], s["plan"]), (d("128"), d("80")));
    assert_eq!(s["width"].round_dp(2), d("4.47")); // printed 4.5, and 18 long
    assert_eq!((s["pit"].round_dp(1), s["pit-of-a-day"].round_dp(1)), (d("101.6"), d("76.2")));
    // 29.03 of 101.6 rounded before; 6 m across as printed.
    assert_eq!((s["pit-plan"].round_dp(2), s["across"].round_dp(2)), (d("29.02"), d("6.08")));
}
