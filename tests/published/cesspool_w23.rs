//! A chapter on a cesspool in Great Britain (doi.org/10.1201/9781315276106-31; W23 of the notes): 58 people of 180 l. It
//! prints 10.44 m3 a day; 31, 73 and 475 m3 in 3, 7 and 45 days; 3810 m3 a year, 420 trips of 9 m3. Slip: 45 days are
//! 469.8 m3.

use rust_decimal::Decimal;
use tankwright_tests::sized_by;

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

#[test]
fn days_year_and_trips() {
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
    assert_eq!(s["day"], d("58") * d("0.18"));
    assert_eq!((s["short"].round(), s["week"].round()), (d("31"), d("73")));
    assert_eq!(s["capacity"], d("10.44") * d("45")); // 469.8, printed 475
    assert_eq!((s["year"], s["trips"].round()), (d("10.44") * d("365"), d("423"))); // printed 3810 and about 420
}
