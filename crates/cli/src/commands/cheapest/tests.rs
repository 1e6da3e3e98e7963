//! The search over a disk in memory.

use serde_json::Value;

use crate::fake::Fake;

const JOB: &str = "format = 1
[job]
title = \"Two rooms behind the shop (invented)\"
date = \"2026-11-25\"
currency = \"UGX\"
rates = \"demo-ugx\"
[sizing]
rule = \"uk-150p\"
persons = 5
[cheapest]
step = \"100 mm\"  # coarse
width = \"1.1 m..1.2 m\"
[tank]
chambers = [\"1.60 m\", \"0.80 m\"]  # from the inlet
width = \"1.20 m\"
height = \"1.50 m\"
[tank.partitions]
opening = { width = \"200 mm\", height = \"200 mm\", below_top = \"700 mm\" }
[tank.pipes]
inlet = { diameter = \"110 mm\", below_top = \"250 mm\" }
outlet = { diameter = \"110 mm\", below_top = \"300 mm\" }
";

const NARROW: [&str; 4] = ["--length", "2.2 m..2.4 m", "--depth", "1.5 m"];

fn cheapest(files: &Fake, args: &[&str]) -> (i32, String, String) {
    let all = ["tankwright", "cheapest", "job.toml"].into_iter().chain(args.iter().copied());
    let args: Vec<String> = all.map(str::to_owned).collect();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = crate::run(&args, &mut out, &mut err, files);
    (code, String::from_utf8_lossy(&out).into_owned(), String::from_utf8_lossy(&err).into_owned())
}

fn of(job: &str, args: &[&str]) -> (i32, String, String) {
    cheapest(&Fake::with(&[("job.toml", job)]), args)
}

/// The codes of the errors in a message, in order.
fn codes(message: &str) -> Vec<&str> {
    message.split("error[").skip(1).filter_map(|rest| rest.get(..4)).collect()
}

#[test]
fn the_paper_tells_what_was_searched_found_and_lost() {
    let (code, out, err) = of(JOB, &NARROW);
    assert_eq!(code, 0, "{err}");
    assert!(out.lines().all(|l| l.chars().count() <= 100), "{out}");
    for line in [
        "by uk-150p, which asks for 2 750 l to the water line",
        "  length, all chambers  2.20 m to 2.40 m, 3 values (command line)",
        "  width                 1.10 m, 1.20 m (job file)",
        "  step                  100 mm (job file)",
        "  cover                 150 mm (default: as drawn)",
        "what each limit costs",
        "  width at least 1.10 m                 at 1.00 m",
    ] {
        assert!(out.contains(line), "{line}\n{out}");
    }
    assert!(out.contains("6 candidates: ") && out.contains("Local code and a licensed designer"), "{out}");
    assert!(err.starts_with("6 candidates, and "), "{err}");
}

#[test]
fn json_and_csv_hold_the_same_tanks() {
    let (code, out, _) = of(JOB, &[&NARROW[..], &["--format", "json", "--top", "2"]].concat());
    let v: Value = serde_json::from_str(&out).unwrap_or_default();
    assert_eq!((code, v.get("format")), (0, Some(&Value::from(1))));
    let best = v.get("best").and_then(Value::as_array).cloned().unwrap_or_default();
    assert_eq!(best.len(), 2);
    for tank in &best {
        for field in ["total", "width", "height", "plan_area", "job"] {
            assert!(tank.get(field).is_some_and(Value::is_string), "{field} {tank}");
        }
        assert!(tank.get("chambers").is_some_and(Value::is_array), "{tank}");
    }
    let number = |pointer: &str| v.pointer(pointer).and_then(Value::as_u64).unwrap_or(0);
    let parts = ["/candidates_priced", "/candidates_not_complying", "/candidates_refused"].map(number);
    assert_eq!((number("/candidates"), parts.iter().sum::<u64>()), (6, 6));
    assert!(v.get("seconds").is_some_and(Value::is_string) && v.pointer("/frontier/0/total").is_some());
    assert!(v.pointer("/frontier/0/job").is_none() && v.pointer("/bounds/0/limit").is_some());

    let (_, csv, _) = of(JOB, &[&NARROW[..], &["--format", "csv", "--top", "2"]].concat());
    let rows: Vec<Vec<&str>> = csv.lines().map(|l| l.split(',').collect()).collect();
    let totals: Vec<&str> = rows.iter().filter(|r| r[0] == "best").map(|r| r[3]).collect();
    let want: Vec<&str> = best.iter().filter_map(|t| t.get("total")?.as_str()).collect();
    assert_eq!(totals, want);
}

#[test]
fn the_chosen_tank_is_the_users_own_file_with_other_values() {
    let files = Fake::with(&[("job.toml", JOB)]);
    let args = [&NARROW[..], &["--out", "my/best.toml", "--pick", "2", "--format", "json"]].concat();
    let (code, out, err) = cheapest(&files, &args);
    assert_eq!(code, 0, "{err}");
    assert!(
        err.ends_with("my/best.toml is written; next: tankwright estimate my/best.toml --out out\n"),
        "{err}"
    );
    let text = String::from_utf8(files.get("my/best.toml").unwrap_or_default()).unwrap_or_default();
    let v: Value = serde_json::from_str(&out).unwrap_or_default();
    assert_eq!(v.pointer("/best/1/job").and_then(Value::as_str), Some(text.as_str()));
    let changed = JOB.lines().zip(text.lines()).filter(|(a, b)| a != b).count();
    assert!((1..=3).contains(&changed) && text.contains("# from the inlet"), "{text}");
    let bill = ["tankwright", "bill", "my/best.toml", "--format", "json"].map(str::to_owned);
    let mut out = Vec::new();
    assert_eq!(crate::run(&bill, &mut out, &mut Vec::new(), &files), 0);
    let bill: Value = serde_json::from_slice(&out).unwrap_or_default();
    assert_eq!(bill.get("total"), v.pointer("/best/1/total"));
    let (code, _, err) = cheapest(&files, &args);
    assert_eq!((code, codes(&err)), (6, vec!["F007"]));
}

#[test]
fn the_rule_of_the_command_line_is_written_into_the_file() {
    let none = JOB.replace("rule = \"uk-150p\"\n", "");
    let files = Fake::with(&[("job.toml", &none)]);
    assert_eq!(codes(&cheapest(&files, &NARROW).2), ["U043"]);
    let (code, _, err) = cheapest(&files, &[&NARROW[..], &["--rule", "uk-150p", "--out", "a.toml"]].concat());
    assert_eq!(code, 0, "{err}");
    let text = String::from_utf8(files.get("a.toml").unwrap_or_default()).unwrap_or_default();
    assert!(text.contains("[sizing]\nrule = \"uk-150p\"\npersons = 5\n"), "{text}");
}

#[test]
fn nonsense_is_refused_all_at_once() {
    let args = ["--length", "long", "--width", "2 m..1 m", "--step", "0 mm", "--rule", "xx", "--units", "b"];
    let (code, out, err) = of(JOB, &args);
    assert_eq!((code, out.as_str()), (2, ""));
    let mut told = codes(&err);
    told.sort_unstable();
    assert_eq!(told, ["U040", "U050", "U051", "U052", "U054"]);
    assert_eq!(err.matches("hint: ").count(), 5, "{err}");
    let dry = JOB.replace("outlet = { diameter = \"110 mm\", below_top = \"300 mm\" }\n", "");
    assert_eq!(codes(&of(&dry, &["--chambers", "9"]).2), ["U053", "U058"]);
}

#[test]
fn what_the_search_cannot_do_without_is_asked_for() {
    let (code, _, err) = of(&JOB.replace("rates = \"demo-ugx\"\n", ""), &NARROW);
    assert_eq!((code, codes(&err)), (4, vec!["R091"]));
    let (code, _, err) = of(&JOB.replace("[sizing]\nrule = \"uk-150p\"\npersons = 5\n", ""), &NARROW);
    assert_eq!((code, codes(&err)), (2, vec!["U043"]));
    assert_eq!(codes(&of(JOB, &["--rule", "ms-1228"]).2), ["U044"]);
    assert_eq!(codes(&of(JOB, &["--rule", "us-bedrooms"]).2), ["U041"]);
    let (code, _, err) = of(JOB, &["--length", "1 m..90 m", "--step", "1 mm"]);
    assert_eq!((code, codes(&err)), (2, vec!["U057"]));
    assert_eq!(of(JOB, &["--pick", "2"]).0, 2);
}

#[test]
fn where_nothing_complies_the_paper_says_why_and_nothing_is_written() {
    let files = Fake::with(&[("job.toml", JOB)]);
    let (code, out, err) = cheapest(&files, &["--length", "1.2 m", "--depth", "1 m", "--out", "a.toml"]);
    assert_eq!((code, codes(&err)), (2, vec!["U058"]), "{err}");
    assert!(out.contains("No candidate complies.") && out.contains("  capacity "), "{out}");
    assert_eq!(files.listing().len(), 1);
}

#[test]
fn a_place_too_near_is_told_before_the_search() {
    let near =
        JOB.replace("[tank]\n", "[site]\nhouse = \"6 m\"\n[tank]\n").replace("uk-150p", "bs-6297-1983");
    let (code, out, err) = of(&near, &NARROW);
    assert_eq!((code, out.as_str(), codes(&err)), (2, "", vec!["U058"]), "{err}");
    for line in [
        "no tank can comply with bs-6297-1983: distance to building 6 m, at least 7 m asked",
        "job.toml:14:9\n14 | house = \"6 m\"\n   |         ^^^^^ of the place",
    ] {
        assert!(err.contains(line), "{line}\n{err}");
    }
    let (code, _, err) = of(&near.replace("6 m", "7 m"), &NARROW);
    assert_eq!(code, 0, "{err}");
}
