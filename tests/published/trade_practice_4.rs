//! A worked table of bags by stage: factors 1.54 and 1.33, 1440 kg/m3, bags of 50 kg, before waste. That 25 or 24 are bought
//! is a matter of orders.

use tankwright_geometry::Ratio;
use tankwright_tests::figures::{Figure, Publication, near, slip};
use tankwright_tests::goods::{concrete, goods, mortar, needed, printed, r};

pub(super) const OF: Publication = Publication {
    title: "A worked table of bags by stage",
    source: "The project's notes on trade practice, section 4",
    remarks: &["That 25 or 24 bags are bought is a matter of orders."],
};

const DRY: &str = "[materials]\nconcrete = \"dry\"\nmortar = \"dry\"\n";

pub(super) fn figures() -> Vec<Figure> {
    let rounded = "from an unrounded volume";
    // Stage, item, bags, and where ours differ; sand, stone.
    let stages = [
        ("blinding 1:3:6", concrete("0.368", "1:3:6"), ["1.63", ""], "0.17", "0.34"),
        ("base 1:2:4", concrete("1.105", "1:2:4"), ["7.003", "7.001"], "0.49", "0.97"),
        ("wall mortar 1:4", mortar("0.884", "1:4"), ["6.77", ""], "0.94", ""),
        ("plaster and screed", mortar("0.506", "1:4"), ["3.87", "3.88"], "0.54", ""),
        ("cover 1:2:4", concrete("0.603", "1:2:4"), ["3.82", ""], "0.27", "0.53"),
    ];
    let mut all = Vec::new();
    let (mut bags, mut sand, mut stone) = (Ratio::ZERO, Ratio::ZERO, Ratio::ZERO);
    for (stage, item, [want, ours], sand_m3, stone_m3) in stages {
        let m = goods(DRY, vec![item]);
        let cement = needed(&m, "cement") / Ratio::int(50);
        let what = format!("{stage}: cement, bags");
        all.push(if ours.is_empty() {
            near(&what, want, cement)
        } else {
            slip(&what, want, ours, cement, rounded)
        });
        bags = bags + cement;
        all.push(near(&format!("{stage}: sand, m3"), sand_m3, needed(&m, "sand-building")));
        // The table adds its printed cubic metres.
        sand = sand + r(&printed(needed(&m, "sand-building"), 2));
        let here = needed(&m, "aggregate-20");
        assert_eq!(here.is_zero(), stone_m3.is_empty(), "{stage}");
        if !here.is_zero() {
            all.push(near(&format!("{stage}: stone, m3"), stone_m3, here));
            stone = stone + r(&printed(here, 2));
        }
    }
    all.push(near("cement, bags", "23.10", bags));
    all.push(near("sand, printed figures added, m3", "2.41", sand));
    all.push(near("stone, printed figures added, m3", "1.84", stone));
    all
}
