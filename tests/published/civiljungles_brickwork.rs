//! A faulty analysis: brickwork 1:3, 10 m3 (civiljungles.com/webstories/rate-analysis-of-brick). Sand waste is labelled
//! 2 % and reckoned at 7 %; profit is taken on "items marked", materials without that waste, so that labour earns none.
//! It prints 52 995.36; its own rows add up to 52 995.35.

use tankwright_quantities::build_up::{Group, audit};
use tankwright_tests::analyses::{Given, all, amounts, d, worked};

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

#[test]
fn as_published_labour_earns_no_profit() {
    let on_costs = published();
    let done = worked(given(BUILD_UP, &on_costs)).unwrap();
    let (lines, on_costs) = amounts(&done);
    let want = ["25000", "1250", "7040", "140.80", "3132.60", "1400", "2800", "4000", "700", "219.28"];
    assert_eq!(lines, all(&want));
    assert_eq!((done.sum(Group::Materials), done.sum(Group::Labour)), (Some(d("36563.40")), Some(d("8900"))));
    assert_eq!(on_costs, all(&["365.63", "365.63", "731.27", "365.63", "5484.51"]));
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
