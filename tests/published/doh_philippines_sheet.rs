//! A sheet that quotes the Philippine order 2019-0047: 200 l a head, 35 C, two years. It becomes 15 people after its first
//! line of 11.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use tankwright_tests::figures::{Figure, Publication, near, same, slip};
use tankwright_tests::sized;

pub(super) const OF: Publication = Publication {
    title: "A sheet that quotes the Philippine order 2019-0047",
    source: "scribd.com/document/639856077; W18 of the project's notes",
    remarks: &[
        "11 people become 15 after the first line.",
        "The sum of what it prints is 3.22; it is multiplied by 1.25, which is not stated.",
        "Its second chamber of 1.44 m2 is held against 1.367, which is half of the first chamber, not a third of the whole.",
    ],
};

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn by(people: &str) -> BTreeMap<String, Decimal> {
    let given = [("persons", people), ("flow", "2.2 m3/d"), ("years", "2"), ("temperature", "35")];
    sized("doh-ph-2019", &given).unwrap()
}

pub(super) fn figures() -> Vec<Figure> {
    let (wrong, right) = (by("15"), by("11"));
    let people = "15 people for 11";
    vec![
        near("settling, m3", "1.09", wrong["settling"]),
        same("digestion of 15 people, m3", "0.45", wrong["digestion"]),
        same("sludge of 15 people, m3", "1.2", wrong["sludge"]),
        same("scum of 15 people, m3", "0.48", wrong["scum"]),
        near("capacity of 15 people x 1.25, m3", "4.03", wrong["capacity"] * d("1.25")),
        slip("digestion, m3", "0.45", "0.33", right["digestion"], people),
        slip("sludge, m3", "1.2", "0.88", right["sludge"], people),
        slip("scum, m3", "0.48", "0.352", right["scum"], people),
        slip("capacity, m3", "4.03", "2.656", right["capacity"], "15 people for 11, and a factor of 1.25"),
    ]
}

#[test]
fn of_eleven_people_exactly() {
    let right = by("11");
    assert_eq!((right["digestion"], right["sludge"], right["scum"]), (d("0.33"), d("0.88"), d("0.352")));
}
