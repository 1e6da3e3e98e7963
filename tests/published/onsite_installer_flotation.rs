//! A round tank of 600 gal in water: 67 in across, 65 in high. No slip: the uplift is of the rounded volume.

use tankwright_geometry::{PI, Ratio};
use tankwright_quantities::checks::Floating;
use tankwright_tests::figures::{Figure, Publication, near, slip};
use tankwright_tests::goods::printed;

pub(super) const OF: Publication = Publication {
    title: "A round tank of 600 gal in water, Onsite Installer",
    source: "onsiteinstaller.com 2019/11; F2 of the project's notes",
    remarks: &["No slip: the uplift is of the rounded volume."],
};

pub(super) fn figures() -> Vec<Figure> {
    let volume = PI * Ratio::of(1, 4) * Ratio::int(67 * 67 * 65) / Ratio::int(1_728);
    let tank = Floating { weight: Ratio::ZERO, volume, water: Ratio::of(624, 10) };
    let rounded = Floating { volume: Ratio::of(1_326, 10), ..tank };
    let why = "of its rounded volume, 132.6 x 62.4 = 8,274.2; of 132.62 it is 8,275.5";
    vec![
        near("volume, ft3", "132.6", volume),
        near("uplift of its rounded volume, lb", "8274", rounded.uplift()),
        slip("uplift, lb", "8274", "8275", tank.uplift(), why),
    ]
}

#[test]
fn volume_to_the_hundredth() {
    let volume = figures().into_iter().find(|f| f.what == "volume, ft3").unwrap();
    assert_eq!(printed(volume.ours, 2), "132.62");
}
