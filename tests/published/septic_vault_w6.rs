//! A Philippine schedule and student sheets after Fajardo: bags of 40 kg. The vault's coefficients per m2 of wall are its own
//! (cells filled inside them) and are held as sums; its concrete is class A, reckoned here.

use tankwright_geometry::Ratio;
use tankwright_quantities::materials::Materials;
use tankwright_tests::figures::{Figure, Publication, near, same, slip};
use tankwright_tests::goods::{concrete, goods, needed, r};

pub(super) const OF: Publication = Publication {
    title: "A Philippine schedule \"Septic vault, CHB 6 in\", and student sheets after Fajardo",
    source: "de.scribd.com/doc/211807932; de.scribd.com/document/338316389, cadnovicenetwork.info; W6 of the project's notes",
    remarks: &[
        "The vault's coefficients per m2 of wall are its own and are held as sums.",
        "Cement is ordered as 35 bags.",
    ],
};

fn class(m3: &str, mix: &str) -> Materials {
    goods("[materials]\nconcrete = \"philippines\"\n", vec![concrete(m3, mix)])
}

fn bags(m: &Materials) -> Ratio {
    needed(m, "cement") / Ratio::int(40)
}

pub(super) fn figures() -> Vec<Figure> {
    [vault(), fajardo()].concat()
}

fn vault() -> Vec<Figure> {
    // Slab 3.00 and cover 5.40 m2, 100 mm: 0.84 m3.
    let m = class("0.84", "1:2:4");
    // 14.40 m2 of wall: mortar 1.5257, plaster 0.36 bags to a m2; sand 0.0847 and 0.0201 m3.
    let [mortar, plaster, mortar_sand, plaster_sand] =
        ["1.5257", "0.36", "0.0847", "0.0201"].map(|c| r(c) * r("14.40"));
    let concrete = needed(&m, "sand-building");
    let sand = mortar_sand + plaster_sand + concrete;
    let again = r("1.22") + r("0.29") + r("1.93");
    let why = "the running total 1.93 stands in the row of the slab and is added again";
    vec![
        near("vault: cement of concrete, bags", "7.56", bags(&m)),
        near("vault: cement of mortar, bags", "21.97", mortar),
        near("vault: cement of plaster, bags", "5.18", plaster),
        slip("vault: cement, bags", "34.72", "34.71", mortar + plaster + bags(&m), "from rounded parts"),
        near("vault: sand of mortar, m3", "1.22", mortar_sand),
        near("vault: sand of plaster, m3", "0.29", plaster_sand),
        slip(
            "vault: sand of concrete, m3",
            "1.93",
            "0.42",
            concrete,
            "the running total in the row of the slab",
        ),
        near("vault: sand, m3", "1.93", sand),
        slip("vault: sand as added there, m3", "3.50", "3.44", again, "ordered: 3.44 rounded up"),
        slip("vault: sand to order, m3", "3.50", "1.93", sand, why),
    ]
}

fn fajardo() -> Vec<Figure> {
    let a = class("2.625", "1:2:4"); // 0.5 x 3.5 x 1.5
    let b = class("1.125", "1:2.5:5"); // 0.675 + 0.45, class B
    vec![
        same("floor of 2.625 m3, class A: cement, bags", "23.625", bags(&a)),
        same("class A: sand, m3", "1.3125", needed(&a, "sand-building")),
        same("class A: gravel, m3", "2.625", needed(&a, "aggregate-20")),
        same("floor of 1.125 m3, class B: cement, bags", "8.4375", bags(&b)),
        same("class B: sand, m3", "0.5625", needed(&b, "sand-building")),
        same("class B: gravel, m3", "1.125", needed(&b, "aggregate-20")),
    ]
}
