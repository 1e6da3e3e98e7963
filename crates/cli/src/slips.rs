//! Slips of the hand at the command line, over a disk in memory.

use crate::fake::Fake;
use crate::run;

const JOB: &str = include_str!("../../../samples/smallest/job.toml");

fn with(files: &Fake, args: &[&str]) -> (i32, String, String) {
    let args: Vec<String> = std::iter::once(&"tankwright").chain(args).map(|a| (*a).to_owned()).collect();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = run(&args, &mut out, &mut err, files);
    (code, String::from_utf8_lossy(&out).into_owned(), String::from_utf8_lossy(&err).into_owned())
}

#[test]
fn new_makes_the_folder_and_quotes_what_a_shell_would_part() {
    let files = Fake::default();
    let (code, _, err) = with(&files, &["new", "my tank/job.toml"]);
    assert_eq!(code, 0, "{err}");
    assert!(err.ends_with("next: tankwright estimate \"my tank/job.toml\" --out out\n"), "{err}");
    assert!(files.get("my tank/job.toml").is_some());
    let (code, _, err) = with(&files, &["new", "my tank/job.toml/deeper.toml"]);
    assert_eq!((code, err.starts_with("error[F002]")), (6, true), "{err}");
}

#[test]
fn an_empty_name_is_never_the_current_folder() {
    let files = Fake::with(&[("job.toml", JOB)]);
    for args in [
        &["estimate", "job.toml", "--out", ""][..],
        &["estimate", "job.toml", "--out", " "],
        &["estimate", ""],
        &["bill", "job.toml", "--rates", ""],
        &["bill", "job.toml", "--profile", ""],
        &["rates", "--export", ""],
        &["new", ""],
    ] {
        let (code, out, err) = with(&files, args);
        assert_eq!((code, out.as_str()), (2, ""), "{args:?} {err}");
        assert!(err.contains("it is empty"), "{err}");
    }
    assert_eq!(files.listing().len(), 1);
}

#[test]
fn a_workbook_that_somebody_changed_is_not_replaced_without_a_word() {
    let files = Fake::with(&[("tank/job.toml", JOB), ("out/tank.xlsx", "changed by hand")]);
    let args = ["estimate", "tank/job.toml", "--out", "out"];
    let (code, _, err) = with(&files, &args);
    assert_eq!((code, err.as_str()), (0, "out/tank.xlsx stood there with other contents and is replaced\n"));
    let (code, _, err) = with(&files, &args);
    assert_eq!((code, err.as_str()), (0, ""));
}

#[test]
fn a_bill_with_old_prices_is_cautioned_beside_it() {
    let files = Fake::with(&[("job.toml", JOB)]);
    let (code, out, err) = with(&files, &["bill", "job.toml", "--date", "2027-11-25"]);
    assert_eq!(code, 0);
    assert!(err.contains("caution[R045]") && !out.contains("R045"), "{err}");
    let (_, _, err) = with(&files, &["bill", "job.toml"]);
    assert_eq!(err, "");
}

#[test]
fn a_section_is_called_by_its_letter() {
    let files = Fake::with(&[("job.toml", JOB)]);
    let (code, by_letter, _) = with(&files, &["explain", "job.toml", "b"]);
    let (_, by_name, _) = with(&files, &["explain", "job.toml", "concrete"]);
    assert_eq!((code, by_letter), (0, by_name));
}

#[test]
fn the_keys_say_what_holds_without_them() {
    let (_, out, _) = with(&Fake::default(), &["rules", "--keys"]);
    let says = "tank.partitions.thickness - thickness; left out: as the walls\n    length, 50 mm to 100 m; left out: nothing\n";
    assert!(out.contains(says), "{out}");
    assert!(
        out.starts_with("format - 1, the form this file is written in\n    whole number; must be given\n")
    );
    assert!(out.lines().all(|l| l.chars().count() <= 100), "{out}");
}

#[test]
fn the_foreman_gets_the_pit_at_ground_the_partitions_and_the_soak_pit() {
    let clinic = include_str!("../../../samples/clinic/job.toml");
    let files = Fake::with(&[("clinic.toml", clinic)]);
    let (code, out, err) = with(&files, &["takeoff", "clinic.toml"]);
    assert_eq!(code, 0, "{err}");
    let table =
        out.split("setting out: ").nth(1).unwrap_or_default().split("\n\n").next().unwrap_or_default();
    let flat = table.split_whitespace().collect::<Vec<_>>().join(" ");
    for line in [
        // 8.30 + 2 x 2.20 / 4, 3.50 + 2 x 2.20 / 4, the root of 9.40 x 9.40 + 4.60 x 4.60.
        "top of dig, at ground, along 9.400",
        "top of dig, at ground, across 4.600",
        "top of dig, at ground, diagonal 10.465",
        "bottom of dig, along 8.300",
        "bottom of soak pit 3.200",
        // 3.20, then 3.20 + 0.20 + 1.60.
        "inlet wall inside to partition 1 3.200",
        "inlet wall inside to partition 2 5.000",
    ] {
        assert!(flat.contains(line), "{line} in {table}");
    }
}
