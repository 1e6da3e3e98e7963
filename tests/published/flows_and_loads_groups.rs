//! Groups of houses by Flows and Loads: a large group counts less than its people.

use rust_decimal::Decimal;
use tankwright_tests::figures::{Figure, Publication, same};
use tankwright_tests::sized;

pub(super) const OF: Publication = Publication {
    title: "Groups of houses by Flows and Loads",
    source: "septictank-supplies.co.uk/pages/how-to-size; W3 of the project's notes",
    remarks: &[],
};

pub(super) fn figures() -> Vec<Figure> {
    let house = |bedrooms: &str| sized("uk-loads", &[("bedrooms", bedrooms)]).unwrap()["house"];
    let group = |persons: Decimal| {
        let persons = persons.to_string();
        sized("uk-loads", &[("persons", &persons)]).unwrap()["group"]
    };
    let (three, four) = (house("3"), house("4"));
    let fours = four + four + four + four;
    let mixed = three + three + three + three + four + four + four;
    vec![
        same("a house of three bedrooms, people", "5", three),
        same("a house of four bedrooms, people", "6", four),
        same("four houses of four bedrooms, people", "24", fours),
        same("they count as", "22", group(fours)), // 0.9 x 24 = 21.6
        same("four houses of three and three of four bedrooms, people", "38", mixed),
        same("these count as", "31", group(mixed)), // 0.8 x 38 = 30.4
    ]
}
