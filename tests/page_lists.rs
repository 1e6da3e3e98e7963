//! A supplier's price list on the page: read, mended and mapped there as by `tankwright rates`.

use std::net::SocketAddr;
use std::path::PathBuf;

use serde_json::{Value, json};
use tankwright_quantities::rates::{PriceKind, PriceRow, read_prices};
use tankwright_tests::program::{root, run};

use crate::page::{Reply, dropped, dropped_for, page, post, text};

/// A list as nobody of ours would write it: heads in Swahili, a gross column, words that are not ours. Invented.
const THEIRS: &str = "Duka la mfano (invented)\n\
    Jina la bidhaa,Kipimo,Bei,Bei na kodi\n\
    Cement 50kg,bag,36000,42480\n\
    Excavate pit by hand,m3,16500,19470\n\
    River sand fine,m3,52000,61360\n\
    Saruji nyeupe,bag,60000,70800\n\
    Wheelbarrow,nr,150000,177000\n";

/// What is said of it on the page; on the command line the same.
fn told() -> (Value, Vec<&'static str>) {
    let head = json!({
        "name": "duka.csv", "currency": "ugx", "date": "2026-10-01", "source": "the shop, invented",
        "heads": {"Jina la bidhaa": "description", "Kipimo": "unit", "Bei": "rate", "Bei na kodi": "-"},
        "map": [["River sand fine", "m3", "", "sand-plaster"], ["Wheelbarrow", "nr", "", "-"]],
    });
    let line = vec![
        "--currency",
        "UGX",
        "--of",
        "2026-10-01",
        "--source",
        "the shop, invented",
        "--column",
        "Jina la bidhaa=description",
        "--column",
        "Kipimo=unit",
        "--column",
        "Bei=rate",
        "--column",
        "Bei na kodi=-",
    ];
    (head, line)
}

fn folder() -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("page-lists");
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

/// What the command prints of the list with these files.
fn command(line: &[&str], map: Option<&str>) -> String {
    let (list, of_map) = (folder().join("duka.csv"), folder().join("said.csv"));
    std::fs::write(&list, THEIRS).unwrap();
    let list = list.display().to_string();
    let mut args = vec!["tankwright", "rates", &list, "--plain"];
    args.extend(line);
    let of_map_name = of_map.display().to_string();
    if let Some(map) = map {
        std::fs::write(&of_map, map).unwrap();
        args.extend(["--map", &of_map_name]);
        args.retain(|a| *a != "--plain");
    }
    let args: Vec<String> = args.into_iter().map(str::to_owned).collect();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = tankwright_cli::run(&args, &mut out, &mut err, &tankwright_cli::files::Disk);
    assert_eq!(code, 0, "{}", String::from_utf8_lossy(&err));
    String::from_utf8(out).unwrap()
}

fn line<'a>(taken: &'a Value, words: &str) -> &'a Value {
    let lines = taken["lines"].as_array().unwrap();
    lines.iter().find(|l| l["description"] == words).unwrap_or_else(|| panic!("{words}: {taken}"))
}

fn error(taken: &Value) -> &Value {
    taken["problems"].as_array().unwrap().iter().find(|p| p["error"] == true).unwrap_or(&Value::Null)
}

fn paper(at: SocketAddr, path: &str, head: &Value) -> Reply {
    dropped_for(at, path, head, THEIRS.as_bytes())
}

#[test]
fn a_suppliers_list_is_read_as_it_is_said_to_be_and_as_by_the_command() {
    let at = page("rest-house");
    // Nothing heads it in words that are known: its first full row is shown, to be told.
    let bare = dropped(at, "/list", &json!({"name": "duka.csv"}), THEIRS.as_bytes());
    assert_eq!((bare["taken"].as_bool(), bare["problems"][0]["code"].as_str()), (Some(false), Some("R002")));
    assert_eq!(bare["heads"][2], json!({"head": "Bei", "column": "", "sample": "36000"}));
    let (head, said) = told();
    let taken = dropped(at, "/list", &head, THEIRS.as_bytes());
    assert_eq!(taken["taken"], true, "{taken}");
    assert_eq!(taken["heads"][2]["column"], "rate");
    assert_eq!(taken["heads"][3]["column"], "");
    let seen = |words: &str| {
        let l = line(&taken, words);
        [&l["kind"], &l["code"], &l["by"]].map(|v| v.as_str().unwrap().to_owned())
    };
    assert_eq!(seen("Cement 50kg"), ["material", "cement", "words"]);
    assert_eq!(seen("River sand fine"), ["material", "sand-plaster", "map"]);
    assert_eq!(seen("Wheelbarrow"), ["", "", "out"]);
    assert_eq!(seen("Saruji nyeupe"), ["", "", ""]);
    assert_eq!(line(&taken, "Cement 50kg")["rate"], "36000");

    // The list in our own form, and its map, byte for byte.
    let map = String::from_utf8(paper(at, "/list/map", &head).body).unwrap();
    assert!(
        map.starts_with("description,unit,kind,code,perhaps\nRiver sand fine,m3,,sand-plaster,\n"),
        "{map}"
    );
    assert!(map.contains("Saruji nyeupe,bag,,,"), "{map}");
    let plain = paper(at, "/list/plain", &head);
    assert!(plain.head.contains("filename=\"duka-plain.csv\""), "{}", plain.head);
    std::fs::write(folder().join("duka.map.csv"), &map).unwrap();
    assert_eq!(String::from_utf8(plain.body).unwrap(), command(&said, None));
    // What the command adds to the map of the page is nothing.
    let again = command(&said, Some(&map));
    assert!(again.contains("nothing to add, 1 rows are open"), "{again}");
    std::fs::remove_file(folder().join("duka.map.csv")).unwrap();
}

#[test]
fn the_total_by_a_mapped_list_is_that_of_the_command() {
    let at = page("rest-house");
    let list = std::fs::read_to_string(root().join("rates/prices/demo-ugx.csv")).unwrap();
    // As a supplier would keep it: no kinds, no codes, one line in words of his own.
    let mut theirs = "Item,Unit,Unit price\n".to_owned();
    let mut map = Vec::new();
    let works = rows(&list).into_iter().filter(|r| r.kind == PriceKind::Work && r.rate.is_some());
    for (n, row) in works.enumerate() {
        let words = format!("Position {n}");
        theirs.push_str(&format!("{words},{},{}\n", row.unit, row.rate.unwrap()));
        map.push(json!([words, row.unit, "work", row.code]));
    }
    let head = json!({"name": "position.csv", "currency": "UGX", "date": "2026-10-01", "source": "shop", "map": map});
    let taken = dropped(at, "/list", &head, theirs.as_bytes());
    assert_eq!(taken["taken"], true, "{}", taken["problems"]);
    let ask = json!({"text": text("rest-house"), "edits": [{"path": "job.rates", "value": "position.csv"}]});
    let shown = post(at, "/estimate", &ask).json();
    // The rates are the sample's own.
    assert_eq!(shown["bill"]["total"], "10422000", "{}", shown["problems"]);
    // By the command, with the map of the page beside the list.
    let folder = folder();
    let map = dropped_for(at, "/list/map", &head, theirs.as_bytes()).body;
    std::fs::write(folder.join("position.map.csv"), map).unwrap();
    let noted = format!("Currency: UGX\nDate: 2026-10-01\nSource: shop\n{theirs}");
    std::fs::write(folder.join("position.csv"), noted).unwrap();
    let job = text("rest-house").replace("\"demo-ugx\"", "\"position.csv\"");
    std::fs::write(folder.join("job.toml"), job).unwrap();
    let said = run(&format!("bill --format json {}", folder.join("job.toml").display()));
    let said: Value = serde_json::from_str(&said.out).unwrap_or_else(|_| panic!("{}", said.err));
    // A row names its list by its path, and the line under the three notes.
    let amounts = |bill: &Value| -> Vec<Value> {
        let rows = bill["sections"].as_array().unwrap().iter().flat_map(|s| s["rows"].as_array().unwrap());
        rows.map(|r| json!([r["ref"], r["quantity"], r["rate"], r["amount"]])).collect()
    };
    assert_eq!(amounts(&said), amounts(&shown["bill"]));
    assert_eq!(said["total"], "10422000");

    // The rate sheet: every row of `rates --blank`, each with its line.
    let needs = post(at, "/needs", &json!({"text": text("rest-house"), "list": "position.csv"})).json();
    let blank = run("rates --blank samples/rest-house/job.toml").out;
    let codes: Vec<String> = rows(&blank).into_iter().map(|row| row.code).collect();
    let sheet = needs["needs"].as_array().unwrap();
    assert_eq!(sheet.iter().map(|g| g["code"].as_str().unwrap()).collect::<Vec<_>>(), codes);
    assert!(sheet.iter().all(|g| g["line"].is_u64() && g["lacks"] == ""), "{needs}");
    // Its lines left out: what they priced is lacking, as `rates --for` says.
    let mut less = head.clone();
    for row in less["map"].as_array_mut().unwrap() {
        if row[3].as_str().unwrap().starts_with("excavation-pit") {
            row[3] = json!("-");
        }
    }
    dropped(at, "/list", &less, theirs.as_bytes());
    let needs = post(at, "/needs", &json!({"text": text("rest-house"), "list": "position.csv"})).json();
    assert!(
        needs["needs"][0]["lacks"].as_str().unwrap().starts_with("missing: A1 needs"),
        "{}",
        needs["needs"][0]
    );
}

fn rows(list: &str) -> Vec<PriceRow> {
    read_prices("list.csv", list).unwrap().rows
}

#[test]
fn what_is_said_wrongly_of_a_list_is_told() {
    let at = page("rest-house");
    let (head, _) = told();
    let with = |key: &str, value: Value| {
        let mut head = head.clone();
        head[key] = value;
        let taken = dropped(at, "/list", &head, THEIRS.as_bytes());
        let first = error(&taken);
        (
            taken["taken"].as_bool().unwrap(),
            first["code"].as_str().unwrap().to_owned(),
            first["message"].to_string(),
        )
    };
    for (key, value, code) in [
        ("currency", json!("shillings"), "W003"),
        ("date", json!("1.10.2026"), "W003"),
        ("tax", json!("-18"), "W003"),
        ("tax", json!("many"), "W003"),
        ("map", json!([["River sand fine", "m3", "", "sandd"]]), "R062"),
        ("map", json!([["River sand fine", "m3", "", "<b>"], ["a\nb,\"c", "m", "x", "-"]]), "R062"),
        ("heads", json!({"Jina la bidhaa": "description", "Bei": "rate"}), "R002"),
        ("heads", json!({"Bei": "rate", "Bei na kodi": "rate"}), "R002"),
    ] {
        let (taken, told, message) = with(key, value);
        assert_eq!((taken, told.as_str()), (false, code), "{key}: {message}");
    }
    // Two lines that price one thing: both are shown, so that one can be left out.
    let twice = format!("{THEIRS}Cement (50 kg),bag,35000,1\n");
    let taken = dropped(at, "/list", &head, twice.as_bytes());
    assert_eq!((taken["taken"].as_bool(), error(&taken)["code"].as_str()), (Some(false), Some("R011")));
    assert_eq!(line(&taken, "Cement (50 kg)")["code"], "cement");
    // A mark before the text and other ends of lines change nothing.
    let windows = format!("\u{feff}{}", THEIRS.replace('\n', "\r\n"));
    let taken = dropped(at, "/list", &head, windows.as_bytes());
    assert_eq!((taken["taken"].as_bool(), taken["rows"].as_u64()), (Some(true), Some(3)), "{taken}");
}
