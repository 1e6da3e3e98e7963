//! Sums written out, and every code once.

use rust_decimal::Decimal;

use super::*;
use crate::bill::fixture::{d, full, item, job, prices, sheet, stock};
use crate::bill::{AddedOn, draw_up};
use crate::sheet::Sheet;
use crate::stage::Stage;
use crate::works::{earthwork, finishes, masonry};

const DATE: &str = "2026-11-25";

/// The bill of [`sheet`] and what was said.
fn run(more: &[(&str, &str)], list: &PriceList) -> (Bill, Vec<Problem>) {
    let job = job(more);
    let mut bill = draw_up(&sheet(), &job, &stock());
    let told = price(&mut bill, &job, &stock(), list, DATE, None);
    (bill, told)
}

fn codes(told: &[Problem]) -> Vec<&'static str> {
    told.iter().map(|p| p.code).collect()
}

/// Amounts of all additions.
fn added(bill: &Bill) -> Vec<String> {
    bill.additions.iter().map(|a| a.amount.to_string()).collect()
}

#[test]
fn rows_sections_and_total_as_sums() {
    let (bill, told) = run(&[], &full());
    assert_eq!(codes(&told), [""; 0]);
    let amounts: Vec<_> = bill.sections.iter().flat_map(|s| &s.rows).filter_map(|r| r.amount).collect();
    let want = [
        d("246780"),  // 13.71 x 18 000
        d("70400"),   // 3.2 x 22 000
        d("608000"),  // 1.52 x 400 000
        d("1486250"), // 5.125 x 290 000
        d("75000"),   // 1 x 75 000
        d("29000"),   // 2 x 14 500
    ];
    assert_eq!(amounts, want);
    let totals: Vec<_> = bill.sections.iter().filter_map(|s| s.total).collect();
    assert_eq!(totals, [d("317180"), d("608000"), d("1486250"), d("75000"), d("29000")]); // 246 780 + 70 400
    assert_eq!(bill.measured, Some(d("2515430"))); // 317 180 + 608 000 + 1 486 250 + 75 000 + 29 000
    assert_eq!(bill.total, bill.measured);
    assert_eq!(
        bill.total_in_words,
        "two million five hundred and fifteen thousand four hundred and thirty shillings"
    );
    assert_eq!(bill.price_list, Some(("my.csv".into(), "2026-10-01".into(), "2026-10-01".into())));
}

#[test]
fn the_most_specific_rate_wins_and_a_plain_one_is_marked() {
    let (bill, _) = run(&[], &full());
    let rows = bill.sections.iter().flat_map(|s| &s.rows);
    let from: Vec<_> = rows
        .filter_map(|r| r.rate.as_ref())
        .map(|(_, f)| (f.code.as_str(), f.line, f.less_specific))
        .collect();
    assert_eq!(from[..2], [("excavation-pit", 2, true), ("excavation-pit/1.5-3.0", 3, false)]);
}

#[test]
fn the_net_dig_is_what_a_plain_code_of_a_pit_means() {
    let list = prices(&[("excavation-pit/0-1.5", "m3", "5"), ("excavation-pit/net/1.5-3.0", "m3", "6")]);
    let dig = |spec| item(&earthwork::EXCAVATION_PIT, spec, Stage::Dig, "2");
    let less = |list: &PriceList, spec| {
        let job = job(&[]);
        let mut bill = draw_up(&Sheet { items: vec![dig(spec)], voids: Vec::new() }, &job, &stock());
        let told = price(&mut bill, &job, &stock(), list, DATE, None);
        assert_eq!(codes(&told), [""; 0], "{spec}");
        bill.sections
            .iter()
            .flat_map(|s| &s.rows)
            .filter_map(|r| r.rate.as_ref())
            .any(|(_, f)| f.less_specific)
    };
    assert!(!less(&list, "net/0-1.5") && !less(&list, "net/1.5-3.0"));
    let plain = prices(&[("excavation-pit", "m3", "5")]);
    assert!(!less(&plain, "net") && less(&plain, "net/0-1.5"));
}

#[test]
fn a_half_unit_goes_up() {
    // 2.5 UGX: 0.5 m3 at 5; 3.2 m3 at 0.78125 = 2.5.
    let list = prices(&[("backfill", "m3", "5"), ("disposal", "m3", "0.78125")]);
    let items = vec![
        item(&earthwork::BACKFILL, "", Stage::Finish, "0.5"),
        item(&earthwork::DISPOSAL, "cart", Stage::Dig, "3.2"),
    ];
    let job = job(&[("additions.list[0].title", "T"), ("additions.list[0].percent", "75")]);
    let mut bill = draw_up(&Sheet { items, voids: Vec::new() }, &job, &stock());
    assert_eq!(codes(&price(&mut bill, &job, &stock(), &list, DATE, None)), [""; 0]);
    assert_eq!(bill.measured, Some(d("6"))); // 3 + 3
    assert_eq!(added(&bill), ["5"]); // 75 % of 6 = 4.5
    assert_eq!(bill.total, Some(d("11")));
}

#[test]
fn cents_follow_the_currency() {
    let mut list = prices(&[("screed", "m2", "10.55")]);
    list.currency = "KES".into();
    let items = vec![item(&finishes::SCREED, "", Stage::Plaster, "1.5")];
    let job = job(&[("job.currency", "KES")]);
    let mut bill = draw_up(&Sheet { items, voids: Vec::new() }, &job, &stock());
    assert_eq!(codes(&price(&mut bill, &job, &stock(), &list, DATE, None)), [""; 0]);
    assert_eq!(bill.total, Some(d("15.83"))); // 1.5 x 10.55 = 15.825
    assert_eq!(bill.total_in_words, "fifteen shillings and eighty-three cents");
}

#[test]
fn every_missing_rate_is_told_with_the_row_to_add() {
    let list = prices(&[
        ("excavation-pit", "m3", ""),
        ("excavation-pit/0-1.5", "m3", "15000"),
        ("brickwork-wall/220", "m2", "46500"),
        ("water-test", "item", "75000"),
        ("pipe-tee", "nr", "14500"),
    ]);
    let (bill, told) = run(&[], &list);
    assert!(bill.total.is_none() && bill.sections.iter().flat_map(|s| &s.rows).all(|r| r.rate.is_none()));
    let mut seen = codes(&told);
    seen.sort_unstable();
    assert_eq!(seen, ["R040", "R041", "R042"]);
    let of = |code| told.iter().find(|p| p.code == code);
    assert_eq!(
        of("R040").map(|p| p.message.as_str()),
        Some("my.csv has no rate for `concrete-base/1:2:4` in m3")
    );
    let hint = of("R040").and_then(|p| p.hint.clone()).unwrap_or_default();
    assert!(hint.ends_with("work,concrete-base/1:2:4,Concrete 1:2:4 in base,m3,,UGX,2026-11-25,"), "{hint}");
    let lines: Vec<_> =
        ["R041", "R042"].map(|c| of(c).and_then(|p| p.place.clone()).map(|p| p.line)).to_vec();
    assert_eq!(lines, [Some(4), Some(2)]);
}

#[test]
fn a_unit_in_another_spelling_is_told_as_such() {
    for (unit, says) in [
        ("cum", "if that is meant, write the unit as m3"),
        ("Cu. m", "if that is meant, write the unit as m3"),
        ("m³", "if that is meant, write the unit as m3"),
        ("m2", "nothing is converted: ask for a price per m3"),
        ("bag", "nothing is converted: ask for a price per m3"),
    ] {
        let (_, told) = run(&[], &prices(&[("brickwork-wall/220", unit, "46500")]));
        let hint = told.iter().find(|p| p.code == "R041").and_then(|p| p.hint.clone()).unwrap_or_default();
        assert!(hint.starts_with(says), "{unit}: {hint}");
    }
}

#[test]
fn rows_that_differ_in_words_alone_are_told_once() {
    let wall = || item(&masonry::BRICKWORK_WALL, "220", Stage::WallsLower, "1");
    let mut other = wall();
    other.wording = crate::words::Phrase::new("plain");
    let job = job(&[]);
    let mut bill = draw_up(&Sheet { items: vec![wall(), other], voids: Vec::new() }, &job, &stock());
    assert_eq!(codes(&price(&mut bill, &job, &stock(), &prices(&[]), DATE, None)), ["R040"]);
}

#[test]
fn currencies_must_agree_and_be_known() {
    let mut list = full();
    list.currency = "KES".into();
    assert_eq!(codes(&run(&[], &list).1), ["R043"]);
    list.currency = "XYZ".into();
    assert_eq!(codes(&run(&[("job.currency", "XYZ")], &list).1), ["R044"]);
}

#[test]
fn old_and_late_rates_are_cautioned_once_a_date() {
    let mut list = full();
    let dates = ["2026-08-27", "2026-08-26", "2026-08-26", "2026-11-25", "2026-11-26", ""];
    for (row, date) in list.rows.iter_mut().zip(dates) {
        row.date = date.into();
    }
    let (bill, told) = run(&[], &list);
    assert!(bill.total.is_some() && told.iter().all(|p| p.severity == Severity::Caution));
    let messages: Vec<_> = told.iter().map(|p| p.message.as_str()).collect();
    // 26 August to 25 November: 5 + 30 + 31 + 25 = 91 days; the 27th is 90 days back, and not yet old.
    let want = [
        "1 row of the bill is priced with rates of , and the job's date is 2026-11-25: how old they are cannot be told",
        "2 rows of the bill are priced with rates of 2026-08-26, 91 days before the job's date 2026-11-25",
        "1 row of the bill is priced with rates of 2026-11-26, later than the job's date 2026-11-25",
    ];
    assert_eq!(messages, want);
    assert_eq!(codes(&told), ["R045"; 3]);
    assert_eq!(bill.price_list.map(|(_, from, to)| (from, to)), Some((String::new(), "2026-11-26".into())));
}

#[test]
fn what_comes_to_nothing_is_cautioned() {
    let list = prices(&[
        ("excavation-pit", "m3", "0"),
        ("concrete-base", "m3", "0.1"),
        ("brickwork-wall", "m3", "290000"),
        ("water-test", "item", "75000"),
        ("pipe-tee", "nr", "14500"),
    ]);
    let (bill, told) = run(&[], &list);
    assert!(bill.total.is_some());
    let messages: Vec<_> = told.iter().map(|p| p.message.as_str()).collect();
    let want = [
        "A1 `excavation-pit/0-1.5` comes to nothing: its rate on line 2 of my.csv is 0",
        "A2 `excavation-pit/1.5-3.0` comes to nothing: its rate on line 2 of my.csv is 0",
        "B1 `concrete-base/1:2:4` comes to nothing: 1.52 m3 at 0.1 rounds to 0", // 0.152
    ];
    assert_eq!((codes(&told), messages), (vec!["R046"; 3], want.to_vec()));
}

#[test]
fn preliminaries_and_provisional_items() {
    let more = [
        ("preliminaries[0].title", "Setting out, tools, store and watchman"),
        ("preliminaries[0].amount", "450000"),
        ("preliminaries[1].title", "Permits"),
        ("preliminaries[1].amount", "0"),
        ("preliminaries[2].title", "All that the client asks"),
        ("preliminaries[2].unit", "week"),
        ("preliminaries[2].quantity", "1.5"),
        ("preliminaries[2].rate", "84001"),
        ("preliminaries[2].covers", "water|guarding"),
        ("provisional[0].title", "Rock, extra over"),
        ("provisional[0].unit", "m3"),
        ("provisional[0].quantity", "1.0"),
        ("provisional[0].rate", "85000"),
    ];
    let (bill, told) = run(&more, &full());
    assert_eq!(codes(&told), [""; 0]);
    let amounts: Vec<_> = bill.preliminaries.iter().map(|r| r.amount).collect();
    assert_eq!(amounts, [d("450000"), d("0"), d("126002")]); // 1.5 x 84 001 = 126 001.5
    assert_eq!(bill.provisional.first().map(|r| r.amount), Some(d("85000")));
    assert_eq!(bill.total, Some(d("3176432"))); // 2 515 430 + 450 000 + 126 002 + 85 000
    // The water test of the bill covers the tests.
    let open = [
        "transport of people and goods",
        "support to the sides of the dig",
        "keeping the dig dry",
        "clearing the site",
    ];
    assert_eq!(bill.not_priced, open);
}

#[test]
fn works_of_the_bill_cover_the_checklist() {
    let items = vec![
        item(&earthwork::EARTHWORK_SUPPORT, "open", Stage::Dig, "20"),
        item(&earthwork::KEEP_DRY, "", Stage::Dig, "1"),
    ];
    let list = prices(&[("earthwork-support", "m2", "12000"), ("keep-dry", "item", "350000")]);
    let job = job(&[]);
    let mut bill = draw_up(&Sheet { items, voids: Vec::new() }, &job, &stock());
    let _ = price(&mut bill, &job, &stock(), &list, DATE, None);
    let without = |id: &str| {
        stock().checklist.iter().filter(|i| i.id == id).all(|i| !bill.not_priced.contains(&i.title))
    };
    assert!(without("support") && without("dry") && !without("tests"));
    assert_eq!(bill.not_priced.len(), stock().checklist.len() - 2);
}

/// Titles and figures of a chain.
const CHAIN: [(&str, &str); 9] = [
    ("additions.list[0].title", "Contingency"),
    ("additions.list[0].percent", "5"),
    ("additions.list[1].title", "Overhead"),
    ("additions.list[1].percent", "12.5"),
    ("additions.list[1].on", "measured"),
    ("additions.list[2].title", "Transport"),
    ("additions.list[2].amount", "120000"),
    ("additions.list[3].title", "Tax"),
    ("additions.list[3].percent", "18"),
];

#[test]
fn additions_stand_on_what_they_say() {
    let prelim = [("preliminaries[0].title", "Tools"), ("preliminaries[0].amount", "100000")];
    let (bill, told) = run(&[&CHAIN[..], &prelim].concat(), &full());
    assert_eq!(codes(&told), [""; 0]);
    let want = [
        "130772", // 5 % of 2 515 430 + 100 000 = 130 771.5
        "314429", // 12.5 % of 2 515 430 = 314 428.75
        "120000", "572514", // 18 % of 2 615 430 + 130 772 + 314 429 + 120 000 = 3 180 631: 572 513.58
    ];
    assert_eq!(added(&bill), want);
    let bases: Vec<_> = bill.additions.iter().map(|a| a.base).collect();
    assert_eq!(bases, [d("2615430"), d("2515430"), d("0"), d("3180631")]);
    assert_eq!(bill.total, Some(d("3753145"))); // 3 180 631 + 572 514

    let named = [&CHAIN[..], &prelim, &[("additions.list[3].on", "Transport|measured|Contingency")]].concat();
    let (bill, _) = run(&named, &full());
    let last = bill.additions.last();
    assert_eq!(last.map(|a| a.on.clone()), Some(AddedOn::Titles(vec![0, 2])));
    assert_eq!(last.map(|a| a.base), Some(d("2766202"))); // 2 515 430 + 130 772 + 120 000
    assert_eq!(last.map(|a| a.amount), Some(d("497916"))); // 18 %: 497 916.36
}

#[test]
fn the_offer_is_rounded_up_in_a_line_of_its_own() {
    let (bill, _) = run(&[&CHAIN[..], &[("additions.say", "1000")]].concat(), &full());
    // 2 515 430 + 125 772 + 314 429 + 120 000 = 3 075 631; 18 % = 553 613.58; together 3 629 245
    assert_eq!(added(&bill).last().map(String::as_str), Some("755")); // 3 630 000 - 3 629 245
    assert_eq!((bill.total, bill.say), (Some(d("3630000")), Some(d("1000"))));
    assert_eq!(bill.additions.len(), 5);
    // On a multiple: the line stands, and comes to nothing.
    let (bill, _) = run(&[("additions.say", "10")], &full());
    assert_eq!((added(&bill), bill.total), (vec!["0".to_owned()], Some(d("2515430"))));
}

#[test]
fn unclear_additions_are_refused() {
    for (on, want) in [
        ("measured|Contingence", vec!["R048"]),
        ("measured|Tax", vec!["R048"]),
        ("measured|Contingency|Contingency", vec!["R048"]),
        ("Contingency", vec!["R049"]),
        ("Nothing", vec!["R048", "R049"]),
    ] {
        let (bill, told) = run(&[&CHAIN[..], &[("additions.list[3].on", on)]].concat(), &full());
        assert_eq!((codes(&told), bill.total), (want, None), "{on}");
        assert!(
            told.iter().all(|p| p.hint.is_some() && p.place.as_ref().is_some_and(|p| p.file == "job.toml"))
        );
    }
    let twins =
        [("additions.list[1].title", "Contingency"), ("additions.list[3].on", "measured|Contingency")];
    assert_eq!(codes(&run(&[&CHAIN[..], &twins].concat(), &full()).1), ["R048"]);
}

#[test]
fn amounts_must_be_whole_units_given_and_not_boundless() {
    let pre = |key: &'static str, text: &'static str| [("preliminaries[0].title", "x"), (key, text)];
    for (more, want) in [
        (pre("preliminaries[0].amount", "10.5"), "R050"),
        (pre("preliminaries[0].quantity", "10.5"), "R050"),
        (pre("preliminaries[0].amount", "1000000000000000001"), "R047"),
        (pre("additions.say", "0.5"), "R050"),
        (pre("preliminaries[0].covers", "watering"), "R051"),
        ([("additions.list[0].title", "x"), ("additions.list[0].on", "measured")], "R050"),
    ] {
        let told = run(&more, &full()).1;
        assert!(codes(&told).contains(&want), "{more:?}: {told:?}");
    }
    let mut list = full();
    for row in &mut list.rows {
        row.rate = Some(d("999999999999999999"));
    }
    let (bill, told) = run(&[], &list);
    assert_eq!((codes(&told), bill.total), (vec!["R047"], None));
    for row in &mut list.rows {
        row.rate = Some(Decimal::MAX);
    }
    assert_eq!(codes(&run(&[], &list).1), ["R047"]);
}

#[test]
fn all_that_is_wrong_is_told_together() {
    let mut list = prices(&[]);
    list.currency = "KES".into();
    let more =
        [&CHAIN[..], &[("additions.list[3].on", "measured|x"), ("preliminaries[0].title", "y")]].concat();
    let mut seen = codes(&run(&more, &list).1);
    seen.dedup();
    assert_eq!(seen, ["R043", "R040", "R050", "R048"]);
}

#[test]
fn the_codes_in_the_list_are_the_codes_in_the_source() {
    let source = [
        include_str!("mod.rs"),
        include_str!("rates.rs"),
        include_str!("side.rs"),
        include_str!("additions.rs"),
        include_str!("amounts.rs"),
        include_str!("labour.rs"),
    ]
    .concat();
    let is_code = |t: &&str| t.len() == 4 && t.starts_with('R') && t[1..].bytes().all(|b| b.is_ascii_digit());
    let mut used: Vec<&str> = source.split('"').filter(is_code).collect();
    used.sort_unstable();
    used.dedup();
    let listed: Vec<&str> = CODES.iter().map(|(code, _)| *code).collect();
    assert_eq!(used, listed);
}
