//! United States tables by percolation rate and by class of soil (section 4.3 of the notes): Montana DEQ-4 Table 8-1,
//! Texas 285.91(1), a county code of the Missouri type, and the five soils of the Uniform Plumbing Code (recalled).

use rust_decimal::Decimal;
use tankwright_tests::sized;

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

/// Rates in US gallons a square foot and day; area = flow / rate.
#[test]
fn montana() {
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
        assert_eq!((s["rate"], s["area"]), (d(gallons), d("300") / d(gallons)), "{test}");
    }
}

/// The area counts the base and one foot of wall all round.
#[test]
fn texas() {
    for (class, rate) in
        [("texas-ib", "0.38"), ("texas-ii", "0.25"), ("texas-iii", "0.20"), ("texas-iv", "0.1")]
    {
        let given = [("flow", "190 usgal/d"), ("soil-class", class), ("trench-width", "2 ft")];
        let s = sized("texas", &given).unwrap();
        assert_eq!(s["area"], d("190") / d(rate), "{class}");
        // Laid out, it is that area: length x 2 ft, and a foot of wall round length and width.
        let length = s["length"];
        assert_eq!(length * d("2") + (length + d("2")) * d("2"), s["area"], "{class}");
    }
}

/// Slip in the code: the rates beside the areas are not their inverse; 120 gallons of a bedroom over 0.8 are 150 ft2, and
/// 250 are printed.
#[test]
fn missouri_type_county() {
    for (rate, feet) in
        [("1", "165"), ("10", "165"), ("11", "250"), ("31", "300"), ("46", "333"), ("61", "600")]
    {
        let test = format!("{rate} min/in");
        let s = sized("missouri-county", &[("bedrooms", "3"), ("percolation", &test)]).unwrap();
        assert_eq!(s["area"], d("3") * d(feet), "{test}");
    }
    assert_eq!(d("120") / d("0.8"), d("150"));
    assert!(sized("missouri-county", &[("bedrooms", "3"), ("percolation", "0.9 min/in")]).is_err());
}

/// Square feet for 100 gallons, and gallons a square foot: one is the inverse of the other, but for two rounded rows.
#[test]
fn uniform_plumbing_code() {
    for (class, feet, apart) in [
        ("upc-sand", "20", "0"),
        ("upc-fine-sand", "25", "0"),
        ("upc-sandy-loam", "40", "0"),
        ("upc-clay-with-sand", "90", "1"), // 90.9
        ("upc-clay", "120", "5"),          // 125: 120 is printed
    ] {
        let s = sized("upc-soils", &[("flow", "100 usgal/d"), ("soil-class", class)]).unwrap();
        let more = s["area"] - d(feet);
        assert!(more >= Decimal::ZERO && more <= d(apart), "{class} {more}");
    }
}
