//! A maker's page that quotes BS 6297 (traceyconcrete.com/septic_pipes.html; W1 of the project's notes).
//! It prints 2720 l for 4 people and 3080 l for 6, and 598 and 675 imperial gallons: 3080 l are 677.5.

use rust_decimal::Decimal;
use tankwright_tests::sized;

#[test]
fn litres_as_printed_gallons_only_about() {
    let litres = |n: &str| sized("bs-6297-1983", &[("persons", n)]).unwrap()["capacity"];
    assert_eq!(litres("4"), Decimal::from(180 * 4 + 2000));
    assert_eq!(litres("6"), Decimal::from(180 * 6 + 2000));
    let gallon: Decimal = "4.54609".parse().unwrap();
    let gallons = |n: &str| (litres(n) / gallon).round_dp(1).to_string();
    assert_eq!((gallons("4").as_str(), gallons("6").as_str()), ("598.3", "677.5"));
}
