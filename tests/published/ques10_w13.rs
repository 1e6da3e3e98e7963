//! A web exercise (ques10.com/p/29464; W13 of the notes): 150 people of 120 l a day, 20 hours, 15 l of sludge a head. It
//! prints 17 250 l. Slips: 150 x 120 is printed as 1800, it is 18 000; its 20 hours as 1500, they are 15 000.

use rust_decimal::Decimal;
use tankwright_tests::sized_by;

#[test]
fn litres_as_printed_in_spite_of_two_noughts() {
    let s = sized_by(
        r#"
[inputs.persons]
[inputs.flow]
[[step]]
id = "stay"
gives = "h"
add = [{ factor = "20" }]
[[step]]
id = "settling"
gives = "l"
add = [{ of = { flow = "l/d", stay = "d" } }]
[[step]]
id = "sludge"
gives = "l"
add = [{ factor = "15", of = { persons = "1" } }]
[[step]]
id = "capacity"
gives = "l"
add = [{ of = { settling = "l" } }, { of = { sludge = "l" } }]
"#,
        &[("persons", "150"), ("water-use", "120 l/p/d")],
        "17250",
    )
    .unwrap();
    assert_eq!(s["settling"], Decimal::from(150 * 120 * 20 / 24)); // printed 1500
    assert_eq!(s["sludge"], Decimal::from(15 * 150));
    assert_eq!(s["capacity"], Decimal::from(17_250));
}
