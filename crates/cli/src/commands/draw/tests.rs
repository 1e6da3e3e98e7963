//! Drawings over a disk in memory.

use crate::fake::Fake;

const JOB: &str = "format = 1
[job]
title = \"Two rooms behind the shop (invented)\"
date = \"2026-11-25\"
currency = \"UGX\"
[tank]
chambers = [\"1.60 m\", \"0.80 m\"]
width = \"1.20 m\"
height = \"1.50 m\"
";

fn draw(files: &Fake, args: &[&str]) -> (i32, String, String) {
    let all = ["tankwright", "draw", "job.toml"].into_iter().chain(args.iter().copied());
    let args: Vec<String> = all.map(str::to_owned).collect();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = crate::run(&args, &mut out, &mut err, files);
    (code, String::from_utf8_lossy(&out).into_owned(), String::from_utf8_lossy(&err).into_owned())
}

#[test]
fn a_drawing_that_is_not_there_is_told_with_those_that_are() {
    let files = Fake::with(&[("job.toml", JOB)]);
    let (code, out, err) =
        draw(&files, &["--only", "long-secton", "--only", "soak-pit", "--out", "drawings"]);
    assert_eq!((code, out.as_str()), (2, ""));
    assert_eq!(err.matches("error[U008]").count(), 2, "{err}");
    assert!(err.contains("this job has no drawing `long-secton`"), "{err}");
    assert!(err.contains("did you mean \"long-section\"?"), "{err}");
    // A soak pit is drawn only where the job has one.
    assert!(err.contains("drawings: plan-cover, plan-floor, long-section, cross-section"), "{err}");
}

#[test]
fn without_a_folder_the_list_is_printed() {
    let files = Fake::with(&[("job.toml", JOB)]);
    let (code, out, err) = draw(&files, &["--only", "cross-section"]);
    assert_eq!(
        (code, out.as_str()),
        (0, "cross-section  Cross section B-B, looking to the outlet\n"),
        "{err}"
    );
    assert!(err.contains("--out names no folder"), "{err}");
}
