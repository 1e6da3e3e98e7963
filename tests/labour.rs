//! Bills of labour: the client buys the materials, and each rate is parted.

use std::collections::BTreeMap;

use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use rust_decimal::Decimal;
use serde_json::Value;
use tankwright_quantities::bill::{Bill, BillRow};
use tankwright_quantities::decimal::round;
use tankwright_quantities::estimate::{Balance, Estimate, Failure};
use tankwright_quantities::flow::{self, Settings};
use tankwright_quantities::rates::{PriceKind, PriceRow, builtin_prices, read_prices};
use tankwright_tests::program::root;
use tankwright_tests::random::{Wish, job};
use tankwright_tests::{read, stock};

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn rest_house(supply: &str) -> String {
    let text = std::fs::read_to_string(root().join("samples/rest-house/job.toml")).unwrap();
    let both = "supply = \"labour-and-materials\"";
    assert!(text.contains(both));
    text.replace(both, &format!("supply = \"{supply}\""))
}

fn demo() -> &'static str {
    builtin_prices("demo-ugx").unwrap().1
}

/// An estimate by a list of this text.
fn priced(text: &str, list: &str, trail: bool) -> Result<Estimate, Failure> {
    let prices = read_prices("demo-ugx", list).unwrap();
    flow::estimate(&read(text, trail).unwrap(), stock(), Some(&prices), &Settings::default())
}

fn rows(bill: &Bill) -> impl Iterator<Item = &BillRow> {
    bill.sections.iter().flat_map(|s| &s.rows)
}

/// Full rate, materials per unit, rate and amount of a row.
fn figures(e: &Estimate, code: &str) -> [Decimal; 4] {
    let (work, spec) = code.split_once('/').unwrap_or((code, ""));
    let row = rows(&e.bill).find(|r| r.work.id == work && r.spec == spec).unwrap();
    let labour = row.labour.as_ref().unwrap();
    [labour.full_rate, labour.materials, row.rate.as_ref().unwrap().0, row.amount.unwrap()]
}

#[test]
fn the_rest_house_by_hand() {
    let e = priced(&rest_house("labour-only"), demo(), false).unwrap();
    // 3.55 x 1.94 x 0.15 = 1.03305 m3 net, billed as 1.03. In 1 m3 of 1:2:4: 320 kg of cement, 0.445 m3 of sand, 0.89 m3 of
    // aggregate; water 0.6 l to the kg, 150 l for curing. Cement 36 000 for 50 kg, sand 40 000, aggregate 90 000, water 20.
    let net = d("3.55") * d("1.94") * d("0.15");
    let of_one = d("320") * d("720")
        + d("0.445") * d("40000")
        + d("0.89") * d("90000")
        + (d("320") * d("0.6") + d("150")) * d("20");
    let labour = round(d("400000") - net * of_one / d("1.03"), 0);
    assert_eq!(labour, d("63868"));
    let base = [d("400000"), d("400000") - labour, labour, round(d("1.03") * labour, 0)];
    assert_eq!(figures(&e, "concrete-base/1:2:4"), base);
    // Y12: 71.70 m of bars of the schedule at 47 000 for 12 m, over the kilograms billed.
    let labour = round(d("6000") - d("71.70") * d("47000") / d("12") / d("63.67"), 0);
    assert_eq!(labour, d("1589"));
    assert_eq!(figures(&e, "bars/Y12")[2..], [labour, round(d("63.67") * labour, 0)]);
    // Two covers of one piece each; the dig needs nothing, and its rate stays.
    let cover = [d("190000"), d("150000"), d("40000"), d("80000")];
    assert_eq!(figures(&e, "manhole-cover/600x600"), cover);
    assert_eq!(figures(&e, "excavation-pit/0-1.5")[..3], [d("15000"), d("0"), d("15000")]);

    let buys = e.bill.client_buys.as_ref().unwrap();
    let worth: Decimal = rows(&e.bill).map(|r| r.labour.as_ref().unwrap().worth).sum();
    assert_eq!(buys.in_rates, worth);
    let besides: Vec<_> = buys.besides.iter().map(|(says, cost)| (says.to_string(), cost.unwrap())).collect();
    // Holds 6 733 l to the underside of the cover, at 20.
    let water = Decimal::from(e.capacity.full) * d("20");
    assert!(besides.contains(&("water to fill the tank for its test".to_owned(), water)), "{besides:?}");
    assert!(besides.iter().any(|(says, _)| says.starts_with("over-break")));
    let all: Decimal = besides.iter().map(|(_, cost)| *cost).sum();
    assert_eq!(buys.orders, e.orders.cost);
    assert_eq!(Some(worth + all + buys.rest.unwrap()), buys.orders);
    assert!(buys.rest.unwrap() > Decimal::ZERO && buys.no_rate.is_empty());
    assert!(!e.cautions.iter().any(|c| c.code == "C041"));
}

#[test]
fn labour_and_materials_of_a_row_are_its_full_amount() {
    let [whole, parted] =
        ["labour-and-materials", "labour-only"].map(|s| priced(&rest_house(s), demo(), false).unwrap());
    assert!(whole.bill.client_buys.is_none() && rows(&whole.bill).all(|r| r.labour.is_none()));
    assert_eq!(rows(&whole.bill).count(), rows(&parted.bill).count());
    for (whole, parted) in rows(&whole.bill).zip(rows(&parted.bill)) {
        let (labour, rate) = (parted.labour.as_ref().unwrap(), &parted.rate.as_ref().unwrap().0);
        assert_eq!(whole.rate.as_ref().map(|(rate, _)| *rate), Some(labour.full_rate));
        assert_eq!(labour.full_rate - labour.materials, *rate);
        // A rate of labour is rounded to a shilling: half of one for each unit, and the rounding of three amounts.
        let off = (whole.amount.unwrap() - parted.amount.unwrap() - labour.worth).abs();
        assert!(off <= whole.quantity / d("2") + d("1.5"), "{}: {off}", whole.reference);
    }
    // Everything measured, bought and planned is the same.
    assert_eq!(whole.orders.totals, parted.orders.totals);
    assert_eq!(whole.materials.rows, parted.materials.rows);
}

/// The list without its rows of materials, or without those that begin so.
fn without(begins: &str) -> String {
    demo().lines().filter(|l| !l.starts_with(begins)).map(|l| format!("{l}\n")).collect()
}

#[test]
fn a_list_without_materials_is_taken_as_it_stands_and_says_so() {
    let told = |supply: &str| {
        let e = priced(&rest_house(supply), &without("material,"), false).unwrap();
        let says: Vec<_> =
            e.cautions.iter().filter(|c| c.code == "C041").map(|c| c.says.to_string()).collect();
        (e.bill.total, e.bill.client_buys.is_some(), says)
    };
    let (whole, labour) = (told("labour-and-materials"), told("labour-only"));
    assert_eq!((whole.0, whole.1, whole.2), (labour.0, labour.1, Vec::new()));
    let says = "supply is labour-only, and demo-ugx has no row of kind `material` for what this job needs: its rates are taken as rates of labour, as they stand";
    assert_eq!(labour.2, [says]);
}

#[test]
fn a_material_of_no_row_may_want_its_rate_and_one_of_a_row_may_not() {
    let e = priced(&rest_house("labour-only"), &without("material,binding-wire"), false).unwrap();
    let buys = e.bill.client_buys.unwrap();
    assert_eq!((buys.orders, buys.rest, buys.no_rate), (None, None, vec!["binding wire".to_owned()]));
    assert!(buys.besides.iter().any(|(says, cost)| says.to_string() == "binding wire" && cost.is_none()));
    let Err(Failure::Rates(told)) = priced(&rest_house("labour-only"), &without("material,c"), false) else {
        panic!("cement without a rate is refused")
    };
    assert_eq!(told.iter().map(|p| p.code).collect::<Vec<_>>(), ["R052"]);
}

fn keys(value: &Value, at: &str, all: &mut BTreeMap<String, ()>) {
    match value {
        Value::Object(fields) => fields.iter().for_each(|(key, value)| {
            all.insert(format!("{at}.{key}"), ());
            keys(value, &format!("{at}.{key}"), all);
        }),
        Value::Array(list) => list.iter().for_each(|v| keys(v, at, all)),
        _ => {}
    }
}

#[test]
fn fields_are_only_added_and_say_the_same_everywhere() {
    let [whole, parted] = ["labour-and-materials", "labour-only"].map(|s| {
        let e = priced(&rest_house(s), demo(), false).unwrap();
        let json: Value = serde_json::from_str(&tankwright_export::json::bill(&e)).unwrap();
        let mut all = BTreeMap::new();
        keys(&json, "", &mut all);
        (e, json, all.into_keys().collect::<Vec<_>>())
    });
    let added: Vec<_> = parted.2.iter().filter(|k| !whole.2.contains(k)).map(String::as_str).collect();
    let want = [
        ".client_buys",
        ".client_buys.besides",
        ".client_buys.besides.amount",
        ".client_buys.besides.title",
        ".client_buys.in_rates",
        ".client_buys.no_rate",
        ".client_buys.orders",
        ".client_buys.orders_priced",
        ".client_buys.rest",
        ".sections.rows.full_rate",
        ".sections.rows.materials",
        ".sections.rows.materials_amount",
    ];
    assert_eq!(added, want);
    assert!(whole.2.iter().all(|k| parted.2.contains(k)));

    let base = &parted.1["sections"][1]["rows"][2];
    let seen = ["full_rate", "materials", "rate"].map(|k| base[k].as_str().unwrap_or_default());
    assert_eq!(seen, ["400000", "336132", "63868"]);
    let text = tankwright_export::text::bill(&parted.0).replace('\u{a0}', " ");
    assert!(text.contains("400 000 less materials 336 132)"), "{text}");
    let orders = tankwright_export::format::grouped(parted.0.orders.cost.unwrap(), 0).replace('\u{a0}', " ");
    assert!(text.lines().any(|l| l.contains("all orders, in packs") && l.ends_with(&orders)), "{text}");
    assert!(text.contains("(`tankwright orders`), which are part of the contract"));
    let csv = tankwright_export::csv::bill(&parted.0);
    let head = ",amount,source,full_rate,materials,materials_amount\r\n";
    assert!(csv.contains(head) && csv.contains(",400000,336132,346216\r\n"), "{csv}");
    assert!(!tankwright_export::csv::bill(&whole.0).contains("full_rate"));
}

#[test]
fn explain_shows_what_was_taken_out() {
    let e = priced(&rest_house("labour-only"), demo(), true).unwrap();
    for id in ["B3", "concrete-base/1:2:4/base"] {
        let text = tankwright_export::explain::explain(&e, id).unwrap().replace('\u{a0}', " ");
        for says in [
            "rate       400 000 for concrete-base/1:2:4 from demo-ugx:33",
            // 1.03305 x 320 at 36 000 / 50
            "cement 330.576 kg x 720                 238 014.72  demo-ugx:235",
            "full rate 400 000 - materials 336 132 = labour 63 868",
        ] {
            assert!(text.contains(says), "{id}: {says}\n{text}");
        }
    }
}

#[test]
fn the_workbook_holds_rates_of_labour_and_what_the_client_buys() {
    let e = priced(&rest_house("labour-only"), demo(), true).unwrap();
    let book = tankwright_export::book::workbook(&e).unwrap();
    let values = tankwright_export::evaluate::evaluate(&book).unwrap();
    assert!(tankwright_export::check::check(&book, &e, &values).holds());
    let texts = format!("{book:?}");
    for says in [
        "full rates less the materials, which the client buys",
        "(labour; full rate 400\u{a0}000 less materials 336\u{a0}132)",
        "materials by the client, not in the total",
        "it does not follow changes of this workbook",
    ] {
        assert!(texts.contains(&format!("{says:?}")[1..says.escape_debug().count() + 1]), "{says}");
    }
}

fn config() -> ProptestConfig {
    let cases =
        if std::env::var_os("PROPTEST_CASES").is_some() { ProptestConfig::default().cases } else { 40 };
    ProptestConfig {
        cases,
        rng_seed: RngSeed::Fixed(1),
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn random_bills_of_labour_close(seed in any::<u64>()) {
        let text = job(seed, Wish { profile: "exact", level: false });
        let text = text.replacen("[job]\n", "[job]\nsupply = \"labour-only\"\n", 1);
        // Walls of any odd thickness, in m3: works at a price that leaves labour in each of them.
        let mut list = read_prices("demo-ugx", demo()).unwrap();
        let works = list.rows.iter_mut().filter(|r| r.kind == PriceKind::Work);
        works.for_each(|r| r.rate = r.rate.map(|rate| rate * d("4")));
        // The demo list has bars of grade Y; those of H and T at the same price.
        for row in list.rows.clone().into_iter().filter(|r| r.code.starts_with("bars/Y") && r.kind == PriceKind::Material) {
            list.rows.extend(["H", "T"].map(|grade| PriceRow { code: row.code.replace('Y', grade), ..row.clone() }));
        }
        let told = |f: Failure| match f {
            Failure::Job(told) | Failure::Rates(told) => told.into_iter().map(|p| p.message).collect(),
            Failure::Balance(all) => all.into_iter().flat_map(|b| b.breaks).collect::<Vec<_>>(),
        };
        let job = read(&text, false).unwrap();
        let e = flow::estimate(&job, stock(), Some(&list), &Settings::default()).map_err(told);
        prop_assert!(e.is_ok(), "{:?}", e.err());
        let e = e.unwrap();
        prop_assert!(e.balances.iter().all(Balance::holds));
        prop_assert!(e.bill.client_buys.is_some());
        for row in rows(&e.bill) {
            let labour = row.labour.as_ref().unwrap();
            let rate = row.rate.as_ref().unwrap().0;
            prop_assert!(rate >= Decimal::ZERO && rate <= labour.full_rate && labour.worth >= Decimal::ZERO);
        }
    }
}
