//! The account on the page: payments at a day or a stage, variations, priced copies, the sheet of a price list; each as
//! by its command.

use std::path::PathBuf;

use rust_xlsxwriter::Workbook;
use serde_json::{Value, json};
use tankwright_tests::program::{root, run};

use crate::page::{dropped, page, post, text};

fn codes(it: &Value) -> Vec<&str> {
    it["problems"].as_array().unwrap().iter().map(|p| p["code"].as_str().unwrap()).collect()
}

/// Text, CSV and JSON of a paper are what the command prints.
fn same(it: &Value, line: &str) {
    for (key, format) in [("paper", ""), ("csv", " --format csv"), ("json", " --format json")] {
        let said = run(&format!("{line}{format}"));
        assert_eq!(said.code, 0, "{line}: {}", said.err);
        assert!(it[key].as_str() == Some(said.out.as_str()), "{line}{format} differs:\n{}", it["problems"]);
    }
}

#[test]
fn the_account_at_a_day_and_at_a_stage_is_that_of_the_command() {
    let job = "samples/guest-house/job.toml";
    let at = page("guest-house");
    let ask = |when: &str, done: Value| {
        post(at, "/payments", &json!({"text": text("guest-house"), "at": when, "done": done})).json()
    };
    let schedule = ask("", json!([]));
    same(&schedule, &format!("payments {job}"));
    let stages: Vec<&str> =
        schedule["stages"].as_array().unwrap().iter().map(|s| s[0].as_str().unwrap()).collect();
    assert!(stages.starts_with(&["set-out", "dig", "base"]), "{stages:?}");
    same(&ask("2026-12-18", json!([])), &format!("payments {job} --at 2026-12-18"));
    same(
        &ask("2026-12-20", json!([["base", "100"], ["walls-lower", "80 %"], ["cover", " "]])),
        &format!("payments {job} --at 2026-12-20 --done base=100,walls-lower=80"),
    );
    let stage = ask("walls-lower", json!([["walls-upper", "25"]]));
    same(&stage, &format!("payments {job} --at walls-lower --done walls-upper=25"));
    let says = "as if walls, lower part and all stages before it were done";
    assert!(stage["paper"].as_str().unwrap().contains(says));
    // Dig, base and lower walls in full, a quarter of what comes next: as the schedule has them.
    let worth = |id: &str| {
        let all: Value = serde_json::from_str(stage["json"].as_str().unwrap()).unwrap();
        let stages = all["valuation"]["stages"].as_array().unwrap().clone();
        let of = stages.into_iter().find(|s| s["stage"] == id).unwrap();
        of["percent"].as_str().unwrap().to_owned()
    };
    assert_eq!(
        ["dig", "base", "walls-lower", "walls-upper", "cover"].map(worth),
        ["100", "100", "100", "25", "0"]
    );
    for (when, done, code) in [
        ("18.12.2026", json!([]), "W007"),
        ("2026-02-30", json!([]), "W007"),
        ("bse", json!([]), "W007"),
        ("2026-12-20", json!([["dig", "most"]]), "W007"),
        ("", json!([["dig", "50"]]), "W007"),
        ("ring-beam", json!([]), "U060"),
        ("2026-12-20", json!([["dig", "101"]]), "U061"),
    ] {
        let it = ask(when, done.clone());
        assert_eq!((codes(&it), it["paper"].as_str()), (vec![code], Some("")), "{when} {done}");
    }
    assert_eq!(run(&format!("payments {job} --at ring-beam")).code, 2);
    // Without prices there is nothing to pay.
    let bare = text("guest-house").replace("rates = \"demo-kes\"\n", "");
    let it = post(at, "/payments", &json!({"text": bare})).json();
    assert_eq!((codes(&it), it["paper"].as_str()), (vec!["W005"], Some("")));
}

#[test]
fn a_stage_has_the_day_of_the_programme() {
    let at = page("rest-house");
    let it = post(at, "/payments", &json!({"text": text("rest-house"), "at": "base"})).json();
    let of = |it: &Value| -> Value { serde_json::from_str(it["json"].as_str().unwrap()).unwrap() };
    let all = of(&it);
    let payments = all["payments"].as_array().unwrap();
    let base = payments.iter().find(|p| p["stage"] == "base").unwrap();
    assert_eq!(all["valuation"]["date"], base["date"]);
    assert_eq!((&all["valuation"]["up_to"], &all["valuation"]["seen"]), (&json!("base"), &base["date"]));
}

#[test]
fn variations_are_those_of_the_command() {
    let at = page("workshop");
    let now = std::fs::read_to_string(root().join("samples/workshop/as-built.toml")).unwrap();
    let ask = |more: Value| {
        let mut ask = json!({"text": now, "contract": text("workshop"), "name": "samples/workshop/job.toml"});
        ask.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
        post(at, "/vary", &ask).json()
    };
    let it = ask(json!({}));
    // The page's own job has the name that it was opened with.
    let line = "vary samples/workshop/job.toml samples/workshop/as-built.toml";
    let said = run(line).out;
    let own = it["paper"].as_str().unwrap();
    let statement =
        |text: &str| text[text.find("STATEMENT").unwrap()..text.find("STAR RATES").unwrap()].to_owned();
    assert_eq!(statement(own), statement(&said));
    assert_eq!(it["csv"].as_str(), Some(run(&format!("{line} --format csv")).out.as_str()));
    assert!(it["built"].as_str().unwrap().contains("height = \"1.95 m\""), "{}", it["built"]);
    let later = ask(json!({"date": "2027-01-01"}));
    let said = run(&format!("{line} --date 2027-01-01")).out;
    assert_eq!(statement(later["paper"].as_str().unwrap()), statement(&said));
    // The job itself as its contract: nothing but what its variations change.
    let own = post(at, "/vary", &json!({"text": text("workshop")})).json();
    let own = own["paper"].as_str().unwrap().replace('\u{a0}', " ");
    let own = own.split("WHAT CHANGED").next().unwrap_or_default();
    assert_eq!(own.matches(" 321 000.00\n").count(), 2, "contract and adjusted sum: {own}");
    for (more, code) in [
        (json!({"date": "next week"}), "W007"),
        (json!({"contract": "format = 1\n"}), "J006"),
        (json!({"text": now.replace("[tank]", "[tonk]")}), "J006"),
        (json!({"text": now.replace("demo-kes", "gone.csv")}), "W002"),
    ] {
        let it = ask(more.clone());
        assert!(codes(&it).contains(&code) && it["paper"] == "", "{more} {}", it["problems"]);
    }
}

#[test]
fn priced_copies_are_set_side_by_side_as_by_the_command() {
    let at = page("rest-house");
    let job = "samples/rest-house/job.toml";
    let names = ["samples/rest-house/returned-kato.csv", "samples/rest-house/returned-nile.csv"];
    for name in names {
        let bytes = std::fs::read(root().join(name)).unwrap();
        let taken = dropped(at, "/second", &json!({"name": name}), &bytes);
        assert_eq!(taken["taken"], true, "{taken}");
    }
    let short = ["returned-kato.csv", "returned-nile.csv"];
    let copies = |names: &[&str]| names.iter().map(|n| json!({"name": n})).collect::<Vec<_>>();
    let ask = |copies: Vec<Value>, ratio: &str| {
        post(at, "/returned", &json!({"text": text("rest-house"), "copies": copies, "ratio": ratio})).json()
    };
    for (ratio, option) in [("", ""), ("1.2", " --ratio 1.2")] {
        let it = ask(copies(&short), ratio);
        let said = run(&format!("returned {job} {} {}{option}", names[0], names[1]));
        // A browser tells no folder.
        let said = said.out.replace("samples/rest-house/returned", "returned");
        assert_eq!((codes(&it), it["paper"].as_str()), (vec![], Some(said.as_str())));
    }
    for (names, ratio, code) in [
        (vec!["gone.csv"], "", "W004"),
        (vec![short[0], short[0]], "", "B006"),
        (vec![short[0]; 9], "", "W007"),
        (vec![short[0]], "far", "W007"),
    ] {
        let it = ask(copies(&names), ratio);
        assert_eq!((codes(&it), it["paper"].as_str()), (vec![code], Some("")), "{names:?}");
    }
    let picture = dropped(at, "/second", &json!({"name": "a.png"}), b"png");
    assert_eq!((picture["taken"].as_bool(), codes(&picture)), (Some(false), vec!["W003"]));
}

/// Two lists in one file, and a sheet that is none. Invented.
fn book() -> Vec<u8> {
    let mut book = Workbook::new();
    for (name, cement) in [("Read me", None), ("Old \"2025\"", Some(36_000)), ("2026", Some(39_000))] {
        let sheet = book.add_worksheet();
        sheet.set_name(name).unwrap();
        let Some(cement) = cement else {
            sheet.write(0, 0, "Prices of the yard, invented").unwrap();
            continue;
        };
        for (row, cells) in [
            ["Currency: UGX", "", ""],
            ["Date: 2026-10-01", "", ""],
            ["Source: the yard, invented", "", ""],
            ["Item", "Unit", "Rate"],
        ]
        .iter()
        .enumerate()
        {
            for (column, text) in (0..).zip(cells) {
                sheet.write(u32::try_from(row).unwrap(), column, *text).unwrap();
            }
        }
        sheet.write(4, 0, "Cement").unwrap();
        sheet.write(4, 1, "bag").unwrap();
        sheet.write(4, 2, cement).unwrap();
    }
    book.save_to_buffer().unwrap()
}

#[test]
fn the_sheet_of_a_price_list_is_chosen_as_on_the_command_line() {
    let at = page("rest-house");
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("page-sheets");
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join("yard.xlsx");
    std::fs::write(&file, book()).unwrap();
    let take = |sheet: &str| dropped(at, "/list", &json!({"name": "yard.xlsx", "sheet": sheet}), &book());
    let first = take("");
    assert_eq!(first["sheets"], json!(["Read me", "Old \"2025\"", "2026"]));
    assert_eq!((first["name"].as_str(), first["sheet"].as_str()), (Some("yard.xlsx"), Some("Old \"2025\"")));
    assert_eq!((first["lines"][0]["rate"].as_str(), codes(&first)), (Some("36000"), vec!["R074"]));
    for (sheet, rate) in [("2026", "39000"), ("Old \"2025\"", "36000")] {
        let it = take(sheet);
        assert_eq!((it["taken"].as_bool(), codes(&it)), (Some(true), vec![]), "{it}");
        assert_eq!(it["lines"][0]["rate"].as_str(), Some(rate));
        // The job names it as it would a file beside it.
        let name = format!("yard.xlsx#{sheet}");
        assert_eq!(it["name"].as_str(), Some(name.as_str()));
        let edits = json!([{"path": "job.rates", "value": name}]);
        let answer = post(at, "/estimate", &json!({"text": text("rest-house"), "edits": edits})).json();
        let job = answer["text"].as_str().unwrap();
        assert!(answer["problems"].as_array().unwrap().iter().all(|p| p["code"] == "R040"), "{answer}");
        let job_file = folder.join("job.toml");
        std::fs::write(&job_file, job).unwrap();
        let said = run(&format!("bill {}", job_file.display()));
        assert!(said.code == 4 && said.err.contains(&format!("#{sheet} has no rate")), "{}", said.err);
    }
    // A sheet that is no list is told, and another may be chosen; so of a name that is not there.
    for (sheet, code) in [("Read me", "R002"), ("2027", "R072")] {
        let it = take(sheet);
        assert_eq!((it["taken"].as_bool(), it["sheets"].as_array().unwrap().len()), (Some(false), 3));
        assert!(codes(&it).contains(&code), "{sheet}: {it}");
    }
}
