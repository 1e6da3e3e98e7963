//! A Philippine schedule "Septic vault, CHB 6 in" (de.scribd.com/doc/211807932) and student sheets after Fajardo
//! (de.scribd.com/document/338316389, cadnovicenetwork.info): bags of 40 kg. The vault's coefficients per m2 of wall
//! are its own (cells filled inside them) and are held as sums; its concrete is class A, reckoned here.
//! Slip named: sand is ordered as 3.50 m3; the running total 1.93 stands in the row of the slab and is added again.

use tankwright_geometry::Ratio;
use tankwright_quantities::materials::Materials;
use tankwright_tests::goods::{concrete, goods, needed, printed, r};

fn class(m3: &str, mix: &str) -> Materials {
    goods("[materials]\nconcrete = \"philippines\"\n", vec![concrete(m3, mix)])
}

fn bags(m: &Materials) -> Ratio {
    needed(m, "cement") / Ratio::int(40)
}

#[test]
fn cement_and_sand_of_the_vault() {
    // Slab 3.00 and cover 5.40 m2, 100 mm: 0.84 m3.
    let m = class("0.84", "1:2:4");
    assert_eq!(printed(bags(&m), 2), "7.56");
    // 14.40 m2 of wall: mortar 1.5257, plaster 0.36 bags to a m2.
    let wall = [r("1.5257"), r("0.36")].map(|c| c * r("14.40"));
    assert_eq!(wall.map(|b| printed(b, 2)), ["21.97", "5.18"]);
    assert_eq!(printed(wall[0] + wall[1] + bags(&m), 2), "34.71"); // prints 34.72, from rounded parts; ordered 35
    // Sand: mortar 1.22, plaster 0.29, concrete 0.42 are 1.93; it prints 1.93 for the concrete and orders 3.50.
    let concrete = needed(&m, "sand-building");
    assert_eq!(printed(concrete, 2), "0.42");
    let total = r("0.0847") * r("14.40") + r("0.0201") * r("14.40") + concrete;
    assert_eq!(printed(total, 2), "1.93");
    assert_eq!(printed(r("1.22") + r("0.29") + r("1.93"), 2), "3.44"); // the slip, before it is rounded up
}

#[test]
fn floors_after_fajardo() {
    let a = class("2.625", "1:2:4"); // 0.5 x 3.5 x 1.5
    assert_eq!(printed(bags(&a), 3), "23.625");
    assert_eq!((needed(&a, "sand-building"), needed(&a, "aggregate-20")), (r("1.3125"), r("2.625")));
    let b = class("1.125", "1:2.5:5"); // 0.675 + 0.45, class B
    assert_eq!(printed(bags(&b), 4), "8.4375");
    assert_eq!((needed(&b, "sand-building"), needed(&b, "aggregate-20")), (r("0.5625"), r("1.125")));
}
