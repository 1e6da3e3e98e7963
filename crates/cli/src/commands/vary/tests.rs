//! Two job files at the command line: what is written, what is told.

use crate::fake::Fake;

const JOB: &str = "format = 1\n[job]\ntitle = \"Small\"\ndate = \"2026-11-25\"\ncurrency = \"UGX\"\nrates = \"demo-ugx\"\n\
    [tank]\nchambers = [\"1.60 m\", \"0.80 m\"] # inlet first\nwidth = \"1.20 m\"\nheight = \"1.50 m\"\n";
const V1: &str = "\n[[variation]]\nid = \"V1\"\ndate = \"2026-12-03\"\nby = \"owner\"\nreason = \"=deeper\"\n\
    set = { \"tank.height\" = \"1.70 m\" }\n";

fn vary(files: &Fake, args: &[&str]) -> (i32, String, String) {
    let all = ["tankwright", "vary"].into_iter().chain(args.iter().copied());
    let args: Vec<String> = all.map(str::to_owned).collect();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = crate::run(&args, &mut out, &mut err, files);
    (code, String::from_utf8_lossy(&out).into_owned(), String::from_utf8_lossy(&err).into_owned())
}

#[test]
fn one_file_is_contract_and_account_and_the_job_as_built_is_written_once() {
    let disk = Fake::with(&[("job.toml", &format!("{JOB}{V1}"))]);
    let (code, out, err) = vary(&disk, &["job.toml", "job.toml", "--built", "out/built.toml"]);
    assert_eq!((code, err.as_str()), (0, "out/built.toml is written: the job as built\n"));
    assert!(out.contains("tank.height: \"1.50 m\", now \"1.70 m\""), "{out}");
    let built =
        disk.get("out/built.toml").map(|b| String::from_utf8_lossy(&b).into_owned()).unwrap_or_default();
    let remarks: String =
        V1.lines().map(|l| if l.is_empty() { "\n".to_owned() } else { format!("# {l}\n") }).collect();
    assert_eq!(built, format!("{}{remarks}", JOB.replace("1.50 m", "1.70 m")));
    let again = vary(&disk, &["job.toml", "job.toml", "--built", "out/built.toml"]);
    assert!(again.0 == 6 && again.1.is_empty() && again.2.starts_with("error[F007]"), "{again:?}");
    assert_eq!(vary(&disk, &["job.toml", "job.toml", "--built", "out/built.toml", "--force"]).0, 0);
    // The job as built is the contract with what changed drawn in: nobody instructed it.
    let (_, out, _) = vary(&disk, &["job.toml", "out/built.toml"]);
    assert!(out.contains("NOT INSTRUCTED"), "{out}");
}

#[test]
fn what_is_wrong_with_both_files_is_told_in_one_run() {
    let bad = JOB.replace("height", "heigth");
    let disk = Fake::with(&[("a.toml", &bad), ("b.toml", &bad.replace("width", "widht"))]);
    let (code, out, err) = vary(&disk, &["a.toml", "b.toml"]);
    assert_eq!((code, out.as_str()), (3, ""));
    assert!(err.contains("a.toml:10") && err.contains("b.toml:9") && err.contains("b.toml:10"), "{err}");
    let same = vary(&disk, &["a.toml", "a.toml"]).2;
    assert_eq!(same.matches("no key heigth").count(), 1, "{same}");
    let (code, _, err) = vary(&disk, &["a.toml", "none.toml"]);
    assert!(code == 3 && err.contains("error[F001]") && err.contains("heigth"), "{err}");
    disk.put("job.toml", JOB.as_bytes());
    assert_eq!(vary(&disk, &["job.toml", "none.toml"]).0, 6);
    let (code, _, err) = vary(&disk, &["-", "-"]);
    assert!(code == 2 && err.starts_with("error[U070]"), "{err}");
}

#[test]
fn a_list_that_the_account_names_and_that_is_not_there_is_told() {
    let now = JOB.replace("demo-ugx", "dear.csv");
    let disk = Fake::with(&[("job.toml", JOB), ("now.toml", &now)]);
    let (code, _, err) = vary(&disk, &["job.toml", "now.toml"]);
    assert!(code == 6 && err.contains("dear.csv"), "{code} {err}");
}

#[test]
fn csv_cannot_command_a_spreadsheet() {
    let disk = Fake::with(&[("job.toml", &format!("{JOB}{V1}"))]);
    let (_, out, _) = vary(&disk, &["job.toml", "job.toml", "--format", "csv"]);
    assert!(out.contains(",'=deeper,") && out.ends_with("\r\n"), "{out}");
    let columns = out.lines().next().map_or(0, |l| l.split(',').count());
    assert_eq!(columns, 14);
}
