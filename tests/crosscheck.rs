//! The cross-check from the command line: its papers, its JSON, its map, and how often it names what was planted.

use std::fs;

use serde_json::{Value, json};
use tankwright_tests::planted::{Tally, plant, untouched};
use tankwright_tests::program::{Run, root, run};
use tankwright_tests::{crosschecked, read};

const SECOND: &str = "crosscheck samples/rest-house/job.toml samples/rest-house/second.csv";

fn second(more: &str) -> Run {
    let seen = run(&format!("{SECOND}{more}"));
    assert_eq!(seen.code, 0, "{}", seen.err);
    seen
}

#[test]
fn the_second_take_off_of_the_rest_house_gives_what_is_expected() {
    let update = std::env::var_os("TANKWRIGHT_UPDATE").is_some();
    for (file, more) in
        [("crosscheck.txt", ""), ("crosscheck.json", " --format json"), ("crosscheck.csv", " --format csv")]
    {
        let (path, seen) = (root().join("samples/rest-house/expected").join(file), second(more).out);
        if update {
            fs::write(&path, &seen).unwrap();
        }
        assert_eq!(
            seen,
            fs::read_to_string(&path).unwrap_or_default(),
            "{file}: run with TANKWRIGHT_UPDATE=1"
        );
    }
}

#[test]
fn its_three_planted_slips_are_named_and_nothing_else_differs() {
    let out: Value = serde_json::from_str(&second(" --format json").out).unwrap();
    let rows = out["rows"].as_array().unwrap();
    let differ: Vec<&Value> = rows.iter().filter(|r| r["agrees"] == json!(false)).collect();
    assert_eq!(differ.len(), 3, "{differ:?}");
    for (line, work, mistake) in [
        (12, "disposal", "bulking-billed"),
        (35, "brickwork-wall", "corners-twice"),
        (40, "plaster-wall", "plaster-one-side"),
    ] {
        let row = differ.iter().find(|r| r["theirs_line"] == json!(line)).unwrap();
        assert_eq!(row["work"], work);
        assert!(row["explained_by"].as_array().unwrap().contains(&json!([mistake])), "{row}");
    }
    // 29.96 - 21.40 at 16 000
    let disposal = differ.iter().find(|r| r["work"] == "disposal").unwrap();
    assert_eq!((&disposal["difference"], &disposal["worth"]), (&json!("8.56"), &json!("136960")));
    assert_eq!(
        (&out["unmatched"], &out["arithmetic"], &out["missing"]),
        (&json!([]), &json!([]), &json!([]))
    );
}

const JOB: &str = "format = 1\n[job]\ntitle = \"t\"\ndate = \"2026-11-25\"\ncurrency = \"UGX\"\n[tank]\n\
    chambers = [\"2 m\"]\nwidth = \"1 m\"\nheight = \"1.5 m\"\n";

#[test]
fn nothing_is_dropped() {
    let list = "description,unit,quantity,rate,amount\nBrick walls,m3,2.00,10,20\nPaint,m2,4,,\nFence,bundle,3,,\n\
                Excavate pit,m3,some,,\nTotal,,,,21\n";
    let report = crosschecked(JOB, list, None).unwrap();
    let held: Vec<usize> = report.rows.iter().flat_map(|r| r.lines.clone()).collect();
    let open: Vec<usize> = report.unmatched.iter().map(|u| u.line).collect();
    assert_eq!((held, open), (vec![2], vec![3, 4, 5]));
    let cautions: Vec<&str> = report.cautions.iter().map(|p| p.code).collect();
    assert_eq!(cautions, ["T007", "T008"]);
    assert_eq!(report.arithmetic.len(), 1);
    assert!(report.missing.iter().any(|m| m.work == "excavation-pit"));
}

#[test]
fn what_the_map_says_is_done() {
    let list = "description,unit,quantity\nPaint of walls,m2,4\nBricks and mortar for the chamber,m3,2.00\n";
    let before = crosschecked(JOB, list, None).unwrap();
    let map = tankwright_crosscheck::map::write(&before.map);
    assert!(map.starts_with("line,work,sure,perhaps,quantity,text\r\n2,"), "{map}");
    let after = crosschecked(JOB, list, Some("line,work\n2,-\n3,brickwork-wall\n")).unwrap();
    assert_eq!(after.rows.iter().map(|r| r.works.join("+")).collect::<Vec<_>>(), ["brickwork-wall"]);
    assert_eq!(
        after.unmatched.iter().map(|u| (u.line, u.why.key)).collect::<Vec<_>>(),
        [(2, "cross-left-aside")]
    );
}

#[test]
fn a_bill_of_our_own_agrees_in_every_row() {
    for sample in ["smallest", "rest-house", "clinic", "school", "textbook", "guest-house", "lined-pits"] {
        let text = fs::read_to_string(root().join(format!("samples/{sample}/job.toml"))).unwrap();
        assert!(read(&text, true).is_ok());
        let bill: Value =
            serde_json::from_str(&run(&format!("bill samples/{sample}/job.toml --format json")).out).unwrap();
        let mut list = String::from("Description,Unit,Quantity,Rate,Amount\n");
        let mut lines = 0;
        for section in bill["sections"].as_array().unwrap() {
            list.push_str(&format!("{},,,,\n", section["title"].as_str().unwrap().to_uppercase()));
            for row in section["rows"].as_array().unwrap() {
                let cell = |key: &str| row[key].as_str().unwrap_or_default().to_owned();
                let figures = [cell("unit"), cell("quantity"), cell("rate"), cell("amount")].join(",");
                list.push_str(&format!("\"{}\",{figures}\n", cell("description")));
                lines += 1;
            }
        }
        let report = crosschecked(&text, &list, None).unwrap();
        let differ: Vec<_> =
            report.rows.iter().filter(|r| !r.agrees).map(|r| (&r.text, r.ours, r.theirs)).collect();
        assert!(
            differ.is_empty() && report.unmatched.is_empty(),
            "{sample}: {differ:?} {:?}",
            report.unmatched
        );
        assert!(report.missing.is_empty(), "{sample}: {:?}", report.missing);
        assert_eq!(report.rows.iter().map(|r| r.lines.len()).sum::<usize>(), lines, "{sample}");
    }
}

/// Each line by itself: two specifications of a work never fall into one row.
#[test]
fn the_bill_of_a_random_job_agrees_line_by_line() {
    let mut rows = 0;
    for seed in 0..30 {
        let (wrong, of) = untouched(seed, if seed % 2 == 0 { "exact" } else { "east-africa" });
        assert!(wrong.is_empty(), "{wrong:#?}");
        rows += of;
    }
    assert!(rows > 500, "only {rows} rows");
}

/// The benchmark `planted` makes more of these; here a few, and the share that the issue asks for.
#[test]
fn what_is_planted_is_named() {
    let mut tally = Tally::default();
    for (seed, profile, many) in
        [(1, "exact", 1), (2, "east-africa", 1), (3, "exact", 2), (8, "east-africa", 2)]
    {
        plant(seed, profile, many, &mut tally);
    }
    let planted: usize = tally.by.values().map(|(n, _)| n).sum();
    let found: usize = tally.by.values().map(|(_, n)| n).sum();
    assert!(planted > 60, "only {planted} were planted");
    assert!(found * 100 >= planted * 95, "{found} of {planted}: {:#?}", tally.missed);
    assert_eq!(tally.listed.1, 0, "{:#?}", tally.missed);
}
