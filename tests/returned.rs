//! A bill that others price: what its form holds, copies that come back, slips planted in them.

use std::collections::BTreeMap;
use std::fs;

use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use rust_decimal::Decimal;
use serde_json::{Value, json};
use tankwright_account::returned::{Copy, Form, State, compare};
use tankwright_crosscheck::rows::{Row, of_sheet};
use tankwright_crosscheck::wording;
use tankwright_export::evaluate::evaluate;
use tankwright_export::xlsx;
use tankwright_geometry::Ratio;
use tankwright_quantities::bill::SideRow;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::flow::{self, Settings};
use tankwright_sheets::Limits;
use tankwright_tests::bids::{AMOUNT, MARKS, QUANTITY, RATE, UNIT, WORDS, copy, filled, id, printed, rows};
use tankwright_tests::program::{root, run};
use tankwright_tests::random::{Dice, Wish, job};
use tankwright_tests::{read, stock};

const JOB: &str = "samples/rest-house/job.toml";
const COPIES: &str = "returned samples/rest-house/job.toml samples/rest-house/returned-kato.csv samples/rest-house/returned-nile.csv";

#[test]
fn the_form_and_the_copies_of_the_rest_house_give_what_is_expected() {
    let update = std::env::var_os("TANKWRIGHT_UPDATE").is_some();
    let form = format!("bill {JOB} --to-price -");
    for (file, line) in [
        ("form.csv", form.as_str()),
        ("returned.txt", COPIES),
        ("returned.json", &format!("{COPIES} --format json")),
        ("returned.csv", &format!("{COPIES} --format csv")),
    ] {
        let seen = run(line);
        assert_eq!(seen.code, 0, "{}", seen.err);
        let path = root().join("samples/rest-house/expected").join(file);
        if update {
            fs::write(&path, &seen.out).unwrap();
        }
        let expected = fs::read_to_string(&path).unwrap_or_default();
        assert_eq!(seen.out, expected, "{file}: run with TANKWRIGHT_UPDATE=1");
    }
}

#[test]
fn what_was_planted_in_the_two_copies_is_found() {
    let seen = run(&format!("{COPIES} --format json"));
    let out: Value = serde_json::from_str(&seen.out).unwrap();
    let [kato, nile] = [0, 1].map(|i: usize| &out["bidders"][i]);
    let found = |of: &Value| {
        let all = of["findings"].as_array().unwrap();
        all.iter()
            .map(|f| format!("{} {}", f["what"].as_str().unwrap(), f["ref"].as_str().unwrap()))
            .collect::<Vec<_>>()
    };
    assert_eq!(found(kato), ["extension A8", "quantity B1", "total C"]);
    assert_eq!(found(nile), ["words E1"]);
    let open = |of: &Value| {
        let all = of["open"].as_array().unwrap();
        all.iter()
            .map(|f| format!("{} {}", f["ref"].as_str().unwrap(), f["state"].as_str().unwrap()))
            .collect::<Vec<_>>()
    };
    assert_eq!(open(kato), ["A3 blank"]);
    assert_eq!(open(nile), ["D1 dash", "G3 missing", "H3 not-priced"]);
    assert_eq!((&kato["same_form"], &nile["same_form"]), (&json!(true), &Value::Null));
    assert_eq!(kato["added"][0]["amount"], "80000");
    // 21.40 x 15 800 = 338 120 for the 383 120 that is printed
    assert_eq!(kato["findings"][0]["difference"], "45000");
    assert_eq!(out["far"].as_array().unwrap().len(), 1);
    // The walls at 28 500: the others' are 59 900 and our 57 000; (59 900 + 57 000) / 2 = 58 450
    assert_eq!((&out["far"][0]["ref"], &out["far"][0]["median"]), (&json!("E1"), &json!("58450")));
    // D1 at 5 800: 27.29 x 5 800 = 158 282; G3 2.5 x 19 100 = 47 750; H3 2.5 x 18 400 = 46 000: 252 032 more, and on it
    // 5 %, then 12 %, then 18 %: 252 032 x 1.05 x 1.12 x 1.18 = 349 739 to the nearest shilling of each step
    let sum = |of: &Value, key: &str| of[key].as_str().unwrap().parse::<i64>().unwrap();
    assert!((sum(nile, "complete_highest") - sum(nile, "corrected") - 349_739).abs() <= 2, "{nile}");
}

/// An estimate with its form, priced by a list or not.
fn formed(text: &str, list: Option<&str>) -> Option<(Estimate, Form)> {
    let (job, stock) = (read(text, false).ok()?, stock());
    let list = list.map(|name| {
        let (path, text) = tankwright_quantities::rates::builtin_prices(name).unwrap();
        tankwright_quantities::rates::read_prices(&path, text).unwrap()
    });
    let estimate = flow::estimate(&job, stock, list.as_ref(), &Settings::default()).ok()?;
    let form = Form::of(&estimate, &job, stock).ok()?;
    Some((estimate, form))
}

/// Our own rates, by id of the row; what the form states is not ours to fill in.
fn own_rates(e: &Estimate, form: &Form) -> BTreeMap<String, Decimal> {
    let bill = &e.bill;
    let measured = bill.sections.iter().flat_map(|s| &s.rows);
    let mut rates: BTreeMap<String, Decimal> =
        measured.map(|r| (format!("row/{}/{}", r.work.id, r.spec), r.rate.as_ref().unwrap().0)).collect();
    let ids = |letter: char| form.rows_of(letter).map(move |i| form.rows[i].id.clone());
    let rate = |s: &SideRow| match &s.worked {
        Some((unit, percent, _)) if unit == "%" => *percent,
        Some((_, _, rate)) => *rate,
        None => s.amount,
    };
    rates.extend(ids('P').zip(bill.preliminaries.iter().map(rate)));
    rates.extend(ids('Q').zip(bill.provisional.iter().map(rate)));
    rates.extend(ids('X').zip(bill.additions.iter().map(|a| a.percent.unwrap_or(a.amount))));
    rates.retain(|id, _| form.rows.iter().any(|r| r.id == *id && r.stated.is_none()));
    rates
}

/// What a file of the book holds, read as any other file.
fn through_a_file(book: &tankwright_export::book::Book) -> Vec<Row> {
    let values = evaluate(book).unwrap();
    let bytes = xlsx::write(book, &values).unwrap();
    let sheets = tankwright_sheets::read(&bytes, &Limits::USUAL).unwrap();
    let sheet = sheets.iter().find(|s| s.name == "Bill to price").unwrap();
    of_sheet(&sheet.csv(), &sheet.numbers(), wording::builtin())
}

#[test]
fn priced_with_our_own_rates_every_sample_comes_back_as_our_own_bill() {
    for (sample, list) in [
        ("rest-house", "demo-ugx"),
        ("clinic", "demo-kes"),
        ("guest-house", "demo-kes"),
        ("lined-pits", "demo-ugx"),
        ("school", "demo-ugx"),
        ("smallest", "demo-ugx"),
        ("workshop", "demo-kes"),
    ] {
        let text = fs::read_to_string(root().join("samples").join(sample).join("job.toml")).unwrap();
        let (e, form) = formed(&text, Some(list)).unwrap();
        let book = filled(&form, &own_rates(&e, &form));
        let copy = copy(&form, &e, &through_a_file(&book)).unwrap();
        assert_eq!(copy.findings, [], "{sample}");
        assert!(copy.bids.iter().all(|b| !b.state.open()), "{sample}");
        assert_eq!((copy.same_form, copy.added.len(), &copy.words), (Some(true), 0, &vec![]), "{sample}");
        let bill = &e.bill;
        // The rounding of our offer is no row of the form.
        let say = bill.say.and_then(|_| bill.additions.last()).map_or(Decimal::ZERO, |a| a.amount);
        let ours = bill.total.unwrap() - say;
        assert_eq!(printed(&copy), Some(ours), "{sample}");
        let amounts: Vec<Decimal> =
            bill.sections.iter().flat_map(|s| &s.rows).map(|r| r.amount.unwrap()).collect();
        let found = compare(form, &e, vec![copy], Ratio::of(3, 2)).unwrap();
        let side = &found.sides[0];
        assert_eq!((side.corrected.total, Some(side.corrected.measured)), (ours, bill.measured), "{sample}");
        assert_eq!(side.corrected.amounts[..amounts.len()], amounts, "{sample}");
        assert_eq!((found.own.as_ref(), found.far.len()), (Some(&side.corrected), 0), "{sample}");
    }
}

#[test]
fn a_copy_that_prices_nothing_has_no_place() {
    let text = fs::read_to_string(root().join(JOB)).unwrap();
    let (e, form) = formed(&text, Some("demo-ugx")).unwrap();
    let of = |file: &str, rates: &BTreeMap<String, Decimal>| {
        let mut copy = copy(&form, &e, &through_a_file(&filled(&form, rates))).unwrap();
        (copy.file, copy.name) = (file.to_owned(), file.to_owned());
        copy
    };
    let own = own_rates(&e, &form);
    let dearer = own.iter().map(|(id, rate)| (id.clone(), rate * Decimal::TWO)).collect();
    let copies = vec![of("empty", &BTreeMap::new()), of("dear", &dearer), of("ours", &own)];
    let found = compare(form.clone(), &e, copies, Ratio::of(3, 2)).unwrap();
    let places = found.sides.iter().map(|s| (s.rank, s.rank_complete)).collect::<Vec<_>>();
    assert_eq!(places, [(None, None), (Some(2), Some(2)), (Some(1), Some(1))]);
    let said = tankwright_export::returned::text(&e, &found);
    assert!(said.contains("empty (A) prices nothing: it has no place."), "{said}");
    assert!(said.contains("Lowest as corrected: ours (C)") && said.contains("Next: dear (B)"), "{said}");
}

#[test]
fn no_rate_of_ours_is_in_the_form() {
    // Amounts of the job that occur nowhere else in it.
    let text = fs::read_to_string(root().join(JOB)).unwrap();
    let text = text
        .replace("amount = \"450000\"", "amount = \"771177\"")
        .replace("rate = \"85000\"", "rate = \"771133\"");
    let text = text.replace("percent = \"15\"", "percent = \"17.7117\"");
    let (e, form) = formed(&text, Some("demo-ugx")).unwrap();
    let csv = tankwright_export::returned::form_csv(&form);
    for row in e.bill.sections.iter().flat_map(|s| &s.rows) {
        let cells = csv.lines().find(|l| l.starts_with(&format!("{},", row.reference))).unwrap();
        assert!(cells.contains(",,,,tw:row/"), "{cells}");
    }
    assert!(
        !csv.contains("7711") && !csv.contains("demo-ugx") && csv.contains("X1,Contingency,%,,5,"),
        "{csv}"
    );
    let (_, unpriced) = formed(&text, None).unwrap();
    assert_eq!(tankwright_export::returned::form_csv(&unpriced), csv);
}

#[test]
fn prime_cost_and_provisional_sums_are_told_and_their_percentage_is_asked() {
    let text = fs::read_to_string(root().join("samples/workshop/job.toml")).unwrap();
    let (e, form) = formed(&text, Some("demo-kes")).unwrap();
    let rows: Vec<_> = form.rows.iter().filter(|r| r.letter == 'Q').collect();
    assert_eq!(rows.len(), e.bill.provisional.len());
    for (row, ours) in rows.iter().zip(&e.bill.provisional) {
        assert_eq!(row.words, ours.title);
        let (sum, percent) = (row.stated == Some(ours.amount), row.unit == "%" && row.stated.is_none());
        assert!(
            row.id.starts_with("Q/prime-cost/") && (sum || percent) || !row.id.contains("prime-cost"),
            "{row:?}"
        );
    }
    assert!(rows.iter().any(|r| r.unit == "%") && rows.iter().any(|r| r.stated.is_some()));
}

#[test]
fn text_of_a_user_stays_text() {
    let text = fs::read_to_string(root().join(JOB))
        .unwrap()
        .replace("title = \"Rock, extra over\"", "title = \"=1+1\"");
    let (e, form) = formed(&text, None).unwrap();
    assert!(tankwright_export::returned::form_csv(&form).contains(",'=1+1,"));
    let book = filled(&form, &BTreeMap::new());
    let copy = copy(&form, &e, &through_a_file(&book)).unwrap();
    assert!(
        copy.findings.is_empty() && copy.bids.iter().all(|b| b.state == State::Blank || b.rate.is_some())
    );
    let papers = run(&format!("{COPIES} --format csv"));
    assert!(papers.out.lines().flat_map(|l| l.split(',')).all(|c| !c.starts_with(['=', '@'])));
}

#[test]
fn slips_of_the_hand_at_the_command_line() {
    for (line, code, says) in [
        (format!("bill {JOB} --to-price form.pdf"), 2, "a form ends in .xlsx or .csv"),
        (format!("bill {JOB} --to-price form.csv --rates demo-ugx"), 2, "cannot be used with"),
        (format!("bill {JOB} --to-price samples/rest-house/second.csv"), 6, "already"),
        (format!("returned {JOB}"), 2, "COPY"),
        (format!("{COPIES} --ratio 1"), 2, "above 1"),
        (format!("{COPIES} samples/rest-house/returned-kato.csv"), 3, "B006"),
        (format!("returned {JOB} samples/rest-house/none.csv"), 6, "none.csv"),
    ] {
        let seen = run(&line);
        assert_eq!(seen.code, code, "{line}\n{}", seen.err);
        assert!(seen.err.contains(says) && seen.out.is_empty(), "{line}\n{}", seen.err);
    }
    let seen = run(&format!("{COPIES} --profile exact"));
    assert!(seen.code == 0 && seen.err.contains("B005"), "{}", seen.err);
}

/// What is planted: the kind of finding and the reference of its row.
type Planted = Vec<(String, String)>;

/// A random rate to at most two places.
fn rate(dice: &mut Dice, percent: bool) -> Decimal {
    if percent { Decimal::new(dice.roll(10, 400), 1) } else { Decimal::new(dice.roll(100, 9_999_999), 2) }
}

/// Another figure than this one, to the same places. The steps are powers of three: no two slips together make a third
/// one, or a sum that happens to be right.
fn moved(text: &str, step: &mut i64, dice: &mut Dice) -> String {
    let figure: Decimal = text.parse().unwrap();
    let by = Decimal::new(*step, figure.scale());
    *step *= 3;
    (figure + if dice.odds(50) { by } else { -by }).to_string()
}

/// Plants some slips in a copy that is right, each in a cell of its own.
fn plant(form: &Form, rows: &mut [Row], dice: &mut Dice) -> Planted {
    let (mut planted, step) = (Vec::new(), &mut 1);
    let reference =
        |row: &Row| form.rows.iter().find(|r| r.id == id(row)).map(|r| (r.reference.clone(), r.unit.clone()));
    for row in rows.iter_mut() {
        if !dice.odds(12) {
            continue;
        }
        let mark = id(row).to_owned();
        let priced = row.cells[RATE].parse::<Decimal>().is_ok();
        match reference(row) {
            Some((name, unit)) => {
                let what = match (dice.roll(1, 4), unit.as_str(), priced) {
                    (1, "%", true) => {
                        row.cells[AMOUNT] = moved(&row.cells[AMOUNT], step, dice);
                        "percentage"
                    }
                    (1, _, true) => {
                        row.cells[AMOUNT] = moved(&row.cells[AMOUNT], step, dice);
                        "extension"
                    }
                    (2, "%", _) => {
                        row.cells[QUANTITY] = moved(&row.cells[QUANTITY], step, dice);
                        "base"
                    }
                    (2, ..) => {
                        row.cells[QUANTITY] = moved(&row.cells[QUANTITY], step, dice);
                        "quantity"
                    }
                    (3, ..) => {
                        row.cells[UNIT] = if unit == "m" { "nr" } else { "m" }.to_owned();
                        "unit"
                    }
                    _ => {
                        row.cells[WORDS].push_str(" as agreed");
                        "words"
                    }
                };
                planted.push((what.to_owned(), name));
            }
            None if mark.starts_with("total/") || mark.starts_with("carried/") => {
                row.cells[AMOUNT] = moved(&row.cells[AMOUNT], step, dice);
                planted.push(("total".to_owned(), mark.rsplit('/').next().unwrap().to_owned()));
            }
            None if mark == "measured" || mark == "total" => {
                row.cells[AMOUNT] = moved(&row.cells[AMOUNT], step, dice);
                planted.push(("total".to_owned(), String::new()));
            }
            None => {}
        }
    }
    planted.sort();
    planted
}

fn found(copy: &Copy) -> Planted {
    let mut all: Planted = copy.findings.iter().map(|f| (f.what.to_owned(), f.reference.clone())).collect();
    all.sort();
    all
}

fn config() -> ProptestConfig {
    let asked = ProptestConfig::default();
    let seed =
        if std::env::var_os("PROPTEST_RNG_SEED").is_some() { asked.rng_seed } else { RngSeed::Fixed(1) };
    let cases = if std::env::var_os("PROPTEST_CASES").is_some() { asked.cases } else { 40 };
    ProptestConfig { cases, rng_seed: seed, failure_persistence: None, ..asked }
}

const MONEY: &str = "[[preliminaries]]\ntitle = \"Setting out\"\namount = \"1\"\n[[provisional]]\ntitle = \"Rock\"\nunit = \"m3\"\n\
    quantity = \"1.5\"\nrate = \"1\"\n[additions]\nlist = [{ title = \"One\", percent = \"5\", stated = true }, \
    { title = \"Two\", percent = \"1\", on = [\"measured\"] }, { title = \"Three\", percent = \"1\", on = [\"measured\", \"One\"] }, \
    { title = \"Four\", percent = \"1\" }]\n";

proptest! {
    #![proptest_config(config())]

    /// Rows left open, slips planted, marks lost or not: all is found, and nothing else.
    #[test]
    fn what_is_planted_in_a_copy_is_found_and_nothing_else(seed in any::<u64>(), lost in any::<bool>(), cents in any::<bool>()) {
        let dice = &mut Dice::new(seed);
        let text = job(seed, Wish { profile: "east-africa", level: false });
        prop_assume!(!text.contains("[additions") && !text.contains("[[preliminaries"));
        let text = if cents { text.replace("\"UGX\"", "\"KES\"") } else { text };
        let (e, form) = formed(&format!("{text}\n{MONEY}"), None).unwrap();
        let mut open = Vec::new();
        let mut rates = BTreeMap::new();
        for row in form.rows.iter().filter(|r| r.stated.is_none()) {
            if dice.odds(10) {
                open.push(row.reference.clone());
            } else {
                rates.insert(row.id.clone(), rate(dice, row.unit == "%"));
            }
        }
        let mut sent = rows(&filled(&form, &rates));
        prop_assert_eq!(found(&copy(&form, &e, &sent).unwrap()), Vec::new(), "{}", text);
        let planted = plant(&form, &mut sent, dice);
        // Some of the open rows are left out altogether.
        let mut gone = Vec::new();
        sent.retain(|row| {
            let name = form.rows.iter().find(|r| r.id == id(row)).map(|r| r.reference.clone()).unwrap_or_default();
            let out = open.contains(&name) && !planted.iter().any(|(_, r)| *r == name) && dice.odds(40);
            gone.extend(out.then_some(name));
            !out
        });
        if lost {
            sent.iter_mut().for_each(|row| row.cells[MARKS].clear());
        }
        let copy = copy(&form, &e, &sent).unwrap();
        prop_assert_eq!(found(&copy), planted);
        let named = |states: &[State]| -> Vec<&str> {
            let all = form.rows.iter().zip(&copy.bids).filter(|(_, b)| states.contains(&b.state));
            all.map(|(r, _)| r.reference.as_str()).collect()
        };
        prop_assert_eq!(named(&[State::Missing]), gone);
        prop_assert_eq!(named(&[State::Missing, State::Blank]), open);
        prop_assert!(copy.added.is_empty() && copy.words.is_empty(), "{:?} {:?}", copy.added, copy.words);
        prop_assert_eq!(copy.same_form, if lost { None } else { Some(true) });
    }
}
