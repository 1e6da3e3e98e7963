//! A tank in water, discussed on a forum: 68 x 126 x 64 in, 11,000 lb. Its cover is rounded the unsafe way, and the soil is
//! weighed dry though water may stand over the roof.

use tankwright_geometry::Ratio;
use tankwright_quantities::checks::Floating;
use tankwright_quantities::decimal::rounded;
use tankwright_tests::figures::{Figure, Publication, near, slip};

pub(super) const OF: Publication = Publication {
    title: "A tank in water, discussed at Eng-Tips",
    source: "eng-tips.com, thread 357608; F1 of the project's notes",
    remarks: &[],
};

/// Volume in ft3, tank, plan in ft2.
fn tank() -> (Ratio, Floating, Ratio) {
    let volume = Ratio::int(68 * 126 * 64) / Ratio::int(1_728);
    let tank = Floating { weight: Ratio::int(11_000), volume, water: Ratio::of(624, 10) };
    (volume, tank, Ratio::of(68 * 126, 144))
}

pub(super) fn figures() -> Vec<Figure> {
    let (volume, tank, plan) = tank();
    let foot = plan * Ratio::int(80);
    // Soil under water, as the thread leaves out: 80 - 62.4 lb/ft3.
    let under = tank.short(Ratio::ONE) / (plan * (Ratio::int(80) - tank.water));
    let unsafe_way = "1.849 ft rounded down, the unsafe way: with 1.8 ft it still floats";
    let dry = "the soil is weighed dry, though water may stand over the roof: 8,801.6 / (59.5 x 17.6)";
    vec![
        near("volume, ft3", "317", volume),
        near("uplift, lb", "19802", tank.uplift()), // 317.33 x 62.4 = 19,801.6
        near("plan, ft2", "59.5", plan),
        near("soil at 80 lb/ft3, lb for a foot", "4760", foot),
        slip("cover of soil, ft", "1.8", "1.849", tank.short(Ratio::ONE) / foot, unsafe_way), // (19,801.6 - 11,000) / 4,760
        slip("cover of soil under water, ft", "1.8", "8.4", under, dry),
    ]
}

#[test]
fn uplift_to_the_tenth_and_the_cover_rounded_the_unsafe_way() {
    let (volume, tank, plan) = tank();
    let places = |n, p| rounded(n, p).unwrap().to_string();
    assert_eq!(places(volume, 2), "317.33");
    assert_eq!(places(tank.uplift(), 1), "19801.6"); // 317.33 x 62.4
    assert_eq!(places(tank.factor(), 3), "0.556"); // 11,000 / 19,801.6
    // With the printed 1.8 ft it still floats; with what the checks print, up, it does not.
    let held = |feet: Ratio| tank.weight + plan * Ratio::int(80) * feet;
    assert!(held(Ratio::of(18, 10)) < tank.uplift() && held(Ratio::of(185, 100)) >= tank.uplift());
}
