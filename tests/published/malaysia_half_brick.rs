//! Build-up of half brickwork in common bricks, 1:1:6, Malaysia (scribd.com/doc/16516125). Hours of a day of eight.

use tankwright_tests::analyses::{Given, all, amounts, d, worked};

const MORTAR: &str = r#"
[[build_up]]
of = ["brickwork-wall"]
per = "8 m3"
recipe = false
material = [
    { material = "cement", quantity = "28", unit = "bag" },
    { material = "lime", quantity = "400 / 10", unit = "bag" },
    { material = "sand", quantity = "6", unit = "m3" },
    { title = "shrinkage and waste", percent = "33.333333" },
]
labour = [{ who = "worker", hours = "2 x 8" }]
from = "2009"
source = "Build-up of brickwork and blockwork, Malaysia"
seen = "scribd.com/doc/16516125"
"#;

const WALL: &str = r#"
[[build_up]]
of = ["brickwork-wall/102.5"]
per = "1 m2"
recipe = false
material = [
    { material = "bricks", quantity = "1 / 0.225 / 0.075, nearest 0.01, up 1, + 5 %", unit = "nr" },
    { material = "mortar", quantity = "0.025", unit = "m3" },
    { material = "reinforcement", quantity = "3.50", unit = "m" },
]
labour = [{ who = "skilled", hours = "1.00" }, { who = "general", hours = "0.35" }]
from = "2009"
source = "Build-up of brickwork and blockwork, Malaysia"
seen = "scribd.com/doc/16516125"
"#;

#[test]
fn mortar_of_cement_lime_and_sand() {
    let prices = [
        "material,cement,Cement,bag,17.00",
        "material,lime,Lime,bag,3.50",
        "material,sand,Sand,m3,31.68",
        "labour,worker,Worker,day,40",
    ];
    let given = Given { build_up: MORTAR, prices: &prices, on_costs: "", of: "brickwork-wall", per: None };
    let done = worked(given).unwrap();
    let (lines, _) = amounts(&done);
    // 476 + 140 + 190.08, one third of 806.08 (printed 268.70), 16 h of 8 at 40: 10 for each m3
    assert_eq!(lines, all(&["476", "140", "190.08", "268.69", "80"]));
    assert_eq!(done.rate, d("144.35"));
}

#[test]
fn half_a_brick_thick() {
    let prices = [
        "material,bricks,Common bricks,nr,0.55",
        "material,mortar,Mortar 1:1:6,m3,144.35",
        "material,reinforcement,Brick reinforcement,m,0.60",
        "labour,skilled,Skilled worker,day,91.67",
        "labour,general,General worker,day,66.25",
    ];
    let on_costs = "[[on_costs.list]]\ntitle = \"Profit and overhead\"\npercent = 15\n";
    let given = Given { build_up: WALL, prices: &prices, on_costs, of: "brickwork-wall/102.5", per: None };
    let done = worked(given).unwrap();
    let (lines, on_costs) = amounts(&done);
    assert_eq!(lines, all(&["34.65", "3.61", "2.10", "11.46", "2.90"]));
    assert_eq!((done.cost, on_costs), (d("54.72"), all(&["8.21"])));
    assert_eq!(done.rate, d("62.93"));
}
