//! Tests of the job reader.

use super::*;

const BAD: &str = r#"format = 3
[job]
title = ""
date = "2026-02-30"
curency = "UGX"
supply = "labour only"

[tank]
chambers = ["2.00 m", 1.5, "1,00 m"]
width = 1.50 m
height = "160 miles"
height = "1.60 m"
persons = 0
keep_dry = true

[tank.pit]
face = "loose"
batter = 0.5

[tank.base]
concrete = { thickness = "20 mm", mix = "1:2" }

[tank.columns]
mix = "1:1.5:3"

[[tank.ring_beams]]
above_floor = "700"
depth = "-150 mm"

[tank.cover
thickness = "150 mm"

[[preliminaries]]
title = "Water"
amount = "45,000"

[[preliminaries]]
title = "Tools"

[additions]
list = [ { title = "Tax", percent = "18" }
say = 1000
"#;

#[test]
fn all_problems_of_a_file_come_in_one_run() {
    let (job, problems) = run(BAD);
    let found: Vec<_> = problems.iter().map(|p| short(BAD, p)).collect();
    let want = [
        "J007 1 3",
        "J032 3 \"\"",
        "J034 4 \"2026-02-30\"",
        "J004 5 curency",
        "J028 6 \"labour only\"",
        "J010 9 1.5",
        "J012 9 \"1,00 m\"",
        "J001 10 1.50 m",
        "J013 11 \"160 miles\"",
        "J002 12 height",
        "J026 13 0",
        "J005 14 keep_dry",
        "J028 17 \"loose\"",
        "J019 18 0.5",
        "J017 21 \"20 mm\"",
        "J030 21 \"1:2\"",
        "J006 23 [tank.columns]",
        "J011 27 \"700\"",
        "J017 28 \"-150 mm\"",
        "J001 30 [tank.cover",
        "J020 35 \"45,000\"",
        "J036 37 [[preliminaries]]",
        "J001 41 [ { title = \"Tax\", percent = \"18\" }",
    ];
    assert_eq!(found, want);
    // What is sound is there all the same.
    assert_eq!(job.len("tank.chambers[0]").value(), tankwright_geometry::Ratio::int(20_000));
    assert!(job.number("additions.say").is_some());
}
