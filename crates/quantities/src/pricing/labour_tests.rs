//! Tests of bills where the client buys the materials.

use super::{Goods, price};
use crate::bill::fixture::{d, full, job, sheet, stock, used};
use crate::bill::{Bill, balances, draw_up};
use crate::materials::{Material, Materials, Rounding};
use crate::orders::{Orders, Pack, Total};
use crate::problem::{Problem, Severity};
use crate::rates::{PriceKind, PriceList, PriceRow};
use crate::source::Source;

const DATE: &str = "2026-11-25";

/// Material, unit, pack in it, word of the pack, title of the pack.
type Sold = (&'static str, &'static str, &'static str, &'static str, &'static str);

const SOLD: [Sold; 4] = [
    ("cement", "kg", "50", "bag", "50 kg bag"),
    ("sand", "m3", "0.5", "lot", "0.5 m3 lot"),
    ("tee/110", "nr", "1", "piece", "piece"),
    ("water", "l", "1", "l", "1 l"),
];

/// Materials of the base, a wall, tees and test water; six bags of cement, two lots of sand, two tees, 2000 l.
fn goods(list: &PriceList) -> (Materials, Orders) {
    let uses = vec![
        used("cement", "concrete-base/1:2:4/base", "486.4", "2.5"),
        used("sand", "concrete-base/1:2:4/base", "0.7", "0"),
        used("cement", "brickwork-wall/220/walls-lower", "300", "0"),
        used("tee/110", "pipe-tee/110/walls-upper", "2", "0"),
        used("water", "", "2000", "0"),
    ];
    let bought = [16_u64, 2, 2, 2000];
    let (mut materials, mut orders) = (Vec::new(), Orders { cost: Some(d("0")), ..Orders::default() });
    for ((id, unit, size, word, title), packs) in SOLD.into_iter().zip(bought) {
        let material = Material {
            id: id.into(),
            title: id.into(),
            unit: unit.into(),
            supplier: "hardware".into(),
            rounding: Rounding::Delivery,
            source: Source::default(),
        };
        let words = [word.to_owned(), format!("{word}s")];
        let pack = Pack { size: d(size), title: title.into(), words, source: String::new(), default: true };
        let rate = crate::orders::cost::rate(list, &material, &pack).ok().map(|(rate, _)| rate);
        let cost = rate.map(|rate| rate * rust_decimal::Decimal::from(packs));
        orders.cost = orders.cost.zip(cost).map(|(sum, cost)| sum + cost);
        let (ordered, used) = (d("0"), d("0"));
        let material_id = id.to_owned();
        orders.totals.push(Total {
            material: material_id,
            pack,
            ordered,
            used,
            packs,
            packs_uncarried: packs,
            rate,
            cost,
        });
        materials.push(material);
    }
    (Materials { materials, uses, ..Materials::default() }, orders)
}

/// The list of every work, and these rows of materials: code, words, unit, rate.
fn list(rows: &[(&str, &str, &str, &str)]) -> PriceList {
    let mut list = full();
    for (code, words, unit, rate) in rows {
        let line = list.rows.len() + 2;
        list.rows.push(PriceRow {
            kind: PriceKind::Material,
            code: (*code).into(),
            description: (*words).into(),
            unit: (*unit).into(),
            rate: rate.parse().ok(),
            date: "2026-10-02".into(),
            source: "invented, demo".into(),
            line,
            span: line..line + 1,
        });
    }
    list
}

const CEMENT: (&str, &str, &str, &str) = ("cement", "Cement", "bag", "36000");
const SAND: (&str, &str, &str, &str) = ("sand", "Sand", "m3", "40000");
const TEE: (&str, &str, &str, &str) = ("tee", "Tee", "nr", "9000");
const WATER: (&str, &str, &str, &str) = ("water", "Water", "l", "2");

fn run(list: &PriceList) -> (Bill, Vec<Problem>) {
    let (job, sheet, (materials, orders)) = (job(&[]), sheet(), goods(list));
    let mut bill = draw_up(&sheet, &job, &stock());
    let goods = Goods { sheet: &sheet, materials: &materials, orders: &orders };
    let told = price(&mut bill, &job, &stock(), list, DATE, Some(goods));
    (bill, told)
}

fn codes(told: &[Problem]) -> Vec<&str> {
    told.iter().map(|p| p.code).collect()
}

/// Reference, full rate, materials per unit, rate, amount.
fn rows(bill: &Bill) -> Vec<(String, [String; 4])> {
    let rows = bill.sections.iter().flat_map(|s| &s.rows);
    let text = |d: Option<rust_decimal::Decimal>| d.map_or_else(String::new, |d| d.normalize().to_string());
    let row = |r: &crate::bill::BillRow| {
        let labour = r.labour.as_ref();
        let rate = r.rate.as_ref().map(|(rate, _)| *rate);
        let figures = [labour.map(|l| l.full_rate), labour.map(|l| l.materials), rate, r.amount].map(text);
        (r.reference.clone(), figures)
    };
    rows.map(row).collect()
}

#[test]
fn rates_of_labour_are_full_rates_less_materials() {
    let (bill, told) = run(&list(&[CEMENT, SAND, TEE, WATER]));
    assert_eq!(codes(&told), [""; 0]);
    let want = [
        ("A1", ["18000", "0", "18000", "246780"]), // 13.71 x 18 000
        ("A2", ["22000", "0", "22000", "70400"]),  // 3.2 x 22 000
        // 486.4 x 1.025 kg at 36 000 / 50 = 358 963.2; 0.7 m3 at 40 000 = 28 000; 386 963.2 / 1.52 = 254 581.05...;
        // 400 000 - 254 581.05... = 145 418.94...; 1.52 x 145 419 = 221 036.88
        ("B1", ["400000", "254581", "145419", "221037"]),
        // 300 kg at 720 = 216 000; / 5.125 = 42 146.34...; 290 000 less that = 247 853.65...; 5.125 x 247 854 = 1 270 251.75
        ("C1", ["290000", "42146", "247854", "1270252"]),
        ("D1", ["75000", "0", "75000", "75000"]),
        ("E1", ["14500", "9000", "5500", "11000"]), // 2 x 5 500
    ];
    let want: Vec<_> = want.map(|(row, figures)| (row.to_owned(), figures.map(str::to_owned))).to_vec();
    assert_eq!(rows(&bill), want);
    // 246 780 + 70 400 + 221 037 + 1 270 252 + 75 000 + 11 000
    assert_eq!(bill.total, Some(d("1894469")));
    let buys = bill.client_buys.clone();
    // 386 963 + 216 000 + 18 000
    assert_eq!(buys.as_ref().map(|b| b.in_rates), Some(d("620963")));
    let besides: Vec<_> = buys.iter().flat_map(|b| &b.besides).map(|(s, c)| (s.to_string(), *c)).collect();
    assert_eq!(besides, [("water".to_owned(), Some(d("4000")))]); // 2000 l at 2
    // 16 bags, 2 lots of 0.5 m3, 2 tees, 2000 l: 576 000 + 40 000 + 18 000 + 4 000
    assert_eq!(buys.as_ref().map(|b| b.orders), Some(Some(d("638000"))));
    assert_eq!(buys.map(|b| b.rest), Some(Some(d("638000") - d("620963") - d("4000"))));
    // Works of 2026-10-01, materials of the day after.
    assert_eq!(bill.price_list.as_ref().map(|l| l.2.as_str()), Some("2026-10-02"));
    assert!(balances(&bill, &sheet()).iter().all(crate::estimate::Balance::holds));
}

#[test]
fn figures_of_labour_that_are_off_are_found() {
    let one = rust_decimal::Decimal::ONE;
    type Change<'a> = (&'a dyn Fn(&mut Bill), &'a str);
    let changes: [Change<'_>; 7] = [
        (&|b| each(b, |l| l.full_rate += one), "B1, labour"),
        (&|b| each(b, |l| l.materials += one), "E1, labour"),
        // The rate follows, but the materials of the row do not come to it.
        (
            &|b| {
                each(b, |l| l.materials += one);
                let rows = b.sections.iter_mut().flat_map(|s| &mut s.rows).filter(|r| r.labour.is_some());
                rows.filter_map(|r| r.rate.as_mut()).for_each(|(rate, _)| *rate -= one);
            },
            "B1, labour",
        ),
        (&|b| each(b, |l| l.worth += one), "C1, materials"),
        (&|b| each(b, |l| l.parts.truncate(1)), "B1, materials"),
        (&|b| b.client_buys.iter_mut().for_each(|c| c.in_rates += one), "materials in the rates"),
        (&|b| b.client_buys.iter_mut().for_each(|c| c.rest = c.rest.map(|r| r - one)), "all orders"),
    ];
    for (change, want) in changes {
        let (mut bill, _) = run(&list(&[CEMENT, SAND, TEE, WATER]));
        change(&mut bill);
        let told: Vec<_> = balances(&bill, &sheet()).into_iter().flat_map(|b| b.breaks).collect();
        assert!(told.iter().any(|t| t.starts_with(want)), "{want}: {told:?}");
    }
}

fn each(bill: &mut Bill, change: impl Fn(&mut crate::bill::Labour)) {
    let rows = bill.sections.iter_mut().flat_map(|s| &mut s.rows);
    rows.filter_map(|r| r.labour.as_mut()).for_each(change);
}

#[test]
fn a_list_of_works_alone_is_taken_as_it_stands() {
    for list in [list(&[]), list(&[("gravel", "Gravel", "m3", "1")])] {
        let (bill, told) = run(&list);
        assert_eq!(codes(&told), [""; 0]);
        // 13.71 x 18 000 + 3.2 x 22 000 + 1.52 x 400 000 + 5.125 x 290 000 + 75 000 + 2 x 14 500
        assert_eq!(bill.total, Some(d("2515430")));
        assert!(bill.client_buys.is_none());
        assert!(bill.sections.iter().flat_map(|s| &s.rows).all(|r| r.labour.is_none()));
    }
}

#[test]
fn what_the_rows_need_must_have_a_rate_and_the_rest_need_not() {
    let (bill, told) = run(&list(&[TEE]));
    assert!(bill.total.is_none() && bill.client_buys.is_none());
    let said: Vec<_> = told.iter().map(|p| (p.code, p.message.as_str())).collect();
    let want = [
        ("R052", "my.csv has no rate for the material `cement`, which the bill needs in B1, C1"),
        ("R052", "my.csv has no rate for the material `sand`, which the bill needs in B1"),
    ];
    assert_eq!(said, want);
    let hints: Vec<_> = told.iter().filter_map(|p| p.hint.as_deref()?.split("source: ").nth(1)).collect();
    let rows = [
        "material,cement,\"cement, 50 kg bag\",bag,,UGX,2026-11-25,",
        "material,sand,sand,m3,,UGX,2026-11-25,",
    ];
    assert_eq!(hints, rows);
    // Test water is in no row.
    let (bill, told) = run(&list(&[CEMENT, SAND, TEE]));
    assert_eq!(codes(&told), [""; 0]);
    let buys = bill.client_buys.clone();
    assert_eq!(buys.as_ref().map(|b| (b.orders, b.rest)), Some((None, None)));
    assert_eq!(buys.as_ref().map(|b| b.orders_priced), Some(d("634000"))); // 576 000 + 40 000 + 18 000
    assert_eq!(buys.map(|b| b.no_rate), Some(vec!["water".to_owned()]));
    assert!(balances(&bill, &sheet()).iter().all(crate::estimate::Balance::holds));
}

#[test]
fn rates_that_do_not_fit_are_told_with_their_line() {
    for (cement, code, says) in [
        (("cement", "Cement", "m3", "36000"), "R053", "is bought in kg or as 50 kg bag, its rate is for m3"),
        (("cement", "Cement, 25 kg", "bag", "9"), "R053", "is for 25 kg, and it is bought as 50 kg bag"),
        (("cement", "Cement", "bag", ""), "R054", "has an empty rate, and the bill needs it in B1, C1"),
        // 498.56 kg at 720 and 28 000 in 1.52 m3, at 1 500 a kg 775 840 / 1.52 = 510 421
        (
            ("cement", "Cement", "kg", "1500"),
            "R055",
            "400000 for 1 m3 is less than its materials alone, 510421",
        ),
    ] {
        let (bill, told) = run(&list(&[cement, SAND, TEE]));
        assert!(bill.total.is_none());
        assert_eq!(codes(&told), [code]);
        assert!(told.iter().all(|p| p.message.contains(says) && p.place.is_some()), "{told:?}");
    }
}

#[test]
fn everything_that_is_wrong_is_told_together() {
    let mut list = list(&[("cement", "Cement", "bag", ""), ("tee", "Tee", "nr", "15000")]);
    list.rows.retain(|r| r.code != "water-test");
    assert_eq!(codes(&run(&list).1), ["R040", "R054", "R052", "R055"]);
}

#[test]
fn a_rate_that_is_all_materials_comes_to_nothing_and_old_rates_are_told() {
    let mut list = list(&[CEMENT, SAND, ("tee", "Tee", "nr", "14500")]);
    list.rows
        .iter_mut()
        .filter(|r| r.code == "sand" || r.code == "tee")
        .for_each(|r| r.date = "2026-01-31".into());
    let (bill, told) = run(&list);
    assert!(bill.total.is_some() && told.iter().all(|p| p.severity == Severity::Caution));
    let said: Vec<_> = told.iter().map(|p| p.message.as_str()).collect();
    // 31 January to 25 November: 28 + 31 + 30 + 31 + 30 + 31 + 31 + 30 + 31 + 25 days.
    let want = [
        "2 rates of materials are of 2026-01-31, 298 days before the job's date 2026-11-25",
        "E1 `pipe-tee/110` comes to nothing: its materials are all of its rate on line 7 of my.csv",
    ];
    assert_eq!(said, want);
}
