//! A variation: the tank of `trade_practice_2_2.rs` with its walls 0.40 m higher, as omissions and additions, and rock met as
//! extra over.
//!
//! The sheet keeps its baffle at 1.50 m, so the gap over ours grows from 300 to 700 mm. It bills plaster to walls apart
//! (15.12 and 18.48 m2); ours is one item with the baffle's faces, top and abutments (3.60 + 0.13 - 0.33), which do not
//! change. All other figures are those of profile `east-africa`, to the last digit.

use rust_decimal::Decimal;
use tankwright_account::vary::Account;
use tankwright_account::vary::report::{Basis, Change};
use tankwright_tests::figures::{Figure, Publication, same, slip};
use tankwright_tests::{prices, varied};

use super::trade_practice_2_2::JOB;

pub(super) const OF: Publication = Publication {
    title: "A variation as omissions and additions: walls 0.40 m higher",
    source: "The project's notes on trade practice, section 6",
    remarks: &[
        "The sheet keeps its baffle at 1.50 m: the gap over ours grows from 300 to 700 mm.",
        "It bills plaster to walls apart; ours is one item with the baffle's faces, top and abutments, 3.60 + 0.13 - 0.33, taken off here.",
    ],
};

const VARIATIONS: &str = r#"
[[variation]]
id = "V1"
date = "2026-12-03"
by = "the owner"
reason = "walls 0.40 m higher"
set = { "tank.height" = "2.20 m", "tank.partitions.air_gap" = "700 mm" }
[[variation]]
id = "V2"
date = "2026-12-04"
by = "the owner"
reason = "rock met"
title = "Rock"
unit = "m3"
quantity = "1.20"
rate = "85000"
extra_over = true
"#;

fn account() -> Account {
    varied(JOB, &format!("{JOB}{VARIATIONS}"), &prices("demo-ugx")).unwrap()
}

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

/// Omitted and added quantity of a code.
fn of(change: &Change, code: &str) -> [Decimal; 2] {
    [&change.omissions, &change.additions].map(|list| {
        let fits = list.iter().filter(|e| e.code == code);
        fits.filter_map(|e| e.worked).map(|(quantity, _)| quantity).sum()
    })
}

pub(super) fn figures() -> Vec<Figure> {
    let account = account();
    let baffle = d("3.60") + d("0.13") - d("0.33");
    let before = "taken there before it is rounded: 9.32 x 0.40 = 3.73";
    let mut all = Vec::new();
    for (what, code, off, [omit, add, net]) in [
        // 3.76 x 1.96 x (2.12 - 1.50) and x (2.52 - 1.50)
        ("excavation from 1.50 m, m3", "excavation-pit/net/1.5-3.0", d("0"), ["4.57", "7.52", "2.95"]),
        // the ring of 1.626 m2 x 1.92, and x 2.32
        ("backfill, m3", "backfill", d("0"), ["3.12", "3.77", "0.65"]),
        ("disposal, m3", "disposal/cart", d("0"), ["12.50", "14.80", "2.30"]),
        // 9.32 x 1.80 and x 2.20
        ("one-brick wall, m2", "brickwork-wall/230", d("0"), ["16.78", "20.50", "3.73"]),
        ("plaster to walls, m2", "plaster-wall/20/1:3", baffle, ["15.12", "18.48", "3.36"]),
    ] {
        let [omitted, added] = of(&account.changes[0], code);
        all.push(same(&format!("{what}, omitted"), omit, omitted - off));
        all.push(same(&format!("{what}, added"), add, added - off));
        let (what, by) = (format!("{what}, net"), added - omitted);
        all.push(if net == "3.73" { slip(&what, net, "3.72", by, before) } else { same(&what, net, by) });
    }
    let rock = &account.changes[1].additions[0];
    all.push(same("rock met, extra over, m3", "1.20", rock.worked.unwrap().0));
    all
}

#[test]
fn what_changes_and_by_which_rates() {
    let account = account();
    let wall = &account.changes[0];
    assert_eq!(of(wall, "brickwork-wall/230"), ["16.78", "20.50"].map(d));
    assert_eq!(of(wall, "plaster-wall/20/1:3"), ["18.52", "21.88"].map(d));
    // What stands in the first 1.50 m, and everything flat, stays as it is. Hoop iron is our default: the sheet has none.
    let codes: Vec<&str> = account.compared.iter().map(|c| c.code.as_str()).collect();
    let table = ["excavation-pit/net/1.5-3.0", "backfill", "disposal/cart", "brickwork-wall/230"];
    assert_eq!(codes, [&table[..], &["hoop-iron", "plaster-wall/20/1:3", ""]].concat());
    assert!(
        wall.omissions.iter().chain(&wall.additions).all(|e| e.basis == Basis::Contract && !e.row.is_empty())
    );
}

#[test]
fn rock_is_extra_over_and_the_dig_is_counted_once() {
    let account = account();
    let [entry] = account.changes[1].additions.as_slice() else { panic!("{:?}", account.changes) };
    assert!(entry.extra_over && matches!(entry.basis, Basis::Star(_)));
    assert_eq!((entry.worked, entry.amount), (Some((d("1.20"), d("85000"))), d("1.20") * d("85000")));
    assert!(account.changes[1].omissions.is_empty());
    let dig = account.compared.iter().find(|c| c.code == "excavation-pit/net/1.5-3.0").unwrap();
    assert_eq!((dig.contract, dig.built), (Some(d("4.57")), Some(d("7.52"))));
}

#[test]
fn the_statement_follows_from_the_table() {
    let account = account();
    let s = &account.sums;
    // No additions in this job: the contract less what is omitted plus what is added.
    assert_eq!(s.adjusted, s.contract - s.omissions + s.additions);
    let worth: Decimal = account.changes.iter().map(|c| c.worth).sum();
    assert_eq!(s.contract + worth, s.adjusted);
}
