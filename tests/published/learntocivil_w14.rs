//! A web example of a tank and a pit: 800 people of 150 l a day, 0.8 of it, 40 l of sludge a head in a year; 1.6 m deep, four
//! times as long as wide; a pit by 1.26 m3 a day for each m3, 3.5 m deep.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use tankwright_tests::figures::{Figure, Publication, near, same, slip};
use tankwright_tests::goods::printed;
use tankwright_tests::sized_by;

pub(super) const OF: Publication = Publication {
    title: "A web example of a tank and a pit for 800 people",
    source: "learntocivilfield 2018/02; W14 of the project's notes",
    remarks: &[
        "\"128 litres\" stands for 128 000 l.",
        "\"4B = 80\" stands for 4 B2 = 80.",
        "The pit is reckoned from the tank's volume, not from the water of a day.",
    ],
};

pub(super) fn figures() -> Vec<Figure> {
    let s = steps();
    let wrong = "from the tank's volume, not from the water of a day";
    vec![
        same("tank, m3", "128", s["capacity"]),
        same("plan, m2", "80", s["plan"]),
        near("width, m", "4.5", s["width"]), // 4.47, and four times that
        slip("length, m", "18", "17.89", s["width"] * Decimal::from(4), "4 x 4.5, rounded before"),
        near("pit, m3", "101.6", s["pit"]),
        slip("pit by the water of a day, m3", "101.6", "76.2", s["pit-of-a-day"], wrong),
        slip("pit across, m", "6", "6.08", s["across"], "rounded down"),
    ]
}

fn steps() -> BTreeMap<String, Decimal> {
    sized_by(
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
    .unwrap()
}

#[test]
fn what_it_does_not_print() {
    let s = steps();
    assert_eq!((s["settling"], s["sludge"]), (Decimal::from(96), Decimal::from(800 * 40)));
    // 29.03 of 101.6 rounded before.
    assert_eq!(s["pit-plan"].round_dp(2).to_string(), "29.02");
}

#[test]
fn width_to_the_centimetre() {
    let width = figures().into_iter().find(|f| f.what == "width, m").unwrap();
    assert_eq!(printed(width.ours, 2), "4.47"); // printed 4.5, and 18 long
}
