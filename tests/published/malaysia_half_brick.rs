//! Build-up of half brickwork in common bricks, 1:1:6. Hours of a day of eight.

use tankwright_tests::analyses::{Given, amounts, worked};
use tankwright_tests::figures::{Figure, Publication, each, same, slip};

pub(super) const OF: Publication = Publication {
    title: "Build-up of half brickwork in common bricks, 1:1:6, Malaysia",
    source: "scribd.com/doc/16516125",
    remarks: &[],
};

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

pub(super) fn figures() -> Vec<Figure> {
    [mortar(), wall()].concat()
}

fn mortar() -> Vec<Figure> {
    let prices = [
        "material,cement,Cement,bag,17.00",
        "material,lime,Lime,bag,3.50",
        "material,sand,Sand,m3,31.68",
        "labour,worker,Worker,day,40",
    ];
    let given = Given { build_up: MORTAR, prices: &prices, on_costs: "", of: "brickwork-wall", per: None };
    let done = worked(given).unwrap();
    let (lines, _) = amounts(&done);
    // 476 + 140 + 190.08, one third of 806.08, 16 h of 8 at 40: 10 for each m3
    let mut all =
        each(&[("mortar: cement", "476"), ("mortar: lime", "140"), ("mortar: sand", "190.08")], &lines[..3]);
    all.push(slip("mortar: waste", "268.70", "268.69", lines[3], "one third of 806.08 is 268.69"));
    all.extend(each(&[("mortar: labour", "80")], &lines[4..]));
    all.push(same("mortar: rate of a m3", "144.35", done.rate));
    all
}

fn wall() -> Vec<Figure> {
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
    let want = [
        ("bricks", "34.65"),
        ("mortar", "3.61"),
        ("reinforcement", "2.10"),
        ("skilled", "11.46"),
        ("general", "2.90"),
    ];
    let mut all = each(&want, &lines);
    all.push(same("cost of a m2", "54.72", done.cost));
    all.extend(each(&[("profit and overhead 15 %", "8.21")], &on_costs));
    all.push(same("rate of a m2", "62.93", done.rate));
    all
}
