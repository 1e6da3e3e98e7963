//! A round tank of 600 gal in water (onsiteinstaller.com 2019/11; F2 of the notes). 67 in across, 65 in high; it
//! prints 132.6 ft3 and 8,274 lb of uplift. SLIP: none; the uplift is of the rounded volume, 132.6 x 62.4 = 8,274.2.

use tankwright_geometry::{PI, Ratio};
use tankwright_quantities::checks::Floating;
use tankwright_quantities::decimal::rounded;

#[test]
fn volume_and_uplift_as_printed() {
    let volume = PI * Ratio::of(1, 4) * Ratio::int(67 * 67 * 65) / Ratio::int(1_728);
    let tank = Floating { weight: Ratio::ZERO, volume, water: Ratio::of(624, 10) };
    let places = |n, p| rounded(n, p).unwrap().to_string();
    assert_eq!(places(volume, 2), "132.62");
    assert_eq!(places(tank.uplift(), 0), "8275"); // 132.62 x 62.4 = 8,275.5
    let printed = Floating { volume: Ratio::of(1_326, 10), ..tank };
    assert_eq!(places(printed.uplift(), 0), "8274");
}
