//! A sheet that quotes the Philippine order 2019-0047 (scribd.com/document/639856077; W18 of the notes): 200 l a head,
//! 35 C, two years. It prints 1.09, 0.45, 1.2, 0.48 and 4.03 m3. Slips: 11 people become 15 after the first line; the
//! sum of what it prints is 3.22, multiplied by an unstated 1.25; its second chamber of 1.44 m2 is held against 1.367,
//! which is half of the first chamber, not a third of the whole.

use rust_decimal::Decimal;
use tankwright_tests::sized;

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

#[test]
fn the_sheet_with_its_slips_and_without() {
    let by = |people: &str| {
        let given = [("persons", people), ("flow", "2.2 m3/d"), ("years", "2"), ("temperature", "35")];
        sized("doh-ph-2019", &given).unwrap()
    };
    let printed = by("15");
    assert_eq!(printed["settling"].round_dp(2), d("1.09"));
    assert_eq!((printed["digestion"], printed["sludge"], printed["scum"]), (d("0.45"), d("1.2"), d("0.48")));
    assert_eq!((printed["capacity"] * d("1.25")).round_dp(2), d("4.03"));
    let right = by("11");
    assert_eq!((right["digestion"], right["sludge"], right["scum"]), (d("0.33"), d("0.88"), d("0.352")));
    assert_eq!(right["capacity"].round_dp(3), d("2.656"));
}
