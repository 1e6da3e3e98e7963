//! A built-up rate of bars: links of 6 mm, 1 tonne.

use tankwright_quantities::build_up::Group;
use tankwright_tests::analyses::{Given, amounts, worked};
use tankwright_tests::figures::{Figure, Publication, each, same};

pub(super) const OF: Publication = Publication {
    title: "Bar reinforcement built-up rates, Malaysia: links of 6 mm",
    source: "scribd.com/document/608483721",
    remarks: &[],
};

const BUILD_UP: &str = r#"
[[build_up]]
of = ["bars"]
per = "1000 kg"
recipe = false
material = [
    { material = "steel", quantity = "1000", unit = "kg" },
    { title = "rolling margin", percent = "2.5", on = ["steel"] },
    { material = "unloading", quantity = "1", unit = "item" },
    { title = "cutting to length", percent = "10", on = ["materials"] },
    { material = "wire", quantity = "0.66 x 10", unit = "kg" },
    { material = "chairs", quantity = "1", unit = "item" },
]
labour = [
    { who = "skilled", hours = "129 / 60 x 10" },
    { who = "unskilled", hours = "129 / 60 x 10" },
    { title = "idle time", percent = "8", on = ["labour"] },
]
from = "2022"
source = "Bar reinforcement built-up rates"
seen = "scribd.com/document/608483721"
"#;

pub(super) fn figures() -> Vec<Figure> {
    let prices = [
        "material,steel,Mild steel 6 mm,kg,2.18",
        "material,unloading,Unloading and stacking,item,5",
        "material,wire,Tying wire,kg,3.50",
        "material,chairs,Chairs and spacers,item,3",
        "labour,skilled,Skilled,hour,15.00",
        "labour,unskilled,Unskilled,hour,7.50",
    ];
    let on_costs =
        "[on_costs]\nsay = \"up 0.10\"\n[[on_costs.list]]\ntitle = \"Profit and overhead\"\npercent = 10\n";
    let given = Given { build_up: BUILD_UP, prices: &prices, on_costs, of: "bars", per: None };
    let done = worked(given).unwrap();
    let (lines, on_costs) = amounts(&done);
    // 2180 + 54.50 + 5 = 2239.50; 10 % of it; 6.6 x 3.50; 21.5 h at 15 and 7.50; 8 % of 483.75
    let want = [
        ("steel", "2180"),
        ("rolling margin", "54.50"),
        ("unloading", "5"),
        ("cutting to length", "223.95"),
        ("wire", "23.10"),
        ("chairs", "3"),
        ("skilled", "322.50"),
        ("unskilled", "161.25"),
        ("idle time", "38.70"),
    ];
    let mut all = each(&want, &lines);
    all.push(same("materials", "2489.55", done.sum(Group::Materials).unwrap()));
    all.push(same("labour", "522.45", done.sum(Group::Labour).unwrap()));
    all.extend(each(&[("profit and overhead 10 %", "301.20")], &on_costs));
    all.push(same("a kilogram", "3.31", done.each)); // 3313.20 / 1000
    all.push(same("rounded up", "3.40", done.rate));
    all
}
