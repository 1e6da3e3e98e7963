//! Two old books of concrete in barrels and cubic yards: a silo, a wall and a topping; both round up to the half unit.

use tankwright_geometry::Ratio;
use tankwright_quantities::materials::Materials;
use tankwright_tests::figures::{Figure, Publication, near, same, slip};
use tankwright_tests::goods::{concrete, goods, mortar, needed, printed, r};

pub(super) const OF: Publication = Publication {
    title: "Atlas Portland Cement Co and Griffith: concrete in barrels and cubic yards",
    source: "Atlas Portland Cement Co, \"Concrete Construction for the Home and the Farm\", table III (silo); Griffith, \
             \"Carpentry\" (wall and topping)",
    remarks: &["Atlas rounds what it orders up to the half unit, and so is ours here."],
};

/// kg in a barrel of 376 lb; m3 in a cubic foot and a cubic yard.
const BARREL: &str = "170.551";

fn m3(ft3: i128) -> String {
    printed(Ratio::int(ft3) * r("0.028316847"), 12)
}

fn barrels(m: &Materials) -> Ratio {
    needed(m, "cement") / r(BARREL)
}

fn yards(m: &Materials, material: &str) -> Ratio {
    needed(m, material) / (r("0.028316847") * Ratio::int(27))
}

/// 750 ft3 of 1:2:4, 185 ft3 of 1:2.5:5, and 400 yd2 of wash 1:1 at 15 yd2 to a ft3 (0.1856 bbl, 0.0263 yd3 in 1 ft3):
/// barrels, sand and stone.
fn silo() -> [Ratio; 3] {
    let mut base = concrete(&m3(750), "1:2:4");
    base.id = "tank".into();
    let m = goods("[materials]\nconcrete = \"atlas\"\n", vec![base, concrete(&m3(185), "1:2.5:5")]);
    let wash = Ratio::int(400) / Ratio::int(15);
    let sand = yards(&m, "sand-building") + wash * r("0.0263");
    [barrels(&m) + wash * r("0.1856"), sand, yards(&m, "aggregate-20")]
}

pub(super) fn figures() -> Vec<Figure> {
    let half = Ratio::of(1, 2);
    let [cement, sand, stone] = silo().map(|n| Ratio::ZERO - (Ratio::ZERO - n / half).floor() * half);
    let wall = goods("[materials]\nconcrete = \"griffith\"\n", vec![concrete(&m3(280), "1:2.5:5")]);
    let topping = goods("[materials]\nmortar = \"griffith\"\n", vec![mortar(&m3(80), "1:2")]);
    let metric = "0.1239 barrels in 1 ft3, turned into metric by us";
    vec![
        same("Atlas, silo: cement, barrels, up to the half", "57.5", cement),
        same("Atlas, silo: sand, yd3, up to the half", "16.5", sand),
        same("Atlas, silo: stone, yd3, up to the half", "31", stone),
        near("Griffith, wall of 280 ft3, 1:2.5:5: cement, barrels", "13.44", barrels(&wall)),
        near("Griffith, wall: sand, yd3", "4.76", yards(&wall, "sand-building")),
        near("Griffith, wall: stone, yd3", "9.548", yards(&wall, "aggregate-20")),
        slip(
            "Griffith, topping of 80 ft3, 1:2: cement, barrels",
            "9.912",
            "9.911",
            barrels(&topping),
            metric,
        ),
        near("Griffith, topping: sand, yd3", "2.752", yards(&topping, "sand-building")),
    ]
}

#[test]
fn silo_before_it_is_rounded() {
    assert_eq!(silo().map(|n| printed(n, 2)), ["57.33", "16.18", "30.96"]);
}
