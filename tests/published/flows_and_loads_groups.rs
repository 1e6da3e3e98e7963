//! Groups of houses by Flows and Loads (septictank-supplies.co.uk/pages/how-to-size; W3 of the notes). It prints
//! 24 -> 22 for four houses of four bedrooms, 38 -> 31 for four of three and three of four bedrooms.

use tankwright_tests::sized;

#[test]
fn groups_as_printed() {
    let house = |bedrooms: &str| sized("uk-loads", &[("bedrooms", bedrooms)]).unwrap()["house"];
    let group = |persons: String| sized("uk-loads", &[("persons", &persons)]).unwrap()["group"].to_string();
    let (three, four) = (house("3"), house("4"));
    assert_eq!((three.to_string(), four.to_string()), ("5".to_owned(), "6".to_owned()));
    assert_eq!(group((four + four + four + four).to_string()), "22"); // 0.9 x 24 = 21.6
    assert_eq!(group((three + three + three + three + four + four + four).to_string()), "31"); // 0.8 x 38 = 30.4
}
