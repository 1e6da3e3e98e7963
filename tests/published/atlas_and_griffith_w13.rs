//! Atlas Portland Cement Co, "Concrete Construction for the Home and the Farm", table III (silo), and Griffith,
//! "Carpentry" (wall and topping): barrels and cubic yards; both round up to the half unit.

use tankwright_geometry::Ratio;
use tankwright_quantities::materials::Materials;
use tankwright_tests::goods::{concrete, goods, mortar, needed, printed, r};

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

/// 750 ft3 of 1:2:4, 185 ft3 of 1:2.5:5, and 400 yd2 of wash 1:1 at 15 yd2 to a ft3 (0.1856 bbl, 0.0263 yd3 in 1 ft3).
#[test]
fn silo() {
    let mut base = concrete(&m3(750), "1:2:4");
    base.id = "tank".into();
    let m = goods("[materials]\nconcrete = \"atlas\"\n", vec![base, concrete(&m3(185), "1:2.5:5")]);
    let wash = Ratio::int(400) / Ratio::int(15);
    assert_eq!(printed(barrels(&m) + wash * r("0.1856"), 2), "57.33"); // ordered 57.5
    assert_eq!(printed(yards(&m, "sand-building") + wash * r("0.0263"), 2), "16.18"); // ordered 16.5
    assert_eq!(printed(yards(&m, "aggregate-20"), 2), "30.96"); // ordered 31
}

#[test]
fn wall_of_280_cubic_feet() {
    let m = goods("[materials]\nconcrete = \"griffith\"\n", vec![concrete(&m3(280), "1:2.5:5")]);
    assert_eq!(printed(barrels(&m), 2), "13.44");
    assert_eq!(printed(yards(&m, "sand-building"), 2), "4.76");
    assert_eq!(printed(yards(&m, "aggregate-20"), 3), "9.548");
}

#[test]
fn topping_of_80_cubic_feet() {
    let m = goods("[materials]\nmortar = \"griffith\"\n", vec![mortar(&m3(80), "1:2")]);
    assert_eq!(printed(barrels(&m), 2), "9.91"); // 9.912
    assert_eq!(printed(yards(&m, "sand-building"), 2), "2.75"); // 2.752
}
