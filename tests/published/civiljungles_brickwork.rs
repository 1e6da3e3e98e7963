//! A faulty analysis: brickwork 1:3, 10 m3. Sand waste is labelled 2 % and reckoned at 7 %; profit is taken on "items
//! marked", materials without that waste, so that labour earns none.

use tankwright_quantities::build_up::{Group, audit};
use tankwright_tests::analyses::{Given, amounts, d, worked};
use tankwright_tests::figures::{Figure, Publication, each, same, slip};

pub(super) const OF: Publication = Publication {
    title: "Rate analysis of brickwork, 10 m3, built up",
    source: "civiljungles.com/webstories/rate-analysis-of-brick",
    remarks: &[],
};

const BUILD_UP: &str = r#"
[[build_up]]
of = ["brickwork-wall"]
per = "10 m3"
recipe = false
material = [
    { material = "bricks", quantity = "5000", unit = "nr" },
    { title = "wastage of brick", percent = "5", on = ["bricks"] },
    { material = "cement", quantity = "22", unit = "bag" },
    { title = "wastage of cement", percent = "2", on = ["cement"] },
    { material = "sand", quantity = "2.30", unit = "m3" },
]
labour = [
    { who = "mate", days = "4" },
    { who = "mason", days = "4" },
    { who = "helper", days = "8" },
    { who = "coolie", days = "2" },
]
sundries = [{ title = "wastage of sand", percent = "7", on = ["sand"] }]
from = "2022"
source = "Rate analysis of brick"
seen = "civiljungles.com/webstories/rate-analysis-of-brick"
"#;

const PRICES: [&str; 7] = [
    "material,bricks,Bricks,nr,5",
    "material,cement,Cement,bag,320",
    "material,sand,Sand,m3,1362",
    "labour,mate,Mate,day,350",
    "labour,mason,Mason,day,700",
    "labour,helper,Helper,day,500",
    "labour,coolie,Coolie,day,350",
];

const ON_COSTS: &str = r#"
[[on_costs.list]]
title = "Scaffolding"
percent = 1
on = ["materials"]
[[on_costs.list]]
title = "Transportation"
percent = 1
on = ["materials"]
[[on_costs.list]]
title = "Other charges"
percent = 2
on = ["materials"]
[[on_costs.list]]
title = "Water charge"
percent = 1
on = ["materials"]
[[on_costs.list]]
title = "Contractor's profit"
percent = 15
"#;

fn given<'a>(build_up: &'a str, on_costs: &'a str) -> Given<'a> {
    Given { build_up, prices: &PRICES, on_costs, of: "brickwork-wall", per: None }
}

/// The chain as published: profit too is on the items marked.
fn published() -> String {
    format!("{ON_COSTS}on = [\"materials\"]\n")
}

pub(super) fn figures() -> Vec<Figure> {
    let on_costs = published();
    let done = worked(given(BUILD_UP, &on_costs)).unwrap();
    let all_of_it = worked(given(BUILD_UP, ON_COSTS)).unwrap();
    let two = worked(given(&BUILD_UP.replace("percent = \"7\"", "percent = \"2\""), &on_costs)).unwrap();
    let (lines, on_costs) = amounts(&done);
    let mut all = each(
        &[
            ("bricks", "25000"),
            ("wastage of brick", "1250"),
            ("cement", "7040"),
            ("wastage of cement", "140.80"),
            ("sand", "3132.60"),
            ("mate", "1400"),
            ("mason", "2800"),
            ("helper", "4000"),
            ("coolie", "700"),
            ("wastage of sand, at 7 %", "219.28"),
        ],
        &lines,
    );
    let waste = "labelled 2 %, reckoned at 7 %";
    all.push(slip("wastage of sand, as labelled", "219.28", "62.65", two.lines[9].amount, waste));
    all.push(same("materials", "36563.40", done.sum(Group::Materials).unwrap()));
    all.push(same("labour", "8900", done.sum(Group::Labour).unwrap()));
    all.extend(each(
        &[
            ("scaffolding 1 %", "365.63"),
            ("transportation 1 %", "365.63"),
            ("other charges 2 %", "731.27"),
            ("water charge 1 %", "365.63"),
            ("profit 15 %, on materials alone", "5484.51"),
        ],
        &on_costs,
    ));
    all.push(slip(
        "total of its own rows",
        "52995.36",
        "52995.35",
        done.total,
        "its rows add up to 52 995.35",
    ));
    let profit = "profit on materials alone: labour and the waste of sand earn none";
    all.push(slip("profit 15 % on all above it", "5484.51", "7126.63", all_of_it.on_costs[4].amount, profit));
    all.push(slip("total with profit on all of it", "52995.36", "54637.47", all_of_it.total, profit));
    all
}

#[test]
fn as_published_labour_earns_no_profit() {
    let on_costs = published();
    let done = worked(given(BUILD_UP, &on_costs)).unwrap();
    assert_eq!(done.total, d("52995.35"));
}

#[test]
fn the_audit_finds_what_profit_leaves_out_and_what_it_is_worth() {
    let on_costs = published();
    let done = worked(given(BUILD_UP, &on_costs)).unwrap();
    let profit = audit(&done).into_iter().find(|l| l.on_cost == 4).unwrap();
    assert_eq!(profit.groups, [(Group::Labour, d("8900")), (Group::Sundries, d("219.28"))]);
    assert_eq!(profit.earlier, [0, 1, 2, 3]);
    // 15 % of 47 510.84 = 7126.63, less 5484.51
    assert_eq!(profit.more, d("1642.12"));
    assert_eq!(done.total + profit.more, d("54637.47"));
}

#[test]
fn nothing_is_left_out_unless_a_step_says_so() {
    // The same chain, its last step as people write it: no word on what it is taken.
    let done = worked(given(BUILD_UP, ON_COSTS)).unwrap();
    assert_eq!(done.on_costs[4].base, d("47510.84"));
    assert_eq!(done.total, d("54637.47"));
    assert!(audit(&done).iter().all(|l| l.on_cost != 4));
}

#[test]
fn a_waste_labelled_two_per_cent_is_not_seven() {
    let on_costs = published();
    let labelled = BUILD_UP.replace("percent = \"7\"", "percent = \"2\"");
    let done = worked(given(&labelled, &on_costs)).unwrap();
    assert_eq!(done.lines[9].amount, d("62.65")); // 2 % of 3132.60; printed 219.28
    assert_eq!(done.total, d("52838.72"));
}
