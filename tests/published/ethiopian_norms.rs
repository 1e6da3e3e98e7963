//! Material norms: formwork to 1 m2 of face, with 5 % of waste and the number of uses; and binding wire, 13 kg to the tonne
//! with 3 % of waste.

use tankwright_geometry::Ratio;
use tankwright_quantities::made::Made;
use tankwright_quantities::materials::Materials;
use tankwright_tests::figures::{Figure, Publication, near, same, slip};
use tankwright_tests::goods::{goods, item, r};
use tankwright_tests::stock;

pub(super) const OF: Publication = Publication {
    title: "Material norms \"General formula\" (Ethiopian (?)): formwork; binding wire",
    source: "scribd.com/document/848458570; paramvisions.com/2020/09/binding-wire-in-civil-construction.html",
    remarks: &[
        "The beams of a slab's soffit, 0.15 m of them, are a slip: 1.0 m over 10 uses with 5 % is 0.105.",
    ],
};

fn gross(m: &Materials, material: &str) -> String {
    let row = m.rows.iter().find(|row| row.material == material);
    row.map_or_else(String::new, |row| row.gross.to_string())
}

pub(super) fn figures() -> Vec<Figure> {
    let wall = goods("", vec![item("formwork-ring-beam", "1", "", Made::NOTHING)]);
    let slab = goods("", vec![item("formwork-cover-soffit", "1", "", Made::NOTHING)]);
    let stock = stock();
    let wire = stock.recipes.figures["binding-wire"].value("").unwrap().value * r("1000");
    let (_, (waste, _)) = stock.recipes.waste("binding-wire").unwrap();
    let beams = "1.0 m over 10 uses with 5 % is 0.105";
    vec![
        near("1 m2 of wall: boards, m2", "0.53", &gross(&wall, "boards-formwork")), // 1 x 1.05 / 2
        same("1 m2 of wall: battens, m", "0.84", &gross(&wall, "battens-formwork")), // 4 x 1.05 / 5
        slip(
            "1 m2 of wall: beams, m",
            "0.10",
            "0.105",
            &gross(&wall, "beams-formwork"),
            "1 x 1.05 / 10, cut",
        ),
        same("1 m2 of wall: nails, kg", "0.2", &gross(&wall, "nails")),
        same("1 m2 of wall: mould oil, l", "0.06", &gross(&wall, "mould-oil")),
        slip(
            "1 m2 of soffit: boards, m2",
            "0.27",
            "0.263",
            &gross(&slab, "boards-formwork"),
            "1 x 1.05 / 4, up",
        ),
        same("1 m2 of soffit: battens, m", "0.42", &gross(&slab, "battens-formwork")), // 4 x 1.05 / 10
        slip("1 m2 of soffit: beams, m", "0.15", "0.105", &gross(&slab, "beams-formwork"), beams),
        near("binding wire to a tonne, kg", "13.39", wire * (Ratio::ONE + *waste / Ratio::int(100))),
    ]
}

#[test]
fn to_the_last_place() {
    let wall = goods("", vec![item("formwork-ring-beam", "1", "", Made::NOTHING)]);
    let slab = goods("", vec![item("formwork-cover-soffit", "1", "", Made::NOTHING)]);
    assert_eq!(gross(&wall, "boards-formwork"), "0.525");
    assert_eq!(gross(&wall, "beams-formwork"), "0.105");
    assert_eq!(gross(&slab, "boards-formwork"), "0.263"); // 0.2625
    assert_eq!(gross(&slab, "beams-formwork"), "0.105");
}
