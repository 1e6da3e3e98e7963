//! An analysis of earthwork in strips, 100 m2: four on-costs, each on all before it. Rounding to 0.10 is part of it.

use tankwright_tests::analyses::{Given, amounts, worked};
use tankwright_tests::figures::{Figure, Publication, each, same};

pub(super) const OF: Publication = Publication {
    title: "Himachal Pradesh PWD, schedule of rates on market rates 2020: earthwork in strips",
    source: "scribd.com/document/709958059",
    remarks: &[],
};

const BUILD_UP: &str = r#"
[[build_up]]
of = ["bottom-trim"]
per = "100 m2"
labour = [{ who = "beldar", days = "6.8" }, { who = "coolie", days = "5.6" }]
from = "2020"
source = "HP PWD analysis 2020: earthwork in strips"
seen = "scribd.com/document/709958059"
"#;

const ON_COSTS: &str = r#"
[on_costs]
say = "up 0.10"
[[on_costs.list]]
title = "Water charges"
percent = 1
[[on_costs.list]]
title = "Tax, multiplying factor 0.1405"
percent = "14.05"
[[on_costs.list]]
title = "Contractor's profit and overhead"
percent = 15
[[on_costs.list]]
title = "Cess"
percent = 1
"#;

pub(super) fn figures() -> Vec<Figure> {
    let prices = ["labour,beldar,Beldar,day,350", "labour,coolie,Coolie,day,350"];
    let given =
        Given { build_up: BUILD_UP, prices: &prices, on_costs: ON_COSTS, of: "bottom-trim", per: None };
    let done = worked(given).unwrap();
    let (lines, on_costs) = amounts(&done);
    let mut all = each(&[("beldar", "2380"), ("coolie", "1960")], &lines); // 6.8 x 350, 5.6 x 350
    all.push(same("cost of 100 m2", "4340", done.cost));
    let mut running = done.cost;
    let sums: Vec<_> = on_costs
        .iter()
        .map(|a| {
            running += a;
            running
        })
        .collect();
    let want = [
        ("with water charges", "4383.40"),
        ("with tax", "4999.27"),
        ("with profit and overhead", "5749.16"),
        ("with cess", "5806.65"),
    ];
    all.extend(each(&want, &sums));
    all.push(same("a square metre", "58.07", done.each));
    all.push(same("said, up 0.10", "58.10", done.rate));
    all
}
