//! A maker's page that quotes BS 6297: litres for 4 and 6 people, and imperial gallons.

use rust_decimal::Decimal;
use tankwright_tests::figures::{Figure, Publication, near, same, slip};
use tankwright_tests::goods::printed;
use tankwright_tests::sized;

pub(super) const OF: Publication = Publication {
    title: "A maker's page that quotes BS 6297",
    source: "traceyconcrete.com/septic_pipes.html; W1 of the project's notes",
    remarks: &[],
};

pub(super) fn figures() -> Vec<Figure> {
    let litres = |n: &str| sized("bs-6297-1983", &[("persons", n)]).unwrap()["capacity"];
    let gallon: Decimal = "4.54609".parse().unwrap();
    let gallons = |n: &str| (litres(n) / gallon).round_dp(6);
    vec![
        same("4 people, l", "2720", litres("4")), // 180 x 4 + 2000
        same("6 people, l", "3080", litres("6")), // 180 x 6 + 2000
        near("4 people, gallons", "598", gallons("4")),
        slip("6 people, gallons", "675", "677.5", gallons("6"), "printed about"),
    ]
}

#[test]
fn gallons_to_the_tenth() {
    let found = figures().into_iter().find(|f| f.what == "4 people, gallons").unwrap();
    assert_eq!(printed(found.ours, 1), "598.3");
}
