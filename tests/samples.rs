//! The samples and what they give. `TANKWRIGHT_UPDATE=1` writes the expected papers anew.

use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;

use rust_decimal::Decimal;
use serde_json::Value;
use tankwright_tests::SAMPLES;
use tankwright_tests::program::{root, run};

/// File and the command line that gives it; the job stands at the end.
const PAPERS: [(&str, &str); 11] = [
    ("screen.txt", "estimate"),
    ("takeoff.txt", "takeoff"),
    ("bill.txt", "bill"),
    ("takeoff.json", "takeoff --format json"),
    ("bill.json", "bill --format json"),
    ("materials.txt", "materials"),
    ("orders.txt", "orders"),
    ("bars.txt", "bars"),
    ("materials.json", "materials --format json"),
    ("orders.json", "orders --format json"),
    ("bars.json", "bars --format json"),
];

fn sample(name: &str) -> PathBuf {
    root().join("samples").join(name)
}

fn given(sample: &str, line: &str) -> String {
    let seen = run(&format!("{line} samples/{sample}/job.toml"));
    assert_eq!(seen.code, 0, "{sample}: {line}: {}", seen.err);
    seen.out
}

#[test]
fn each_sample_gives_what_is_expected() {
    let update = std::env::var_os("TANKWRIGHT_UPDATE").is_some();
    for name in SAMPLES {
        let folder = sample(name).join("expected");
        if update {
            fs::create_dir_all(&folder).unwrap();
        }
        for (file, line) in PAPERS {
            let seen = given(name, line);
            if update {
                fs::write(folder.join(file), &seen).unwrap();
                continue;
            }
            let expected = fs::read_to_string(folder.join(file)).unwrap_or_default();
            let different = seen.lines().zip(expected.lines()).position(|(a, b)| a != b);
            let at = different.unwrap_or_else(|| seen.lines().count().min(expected.lines().count()));
            assert!(
                seen == expected,
                "{name}/expected/{file} differs in line {}:\n  now  {}\n  then {}\nrun with TANKWRIGHT_UPDATE=1 if it should",
                at + 1,
                seen.lines().nth(at).unwrap_or("(ends)"),
                expected.lines().nth(at).unwrap_or("(ends)"),
            );
        }
    }
}

#[test]
fn every_sample_is_described_and_tested() {
    let readme = fs::read_to_string(root().join("samples/README.md")).unwrap();
    for entry in fs::read_dir(root().join("samples")).unwrap().map(Result::unwrap) {
        let name = entry.file_name().to_string_lossy().into_owned();
        if entry.path().is_dir() {
            assert!(readme.contains(&format!("`{name}`")), "samples/README.md says nothing of {name}");
            let tested = SAMPLES.contains(&name.as_str()) || name == "refused";
            assert!(tested || entry.path().join("job.toml").is_file(), "{name} holds no job");
        }
    }
}

#[test]
fn the_smallest_job_has_at_most_twelve_lines() {
    let text = fs::read_to_string(sample("smallest").join("job.toml")).unwrap();
    assert!(text.lines().count() <= 12 && text.lines().all(|l| l.len() <= 100));
    let screen = given("smallest", "estimate");
    assert!(screen.contains("defaults used: "), "{screen}");
}

/// A figure of a paper: digits in groups of three, parted by blanks.
fn figure(text: &str) -> Option<Decimal> {
    let digits: String = text.chars().filter(|c| !c.is_whitespace()).collect();
    (!digits.is_empty()).then(|| digits.parse().unwrap_or_else(|_| panic!("{text} is no figure")))
}

fn of(value: &Value) -> Option<Decimal> {
    value.as_str().map(|text| text.parse().unwrap_or_else(|_| panic!("{text} is no figure")))
}

/// Quantity, rate and amount of a row.
type Row = [Option<Decimal>; 3];

/// Rows by reference, totals in order of sections, the offered total.
#[derive(Debug, Default, PartialEq, Eq)]
struct Bill {
    rows: BTreeMap<String, Row>,
    sections: Vec<Decimal>,
    added: Vec<(String, Decimal)>,
    total: Decimal,
}

fn json_bill(name: &str) -> Bill {
    let json: Value = serde_json::from_str(&given(name, "bill --format json")).unwrap();
    let mut bill = Bill { total: of(&json["total"]).unwrap(), ..Bill::default() };
    for section in json["sections"].as_array().unwrap() {
        bill.sections.push(of(&section["total"]).unwrap());
        for row in section["rows"].as_array().unwrap() {
            let figures = ["quantity", "rate", "amount"].map(|k| of(&row[k]));
            bill.rows.insert(row["ref"].as_str().unwrap().to_owned(), figures);
        }
    }
    for addition in json["additions"].as_array().unwrap() {
        bill.added.push((addition["title"].as_str().unwrap().to_owned(), of(&addition["amount"]).unwrap()));
    }
    bill
}

/// The records of a CSV text.
fn records(text: &str) -> Vec<BTreeMap<String, String>> {
    let mut lines = Vec::new();
    for line in text.lines() {
        let (mut cells, mut quoted) = (vec![String::new()], false);
        for c in line.chars() {
            match c {
                '"' => quoted = !quoted,
                ',' if !quoted => cells.push(String::new()),
                _ => cells.last_mut().unwrap().push(c),
            }
        }
        lines.push(cells);
    }
    let heads = lines.remove(0);
    lines.into_iter().map(|cells| heads.iter().cloned().zip(cells).collect()).collect()
}

fn csv_bill(name: &str) -> Bill {
    let mut bill = Bill::default();
    for r in records(&given(name, "bill --format csv")) {
        let amount = figure(&r["amount"]);
        match r["row"].as_str() {
            "row" => {
                bill.rows.insert(r["ref"].clone(), [figure(&r["quantity"]), figure(&r["rate"]), amount]);
            }
            "section-total" => bill.sections.push(amount.unwrap()),
            "addition" => bill.added.push((r["description"].clone(), amount.unwrap())),
            "total" => bill.total = amount.unwrap(),
            _ => {}
        }
    }
    bill
}

/// The bill from the paper: columns end where their heads end.
fn text_bill(name: &str) -> Bill {
    let text = given(name, "bill");
    let head = text.lines().find(|l| l.starts_with("ref ")).unwrap();
    let ends = ["unit", "quantity", "rate", "amount"].map(|word| head.find(word).unwrap() + word.len());
    let mut bill = Bill::default();
    let last = |line: &str| figure(line.rsplit("  ").next().unwrap_or_default()).unwrap();
    for line in text.lines() {
        let cells: Vec<char> = line.chars().collect();
        let cell = |i: usize| {
            let (from, to) = (ends[i].min(cells.len()), ends[i + 1].min(cells.len()));
            figure(&cells[from..to].iter().collect::<String>())
        };
        let reference = line.split(' ').next().unwrap_or_default();
        let is_row = reference.len() > 1
            && reference.starts_with(|c: char| c.is_ascii_uppercase())
            && reference[1..].bytes().all(|b| b.is_ascii_digit());
        if is_row {
            bill.rows.insert(reference.to_owned(), [cell(0), cell(1), cell(2)]);
        } else if line.trim_start().starts_with("total of ") {
            bill.sections.push(last(line));
        } else if line.starts_with("total ") {
            bill.total = figure(
                line.split_at(line.len() - 20)
                    .1
                    .trim_start_matches(char::is_alphabetic)
                    .trim_start_matches(|c: char| !c.is_ascii_digit()),
            )
            .unwrap();
        }
    }
    bill
}

#[test]
fn text_json_and_csv_give_the_same_bill() {
    for name in SAMPLES {
        let json = json_bill(name);
        assert!(json.rows.len() > 8 && json.total > Decimal::ZERO, "{name}");
        assert_eq!(csv_bill(name), json, "{name}");
        let text = text_bill(name);
        assert_eq!((text.rows, text.sections, text.total), (json.rows, json.sections, json.total), "{name}");
        for (title, amount) in json.added {
            let digits = |text: &str| text.chars().filter(char::is_ascii_digit).collect::<String>();
            let paper = given(name, "bill");
            let line = paper.lines().find(|l| l.trim_start().starts_with(&title)).unwrap();
            assert!(digits(line).ends_with(&digits(&amount.to_string())), "{name}: {line} is not {amount}");
        }
    }
}

#[test]
fn the_screen_has_the_totals_of_the_bill() {
    for name in SAMPLES {
        let (json, screen) = (json_bill(name), given(name, "estimate"));
        let figures: Vec<Decimal> = screen
            .lines()
            .filter_map(|l| l.rsplit("  ").next())
            .filter_map(|t| t.chars().filter(|c| *c != ' ').collect::<String>().parse().ok())
            .collect();
        assert!(json.sections.iter().all(|s| figures.contains(s)), "{name}: {figures:?}");
        let total = screen.lines().find(|l| l.starts_with("total ")).unwrap();
        let digits: String = total.chars().filter(|c| c.is_ascii_digit() || *c == '.').collect();
        assert_eq!(digits.parse::<Decimal>().unwrap(), json.total, "{name}");
    }
}

/// Item ids with unit, quantity and net.
type Items = BTreeMap<String, (String, Decimal, Decimal)>;

#[test]
fn text_json_and_csv_give_the_same_take_off() {
    for name in SAMPLES {
        let json: Value = serde_json::from_str(&given(name, "takeoff --format json")).unwrap();
        let mut items = Items::new();
        let mut lines = 0;
        for item in json["items"].as_array().unwrap() {
            let word = |k: &str| item[k].as_str().unwrap().to_owned();
            let figures = (word("unit"), of(&item["quantity"]).unwrap(), of(&item["net"]).unwrap());
            items.insert(word("id"), figures);
            lines += item["lines"].as_array().unwrap().len();
        }
        let mut of_csv = Items::new();
        let mut csv_lines = 0;
        let mut on_sheets: Vec<Decimal> = Vec::new();
        for r in records(&given(name, "takeoff --format csv")) {
            // Lines and decisions may be fractions.
            let value = if ["item", "net"].contains(&r["row"].as_str()) { figure(&r["value"]) } else { None };
            if r["row"] == "item" {
                on_sheets.extend(value);
            }
            // Holes have items of their own, which only the sheets show.
            if r["void"] == "yes" {
                continue;
            }
            match r["row"].as_str() {
                "item" => {
                    let figures = (r["unit"].clone(), value.unwrap(), Decimal::ZERO);
                    of_csv.insert(r["item"].clone(), figures);
                }
                "net" => of_csv.get_mut(&r["item"]).unwrap().2 = value.unwrap(),
                "line" => csv_lines += 1,
                _ => {}
            }
        }
        assert_eq!((of_csv, csv_lines), (items.clone(), lines), "{name}");
        let text = given(name, "takeoff");
        let quantities: Vec<Decimal> = text
            .lines()
            .filter_map(|l| l.strip_prefix("  quantity "))
            .filter_map(|l| {
                figure(
                    &l.split(' ')
                        .take_while(|w| w.starts_with(|c: char| c.is_ascii_digit() || c == '-'))
                        .collect::<String>(),
                )
            })
            .collect();
        let mut seen = quantities;
        on_sheets.sort();
        seen.sort();
        assert_eq!(seen, on_sheets, "{name}");
    }
}
