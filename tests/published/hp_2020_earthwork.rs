//! Himachal Pradesh PWD, schedule of rates on market rates 2020: earthwork in strips, 100 m2
//! (scribd.com/document/709958059). Rounding to 0.10 is part of it.

use tankwright_tests::analyses::{Given, all, amounts, d, worked};

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

#[test]
fn four_on_costs_each_on_all_before_it() {
    let prices = ["labour,beldar,Beldar,day,350", "labour,coolie,Coolie,day,350"];
    let given =
        Given { build_up: BUILD_UP, prices: &prices, on_costs: ON_COSTS, of: "bottom-trim", per: None };
    let done = worked(given).unwrap();
    let (lines, on_costs) = amounts(&done);
    assert_eq!(lines, all(&["2380", "1960"])); // 6.8 x 350, 5.6 x 350
    assert_eq!(done.cost, d("4340"));
    let mut running = done.cost;
    let sums: Vec<_> = on_costs
        .iter()
        .map(|a| {
            running += a;
            running
        })
        .collect();
    assert_eq!(sums, all(&["4383.40", "4999.27", "5749.16", "5806.65"]));
    assert_eq!((done.each, done.rate), (d("58.07"), d("58.10")));
}
