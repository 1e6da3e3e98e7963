//! Build-up of bars Y12, Malaysia: 1 kg (ja.scribd.com/document/207577364).

use tankwright_tests::analyses::{Given, all, amounts, d, worked};

const BUILD_UP: &str = r#"
[[build_up]]
of = ["bars/Y12"]
per = "1 kg"
recipe = false
material = [
    { material = "steel", quantity = "1", unit = "kg" },
    { title = "waste", percent = "5" },
    { material = "wire", quantity = "1", unit = "item" },
]
labour = [
    { who = "bender", title = "bending", hours = "0.25" },
    { who = "bender", title = "fixing", hours = "0.1" },
]
from = "2014"
source = "Build-up of bars Y12"
seen = "ja.scribd.com/document/207577364"
"#;

#[test]
fn a_kilogram() {
    let prices = [
        "material,steel,Bars,kg,2.10",
        "material,wire,Wire for a kilogram,item,0.02",
        "labour,bender,Bender,hour,5",
    ];
    let on_costs = "[[on_costs.list]]\ntitle = \"Profit\"\npercent = 10\n";
    let given = Given { build_up: BUILD_UP, prices: &prices, on_costs, of: "bars/Y12", per: None };
    let done = worked(given).unwrap();
    let (lines, on_costs) = amounts(&done);
    assert_eq!(lines, all(&["2.10", "0.11", "0.02", "1.25", "0.50"])); // 5 % of 2.10 = 0.105
    assert_eq!((done.cost, on_costs, done.rate), (d("3.98"), all(&["0.40"]), d("4.38")));
}
