//! Build-up of bars Y12: 1 kg.

use tankwright_tests::analyses::{Given, amounts, worked};
use tankwright_tests::figures::{Figure, Publication, each, same};

pub(super) const OF: Publication = Publication {
    title: "Build-up of bars Y12, Malaysia",
    source: "ja.scribd.com/document/207577364",
    remarks: &[],
};

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

pub(super) fn figures() -> Vec<Figure> {
    let prices = [
        "material,steel,Bars,kg,2.10",
        "material,wire,Wire for a kilogram,item,0.02",
        "labour,bender,Bender,hour,5",
    ];
    let on_costs = "[[on_costs.list]]\ntitle = \"Profit\"\npercent = 10\n";
    let given = Given { build_up: BUILD_UP, prices: &prices, on_costs, of: "bars/Y12", per: None };
    let done = worked(given).unwrap();
    let (lines, on_costs) = amounts(&done);
    // 5 % of 2.10 = 0.105
    let want =
        [("steel", "2.10"), ("waste", "0.11"), ("wire", "0.02"), ("bending", "1.25"), ("fixing", "0.50")];
    let mut all = each(&want, &lines);
    all.push(same("cost", "3.98", done.cost));
    all.extend(each(&[("profit 10 %", "0.40")], &on_costs));
    all.push(same("rate", "4.38", done.rate));
    all
}
