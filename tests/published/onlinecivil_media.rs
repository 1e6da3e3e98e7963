//! A web example of a filled pit: 75 people, 120 l, 1250 l a day for each m3 of filling.

use rust_decimal::{Decimal, MathematicalOps};
use tankwright_tests::figures::{Figure, Publication, near, same, slip};
use tankwright_tests::goods::r;
use tankwright_tests::{sized, sized_by};

pub(super) const OF: Publication = Publication {
    title: "A web example of a filled pit",
    source: "onlinecivil.net 2014/01; W12 of the project's notes",
    remarks: &["\"9000 + 2250 = 9000/750\" m3 of tank.", "A width of 1.4 becomes 1.5."],
};

pub(super) fn figures() -> Vec<Figure> {
    let media = sized("media-1250", &[("persons", "75"), ("water-use", "120 l/p/d")]).unwrap();
    // 2 m deep: the square of the diameter, 4 x 7.2 / (2 pi).
    let square = Decimal::from(4) * media["volume"] / (Decimal::from(2) * Decimal::PI);
    let across = square.sqrt().unwrap().round_dp(6);
    let steps = r#"
[inputs.persons]
[inputs.flow]
[[step]]
id = "settling"
gives = "l"
add = [{ of = { flow = "l/d" } }]
[[step]]
id = "sludge"
gives = "l"
add = [{ factor = "30", of = { persons = "1" } }]
[[step]]
id = "capacity"
gives = "l"
add = [{ of = { settling = "l" } }, { of = { sludge = "l" } }]
"#;
    let s = sized_by(steps, &[("persons", "75"), ("water-use", "120 l/p/d")], "11250").unwrap();
    vec![
        same("filling, m3", "7.2", media["volume"]), // 75 x 120 / 1250
        near("2 m deep: across, m", "2.14", across),
        same("settling, l", "9000", s["settling"]),
        same("sludge, l", "2250", s["sludge"]),
        slip("tank, m3", "12", "11.25", s["capacity"] / Decimal::from(1000), "9000 + 2250 = 11 250 l"),
    ]
}

#[test]
fn litres_of_the_tank_exactly() {
    let tank = figures().into_iter().find(|f| f.what == "tank, m3").unwrap();
    assert_eq!(tank.ours, r("11.25"));
}
