//! International Private Sewage Disposal Code 2012, Table 603.1 (up.codes; section 4.3 of the notes), ft2 a bedroom.

use tankwright_tests::sized;

#[test]
fn table_603_1() {
    for (rate, trench, bed) in [
        ("0.1", 165, 205),
        ("9.9", 165, 205),
        ("10", 250, 315),
        ("29.9", 250, 315),
        ("30", 300, 375),
        ("44.9", 300, 375),
        ("45", 330, 415),
        ("60", 330, 415),
    ] {
        let test = format!("{rate} min/in");
        let s = sized("ipsdc-603", &[("bedrooms", "1"), ("percolation", &test)]).unwrap();
        assert_eq!((s["area"], s["bed"]), (trench.into(), bed.into()), "{test}");
    }
    assert!(sized("ipsdc-603", &[("bedrooms", "1"), ("percolation", "60.1 min/in")]).is_err());
}
