//! Brickwork rate build-up, first edition 2018, South Africa: 1 m3 of mortar 1:5 (scribd.com/document/648171371).
//! Slip: 0.217 / 0.033 is printed 6.67, it is 6.58; either way 7 bags.

use tankwright_tests::analyses::{Given, all, amounts, d, worked};

const BUILD_UP: &str = r#"
[[build_up]]
of = ["brickwork-wall"]
per = "1 m3"
recipe = false
material = [
    { material = "cement", quantity = "1.3 / 6 / 0.033, up 1", unit = "bag" },
    { material = "sand", quantity = "1.3 / 6 x 5", unit = "m3" },
    { title = "waste", percent = "5" },
]
labour = [
    { who = "semi-skilled", hours = "3" },
    { who = "unskilled", hours = "3" },
    { title = "on-cost of labour", percent = "30", on = ["labour"] },
]
from = "2018"
source = "Brickwork rate build-up, first edition"
seen = "scribd.com/document/648171371"
"#;

const PRICES: [&str; 4] = [
    "material,cement,Cement,bag,85",
    "material,sand,Sand,m3,280",
    "labour,semi-skilled,Semi-skilled,hour,45",
    "labour,unskilled,Unskilled,hour,35",
];

#[test]
fn mortar_of_one_to_five() {
    let done =
        worked(Given { build_up: BUILD_UP, prices: &PRICES, on_costs: "", of: "brickwork-wall", per: None })
            .unwrap();
    let (lines, _) = amounts(&done);
    // 7 x 85; 1.0833 x 280; 5 % of 898.33; 3 x 45; 3 x 35; 30 % of 240
    assert_eq!(lines, all(&["595", "303.33", "44.92", "135", "105", "72"]));
    assert_eq!((done.total, done.rate), (d("1255.25"), d("1255.25"))); // 943.25 + 312
}
