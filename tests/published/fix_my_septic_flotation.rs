//! A round tank in water (fixmyseptic.com 2016/10; F3 of the notes). 5 ft across, 5 ft high, 5,000 lb; it prints
//! 98.175 ft3, 734 gal, 6,120 lb of uplift, and 1,250 lb lacking. SLIP: 734 gal x 8.34 = 6,121.6 lb, and what lacks is
//! 1,120 lb, not 1,250 (which fits 150 gal alone); by 62.4 lb/ft3 the uplift is 6,126.1 lb and 1,126 lb lack.

use tankwright_geometry::{PI, Ratio};
use tankwright_quantities::checks::Floating;
use tankwright_quantities::decimal::rounded;

#[test]
fn what_lacks_is_not_what_is_printed() {
    let places = |n, p| rounded(n, p).unwrap().to_string();
    let volume = PI * Ratio::of(125, 4);
    assert_eq!(places(volume, 3), "98.175");
    let by_gallons =
        Floating { weight: Ratio::int(5_000), volume: Ratio::int(734), water: Ratio::of(834, 100) };
    assert_eq!(places(by_gallons.uplift(), 1), "6121.6"); // 734 x 8.34; printed 6,120
    assert_eq!(places(by_gallons.short(Ratio::ONE), 0), "1122"); // printed 1,250
    let by_feet = Floating { volume, water: Ratio::of(624, 10), ..by_gallons };
    assert_eq!(places(by_feet.uplift(), 1), "6126.1");
    assert_eq!(places(by_feet.short(Ratio::ONE), 0), "1126");
    // From the printed uplift: 6,120 - 5,000.
    let printed = Floating { volume: Ratio::int(6_120), water: Ratio::ONE, ..by_gallons };
    assert_eq!(places(printed.short(Ratio::ONE), 0), "1120");
}
