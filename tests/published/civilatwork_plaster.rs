//! Blog, internal plaster 12 mm 1:4, 100 m2 (civilatwork.blogspot.com/2019/09/how-to-calculate-internal-plaster.html).
//! Slips: sand 1.472 x 1300 = 1913.60 is printed 1913; 8002.59 + 2000.65 is printed 10 003.23.

use tankwright_tests::analyses::{Given, all, amounts, d, worked};

const BUILD_UP: &str = r#"
[[build_up]]
of = ["plaster-wall"]
per = "100 m2"
recipe = false
material = [
    { material = "cement", quantity = "0.012 x 100, + 15 %, x 4 / 3, / 5, / 0.035, nearest 0.1", unit = "bag" },
    { material = "sand", quantity = "0.012 x 100, + 15 %, x 4 / 3, x 4 / 5", unit = "m3", say = "down 1" },
]
labour = [{ who = "mason", days = "8" }, { who = "helper", days = "12" }]
plant = [{ what = "scaffolding", items = "1" }]
from = "2019"
source = "blog, internal plaster of 100 m2"
seen = "civilatwork.blogspot.com/2019/09/how-to-calculate-internal-plaster.html"
"#;

const PRICES: [&str; 5] = [
    "material,cement,Cement,bag,250",
    "material,sand,Sand,m3,1300",
    "labour,mason,Mason,day,200",
    "labour,helper,Helper,day,90",
    "plant,scaffolding,Scaffolding,item,550",
];

const ON_COSTS: &str = r#"
[[on_costs.list]]
title = "Tools and plant"
percent = 1
[[on_costs.list]]
title = "Water charges"
percent = 2
[[on_costs.list]]
title = "Supervisor, overhead and profit"
percent = 25
"#;

fn given(build_up: &str) -> Given<'_> {
    Given { build_up, prices: &PRICES, on_costs: ON_COSTS, of: "plaster-wall", per: None }
}

#[test]
fn as_printed() {
    let done = worked(given(BUILD_UP)).unwrap();
    let quantities: Vec<_> = done.lines.iter().take(2).map(|l| l.quantity.normalize()).collect();
    assert_eq!(quantities, all(&["10.5", "1.472"])); // 1.2 x 1.15 x 4/3 = 1.84; / 5 / 0.035; x 4/5
    let (lines, on_costs) = amounts(&done);
    assert_eq!(lines, all(&["2625", "1913", "1600", "1080", "550"]));
    assert_eq!(done.cost, d("7768"));
    assert_eq!(on_costs, all(&["77.68", "156.91", "2000.65"])); // on 7768, 7845.68, 8002.59
    assert_eq!((done.total, done.rate), (d("10003.24"), d("100.03")));
}

#[test]
fn with_the_sand_reckoned_out() {
    let done = worked(given(&BUILD_UP.replace(", say = \"down 1\"", ""))).unwrap();
    // 7768.60 + 77.69 + 156.93 + 2000.81
    assert_eq!((done.cost, done.total), (d("7768.60"), d("10004.03")));
}
