//! The whole of `batch` over a disk in memory: rows, messages, threads, stops and goings-on.

use crate::fake::Fake;

const JOB: &str = "format = 1\n[job]\ntitle = \"Small\"\ndate = \"2026-11-25\"\ncurrency = \"UGX\"\nrates = \"demo-ugx\"\n\
    [tank]\nchambers = [\"1.60 m\", \"0.80 m\"] # inlet first\nwidth = \"1.20 m\"\nheight = \"1.50 m\"\n";
const SITES: &str = "site,tank.width,tank.chambers,#note,job.title\r\n\
    \"Hill, upper\",1.30 m,,steep,\r\n=evil,1.3,1.80 m; 0.90 m,,Evil\r\nValley,,\"[\"\"2 m\"\", \"\"1 m\"\"]\",,\r\n\
    Gap,-,,,\r\nRiver,1400,2.40 m,,River\r\n";

fn batch(files: &Fake, args: &[&str]) -> (i32, String, String) {
    let all = ["tankwright", "batch"].into_iter().chain(args.iter().copied());
    let args: Vec<String> = all.map(str::to_owned).collect();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = crate::run(&args, &mut out, &mut err, files);
    (code, String::from_utf8_lossy(&out).into_owned(), String::from_utf8_lossy(&err).into_owned())
}

fn disk() -> Fake {
    Fake::with(&[("job.toml", JOB), ("sites.csv", SITES)])
}

fn text(files: &Fake, path: &str) -> String {
    files.get(path).map(|b| String::from_utf8_lossy(&b).into_owned()).unwrap_or_default()
}

const GIVEN: [&str; 5] = ["sites.csv", "--base", "job.toml", "--out", "out"];

fn more(with: &[&'static str]) -> Vec<&'static str> {
    GIVEN.iter().chain(with).copied().collect()
}

/// Row and column of the results.
fn cell(files: &Fake, row: usize, column: &str) -> String {
    let results = text(files, "out/results.csv");
    let mut csv = csv::Reader::from_reader(results.as_bytes());
    let at = csv.headers().ok().and_then(|h| h.iter().position(|c| c == column));
    let row = csv.records().flatten().nth(row);
    row.zip(at).and_then(|(r, at)| r.get(at).map(str::to_owned)).unwrap_or_default()
}

#[test]
fn each_row_is_what_a_job_file_by_itself_would_give() {
    let files = disk();
    let (code, out, err) = batch(&files, &GIVEN);
    assert_eq!((code, out.as_str()), (3, ""), "{err}");
    assert!(err.contains("5 jobs: 3 estimated; 2 refused\n  2  =evil  J011\n  4  Gap  J006\n"), "{err}");
    let alone = [
        ("Hill, upper", JOB.replace("1.20 m", "1.30 m")),
        ("Valley", JOB.replace("[\"1.60 m\", \"0.80 m\"]", "[\"2 m\", \"1 m\"]")),
        ("River", JOB.replace("\"1.20 m\"", "1400").replace("[\"1.60 m\", \"0.80 m\"]", "[\"2.40 m\"]")),
    ];
    for (n, (site, job)) in [0, 2, 4].into_iter().zip(alone) {
        files.put("alone/job.toml", job.as_bytes());
        assert_eq!(batch(&files, &["alone", "--out", "one", "--force"]).0, 0);
        let line = text(&files, "one/results.csv").lines().nth(1).map(str::to_owned).unwrap_or_default();
        let figures = |line: &str| line.split(",UGX,").nth(1).map(str::to_owned);
        let ours = text(&files, "out/results.csv").lines().nth(n + 1).map(str::to_owned).unwrap_or_default();
        assert!(figures(&line).is_some_and(|f| f.len() > 30), "{line}");
        assert_eq!(figures(&ours), figures(&line), "{site}");
        assert_eq!(cell(&files, n, "site"), site);
    }
    assert_eq!(cell(&files, 1, "site"), "'=evil");
    assert_eq!((cell(&files, 1, "exit"), cell(&files, 4, "title")), ("3".to_owned(), "River".to_owned()));
    let messages = text(&files, "out/messages.txt");
    assert!(messages.starts_with("=== 2 =evil\njob.toml as sites.csv:3 changes it\nerror[J011]: tank.width: a length needs its unit\n  job.toml:9:9\n9 | width = \"1.3\"\n"), "{messages}");
    assert!(files.get("out/unfinished.txt").is_none());
}

#[test]
fn one_thread_or_many_write_the_same_bytes() {
    let rows: String = (0..60).map(|n| format!("s{n},{} mm\r\n", 1000 + n * 9 % 7 * 100)).collect();
    let files = Fake::with(&[("job.toml", JOB), ("sites.csv", &format!("site,tank.width\r\n{rows}"))]);
    let all = |threads| {
        assert_eq!(batch(&files, &more(&["--force", "--threads", threads])).0, 0);
        (text(&files, "out/results.csv"), text(&files, "out/messages.txt"))
    };
    let one = all("1");
    assert_eq!(one.0.lines().count(), 61);
    assert_eq!(all("2"), one);
    assert_eq!(all("9"), one);
}

#[test]
fn a_batch_that_was_stopped_goes_on() {
    let whole = disk();
    assert_eq!(batch(&whole, &more(&["--workbooks"])).0, 3);
    let (results, messages) = (text(&whole, "out/results.csv"), text(&whole, "out/messages.txt"));
    // Stopped by a disk that takes no more; then killed at any byte of either file.
    let full = disk();
    full.fail("append out/results.csv");
    let (code, _, err) = batch(&full, &more(&["--workbooks"]));
    assert!(code == 6 && err.contains("--resume goes on"), "{err}");
    let state = text(&full, "out/unfinished.txt");
    for at in (text(&full, "out/results.csv").len()..=results.len()).step_by(97) {
        let files = disk();
        let rows = results[..at].matches("\r\n").count();
        let said = messages.find(&format!("=== {}", rows + 2)).unwrap_or(messages.len());
        files.put("out/results.csv", &results.as_bytes()[..at]);
        files.put("out/messages.txt", &messages.as_bytes()[..said.min(messages.len())]);
        files.put("out/unfinished.txt", state.as_bytes());
        files.put("out/workbooks/.3-Valley.xlsx.new0", b"half");
        let (code, _, err) = batch(&files, &more(&["--workbooks"]));
        assert!(code == 6 && err.starts_with("error[U086]"), "{err}");
        let (code, _, err) = batch(&files, &more(&["--workbooks", "--resume"]));
        assert_eq!(code, 3, "{err}");
        assert!(err.contains("5 jobs: 3 estimated; 2 refused\n  2  "), "{err}");
        assert_eq!(text(&files, "out/results.csv"), results, "{at}");
        assert_eq!(text(&files, "out/messages.txt"), messages, "{at}");
        assert!(
            files.get("out/unfinished.txt").is_none()
                && files.get("out/workbooks/.3-Valley.xlsx.new0").is_none()
        );
    }
    assert_eq!(whole.listing().iter().filter(|f| f.starts_with("out/workbooks/")).count(), 3);
    assert_eq!(cell(&whole, 0, "workbook"), "workbooks/1-Hill-upper.xlsx");
    let (code, _, err) = batch(&whole, &more(&["--workbooks", "--resume"]));
    assert_eq!((code, err.as_str()), (0, "the batch in out is at its end: there is nothing to resume\n"));
    assert!(batch(&whole, &GIVEN).2.starts_with("error[F007]"));
}

#[test]
fn nothing_is_resumed_that_has_changed() {
    let prices =
        "kind,code,description,unit,rate,currency,date,source\nwork,hardcore,,m3,1,UGX,2026-10-01,me\n";
    let stopped = || {
        let files = disk();
        files.put("job.toml", JOB.replace("demo-ugx", "mine.csv").as_bytes());
        files.put("mine.csv", prices.as_bytes());
        files.fail("append out/results.csv");
        assert_eq!(batch(&files, &more(&["--threads", "1"])).0, 6);
        files
    };
    let changes: [(&str, &str, &str, &[&str]); 4] = [
        ("sites.csv", "Gap", "job files, base or sites", &[]),
        ("job.toml", "inlet", "job files, base or sites", &[]),
        ("mine.csv", ",1,", "price list mine.csv", &[]),
        ("mine.csv", "never", "--date", &["--date", "2026-12-01"]),
    ];
    for (file, part, what, with) in changes {
        let files = stopped();
        let old = text(&files, file);
        files.put(file, old.replace(part, &part.replace(['a', 'i', '1'], "2")).as_bytes());
        let all: Vec<&str> = GIVEN.iter().copied().chain(["--resume"]).chain(with.iter().copied()).collect();
        let (code, _, err) = batch(&files, &all);
        assert!(
            code == 2 && err.starts_with("error[U087]") && err.contains(&format!("changed: {what}")),
            "{err}"
        );
    }
}

#[test]
fn what_no_batch_can_be_made_of_is_told_at_once() {
    let files = disk();
    files.put("odd.csv", b"site,width,tank.width,tank.width,tank\na,1\n");
    files.put("empty.csv", b"site,tank.width\n");
    files.put("some/where/else.txt", b"");
    let told = |args: &[&str]| {
        let (code, out, err) = batch(&files, args);
        let codes: Vec<_> = err.split("error[").skip(1).map(|t| t[..4].to_owned()).collect();
        (code, out, codes.join(" "), err)
    };
    let (code, _, codes, err) = told(&["odd.csv", "--base", "job.toml", "--out", "out"]);
    assert_eq!((code, codes.as_str()), (3, "U084 U082 U084 U083"), "{err}");
    assert!(err.contains("did you mean \"tank.width\"?"), "{err}");
    for (args, want) in [
        (&["empty.csv", "--base", "job.toml", "--out", "out"][..], (3, "U081")),
        (&["some", "--out", "out"], (6, "U081")),
        (&["sites.csv", "--out", "out"], (2, "U080")),
        (&["some", "--base", "job.toml", "--out", "out"], (2, "U080")),
        (&["none.csv", "--base", "job.toml", "--out", "out"], (6, "F001")),
        (&["sites.csv", "--base", "job.toml", "--out", "out", "--profile", "nobodys"], (2, "U001")),
    ] {
        let (code, _, codes, err) = told(args);
        assert_eq!((code, codes.as_str()), want, "{err}");
    }
    assert!(files.get("out/results.csv").is_none());
}

#[test]
fn a_value_without_a_place_is_told_by_its_cell() {
    let files = disk();
    files.put("job.toml", format!("{JOB}walls.mortar = \"1:4\"\n").as_bytes());
    files.put("sites.csv", b"site,tank.walls.unit\nA,brick-220x105x65\nB,\n");
    let (code, _, err) = batch(&files, &GIVEN);
    assert_eq!(code, 3, "{err}");
    let messages = text(&files, "out/messages.txt");
    assert!(
        messages.contains("error[U085]") && messages.contains("sites.csv:2:3\n2 | A,brick-220x105x65\n"),
        "{messages}"
    );
    assert_eq!((cell(&files, 0, "problems"), cell(&files, 1, "exit")), ("U085".to_owned(), "0".to_owned()));
}

#[test]
fn a_folder_gives_its_files_and_those_of_its_folders() {
    let bad = JOB.replace("width", "widht");
    let files = Fake::with(&[
        ("jobs/b.toml", JOB),
        ("jobs/a/job.toml", &bad),
        ("jobs/a/other.toml", JOB),
        ("jobs/deep/er/job.toml", JOB),
        ("jobs/.c.toml", JOB),
        ("jobs/notes.txt", ""),
    ]);
    files.put("jobs/z.toml", b"\xff\xfef");
    let (code, _, err) = batch(&files, &["jobs", "--out", "out"]);
    assert_eq!(code, 6, "{err}");
    let seen: Vec<_> = (0..4).map(|n| (cell(&files, n, "job"), cell(&files, n, "exit"))).collect();
    let want = [("jobs/a/job.toml", "3"), ("jobs/b.toml", "0"), ("jobs/z.toml", "6"), ("", "")];
    assert_eq!(seen, want.map(|(a, b)| (a.to_owned(), b.to_owned())));
}
