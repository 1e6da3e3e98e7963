//! A published analysis of 10 m3 of brickwork, fed to the cross-check as a list: profit of 15 % is taken on 36 563, so that
//! labour of 8 900 earns none, and the total is 52 995.35 where 15 % on all above it gives 54 637.47.

use rust_decimal::Decimal;
use tankwright_tests::figures::{Figure, Publication, same, slip};
use tankwright_tests::{crosschecked, slips};

pub(super) const OF: Publication = Publication {
    title: "Rate analysis of brickwork, 10 m3, as a list",
    source: "civiljungles.com/webstories/rate-analysis-of-brick; section 3.2 (i) of the project's notes on trade practice",
    remarks: &[],
};

const JOB: &str = "format = 1\n[job]\ntitle = \"t\"\ndate = \"2026-11-25\"\ncurrency = \"INR\"\n[tank]\n\
    chambers = [\"2 m\"]\nwidth = \"1 m\"\nheight = \"1.5 m\"\n";

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

/// The rows as far as they are kept: materials without the waste of the sand, that waste, labour.
fn list(profit: &str, total: &str) -> String {
    // 52 995.35 - 5 484.51 - 8 900 - 36 563.40 = 2 047.44
    format!(
        "description,unit,quantity,rate,amount\nMaterials,,,,36563.40\nWaste of sand,,,,2047.44\nLabour,,,,8900.00\n\
         Add profit 15 %,,,,{profit}\nTotal for 10 m3,,,,{total}\n"
    )
}

pub(super) fn figures() -> Vec<Figure> {
    let found = slips(&crosschecked(JOB, &list("5484.51", "52995.35"), None).unwrap());
    let materials = d("36563.40") + d("2047.44") + d("8900");
    let why = "taken on materials of 36 563.40 alone: labour of 8 900 earns none";
    vec![
        same("profit, on materials alone", "5484.51", d("36563.40") * d("0.15")),
        slip("profit 15 % on all above it", &found[0].1, "7126.63", &found[0].2, why),
        same("total with that profit", "52995.35", materials + d("5484.51")),
        slip("total", "52995.35", "54637.47", materials + d("7126.63"), "the profit"),
    ]
}

#[test]
fn profit_on_a_part_of_the_cost_is_told() {
    assert_eq!(d("36563.40") * d("0.15"), d("5484.51"));
    let report = crosschecked(JOB, &list("5484.51", "52995.35"), None).unwrap();
    let found = slips(&report);
    // 15 % of 36 563.40 + 2 047.44 + 8 900 = 47 510.84 is 7 126.63; the total is then right as printed.
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!((found[0].0, found[0].1.as_str(), found[0].2.as_str()), (5, "5484.51", "7126.63"));
    assert_eq!(d("47510.84") + d("7126.63"), d("54637.47"));
}

#[test]
fn profit_on_all_of_it_has_no_slip() {
    let report = crosschecked(JOB, &list("7126.63", "54637.47"), None).unwrap();
    assert_eq!(slips(&report), []);
}
