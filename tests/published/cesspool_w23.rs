//! A chapter on a cesspool in Great Britain: 58 people of 180 l, emptied by loads of 9 m3.

use rust_decimal::Decimal;
use tankwright_quantities::decimal::ratio;
use tankwright_tests::figures::{Figure, Publication, near, same, slip};
use tankwright_tests::sized_by;

pub(super) const OF: Publication = Publication {
    title: "A cesspool in Great Britain",
    source: "doi.org/10.1201/9781315276106-31; W23 of the project's notes",
    remarks: &[],
};

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

pub(super) fn figures() -> Vec<Figure> {
    let day = |id: &str, days: u16| {
        format!(
            "[[step]]\nid = \"{id}\"\ngives = \"m3\"\nadd = [{{ factor = \"{days}\", of = {{ flow = \"m3/d\" }} }}]\n"
        )
    };
    let steps = [
        "[inputs.flow]\n".to_owned(),
        day("day", 1),
        day("short", 3),
        day("week", 7),
        day("year", 365),
    ]
    .concat()
        + "[[step]]\nid = \"load\"\ngives = \"m3\"\nadd = [{ factor = \"9\" }]\n\
           [[step]]\nid = \"trips\"\ngives = \"1\"\nadd = [{ of = { year = \"m3\" }, over = { load = \"m3\" } }]\n"
        + &day("capacity", 45);
    let s = sized_by(&steps, &[("persons", "58"), ("water-use", "180 l/p/d")], "469.8").unwrap();
    vec![
        same("a day, m3", "10.44", s["day"]), // 58 x 0.18
        near("3 days, m3", "31", s["short"]),
        near("7 days, m3", "73", s["week"]),
        slip("45 days, m3", "475", "469.8", s["capacity"], "10.44 x 45 = 469.8"),
        slip("a year, m3", "3810", "3810.6", s["year"], "10.44 x 365, cut and not rounded"),
        slip("trips of 9 m3 in a year", "420", "423", s["trips"], "printed about"),
    ]
}

#[test]
fn exact_where_it_can_be() {
    let found = figures();
    let ours = |what: &str| found.iter().find(|f| f.what == what).unwrap().ours;
    assert_eq!(ours("45 days, m3"), ratio(d("10.44") * d("45")));
    assert_eq!(ours("a year, m3"), ratio(d("10.44") * d("365")));
}
