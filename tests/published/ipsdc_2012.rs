//! A table of ft2 a bedroom by percolation: trenches and beds.

use tankwright_tests::figures::{Figure, Publication, same};
use tankwright_tests::sized;

pub(super) const OF: Publication = Publication {
    title: "International Private Sewage Disposal Code 2012, Table 603.1",
    source: "up.codes; section 4.3 of the project's notes",
    remarks: &[],
};

pub(super) fn figures() -> Vec<Figure> {
    let mut all = Vec::new();
    for (rate, trench, bed) in [
        ("0.1", "165", "205"),
        ("9.9", "165", "205"),
        ("10", "250", "315"),
        ("29.9", "250", "315"),
        ("30", "300", "375"),
        ("44.9", "300", "375"),
        ("45", "330", "415"),
        ("60", "330", "415"),
    ] {
        let test = format!("{rate} min/in");
        let s = sized("ipsdc-603", &[("bedrooms", "1"), ("percolation", &test)]).unwrap();
        all.push(same(&format!("{test}: trench, ft2 a bedroom"), trench, s["area"]));
        all.push(same(&format!("{test}: bed, ft2 a bedroom"), bed, s["bed"]));
    }
    all
}

#[test]
fn nothing_beyond_the_table() {
    assert!(sized("ipsdc-603", &[("bedrooms", "1"), ("percolation", "60.1 min/in")]).is_err());
}
