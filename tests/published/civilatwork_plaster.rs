//! A blog's internal plaster, 12 mm 1:4, 100 m2.

use tankwright_tests::analyses::{Given, amounts, d, worked};
use tankwright_tests::figures::{Figure, Publication, each, same, slip};

pub(super) const OF: Publication = Publication {
    title: "A blog's internal plaster of 100 m2",
    source: "civilatwork.blogspot.com/2019/09/how-to-calculate-internal-plaster.html",
    remarks: &[
        "Its sand is cut down to whole rupees, and so is ours here: 1.472 x 1300 = 1913.60 is printed 1913.",
    ],
};

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

pub(super) fn figures() -> Vec<Figure> {
    let done = worked(given(BUILD_UP)).unwrap();
    let out = worked(given(&BUILD_UP.replace(", say = \"down 1\"", ""))).unwrap();
    let quantities: Vec<_> = done.lines.iter().take(2).map(|l| l.quantity).collect();
    // 1.2 x 1.15 x 4/3 = 1.84; / 5 / 0.035; x 4/5
    let mut all = each(&[("cement, bags", "10.5"), ("sand, m3", "1.472")], &quantities);
    let (lines, on_costs) = amounts(&done);
    let want = [
        ("cement", "2625"),
        ("sand, cut", "1913"),
        ("mason", "1600"),
        ("helper", "1080"),
        ("scaffolding", "550"),
    ];
    all.extend(each(&want, &lines));
    all.push(slip(
        "sand, reckoned out",
        "1913",
        "1913.60",
        out.lines[1].amount,
        "1.472 x 1300, cut and not rounded",
    ));
    all.push(same("cost", "7768", done.cost));
    // On 7768, 7845.68, 8002.59.
    let want =
        [("tools and plant 1 %", "77.68"), ("water 2 %", "156.91"), ("overhead and profit 25 %", "2000.65")];
    all.extend(each(&want, &on_costs));
    all.push(slip("total", "10003.23", "10003.24", done.total, "8002.59 + 2000.65 = 10 003.24"));
    all.push(same("rate of 1 m2", "100.03", done.rate));
    all
}

#[test]
fn to_the_paisa() {
    let done = worked(given(BUILD_UP)).unwrap();
    assert_eq!((done.total, done.rate), (d("10003.24"), d("100.03")));
}

#[test]
fn with_the_sand_reckoned_out() {
    let done = worked(given(&BUILD_UP.replace(", say = \"down 1\"", ""))).unwrap();
    // 7768.60 + 77.69 + 156.93 + 2000.81
    assert_eq!((done.cost, done.total), (d("7768.60"), d("10004.03")));
}
