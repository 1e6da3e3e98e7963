//! `payments` on the command line.

use crate::fake::Fake;

const JOB: &str = "format = 1
[job]
title = \"Two rooms behind the shop (invented)\"
date = \"2026-11-25\"
currency = \"UGX\"
rates = \"demo-ugx\"
[tank]
chambers = [\"1.60 m\", \"0.80 m\"]
width = \"1.20 m\"
height = \"1.50 m\"
";

fn payments(job: &str, args: &[&str]) -> (i32, String, String) {
    let files = Fake::with(&[("job.toml", job)]);
    let all = ["tankwright", "payments", "job.toml"].into_iter().chain(args.iter().copied());
    let args: Vec<String> = all.map(str::to_owned).collect();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = crate::run(&args, &mut out, &mut err, &files);
    (code, String::from_utf8_lossy(&out).into_owned(), String::from_utf8_lossy(&err).into_owned())
}

#[test]
fn three_papers_of_one_job() {
    let (code, out, err) = payments(JOB, &[]);
    assert_eq!(code, 0, "{err}");
    for line in ["stage payments of the priced bill, UGX 1 978 296", "WHAT IS SEEN BEFORE IT IS PAID", "C102"]
    {
        assert!(out.contains(line), "{line}\n{out}");
    }
    // What is in hand is for one side only.
    assert!(!out.contains("in hand"), "{out}");
    let (code, out, err) = payments(JOB, &["--cash"]);
    assert_eq!(code, 0, "{err}");
    assert!(out.contains("UGX 573 040"), "{out}");
    let (code, out, err) = payments(JOB, &["--at", "2026-12-18", "--done", "dig=100,base=50"]);
    assert_eq!(code, 0, "{err}");
    // 288460 + 100000, and the deposit of 343000 stands below it
    assert!(out.contains("388 460") && out.contains("three hundred and eighty-eight thousand"), "{out}");
    assert!(out.lines().all(|l| l.chars().count() <= 100), "{out}");
}

#[test]
fn slips_on_the_command_line_are_of_the_command_line() {
    let (code, out, err) = payments(JOB, &["--at", "2026-12-18", "--done", "digg=100,base=150"]);
    assert_eq!((code, out.as_str()), (2, ""));
    assert!(
        err.contains("error[U060]") && err.contains("did you mean \"dig\"") && err.contains("error[U061]"),
        "{err}"
    );
    for args in [&["--done", "dig=100"][..], &["--at", "yesterday"], &["--at", "2026-12-18", "--cash"]] {
        assert_eq!(payments(JOB, args).0, 2, "{args:?}");
    }
    let (code, _, err) = payments(&JOB.replace("rates = \"demo-ugx\"\n", ""), &[]);
    assert_eq!(code, 4, "{err}");
}

#[test]
fn what_the_job_says_of_payments_is_looked_at_wherever_it_is_priced() {
    let wrong =
        format!("{JOB}[payments]\ndeposit = \"a third\"\n[[paid]]\ndate = \"2026-12-01\"\namount = \"0\"\n");
    let (code, _, err) = payments(&wrong, &[]);
    assert_eq!(code, 3);
    assert!(err.contains("error[J205]") && err.contains("error[J200]") && err.contains("2 errors"), "{err}");
    let files = Fake::with(&[("job.toml", &wrong)]);
    let bill = ["tankwright", "bill", "job.toml"].map(str::to_owned);
    let (mut out, mut told) = (Vec::new(), Vec::new());
    assert_eq!(crate::run(&bill, &mut out, &mut told, &files), 3);
    assert_eq!(String::from_utf8_lossy(&told), err);
}
