//! A web example of a filled pit (onlinecivil.net 2014/01; W12 of the notes): 75 people, 120 l, 1250 l a day for each
//! m3 of filling. It prints 7.2 m3, and 2 m deep a diameter of 2.14 m. Slips: "9000 + 2250 =
//! 9000/750" m3 of tank, 12 for 11.25; a width of 1.4 that becomes 1.5.

use tankwright_tests::{sized, sized_by};

#[test]
fn volume_of_the_filling_as_printed() {
    let s = sized("media-1250", &[("persons", "75"), ("water-use", "120 l/p/d")]).unwrap();
    assert_eq!(s["volume"].to_string(), "7.2"); // 75 x 120 / 1250
}

#[test]
fn litres_of_the_tank_add_up_to_less_than_printed() {
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
    assert_eq!((s["settling"].to_string(), s["sludge"].to_string()), ("9000".into(), "2250".into()));
    assert_eq!(s["capacity"].to_string(), "11250"); // printed 12 m3
}
