//! Material norms "General formula" (Ethiopian (?), scribd.com/document/848458570): formwork to 1 m2 of face, with 5 %
//! of waste and the number of uses. And binding wire, 13 kg to the tonne with 3 % of waste
//! (paramvisions.com/2020/09/binding-wire-in-civil-construction.html).

use tankwright_geometry::Ratio;
use tankwright_quantities::made::Made;
use tankwright_quantities::materials::Materials;
use tankwright_tests::goods::{goods, item, printed, r};
use tankwright_tests::stock;

fn gross(m: &Materials, material: &str) -> String {
    let row = m.rows.iter().find(|row| row.material == material);
    row.map_or_else(String::new, |row| row.gross.to_string())
}

#[test]
fn wall_sides() {
    let m = goods("", vec![item("formwork-ring-beam", "1", "", Made::NOTHING)]);
    assert_eq!(gross(&m, "boards-formwork"), "0.525"); // 1 x 1.05 / 2; prints 0.53
    assert_eq!(gross(&m, "battens-formwork"), "0.84"); // 4 x 1.05 / 5
    assert_eq!(gross(&m, "beams-formwork"), "0.105"); // 1 x 1.05 / 10; prints 0.10
    assert_eq!((gross(&m, "nails"), gross(&m, "mould-oil")), ("0.2".into(), "0.06".into()));
}

/// Its beams of 0.15 m are a slip: 1.0 m over 10 uses with 5 % is 0.105.
#[test]
fn slab_soffit() {
    let m = goods("", vec![item("formwork-cover-soffit", "1", "", Made::NOTHING)]);
    assert_eq!(gross(&m, "boards-formwork"), "0.263"); // 1 x 1.05 / 4 = 0.2625; prints 0.27
    assert_eq!(gross(&m, "battens-formwork"), "0.42"); // 4 x 1.05 / 10
    assert_eq!(gross(&m, "beams-formwork"), "0.105");
}

#[test]
fn binding_wire_of_a_tonne() {
    let stock = stock();
    let kg = stock.recipes.figures["binding-wire"].value("").unwrap().value * r("1000");
    let (_, (waste, _)) = stock.recipes.waste("binding-wire").unwrap();
    assert_eq!(printed(kg * (Ratio::ONE + *waste / Ratio::int(100)), 2), "13.39");
}
