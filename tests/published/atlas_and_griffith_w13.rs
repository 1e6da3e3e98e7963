//! Two old books of concrete in barrels and cubic yards: a silo, a wall and a topping; both round up to the half unit.

use tankwright_geometry::Ratio;
use tankwright_quantities::materials::Materials;
use tankwright_tests::figures::{Figure, Publication, near};
use tankwright_tests::goods::{concrete, goods, mortar, needed, printed, r};

pub(super) const OF: Publication = Publication {
    title: "Atlas Portland Cement Co and Griffith: concrete in barrels and cubic yards",
    source: "Atlas Portland Cement Co, \"Concrete Construction for the Home and the Farm\", table III (silo); Griffith, \
             \"Carpentry\" (wall and topping)",
    remarks: &["Both order up to the half unit: the silo 57.5 barrels, 16.5 and 31 yd3."],
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

pub(super) fn figures() -> Vec<Figure> {
    // 750 ft3 of 1:2:4, 185 ft3 of 1:2.5:5, and 400 yd2 of wash 1:1 at 15 yd2 to a ft3 (0.1856 bbl, 0.0263 yd3 in 1 ft3).
    let mut base = concrete(&m3(750), "1:2:4");
    base.id = "tank".into();
    let silo = goods("[materials]\nconcrete = \"atlas\"\n", vec![base, concrete(&m3(185), "1:2.5:5")]);
    let wash = Ratio::int(400) / Ratio::int(15);
    let wall = goods("[materials]\nconcrete = \"griffith\"\n", vec![concrete(&m3(280), "1:2.5:5")]);
    let topping = goods("[materials]\nmortar = \"griffith\"\n", vec![mortar(&m3(80), "1:2")]);
    vec![
        near("Atlas, silo: cement, barrels", "57.33", barrels(&silo) + wash * r("0.1856")),
        near("Atlas, silo: sand, yd3", "16.18", yards(&silo, "sand-building") + wash * r("0.0263")),
        near("Atlas, silo: stone, yd3", "30.96", yards(&silo, "aggregate-20")),
        near("Griffith, wall of 280 ft3, 1:2.5:5: cement, barrels", "13.44", barrels(&wall)),
        near("Griffith, wall: sand, yd3", "4.76", yards(&wall, "sand-building")),
        near("Griffith, wall: stone, yd3", "9.548", yards(&wall, "aggregate-20")),
        near("Griffith, topping of 80 ft3, 1:2: cement, barrels", "9.91", barrels(&topping)), // 9.912
        near("Griffith, topping: sand, yd3", "2.75", yards(&topping, "sand-building")),       // 2.752
    ]
}
