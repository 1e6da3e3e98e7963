//! A tank in water, discussed at eng-tips.com, thread 357608 (F1 of the notes). 68 x 126 x 64 in, 11,000 lb; it prints
//! 317 ft3, 19,802 lb of uplift, a plan of 59.5 ft2, soil at 80 lb/ft3 = 4,760 lb a foot, "about 1.8 ft" of cover.
//! SLIP: 1.849 ft is rounded down, the unsafe way, and the soil is weighed dry though water may stand over the roof.

use tankwright_geometry::Ratio;
use tankwright_quantities::checks::Floating;
use tankwright_quantities::decimal::rounded;

#[test]
fn uplift_as_printed_and_the_cover_rounded_the_unsafe_way() {
    let volume = Ratio::int(68 * 126 * 64) / Ratio::int(1_728);
    let tank = Floating { weight: Ratio::int(11_000), volume, water: Ratio::of(624, 10) };
    let places = |n, p| rounded(n, p).unwrap().to_string();
    assert_eq!(places(volume, 2), "317.33");
    assert_eq!(places(tank.uplift(), 1), "19801.6"); // 317.33 x 62.4
    assert_eq!(places(tank.factor(), 3), "0.556"); // 11,000 / 19,801.6
    let plan = Ratio::of(68 * 126, 144);
    assert_eq!(places(plan, 1), "59.5");
    let deep = tank.short(Ratio::ONE) / (plan * Ratio::int(80));
    assert_eq!(places(deep, 3), "1.849"); // (19,801.6 - 11,000) / 4,760
    // With the printed 1.8 ft it still floats; with what the checks print, up, it does not.
    let held = |feet: Ratio| tank.weight + plan * Ratio::int(80) * feet;
    assert!(held(Ratio::of(18, 10)) < tank.uplift() && held(Ratio::of(185, 100)) >= tank.uplift());
    // Soil under water, as the thread leaves out: 80 - 62.4 lb/ft3.
    let under = tank.short(Ratio::ONE) / (plan * (Ratio::int(80) - tank.water));
    assert_eq!(places(under, 1), "8.4"); // 8,801.6 / (59.5 x 17.6)
}
