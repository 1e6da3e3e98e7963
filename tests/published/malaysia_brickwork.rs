//! Notes on the rate of brickwork: counts and outputs of 1 m2.

use tankwright_geometry::Ratio;
use tankwright_quantities::build_up::Working;
use tankwright_quantities::rates::{BuildLine, Needs, Stock};
use tankwright_tests::figures::{Figure, Publication, same, slip};
use tankwright_tests::goods::r;
use tankwright_tests::stock;

pub(super) const OF: Publication = Publication {
    title: "Build up rate of brickworks, Malaysian notes",
    source: "de.scribd.com/presentation/372575198",
    remarks: &["Of one brick 2 x 59.26 = 118.52 and 5 % make 125 only if rounded up twice."],
};

fn value(text: &str) -> Ratio {
    Working::read(text).unwrap().value()
}

pub(super) fn figures() -> Vec<Figure> {
    let stock = stock();
    let hours = |code: &str, at: usize| hours(stock, code)[at];
    let one_and_a_half = "the sum of 63 and 125; 3 x 59.26 and 5 % are 187";
    let mut all = vec![
        same("half a brick, nr in 1 m2", "59.26", value("1 / 0.225 / 0.075, nearest 0.01")),
        same("half a brick, up", "60", value("1 / 0.225 / 0.075, nearest 0.01, up 1")),
        same("half a brick, up, with 5 %", "63", value("1 / 0.225 / 0.075, nearest 0.01, up 1, + 5 %")),
        same("one brick, up, with 5 %, up", "125", value("2 x 59.26, up 1, + 5 %, up 1")), // 119, 124.95
        slip("one and a half brick", "188", "187", value("3 x 59.26, + 5 %, up 1"), one_and_a_half), // 186.67
    ];
    // Bricklayer, labourer, and 2.0 h of mixing for a m3 of mortar.
    for (name, code, mason, labourer, mortar) in [
        ("half a brick", "brickwork-wall/102.5", "1.00", "0.35", "0.025"),
        ("one brick", "brickwork-wall/215", "1.75", "0.70", "0.050"),
    ] {
        all.push(same(&format!("{name}: bricklayer, h"), mason, hours(code, 0)));
        all.push(same(&format!("{name}: labourer, h"), labourer, hours(code, 1)));
        all.push(same(&format!("{name}: mortar at 2.0 h a m3, m3"), mortar, hours(code, 2) / r("2.0")));
    }
    all
}

fn hours(stock: &Stock, code: &str) -> Vec<Ratio> {
    let found = stock.build_ups.all.iter().find(|b| b.code == code).unwrap();
    let of = |l: &BuildLine| match &l.needs {
        Needs::Quantity(working, unit) => {
            assert_eq!(unit, "hour");
            working.value()
        }
        Needs::Percent(..) => Ratio::UNKNOWN,
    };
    found.lines.iter().map(of).collect()
}

#[test]
fn no_hours_but_those() {
    let stock = stock();
    assert!(["brickwork-wall/102.5", "brickwork-wall/215"].iter().all(|code| hours(stock, code).len() == 3));
}
