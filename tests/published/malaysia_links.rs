//! Bar reinforcement built-up rates, Malaysia: links of 6 mm, 1 tonne (scribd.com/document/608483721).

use tankwright_quantities::build_up::Group;
use tankwright_tests::analyses::{Given, all, amounts, d, worked};

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

#[test]
fn a_tonne_of_links() {
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
    let want = ["2180", "54.50", "5", "223.95", "23.10", "3", "322.50", "161.25", "38.70"];
    assert_eq!(lines, all(&want));
    assert_eq!(done.sum(Group::Materials), Some(d("2489.55")));
    assert_eq!(done.sum(Group::Labour), Some(d("522.45")));
    assert_eq!(on_costs, all(&["301.20"]));
    // 3313.20 / 1000; "rounding up = 3.40"
    assert_eq!((done.each, done.rate), (d("3.31"), d("3.40")));
}
