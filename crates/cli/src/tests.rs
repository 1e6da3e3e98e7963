//! The whole program over a disk in memory.

use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

use crate::fake::Fake;
use crate::files::{Files, Kind};
use crate::run;

const JOB: &str = include_str!("../../../samples/smallest/job.toml");
const PRICES: &str = include_str!("../../../rates/prices/demo-ugx.csv");

/// A run: exit code, standard output, standard error.
fn with(files: &dyn Files, line: &str) -> (i32, String, String) {
    let args: Vec<String> = std::iter::once("tankwright").chain(line.split(' ')).map(str::to_owned).collect();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = run(&args, &mut out, &mut err, files);
    (code, String::from_utf8_lossy(&out).into_owned(), String::from_utf8_lossy(&err).into_owned())
}

fn job(text: &str) -> Fake {
    Fake::with(&[("tank/job.toml", text)])
}

#[test]
fn help_and_a_wrong_command_line() {
    let files = Fake::default();
    let (code, out, err) = with(&files, "--help");
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.contains("Exit codes: 0 done"), "{out}");
    for line in [
        "",
        "measure",
        "estimate",
        "takeoff a --format xml",
        "bill a --date 2026-02-30",
        "rates a --blank b",
        "new a --sample b",
        "rules keys",
    ] {
        let (code, out, err) = with(&files, line);
        assert_eq!((code, out.as_str()), (2, ""), "{line}");
        assert!(!err.is_empty() && !err.contains('\u{1b}'), "{err}");
    }
}

#[test]
fn estimate_writes_the_workbook_and_the_same_one_again() {
    let files = job(JOB);
    let (code, out, err) = with(&files, "estimate tank/job.toml --out out");
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.contains("written: out/tank.xlsx"), "{out}");
    let first = files.get("out/tank.xlsx");
    assert!(first.as_ref().is_some_and(|b| b.starts_with(b"PK")));
    let (code, ..) = with(&files, "estimate tank/job.toml --out out");
    assert_eq!((code, files.get("out/tank.xlsx")), (0, first));
    assert!(out.contains("  out/orders/ ("), "{out}");
    // The job itself, the workbook, and a card at least for each stage with something to do.
    assert!(files.listing().len() > 2 + 3);
    assert!(files.get("out/orders/base.txt").is_some_and(|card| card.starts_with(b"Two rooms")));

    let (code, out, err) = with(&files, "estimate tank/job.toml");
    assert_eq!((code, err.as_str()), (0, "no files are written: --out names no folder\n"));
    assert!(!out.contains("written:"), "{out}");
}

#[test]
fn a_file_held_open_leaves_the_old_one() {
    let files = job(JOB);
    files.put("out/tank.xlsx", b"old");
    files.fail("rename out/tank.xlsx");
    let (code, out, err) = with(&files, "estimate tank/job.toml --out out");
    assert_eq!((code, out.as_str()), (6, ""));
    let expected = "error[F008]: `out/tank.xlsx` cannot be written: it fails\n\
        hint: nothing is written; choose another place with --out, or try again\n";
    assert_eq!(err, expected);
    assert_eq!(files.get("out/tank.xlsx"), Some(b"old".to_vec()));
    assert_eq!(files.listing().len(), 2);

    files.put("busy", b"");
    let (code, _, err) = with(&files, "estimate tank/job.toml --out busy");
    assert_eq!(code, 6);
    assert!(err.starts_with("error[F002]: `busy` is a file, not a folder\nhint: "), "{err}");
}

#[test]
fn job_and_price_list_are_refused_together() {
    let text = JOB.replace("demo-ugx", "my.csv").replace("width", "widht");
    let files = job(&text);
    files.put("tank/my.csv", PRICES.replace("work,backfill,", "wrok,backfill,").as_bytes());
    let (code, out, err) = with(&files, "bill tank/job.toml");
    assert_eq!((code, out.as_str()), (3, ""));
    for part in [
        "error[J004]: ",
        "  tank/job.toml:9:1\n9 | widht = \"1.20 m\"\n  | ^^^^^",
        "error[R006]: ",
        "  tank/my.csv:",
        " errors\n",
    ] {
        assert!(err.contains(part), "{part}\n{err}");
    }
}

#[test]
fn without_a_price_list() {
    let files = job(&JOB.replace("rates = \"demo-ugx\"\n", ""));
    let (code, out, err) = with(&files, "estimate tank/job.toml --out out");
    assert_eq!((code, out.as_str()), (4, ""));
    let expected = "error[R091]: prices are asked for, and no price list is named\n\
        \x20 tank/job.toml:2:1\n2 | [job]\n  | ^^^^^ no `rates` here\n\
        hint: write `rates = \"NAME\"` under [job], or give --rates; built in: demo-built, demo-inr, demo-kes, demo-ugx; \
        `tankwright rates --blank` writes an empty list\n";
    assert_eq!(err, expected);
    let (code, out, err) = with(&files, "takeoff tank/job.toml");
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.contains("excavation-pit"), "{out}");
    let (code, ..) = with(&files, "bill tank/job.toml --rates demo-ugx");
    assert_eq!(code, 0);
}

#[test]
fn price_lists_by_name_and_path() {
    let files = job(&JOB.replace("demo-ugx", "demo-ugs"));
    let (code, _, err) = with(&files, "bill tank/job.toml");
    let expected = "error[R090]: there is no built-in price list `demo-ugs`\n\
        \x20 tank/job.toml:6:9\n6 | rates = \"demo-ugs\"\n  |         ^^^^^^^^^^ not a built-in list\n\
        hint: built in: demo-built, demo-inr, demo-kes, demo-ugx; a file of your own has a name that ends in .csv or .xlsx\n";
    assert_eq!((code, err.as_str()), (4, expected));

    let (code, _, err) = with(&files, "bill tank/job.toml --rates prices.ods");
    assert_eq!(code, 4);
    assert!(err.contains("error[R092]: `prices.ods`: spreadsheet files of this kind are not read"), "{err}");

    // In the job file a path is relative to that file; on the command line, to the current folder.
    let files = job(&JOB.replace("demo-ugx", "mine.csv"));
    let (code, _, err) = with(&files, "bill tank/job.toml");
    assert_eq!(code, 6);
    assert!(err.starts_with("error[F001]: there is no file `tank/mine.csv`\n  tank/job.toml:6:9\n"), "{err}");
    files.put("tank/mine.csv", PRICES.as_bytes());
    assert_eq!(with(&files, "bill tank/job.toml").0, 0);
    assert_eq!(with(&files, "bill tank/job.toml --rates mine.csv").0, 6);
}

#[test]
fn a_takeoff_does_without_a_price_list_that_is_not_in_order() {
    let files = job(&JOB.replace("demo-ugx", "mine.csv"));
    let (code, out, err) = with(&files, "takeoff tank/job.toml --format json");
    assert_eq!(code, 0);
    assert!(out.starts_with('{'), "{out}");
    assert!(err.ends_with("\nthe price list is not used: this command does without prices\n"), "{err}");
    assert_eq!(with(&files, "takeoff tank/job.toml --rates mine.csv").0, 6);
}

#[test]
fn the_command_line_says_over_the_job_file() {
    let files = job(JOB);
    let (code, _, err) = with(&files, "takeoff tank/job.toml --profile exakt");
    let expected = "error[U001]: there is no measurement profile `exakt`\nhint: known: cesmm, east-africa, exact, is-1200, nrm2, smm7\n";
    assert_eq!((code, err.as_str()), (2, expected));
    let (code, out, _) = with(&files, "takeoff tank/job.toml --profile exact --date 2027-01-31");
    assert_eq!(code, 0);
    assert!(out.lines().next().is_some_and(|l| l.contains("2027-01-31   exact")), "{out}");
}

#[test]
fn odd_files_are_named_in_plain_words() {
    let files = Fake::with(&[
        ("jobs/a/job.toml", ""),
        ("crlf.toml", &format!("\u{feff}{}", JOB.replace('\n', "\r\n"))),
    ]);
    files.put("latin.toml", b"# caf\xe9\nformat = 1\n");
    files.put("wide.toml", b"\xff\xfef\0");
    files.put("book.toml", b"PK\x03\x04\xff");
    files.put("big.toml", &vec![b' '; 20_000_001]);
    for (file, code, message) in [
        ("none.toml", 6, "error[F001]: there is no file `none.toml`\n"),
        (
            "jobs/a",
            6,
            "error[F002]: `jobs/a` is a folder, not a file\nhint: name the file in it, as `jobs/a/job.toml`\n",
        ),
        (
            "latin.toml",
            6,
            "error[F004]: this is not UTF-8 text: byte 0xe9 in line 1\n  latin.toml:1\nhint: save it again with the encoding UTF-8\n",
        ),
        ("wide.toml", 6, "error[F004]: this text is UTF-16, not UTF-8\n"),
        ("book.toml", 6, "error[F004]: this is a spreadsheet or zip file, not text\n"),
        ("big.toml", 6, "error[F003]: `big.toml` is larger than 20 MB\n"),
        ("jobs/a/job.toml", 3, "error[J006]: "),
        ("crlf.toml", 0, ""),
    ] {
        let (got, _, err) = with(&files, &format!("takeoff {file}"));
        assert_eq!(got, code, "{err}");
        assert!(err.starts_with(message), "{err}");
    }
    let mut files = Fake::default();
    files.stdin = JOB.as_bytes().to_vec();
    assert_eq!(with(&files, "takeoff -").0, 0);
}

#[test]
fn explain_names_what_is_near() {
    let files = job(JOB);
    let (code, out, err) = with(&files, "explain tank/job.toml brickwork-wal");
    assert_eq!((code, out.as_str()), (2, ""));
    assert!(
        err.starts_with(
            "error[U002]: nothing in this job is called `brickwork-wal`\nhint: near it: brickwork-wall"
        ),
        "{err}"
    );
    let (code, out, err) = with(&files, "explain tank/job.toml capacity");
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(!out.is_empty());
}

#[test]
fn new_does_not_replace_a_file() {
    let files = job("mine");
    let (code, _, err) = with(&files, "new tank/job.toml");
    let expected = "error[F007]: `tank/job.toml` exists already\nhint: choose another name, or give --force to replace it\n";
    assert_eq!((code, err.as_str()), (6, expected));
    assert_eq!(files.get("tank/job.toml"), Some(b"mine".to_vec()));
    assert_eq!(with(&files, "new tank/job.toml --force --sample smallest").0, 0);
    let written = format!("#:schema ./job.schema.json\n{JOB}").into_bytes();
    assert_eq!(files.get("tank/job.toml"), Some(written));
    assert_eq!(files.get("tank/job.schema.json"), Some(crate::engine::schema().into_bytes()));
    // What is not ours stays.
    files.put("tank/job.schema.json", b"mine");
    assert_eq!(with(&files, "new tank/job.toml --force --sample clinic").0, 0);
    assert_eq!(files.get("tank/job.schema.json"), Some(b"mine".to_vec()));
    assert_eq!(with(&files, "new tank").0, 6);
    assert_eq!(with(&files, "new other.toml").0, 0);
    let (code, _, err) = with(&files, "takeoff other.toml");
    assert_eq!((code, err.as_str()), (0, ""));
    for sample in crate::commands::new::SAMPLE_NAMES {
        let (code, out, _) = with(&files, &format!("new - --sample {sample}"));
        assert_eq!(code, 0);
        files.put("sample.toml", out.as_bytes());
        let (code, _, err) = with(&files, "takeoff sample.toml");
        assert_eq!((code, err.as_str()), (0, ""), "{sample}");
    }
}

#[test]
fn rates_lists_checks_and_exports() {
    let files = job(JOB);
    let (code, out, err) = with(&files, "rates --format csv");
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.contains("price lists,demo-ugx,UGX,"), "{out}");

    files.put("good.csv", PRICES.as_bytes());
    files.put("bad.csv", PRICES.replace(",18000,", ",18-20 000,").as_bytes());
    let (code, out, err) = with(&files, "rates good.csv bad.csv none.csv demo-kes");
    assert_eq!(code, 4);
    assert!(out.contains("good.csv") && out.contains("demo-kes") && !out.contains("bad.csv"), "{out}");
    assert!(err.contains("error[R008]: ") && err.contains("error[F001]: "), "{err}");

    assert_eq!(with(&files, "rates --blank tank/job.toml").0, 0);

    let (code, out, _) = with(&files, "rates --export data");
    assert_eq!(code, 0);
    assert!(out.contains("data/profiles/exact.toml\n"), "{out}");
    assert_eq!(files.get("data/prices/demo-ugx.csv"), Some(PRICES.as_bytes().to_vec()));
    let (code, _, err) = with(&files, "rates --export data");
    assert_eq!(code, 6);
    assert!(err.contains("error[F007]: `data/README.md` exists already"), "{err}");
    assert_eq!(with(&files, "rates --export data --force").0, 0);
}

#[test]
fn rules_lists_what_is_known() {
    let files = Fake::default();
    let (code, out, err) = with(&files, "rules --format json");
    assert_eq!((code, err.as_str()), (0, ""));
    let json: serde_json::Value = serde_json::from_str(&out).unwrap_or_default();
    for list in ["profiles", "works", "stages", "soils", "units", "currencies", "checklist", "codes"] {
        assert!(json.get(list).and_then(|l| l.as_array()).is_some_and(|l| !l.is_empty()), "{list}");
    }
    let (_, out, _) = with(&files, "rules stages");
    assert!(out.starts_with("STAGES\n  stage        title\n  set-out "), "{out}");
    let (_, out, _) = with(&files, "rules --keys");
    assert!(out.lines().any(|l| l.starts_with("tank.width ")), "{out}");
    assert_eq!(with(&files, "rules --keys --format csv").0, 0);
}

#[test]
fn own_data_stand_over_the_built_in_ones() {
    let files = job(JOB);
    assert_eq!(with(&files, "rates --export mine").0, 0);
    let (code, out, err) = with(&files, "takeoff tank/job.toml --data mine");
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(!out.contains("own data"), "{out}");
    files.put("mine/soils.toml", concat!(include_str!("../../../rates/soils.toml"), "# mine\n").as_bytes());
    let (code, out, err) = with(&files, "takeoff tank/job.toml --data mine");
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.contains("own data: soil firm-clay"), "{out}");
    files.put("mine/prices/mine.csv", PRICES.as_bytes());
    assert_eq!(with(&files, "bill tank/job.toml --rates mine --data mine").0, 0);
    files.put("mine/soils.toml", b"[[soil]]\nid = 1\n");
    let (code, _, err) = with(&files, "rules soils --data mine");
    assert_eq!(code, 4);
    assert!(err.contains("  mine/soils.toml:2:6\n"), "{err}");
    let (code, _, err) = with(&files, "bill tank/job.toml --data none");
    assert_eq!(code, 6);
    assert!(err.starts_with("error[F001]: there is no folder `none`\nhint: "), "{err}");
}

struct Broken(ErrorKind);

impl Write for Broken {
    fn write(&mut self, _: &[u8]) -> io::Result<usize> {
        Err(self.0.into())
    }

    fn flush(&mut self) -> io::Result<()> {
        Err(self.0.into())
    }
}

#[test]
fn a_closed_pipe_is_no_error_and_a_full_disk_is_one() {
    let files = job(JOB);
    let args = ["tankwright", "takeoff", "tank/job.toml"].map(str::to_owned);
    let mut err = Vec::new();
    assert_eq!(run(&args, &mut Broken(ErrorKind::BrokenPipe), &mut err, &files), 0);
    assert!(err.is_empty());
    assert_eq!(run(&args, &mut Broken(ErrorKind::StorageFull), &mut err, &files), 6);
    assert!(err.starts_with(b"error[F009]: standard output cannot be written"));
    // Buffered, it shows only at the end.
    let mut out = io::BufWriter::with_capacity(1 << 20, Broken(ErrorKind::BrokenPipe));
    assert_eq!(run(&args, &mut out, &mut Vec::new(), &files), 0);
    let mut out = io::BufWriter::with_capacity(1 << 20, Broken(ErrorKind::StorageFull));
    assert_eq!(run(&args, &mut out, &mut Vec::new(), &files), 6);
    drop(out.into_parts());
    // Nobody listens to messages: the run goes on.
    let mut out = Vec::new();
    assert_eq!(run(&args, &mut out, &mut Broken(ErrorKind::BrokenPipe), &files), 0);
}

/// A disk that breaks the program.
struct Mad;

impl Files for Mad {
    #[expect(clippy::panic, reason = "the test is about panics")]
    fn read(&self, _: &Path, _: u64) -> io::Result<Vec<u8>> {
        panic!("the disk\nis mad")
    }
    fn read_stdin(&self, _: u64) -> io::Result<Vec<u8>> {
        Err(ErrorKind::Other.into())
    }
    fn kind(&self, _: &Path) -> Kind {
        Kind::File
    }
    fn target(&self, path: &Path) -> PathBuf {
        path.to_owned()
    }
    fn create(&self, _: &Path, _: &[u8]) -> io::Result<()> {
        Err(ErrorKind::Other.into())
    }
    fn rename(&self, _: &Path, _: &Path) -> io::Result<()> {
        Err(ErrorKind::Other.into())
    }
    fn keep(&self, _: &Path, _: &Path) -> io::Result<()> {
        Err(ErrorKind::Other.into())
    }
    fn append(&self, _: &Path, _: &[u8]) -> io::Result<()> {
        Err(ErrorKind::Other.into())
    }
    fn remove(&self, _: &Path) -> io::Result<()> {
        Err(ErrorKind::Other.into())
    }
    fn folders(&self, _: &Path) -> io::Result<Vec<String>> {
        Err(ErrorKind::Other.into())
    }
    fn make_folder(&self, _: &Path) -> io::Result<()> {
        Err(ErrorKind::Other.into())
    }
    fn remove_folder(&self, _: &Path) -> io::Result<()> {
        Err(ErrorKind::Other.into())
    }
    fn list(&self, _: &Path) -> io::Result<Vec<String>> {
        Err(ErrorKind::Other.into())
    }
    fn absolute(&self, path: &Path) -> PathBuf {
        path.to_owned()
    }
}

#[test]
fn a_panic_is_a_fault_of_the_program() {
    let (code, out, err) = with(&Mad, "takeoff job.toml");
    let expected =
        "error: fault of the program: the disk is mad\nhint: please report it, with the job file\n";
    assert_eq!((code, out.as_str(), err.as_str()), (1, "", expected));
}

#[test]
fn the_disk_itself() -> io::Result<()> {
    let folder = std::env::temp_dir().join(format!("tankwright-test-{}", std::process::id()));
    std::fs::create_dir_all(&folder)?;
    std::fs::write(folder.join("job.toml"), JOB)?;
    let name = folder.display().to_string();
    let line = format!("estimate {name}/job.toml --out {name}/deep/er");
    let (code, ..) = with(&crate::files::Disk, &line);
    let (again, ..) = with(&crate::files::Disk, &line);
    let left: Vec<_> = std::fs::read_dir(folder.join("deep/er"))?.flatten().map(|e| e.file_name()).collect();
    let (export, ..) = with(&crate::files::Disk, &format!("rates --export {name}/data"));
    let (forced, ..) = with(&crate::files::Disk, &format!("rates --export {name}/data --force"));
    let beside = |e: &std::fs::DirEntry| e.file_name().to_string_lossy().starts_with('.');
    let data = std::fs::read_dir(folder.join("data"))?.flatten().filter(beside).count();
    std::fs::remove_dir_all(&folder)?;
    // The workbook, the orders, the drawings.
    assert_eq!((code, again, left.len(), export, forced, data), (0, 0, 3, 0, 0, 0));
    Ok(())
}
