//! Examples 8.4, 8.6 and 8.7 of a WHO guide: a tank, a pit, trenches.

use rust_decimal::Decimal;
use tankwright_tests::figures::{Figure, Publication, near, same};
use tankwright_tests::sized;

pub(super) const OF: Publication = Publication {
    title: "WHO guide of 1992 (Franceys, Pickford, Reed), examples 8.4, 8.6 and 8.7",
    source: "W4 to W6 of the project's notes",
    remarks: &[
        "Of 8.4 only A = 1440 was seen, the rest is recalled; of 8.6 the inputs were seen, its figures are pictures; 8.7 prints two trenches of 30 m.",
    ],
};

pub(super) fn figures() -> Vec<Figure> {
    let given = [("persons", "8"), ("water-use", "200 l/p/d"), ("years", "3"), ("temperature", "25")];
    let tank = sized("who-1992", &given).unwrap();
    let given = [("flow", "200 l/d"), ("soil", "porous-silty-clay"), ("pit-diameter", "1.5 m")];
    let pit = sized("who-pit", &given).unwrap();
    let given = [("flow", "1440 l/d"), ("soil", "porous-silty-clay"), ("trench-depth", "0.6 m")];
    let trench = sized("who-trench", &given).unwrap();
    vec![
        same("8.4: liquid, l", "1440", tank["liquid"]), // 8 x 0.9 x 200
        same("8.4: sludge, l (recalled)", "960", tank["sludge"]), // 8 x 3 x 1.0 x 40
        same("8.4: tank, l (recalled)", "2400", tank["capacity"]),
        same("8.6: wall of the pit, m2 (from its inputs)", "10", pit["area"]), // 200 / 20
        near("8.6: depth, m (from its inputs)", "2.12", pit["depth"]),         // 10 / (pi x 1.5)
        same("8.7: area, m2", "72", trench["area"]),                           // 1440 / 20
        same("8.7: each of two trenches, m", "30", trench["length"] / Decimal::from(2)), // 72 / (2 x 0.6): both sides count
    ]
}
