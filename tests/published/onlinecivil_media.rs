//! A web example of a filled pit (onlinecivil.net 2014/01; W12 of the notes): 75 people, 120 l, 1250 l a day for each
//! m3 of filling. It prints 7.2 m3, and 2 m deep a diameter of 2.14 m. Slips, none of them in this part: "9000 + 2250 =
//! 9000/750" m3 of tank, 12 for 11.25, a width of 1.4 that becomes 1.5.

use tankwright_tests::sized;

#[test]
fn volume_of_the_filling_as_printed() {
    let s = sized("media-1250", &[("persons", "75"), ("water-use", "120 l/p/d")]).unwrap();
    assert_eq!(s["volume"].to_string(), "7.2"); // 75 x 120 / 1250
}
