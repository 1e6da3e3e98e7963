//! Textbook examples 7.1 and 8.1 of slabs by working stress, after IS 456. Tested to the 10 mm that are chosen.

use tankwright_geometry::Ratio;
use tankwright_quantities::checks::bending::{
    METRE, concrete, end_shear, least, simple, spacing, steel, two_way,
};
use tankwright_tests::figures::{Figure, Publication, near, same, slip};
use tankwright_tests::goods::{printed, r};

pub(super) const OF: Publication = Publication {
    title: "Textbook examples 7.1 and 8.1: slabs by working stress, after IS 456",
    source: "github.com/FOSSEE/Scilab-TBC-Uploads, 3683/CH7/EX7.1 and 3683/CH8/EX8.1; the book's title does not stand in the files",
    remarks: &[
        "7.1 takes clear + thickness as span, where the code it follows says clear + depth (4.129 m).",
        "8.1 reads 0.078 and 0.0602 off its table; straight lines between the rows give 0.0783 and 0.0601.",
    ],
};

/// Down to whole tens: what a drawing says.
fn chosen(mm: Ratio) -> String {
    printed((mm / Ratio::int(10)).floor() * Ratio::int(10), 0)
}

pub(super) fn figures() -> Vec<Figure> {
    [one_way(), two_way_slab()].concat()
}

/// 0.15 x 25 + 2 + 1; span 4 + 0.15.
fn one_way() -> Vec<Figure> {
    let load = r("0.15") * r("25") + r("2") + r("1");
    let moment = simple(load, r("4.15"));
    let main = steel(moment, r("140"), r("0.87"), r("129"));
    let cross = least(r("0.15"), r("150"));
    let shear = end_shear(load, r("4.15"));
    vec![
        near("7.1: load, kN/m2", "6.75", load),
        near("7.1: moment, kNm", "14.53", moment),
        near("7.1: steel, mm2", "925", main),
        near("7.1: spacing of 12 mm", "122", spacing(r("12"), main)),
        same("7.1: chosen, mm", "120", &chosen(spacing(r("12"), main))),
        near("7.1: cross steel, mm2", "225", cross),
        near("7.1: spacing of 8 mm", "223", spacing(r("8"), cross)),
        same("7.1: chosen across, mm", "220", &chosen(spacing(r("8"), cross))),
        near("7.1: shear, kN", "14.0", shear),
        near("7.1: shear, N/mm2", "0.109", shear / r("129")), // kN on 1000 mm x 129 mm
    ]
}

#[test]
fn depth_of_example_7_1() {
    let moment = simple(r("0.15") * r("25") + r("2") + r("1"), r("4.15"));
    // d = 129 is the root of M / 0.87 in whole mm: the concrete bears it between 128.5 and 129.5.
    let bears = |d: &str| concrete(r("0.87"), METRE, r(d));
    assert!(bears("128.5") < moment && moment < bears("129.5"));
}

/// 0.1 x 25 + 1.5; 4 / 3.5 = 1.143.
fn two_way_slab() -> Vec<Figure> {
    let load = r("0.1") * r("25") + r("1.5");
    let stock = tankwright_tests::stock();
    let between = |column: &str| stock.tables["slab-two-way"].between(column, r("4") / r("3.5")).unwrap();
    let table = "read off the table; straight lines between its rows";
    let [short, long] = ["0.078", "0.0602"].map(|a| two_way(r(a), load, r("3.5")));
    // Depths 100 - 15 - 5 and 10 less.
    let areas = [
        printed(steel(short, r("140"), r("0.87"), r("80")), 0),
        printed(steel(long, r("140"), r("0.87"), r("70")), 0),
    ];
    let [apart, along] = areas.clone().map(|a| spacing(r("10"), r(&a)));
    let own = "its own steel gives this";
    vec![
        slip("8.1: coefficient, short", "0.078", "0.0783", between("short"), table),
        slip("8.1: coefficient, long", "0.0602", "0.0601", between("long"), table),
        near("8.1: moment, short, kNm", "3.822", short),
        near("8.1: moment, long, kNm", "2.950", long),
        same("8.1: steel, short, mm2", "392", &areas[0]),
        same("8.1: steel, long, mm2", "346", &areas[1]),
        slip("8.1: spacing, short, mm", "200.1", "200.4", apart, own),
        slip("8.1: spacing, long, mm", "226.9", "227.0", along, own),
        same("8.1: chosen, short, mm", "200", &chosen(apart)),
        same("8.1: chosen, long, at most 3 d, mm", "210", &chosen(along.min(r("3") * r("70")))),
    ]
}
