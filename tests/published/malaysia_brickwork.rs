//! Build up rate of brickworks, Malaysian notes (de.scribd.com/presentation/372575198): counts and outputs of 1 m2.
//! Slips: of one brick 2 x 59.26 = 118.52 and 5 % make 125 only if rounded up twice; of one and a half brick 188 is
//! printed, the sum of 63 and 125; 3 x 59.26 and 5 % are 187.

use tankwright_geometry::Ratio;
use tankwright_quantities::build_up::Working;
use tankwright_quantities::decimal::ratio;
use tankwright_tests::analyses::d;
use tankwright_tests::goods::r;
use tankwright_tests::stock;

fn value(text: &str) -> Ratio {
    Working::read(text).unwrap().value()
}

#[test]
fn bricks_counted_by_the_face() {
    assert_eq!(value("1 / 0.225 / 0.075, nearest 0.01"), r("59.26"));
    assert_eq!(value("1 / 0.225 / 0.075, nearest 0.01, up 1"), r("60"));
    assert_eq!(value("1 / 0.225 / 0.075, nearest 0.01, up 1, + 5 %"), r("63"));
    assert_eq!(value("2 x 59.26, up 1, + 5 %, up 1"), r("125")); // 119, 124.95
    assert_eq!(value("3 x 59.26, + 5 %, up 1"), r("187")); // 186.67
}

#[test]
fn outputs_are_the_built_in_ones() {
    let stock = stock();
    let hours = |code: &str| -> Vec<Ratio> {
        let found = stock.build_ups.all.iter().find(|b| b.code == code).unwrap();
        let of = |l: &tankwright_quantities::rates::BuildLine| match &l.needs {
            tankwright_quantities::rates::Needs::Quantity(working, unit) => {
                assert_eq!(unit, "hour");
                working.value()
            }
            tankwright_quantities::rates::Needs::Percent(..) => Ratio::UNKNOWN,
        };
        found.lines.iter().map(of).collect()
    };
    // Bricklayer, labourer, and 2.0 h of mixing for a m3 of mortar.
    let want = |mason: &str, labourer: &str, mortar: &str| {
        [d(mason), d(labourer), d("2.0") * d(mortar)].map(ratio).to_vec()
    };
    assert_eq!(hours("brickwork-wall/102.5"), want("1.00", "0.35", "0.025"));
    assert_eq!(hours("brickwork-wall/215"), want("1.75", "0.70", "0.050"));
}
