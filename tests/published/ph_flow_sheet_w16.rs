//! A sheet that sizes by "V = 1.125 + 0.75 Q": nine people of 75 US gallons. A dangerous slip in the rule: no rule of the
//! program takes 1.125.

use rust_decimal::Decimal;
use tankwright_quantities::decimal::ratio;
use tankwright_tests::figures::{Figure, Publication, near, same, slip};
use tankwright_tests::sized_by;

pub(super) const OF: Publication = Publication {
    title: "A sheet that sizes by \"V = 1.125 + 0.75 Q\"",
    source: "scribd.com/document/490351557; W16 of the project's notes",
    remarks: &[
        "The constant of the rule is 1125 US gallons, for more than 1500 a day; below that a tank is one and a half days of flow.",
    ],
};

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

pub(super) fn figures() -> Vec<Figure> {
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
    let meant = "1.125 for 1125 gallons";
    let below = "1.125 for 1125, and 675 gallons a day are below 1500: one and a half days of them";
    vec![
        same("flow, US gallons a day", "675", s["below"] / d("1.5")),
        same("V by 1.125, US gallons", "507.375", s["printed"]), // 1.125 + 0.75 x 675
        near("V by 1.125, m3", "1.92", s["printed-m3"]),
        slip("V as meant, US gallons", "507.375", "1631.25", s["meant"], meant),
        slip("V as meant, m3", "1.92", "6.175", s["meant-m3"], meant),
        slip("V for that flow, US gallons", "507.375", "1012.5", s["below"], below),
        slip("V for that flow, m3", "1.92", "3.83", s["capacity"], below),
    ]
}

#[test]
fn gallons_exactly() {
    let found = figures();
    let ours = |what: &str| found.iter().find(|f| f.what == what).unwrap().ours;
    assert_eq!(ours("V as meant, US gallons"), ratio(d("1631.25")));
    assert_eq!(ours("V for that flow, US gallons"), ratio(d("1012.5")));
}
