//! A brickwork rate build-up: 1 m3 of mortar 1:5.

use tankwright_tests::analyses::{Given, amounts, worked};
use tankwright_tests::figures::{Figure, Publication, each, same, slip};
use tankwright_tests::goods::r;

pub(super) const OF: Publication = Publication {
    title: "Brickwork rate build-up, first edition 2018, South Africa: mortar 1:5",
    source: "scribd.com/document/648171371",
    remarks: &[],
};

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

pub(super) fn figures() -> Vec<Figure> {
    let done =
        worked(Given { build_up: BUILD_UP, prices: &PRICES, on_costs: "", of: "brickwork-wall", per: None })
            .unwrap();
    let (lines, _) = amounts(&done);
    let bags = r("0.217") / r("0.033");
    let mut all = vec![
        slip("bags before they are rounded up", "6.67", "6.58", bags, "0.217 / 0.033; either way 7 bags"),
        same("bags", "7", done.lines[0].quantity),
    ];
    // 7 x 85; 1.0833 x 280; 5 % of 898.33; 3 x 45; 3 x 35; 30 % of 240
    let want = [
        ("cement", "595"),
        ("sand", "303.33"),
        ("waste 5 %", "44.92"),
        ("semi-skilled", "135"),
        ("unskilled", "105"),
        ("on-cost of labour 30 %", "72"),
    ];
    all.extend(each(&want, &lines));
    all.push(same("total of a m3", "1255.25", done.total)); // 943.25 + 312
    all.push(same("rate of a m3", "1255.25", done.rate));
    all
}
