//! Bars, materials, orders and the files for the site, over a disk in memory.

use serde_json::Value;

use crate::fake::Fake;
use crate::run;

const JOB: &str = include_str!("../../../samples/smallest/job.toml");
const FULL: &str = include_str!("../../../samples/rest-house/job.toml");

fn with(files: &Fake, line: &str) -> (i32, String, String) {
    let args: Vec<String> = std::iter::once("tankwright").chain(line.split(' ')).map(str::to_owned).collect();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = run(&args, &mut out, &mut err, files);
    (code, String::from_utf8_lossy(&out).into_owned(), String::from_utf8_lossy(&err).into_owned())
}

fn job(text: &str) -> Fake {
    Fake::with(&[("job.toml", text)])
}

#[test]
fn materials_and_bars_need_no_price_list() {
    for text in [JOB.replace("rates = \"demo-ugx\"\n", ""), FULL.replace("demo-ugx", "nowhere.csv")] {
        let files = job(&text);
        for verb in ["materials", "bars"] {
            for format in ["text", "json", "csv"] {
                let (code, out, err) = with(&files, &format!("{verb} job.toml --format {format}"));
                assert_eq!((code, err.as_str()), (0, ""), "{verb} {format}");
                assert!(!out.is_empty() && out.lines().all(|l| format != "text" || l.chars().count() <= 100));
            }
        }
        let (code, out, _) = with(&files, "orders job.toml");
        assert!(code == 0 && out.contains("orders by stage"), "{out}");
    }
}

#[test]
fn json_has_the_agreed_lists() -> serde_json::Result<()> {
    let files = job(FULL);
    for (verb, lists) in
        [("materials", &["rows"][..]), ("bars", &["marks", "cutting"]), ("orders", &["stages", "totals"])]
    {
        let (code, out, _) = with(&files, &format!("{verb} job.toml --format json"));
        let json: Value = serde_json::from_str(&out)?;
        assert_eq!((code, &json["format"]), (0, &Value::from(1)), "{verb}");
        assert!(lists.iter().all(|l| json[*l].is_array()), "{verb}");
    }
    Ok(())
}

#[test]
fn the_card_of_a_stage_and_a_stage_that_is_not_there() {
    let files = job(FULL);
    let (code, out, err) = with(&files, "orders job.toml --stage base");
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.contains("stage card: BASE") && out.contains("measure, count and write down"), "{out}");
    for format in ["text", "json", "csv"] {
        let (code, out, err) = with(&files, &format!("orders job.toml --stage roof --format {format}"));
        assert_eq!((code, out.as_str()), (2, ""));
        let start = "error[U007]: this job has no stage `roof`\nhint: its stages: ";
        assert!(err.starts_with(start) && err.contains(", base, walls-lower, "), "{err}");
    }
    // A stage of the list that this job does not have.
    let (code, _, err) = with(&job(JOB), "orders job.toml --stage soak-pit");
    assert!(code == 2 && err.contains("U007"), "{err}");
}

#[test]
fn nonsense_is_a_wrong_command_line() {
    let files = job(JOB);
    for line in [
        "materials",
        "bars job.toml more",
        "orders job.toml --stage",
        "orders job.toml --stage=",
        "materials job.toml --stage base",
        "bars job.toml --format pdf",
        "materials job.toml --date tomorrow",
        "bars job.toml --profile nobodys",
        "store job.toml",
        "store job.toml a.csv b.csv",
    ] {
        let (code, out, err) = with(&files, line);
        assert_eq!((code, out.as_str()), (2, ""), "{line}");
        assert!(!err.is_empty() && !err.contains('\u{1b}'), "{line} {err}");
    }
    assert_eq!(with(&files, "bars nowhere.toml").0, 6);
    assert_eq!(with(&files, "store job.toml nowhere.csv").0, 6);
    assert_eq!(with(&job("format = 1\n"), "materials job.toml").0, 3);
}

#[test]
fn files_for_the_site_all_or_none() {
    let files = job(FULL);
    let (code, out, err) = with(&files, "estimate job.toml --out out");
    assert_eq!((code, err.as_str()), (0, ""));
    let (_, card, _) = with(&files, "orders job.toml --stage base");
    assert_eq!(files.get("out/orders/base.txt"), Some(card.into_bytes()));
    let cards = files.listing().iter().filter(|f| f.starts_with("out/orders/")).count();
    assert!(out.contains(&format!("out/orders/ ({cards} files)")), "{out}");
    assert_eq!(out.contains("out/calendar.ics"), files.get("out/calendar.ics").is_some());

    // What an earlier run left is not of this one.
    files.put("out/orders/roof.txt", b"old");
    let (_, _, err) = with(&files, "estimate job.toml --out out");
    assert_eq!(err, "out/orders/roof.txt is of an earlier run, this one has no such file\n");

    let files = job(FULL);
    files.fail("rename out/orders/base.txt");
    let (code, out, err) = with(&files, "estimate job.toml --out out");
    assert_eq!((code, out.as_str(), files.listing().len()), (6, "", 1));
    assert!(err.starts_with("error[F008]: `out/orders/base.txt` cannot be written"), "{err}");
    files.put("out/orders", b"a file");
    let (code, _, err) = with(&files, "estimate job.toml --out out");
    assert!(code == 6 && err.starts_with("error[F002]: `out/orders` is a file"), "{err}");
}

#[test]
fn a_calendar_where_there_is_a_first_day() {
    let files = job(FULL);
    with(&files, "estimate job.toml --out out");
    let text = files.get("out/calendar.ics").unwrap_or_default();
    assert!(text.starts_with(b"BEGIN:VCALENDAR\r\n") && text.ends_with(b"END:VCALENDAR\r\n"));
    // Without a first day nothing has a date: then no file is better than an empty one.
    let files = job(&FULL.replace("start = \"2026-12-01\"", ""));
    with(&files, "estimate job.toml --out out");
    assert_eq!(files.get("out/calendar.ics"), None);
}

#[test]
fn the_account_of_a_store() -> serde_json::Result<()> {
    let files = job(FULL);
    let list = "date,material,quantity,pack,rejected,counted,stage\n\
        2026-12-09,cement,9,50 kg,1,,\n2026-12-12,cement,,kg,,10,base\n";
    files.put("received.csv", list.as_bytes());
    let (code, out, err) = with(&files, "store job.toml received.csv");
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.contains("to look into") && out.lines().all(|l| l.chars().count() <= 100), "{out}");
    let (_, out, _) = with(&files, "store job.toml received.csv --format json");
    let json: Value = serde_json::from_str(&out)?;
    let rows = json["rows"].as_array().into_iter().flatten();
    let row = rows.filter(|r| r["material"] == "cement" && r["stage"] == "base").collect::<Vec<_>>();
    assert_eq!((&row[0]["received"], &row[0]["rejected"]), (&Value::from("450"), &Value::from("50")));
    let (_, out, _) = with(&files, "store job.toml received.csv --format csv");
    assert!(out.starts_with("stage,material,") && out.contains("\r\nbase,cement,"), "{out}");

    // Two materials have the word that the list uses: both are named as the card has them.
    files.put("sand.csv", b"date,material,quantity\n2026-12-09,sand,9\n");
    let (code, _, err) = with(&files, "store job.toml sand.csv");
    assert!(code == 3 && err.contains("hint: say which: building sand, plaster sand\n"), "{err}");

    files.put("bad.csv", b"date,material,quantity\n2026-12-09,gravel,9\n");
    let (code, out, err) = with(&files, "store job.toml bad.csv");
    assert_eq!((code, out.as_str()), (3, ""));
    assert!(err.starts_with("error[S006]: ") && err.contains("  bad.csv:2:"), "{err}");
    Ok(())
}
