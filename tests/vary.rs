//! The account of variations: the sample, what holds for any two jobs, and what a person must look at again.
//!
//! `TANKWRIGHT_UPDATE=1` writes the expected papers anew; read the difference before it is committed.

use std::collections::BTreeMap;
use std::fs;

use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use rust_decimal::Decimal;
use serde_json::Value;
use tankwright_account::vary::Account;
use tankwright_geometry::Ratio;
use tankwright_quantities::decimal::plain;
use tankwright_quantities::flow::{Settings, estimate};
use tankwright_quantities::rates::{PriceKind, PriceList, PriceRow};
use tankwright_quantities::works;
use tankwright_tests::program::{root, run};
use tankwright_tests::random::{Wish, job};
use tankwright_tests::{prices, read, stock, varied};

const WORKSHOP: &str = "vary samples/workshop/job.toml samples/workshop/as-built.toml";

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

#[test]
fn the_workshop_gives_the_papers_it_is_expected_to() {
    let update = std::env::var_os("TANKWRIGHT_UPDATE").is_some();
    for format in ["text", "json", "csv"] {
        let seen = run(&format!("{WORKSHOP} --format {format}"));
        assert_eq!(seen.code, 0, "{}", seen.err);
        let ending = if format == "text" { "txt" } else { format };
        let path = root().join(format!("samples/workshop/expected/vary.{ending}"));
        if update {
            fs::write(&path, &seen.out).unwrap();
        } else {
            let expected = fs::read_to_string(&path).unwrap_or_default();
            assert!(seen.out == expected, "{} differs: run with TANKWRIGHT_UPDATE=1", path.display());
        }
        assert!(seen.out.lines().all(|l| format != "text" || l.chars().count() <= 100));
    }
}

#[test]
fn the_workshop_s_statement_adds_up_from_its_json() {
    let out: Value = serde_json::from_str(&run(&format!("{WORKSHOP} --format json")).out).unwrap();
    let figure = |v: &Value| d(v.as_str().unwrap());
    let s = &out["statement"];
    let parts = [
        "contract_sum",
        "omissions",
        "additions",
        "dayworks",
        "provisional",
        "prime_cost",
        "provisional_sums",
        "on_costs",
    ];
    assert_eq!(parts.iter().map(|k| figure(&s[k])).sum::<Decimal>(), figure(&s["adjusted_sum"]));
    // Every change is worth what it is worth with all that is added to the works.
    let mut worth = figure(&s["contract_sum"]) + figure(&s["left_out"]);
    for list in ["variations", "provisional", "prime_cost", "provisional_sums", "dayworks"] {
        worth += out[list].as_array().unwrap().iter().map(|x| figure(&x["worth"])).sum::<Decimal>();
    }
    worth += figure(&out["not_instructed"]["worth"]);
    assert_eq!(worth, figure(&s["adjusted_sum"]));
    // Rows multiply and add up.
    let mut sums = BTreeMap::from([("omissions", Decimal::ZERO), ("additions", Decimal::ZERO)]);
    for change in out["variations"].as_array().unwrap().iter().chain([&out["not_instructed"]]) {
        for (list, sum) in &mut sums {
            for e in change[list].as_array().unwrap() {
                let amount = figure(&e["amount"]);
                *sum += amount;
                if let (Some(q), Some(r)) = (e["quantity"].as_str(), e["rate"].as_str()) {
                    assert_eq!(tankwright_quantities::decimal::round(d(q) * d(r), 2), amount, "{e}");
                }
            }
        }
    }
    assert_eq!((-sums["omissions"], sums["additions"]), (figure(&s["omissions"]), figure(&s["additions"])));
    let p = &out["payment"];
    let held = figure(&s["adjusted_sum"]) * figure(&p["retention_percent"]) / d("100");
    assert_eq!(tankwright_quantities::decimal::round(held, 2), figure(&p["retention"]));
    assert_eq!(
        figure(&s["adjusted_sum"]) - figure(&p["retention"]) - figure(&p["paid_total"]),
        figure(&p["balance"])
    );
    assert!(out["balances"].as_array().unwrap().iter().all(|b| b["holds"] == true));
}

const SMALL: &str = "format = 1\n[job]\ntitle = \"Small\"\ndate = \"2026-11-25\"\ncurrency = \"UGX\"\n[tank]\n\
    chambers = [\"1.60 m\", \"0.80 m\"]\nwidth = \"1.20 m\"\nheight = \"1.50 m\"\n";

fn change(id: &str, more: &str) -> String {
    format!(
        "\n[[variation]]\nid = \"{id}\"\ndate = \"2026-12-03\"\nby = \"owner\"\nreason = \"why\"\n{more}\n"
    )
}

fn account(more: &str, now: &str) -> Account {
    let ready = varied(&format!("{SMALL}{more}"), &format!("{SMALL}{now}"), &prices("demo-ugx"));
    ready.unwrap_or_else(|f| panic!("{f:?}"))
}

/// Codes of what is told without a refusal.
fn told(more: &str, now: &str) -> Vec<&'static str> {
    account(more, now).cautions.iter().map(|p| p.code).collect()
}

#[test]
fn what_a_person_must_look_at_again() {
    let deeper = |more: &str| change("V1", &format!("set = {{ \"tank.height\" = \"1.70 m\" }}\n{more}"));
    assert_eq!(told("", &deeper("")), [""; 0]);
    assert_eq!(told("", &change("V1", "set = { \"tank.height\" = 1500 }")), ["J235"]);
    assert_eq!(told("", &change("V1", "covers = [\"backfill\"]")), ["J235"]);
    assert_eq!(told("", &deeper("").replace("2026-12-03", "2026-11-20")), ["J240"]);
    assert_eq!(told("[[paid]]\ndate = \"2026-12-01\"\namount = 1\n", &deeper("")), ["J237"]);
    assert_eq!(told("", "[[star_rate]]\nitem = \"backfill\"\nunit = \"m3\"\nrate = 1\n"), ["J238"]);
    let day = "[[daywork]]\ndate = \"2026-12-03\"\nby = \"b\"\ntitle = \"t\"\nquantity = 1\nrate = 1000\npercent = 10\n";
    assert_eq!(told("", day), [""; 0]);
    assert_eq!(told("[additions]\nlist = [{ title = \"Profit\", percent = 5 }]\n", day), ["J239"]);
    let other = SMALL.replace("\"UGX\"\n", "\"UGX\"\nprofile = \"exact\"\n");
    let account = varied(SMALL, &other, &prices("demo-ugx")).unwrap();
    assert_eq!(account.cautions.iter().map(|p| p.code).collect::<Vec<_>>(), ["J236"]);
    assert!(account.changes.is_empty() && account.sums.adjusted == account.sums.contract);
}

#[test]
fn the_contract_s_rates_hold_whatever_a_newer_list_says() {
    let list = prices("demo-ugx");
    let now = format!("{SMALL}{}", change("V1", "set = { \"tank.height\" = \"1.80 m\" }"));
    let (of, job, stock) = (read(SMALL, false).unwrap(), read(&now, false).unwrap(), stock());
    let agreed = estimate(&of, stock, Some(&list), &Settings::default()).unwrap();
    let mut dear = list.clone();
    dear.name = "dear.csv".to_owned();
    dear.rows.iter_mut().for_each(|r| r.rate = r.rate.map(|rate| rate * Decimal::TWO));
    let contract = tankwright_account::vary::Contract { job: &of, estimate: &agreed, list: &list };
    let with = |list| {
        let now = tankwright_account::vary::Now { job: &job, text: &now, list, date: "2027-01-01" };
        tankwright_account::vary::vary(contract, now, stock).unwrap().sums
    };
    assert_eq!(with(Some(&dear)), with(None));
    assert!(with(None).additions > with(None).omissions);
}

/// A list that prices every work in every unit, each by its own rate.
fn priced() -> PriceList {
    let units = ["m3", "m2", "m", "kg", "nr", "item"];
    let codes = works::all().into_iter().filter(|w| !w.void).flat_map(|w| units.map(|u| (w.id, u)));
    let row = |(i, (code, unit)): (usize, (&str, &str))| PriceRow {
        kind: PriceKind::Work,
        code: code.to_owned(),
        description: String::new(),
        unit: unit.to_owned(),
        rate: Some(Decimal::from(1_000 + 7_919 * i % 500_003)),
        date: "2026-10-01".to_owned(),
        source: "a test".to_owned(),
        line: i + 2,
        span: 0..0,
    };
    let rows = codes.enumerate().map(row).collect();
    PriceList { name: "every.csv".to_owned(), currency: "UGX".to_owned(), rows, cautions: Vec::new() }
}

/// A total by the same list, reckoned from scratch.
fn scratch(text: &str, list: &PriceList) -> Option<Decimal> {
    let job = read(text, false).unwrap_or_else(|p| panic!("{p:?}"));
    match estimate(&job, stock(), Some(list), &Settings::default()) {
        Ok(e) => e.bill.total,
        Err(f) => panic!("{f:?}\n{text}"),
    }
}

const MONEY: &str = "\n[[preliminaries]]\ntitle = \"Tools\"\namount = 450001\n[[provisional]]\ntitle = \"Rock\"\nunit = \"m3\"\n\
    quantity = \"1.5\"\nrate = 85001\n[[prime_cost]]\ntitle = \"Covers\"\namount = 90001\npercent = \"7.5\"\n[additions]\nlist = [\n\
    { title = \"Contingency\", percent = \"5\" },\n{ title = \"Profit\", percent = \"12.5\", on = \"measured\" },\n\
    { title = \"Permit\", amount = 70003 },\n{ title = \"Tax\", percent = \"18\", on = [\"measured\", \"Contingency\", \"Permit\"] },\n]\n";

fn config() -> ProptestConfig {
    let asked = ProptestConfig::default();
    let seed =
        if std::env::var_os("PROPTEST_RNG_SEED").is_some() { asked.rng_seed } else { RngSeed::Fixed(1) };
    let cases = if std::env::var_os("PROPTEST_CASES").is_some() { asked.cases } else { 16 };
    ProptestConfig { cases, rng_seed: seed, failure_persistence: None, ..asked }
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn the_adjusted_sum_of_any_two_jobs_is_the_second_priced_from_scratch(a in any::<u64>(), b in any::<u64>(), exact in any::<bool>()) {
        let profile = if exact { "exact" } else { "east-africa" };
        let text = |seed| format!("{}{MONEY}", job(seed, Wish { profile, level: false }));
        let (of, now, list) = (text(a), text(b), priced());
        let account = varied(&of, &now, &list).unwrap();
        prop_assert_eq!(Some(account.sums.contract), scratch(&of, &list));
        prop_assert_eq!(Some(account.sums.adjusted), scratch(&now, &list));
        prop_assert!(account.changes.iter().all(|c| c.id.is_empty()));
    }

    #[test]
    fn variations_written_in_one_after_the_other_come_to_the_job_as_built(
        seed in any::<u64>(), deeper in 10..300_i64, wider in 10..300_i64, base in 100..250_i64,
    ) {
        let of = format!("{}{MONEY}", job(seed, Wish { profile: "east-africa", level: false }));
        let now = read(&of, false).unwrap();
        let mm = |path: &str, more: i64| now.len(path).value() / Ratio::int(10) + Ratio::from(more);
        let sets = [
            ("tank.height", mm("tank.height", deeper)),
            ("tank.width", mm("tank.width", wider)),
            ("tank.base.concrete.thickness", Ratio::from(base)),
        ];
        let set = |key: &str, value: Ratio| format!("set = {{ \"{key}\" = \"{} mm\" }}", plain(value));
        let changes = sets.iter().enumerate().map(|(i, (key, mm))| change(&format!("V{i}"), &set(key, *mm)));
        let (text, list) = (format!("{of}{}", changes.collect::<String>()), priced());
        let account = varied(&of, &text, &list);
        // A larger tank may be one that cannot be built: that is refused, and says nothing here.
        prop_assume!(account.is_ok());
        let account = account.unwrap();
        prop_assert_eq!(Some(account.sums.contract), scratch(&of, &list));
        prop_assert_eq!(Some(account.sums.adjusted), scratch(&account.built, &list));
        let worth: Decimal = account.changes.iter().map(|c| c.worth).sum();
        prop_assert_eq!(account.sums.contract + worth, account.sums.adjusted);
        prop_assert!(account.changes.iter().all(|c| !c.id.is_empty()));
    }
}
