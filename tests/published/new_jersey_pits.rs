//! New Jersey 7:9A-11.2, seepage pits (e.casetext.com; section 4.3 of the notes): ft2 of wall a bedroom, whole minutes,
//! and the same a US gallon of 150 a day and bedroom: 0.48, 0.72, 0.96, 1.20.

use rust_decimal::Decimal;
use tankwright_tests::sized;

#[test]
fn the_table_both_ways() {
    for (rate, feet, each) in [
        ("5", 72, "0.48"),
        ("10", 72, "0.48"),
        ("10.5", 108, "0.72"),
        ("20", 108, "0.72"),
        ("30", 144, "0.96"),
        ("40", 180, "1.20"),
    ] {
        let test = format!("{rate} min/in");
        let s = sized("nj-pit", &[("bedrooms", "4"), ("percolation", &test)]).unwrap();
        assert_eq!(s["area"], Decimal::from(4 * feet), "{test}");
        assert_eq!(Decimal::from(feet) / Decimal::from(150), each.parse().unwrap());
    }
    assert!(sized("nj-pit", &[("bedrooms", "4"), ("percolation", "40.1 min/in")]).is_err());
    let least = sized("nj-pit", &[("bedrooms", "1"), ("percolation", "5 min/in")]).unwrap();
    assert_eq!(least["area"], Decimal::from(110));
}
