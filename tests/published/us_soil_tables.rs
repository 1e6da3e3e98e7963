//! United States tables by percolation rate and by class of soil.

use rust_decimal::Decimal;
use tankwright_tests::figures::{Figure, Publication, same, slip};
use tankwright_tests::sized;

pub(super) const OF: Publication = Publication {
    title: "United States soil tables: Montana DEQ-4 Table 8-1, Texas 285.91(1), a county code of the Missouri type, Uniform Plumbing Code",
    source: "Section 4.3 of the project's notes",
    remarks: &[
        "The five soils of the Uniform Plumbing Code are recalled.",
        "In the county code the rates beside the areas are not their inverse.",
    ],
};

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

pub(super) fn figures() -> Vec<Figure> {
    [montana(), texas(), missouri_type_county(), uniform_plumbing_code()].concat()
}

/// Rates in US gallons a square foot and day; area = flow / rate.
fn montana() -> Vec<Figure> {
    let mut all = Vec::new();
    for (rate, gallons) in [
        ("2.9", "0.8"),
        ("3", "0.8"),
        ("6", "0.6"),
        ("10", "0.5"),
        ("16", "0.4"),
        ("31", "0.3"),
        ("51", "0.2"),
        ("120", "0.2"),
        ("121", "0.15"),
    ] {
        let test = format!("{rate} min/in");
        let s = sized("montana", &[("flow", "300 usgal/d"), ("percolation", &test)]).unwrap();
        assert_eq!(s["area"], d("300") / d(gallons), "{test}");
        all.push(same(&format!("Montana, {test}: gallons a ft2"), gallons, s["rate"]));
    }
    all
}

/// The area counts the base and one foot of wall all round.
fn texas() -> Vec<Figure> {
    let mut all = Vec::new();
    for (class, rate) in
        [("texas-ib", "0.38"), ("texas-ii", "0.25"), ("texas-iii", "0.20"), ("texas-iv", "0.1")]
    {
        let given = [("flow", "190 usgal/d"), ("soil-class", class), ("trench-width", "2 ft")];
        let s = sized("texas", &given).unwrap();
        all.push(same(&format!("{class}: gallons a ft2"), rate, d("190") / s["area"]));
        // Laid out, it is that area: length x 2 ft, and a foot of wall round length and width.
        let length = s["length"];
        assert_eq!(length * d("2") + (length + d("2")) * d("2"), s["area"], "{class}");
    }
    all
}

/// Slip in the code: the rates beside the areas are not their inverse; 120 gallons of a bedroom over 0.8 are 150 ft2, and
/// 250 are printed.
fn missouri_type_county() -> Vec<Figure> {
    let mut all = Vec::new();
    for (rate, feet) in
        [("1", "165"), ("10", "165"), ("11", "250"), ("31", "300"), ("46", "333"), ("61", "600")]
    {
        let test = format!("{rate} min/in");
        let s = sized("missouri-county", &[("bedrooms", "3"), ("percolation", &test)]).unwrap();
        all.push(same(&format!("county, {test}: ft2 a bedroom"), feet, s["area"] / d("3")));
    }
    let why = "120 gallons of a bedroom over 0.8; the program takes the area that is printed";
    all.push(slip(
        "county: ft2 a bedroom by the rate of 0.8 beside it",
        "250",
        "150",
        d("120") / d("0.8"),
        why,
    ));
    all
}

/// Square feet for 100 gallons, and gallons a square foot: one is the inverse of the other, but for two rounded rows.
fn uniform_plumbing_code() -> Vec<Figure> {
    let area =
        |class: &str| sized("upc-soils", &[("flow", "100 usgal/d"), ("soil-class", class)]).unwrap()["area"];
    let inverse = "the inverse of its gallons a square foot; printed rounded";
    vec![
        same("UPC (recalled), sand: ft2 for 100 gallons", "20", area("upc-sand")),
        same("UPC (recalled), fine sand", "25", area("upc-fine-sand")),
        same("UPC (recalled), sandy loam", "40", area("upc-sandy-loam")),
        slip("UPC (recalled), clay with sand", "90", "90.9", area("upc-clay-with-sand"), inverse),
        slip("UPC (recalled), clay", "120", "125", area("upc-clay"), inverse),
    ]
}

#[test]
fn nothing_below_the_table_of_the_county() {
    assert!(sized("missouri-county", &[("bedrooms", "3"), ("percolation", "0.9 min/in")]).is_err());
}
