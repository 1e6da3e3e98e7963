//! A drainage field by Approved Document H2 (tekneka.co.uk/resources/percolation-tests; W2 of the notes):
//! 5 people, mean of 2700 s. It prints Vp 18, 22.5 m2 and 37.5 m of trench 0.6 m wide.

use tankwright_tests::sized;

#[test]
fn area_and_length_as_printed() {
    let given = [("persons", "5"), ("percolation", "2700 s"), ("trench-width", "0.6 m")];
    let s = sized("ad-h2-field", &given).unwrap();
    assert_eq!(s["area"].to_string(), "22.5"); // 5 x 18 x 0.25, 18 = 2700 / 150
    assert_eq!(s["length"].to_string(), "37.5"); // 22.5 / 0.6
}
