//! A breakup of the Bangladesh PWD schedule: 125 mm brickwork, 100 sq ft. Profit and overhead are both on cost; VAT is a
//! share of the price with it, 0.075 x 1.08108.

use tankwright_quantities::build_up::Group;
use tankwright_tests::analyses::{Given, all, amounts, d, worked};
use tankwright_tests::figures::{Figure, Publication, each, same};

pub(super) const OF: Publication = Publication {
    title: "Bangladesh PWD schedule, breakup of item 04.19: 125 mm brickwork",
    source: "sor.ictsheba.top/LongSchedules/Breakup/139",
    remarks: &[],
};

const BUILD_UP: &str = r#"
[[build_up]]
of = ["brickwork-partition/110"]
per = "9.290304 m2"
recipe = false
material = [
    { material = "bricks", quantity = "480", unit = "nr" },
    { material = "sand", quantity = "16", unit = "cft" },
    { material = "cement", quantity = "2.8", unit = "bag" },
]
labour = [
    { who = "head-mason", days = "0.1" },
    { who = "mason", days = "1" },
    { who = "skilled", days = "0.5" },
    { who = "labourer", days = "1" },
    { who = "labourer", title = "soaking and cleaning bricks", days = "1" },
    { who = "labourer", title = "screening and washing sand", days = "0.25" },
    { who = "labourer", title = "7 days curing at 1/8", days = "7 / 8" },
    { who = "labourer", title = "carriage, storage and sundries", days = "0.5" },
]
plant = [{ what = "scaffolding", quantity = "25", unit = "sft" }]
from = "2018"
source = "Bangladesh PWD schedule, item 04.19"
seen = "sor.ictsheba.top/LongSchedules/Breakup/139"
"#;

const PRICES: [&str; 8] = [
    "material,bricks,Ceramic bricks of 10 holes,nr,19.9",
    "material,sand,Sand,cft,19",
    "material,cement,Cement,bag,410",
    "labour,head-mason,Head mason,day,800",
    "labour,mason,Mason,day,700",
    "labour,skilled,Skilled labour,day,600",
    "labour,labourer,Ordinary labour,day,550",
    "plant,scaffolding,Scaffolding,sft,10",
];

const ON_COSTS: &str = r#"
[[on_costs.list]]
title = "Contractor's profit"
percent = 10
on = ["cost"]
[[on_costs.list]]
title = "Contractor's overhead"
percent = "3.5"
on = ["cost"]
[[on_costs.list]]
title = "VAT"
percent = "7.5"
gross_up = true
"#;

fn given<'a>(on_costs: &'a str, per: Option<(&'a str, &'a str)>) -> Given<'a> {
    Given { build_up: BUILD_UP, prices: &PRICES, on_costs, of: "brickwork-partition/110", per }
}

pub(super) fn figures() -> Vec<Figure> {
    let done = worked(given(ON_COSTS, Some(("100", "sft")))).unwrap();
    let (lines, on_costs) = amounts(&done);
    let mut all = each(
        &[
            ("bricks", "9552"),   // 480 x 19.9
            ("sand", "304"),      // 16 x 19
            ("cement", "1148"),   // 2.8 x 410
            ("head mason", "80"), // days at 800, 700, 600, 550
            ("mason", "700"),
            ("skilled labour", "300"),
            ("labourer", "550"),
            ("soaking and cleaning bricks", "550"),
            ("screening and washing sand", "137.5"),
            ("curing", "481.25"),
            ("carriage, storage and sundries", "275"),
            ("scaffolding", "250"), // 25 x 10
        ],
        &lines,
    );
    all.push(same("cost of 100 sq ft", "14327.75", done.cost));
    // The last on 16 262.00.
    all.extend(each(
        &[("profit 10 %", "1432.78"), ("overhead 3.5 %", "501.47"), ("VAT 7.5 %", "1318.54")],
        &on_costs,
    ));
    all.push(same("total of 100 sq ft", "17580.54", done.total));
    all.push(same("rate of a sq ft", "175.81", done.rate));
    all
}

#[test]
fn base_of_the_tax_and_sums_of_the_groups() {
    let done = worked(given(ON_COSTS, Some(("100", "sft")))).unwrap();
    assert_eq!(done.on_costs[2].base, d("16262.00"));
    let sums = Group::ALL.map(|g| done.sum(g).unwrap_or_default());
    assert_eq!(sums.to_vec(), all(&["11004", "3073.75", "250", "0"])); // 9552 + 304 + 1148; 80 + ... + 275
}

#[test]
fn by_the_square_metre_said_to_the_taka() {
    // 100 sq ft are 9.290304 m2: 17 580.54 / 9.290304 = 1892.35...
    let done = worked(given(&format!("[on_costs]\nsay = \"nearest 1\"\n{ON_COSTS}"), None)).unwrap();
    assert_eq!((done.each, done.rate), (d("1892.35"), d("1892")));
}
