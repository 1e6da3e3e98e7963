//! Seepage pits by the code of New Jersey: ft2 of wall a bedroom, whole minutes, and the same a US gallon of 150 a day and
//! bedroom.

use rust_decimal::Decimal;
use tankwright_tests::figures::{Figure, Publication, same};
use tankwright_tests::sized;

pub(super) const OF: Publication = Publication {
    title: "New Jersey 7:9A-11.2, seepage pits",
    source: "e.casetext.com; section 4.3 of the project's notes",
    remarks: &[],
};

pub(super) fn figures() -> Vec<Figure> {
    let mut all = Vec::new();
    for (rate, feet, each) in [
        ("5", "72", "0.48"),
        ("10", "72", "0.48"),
        ("10.5", "108", "0.72"),
        ("20", "108", "0.72"),
        ("30", "144", "0.96"),
        ("40", "180", "1.20"),
    ] {
        let test = format!("{rate} min/in");
        let s = sized("nj-pit", &[("bedrooms", "4"), ("percolation", &test)]).unwrap();
        let bedroom = s["area"] / Decimal::from(4);
        all.push(same(&format!("{test}: ft2 a bedroom"), feet, bedroom));
        all.push(same(&format!("{test}: ft2 a gallon"), each, bedroom / Decimal::from(150)));
    }
    all
}

#[test]
fn nothing_beyond_the_table_and_a_least_area() {
    assert!(sized("nj-pit", &[("bedrooms", "4"), ("percolation", "40.1 min/in")]).is_err());
    let least = sized("nj-pit", &[("bedrooms", "1"), ("percolation", "5 min/in")]).unwrap();
    assert_eq!(least["area"], Decimal::from(110));
}
