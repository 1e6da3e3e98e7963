//! A round tank in water: 5 ft across, 5 ft high, 5,000 lb. What it says lacks is not what lacks.

use tankwright_geometry::{PI, Ratio};
use tankwright_quantities::checks::Floating;
use tankwright_tests::figures::{Figure, Publication, near, slip};

pub(super) const OF: Publication = Publication {
    title: "A round tank in water, Fix My Septic",
    source: "fixmyseptic.com 2016/10; F3 of the project's notes",
    remarks: &["The 1,250 lb fit 150 gal alone."],
};

pub(super) fn figures() -> Vec<Figure> {
    let volume = PI * Ratio::of(125, 4);
    let by_gallons =
        Floating { weight: Ratio::int(5_000), volume: Ratio::int(734), water: Ratio::of(834, 100) };
    let by_feet = Floating { volume, water: Ratio::of(624, 10), ..by_gallons };
    // From the printed uplift: 6,120 - 5,000.
    let printed = Floating { volume: Ratio::int(6_120), water: Ratio::ONE, ..by_gallons };
    let lacks = "1,250 lb fit 150 gal alone";
    vec![
        near("volume, ft3", "98.175", volume),
        near("gallons of 0.133681 ft3", "734", volume / Ratio::of(133_681, 1_000_000)), // 231 in3
        slip("uplift of 734 gal, lb", "6120", "6121.6", by_gallons.uplift(), "734 x 8.34 = 6,121.6"),
        slip("uplift by 62.4 lb/ft3, lb", "6120", "6126.1", by_feet.uplift(), "98.175 x 62.4"),
        slip("lacking, lb, by 734 gal", "1250", "1122", by_gallons.short(Ratio::ONE), lacks),
        slip("lacking, lb, by 62.4 lb/ft3", "1250", "1126", by_feet.short(Ratio::ONE), lacks),
        slip("lacking, lb, by its own uplift", "1250", "1120", printed.short(Ratio::ONE), lacks),
    ]
}
