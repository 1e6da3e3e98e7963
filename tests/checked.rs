//! Distances, levels and manholes of a drawn job: small changes to a job, and the verdict each brings.

use serde_json::Value;
use tankwright_quantities::checks::Verdict::{self, Met, NotChecked, NotMet};
use tankwright_tests::program::{root, run};
use tankwright_tests::{measured, stock};

const JOB: &str = r#"format = 1
[job]
title = "Checked"
date = "2026-11-25"
currency = "UGX"
[ground]
water_table = "4.20 m"
[site]
house = "7 m"
soak = { well = "30 m" }
[tank]
chambers = ["2.00 m"]
width = "1.20 m"
height = "1.50 m"
[tank.cover]
manholes = [["600 mm", "600 mm"]]
[tank.pipes]
inlet = { diameter = "110 mm", below_top = "300 mm" }
outlet = { diameter = "110 mm", below_top = "350 mm", length = "6 m", fall = "1 in 100" }
[soak_pit]
diameter = "1.5 m"
depth = "3.00 m"
fill_depth = "2.5 m"
"#;

/// What is changed, the check, its verdict and words that it says.
type Case = (&'static [(&'static str, &'static str)], &'static str, Verdict, &'static str);

const CASES: &[Case] = &[
    // NHBC 5.3.5: 7 m; exactly that is enough.
    (&[], "distance-house", Met, "from the tank to the house: 7 m, at least 7 m"),
    (&[("\"7 m\"", "\"6.999 m\"")], "distance-house", NotMet, "6.999 m, at least 7 m"),
    (&[], "distances-tank", NotChecked, "site.well, site.stream, site.boundary, site.ground_abstraction"),
    // From a soak pit 30 m (SSWM); 18 m by IS 2470.
    (&[], "distance-soak-well", Met, "from the soak pit or drain to the well: 30 m, at least 30 m"),
    (&[("\"30 m\"", "\"18 m\"")], "distance-soak-well", NotMet, "18 m, at least 30 m"),
    (&[], "distances-soak", NotChecked, "site.soak.house, site.soak.stream"),
    // Outlet 0.15 + 0.35 below ground, 6 m at 1 in 100: the pit's inlet at 0.56.
    (&[], "levels-pit-inlet", Met, "0.56 m below ground, the pit's base is 3 m"),
    (
        &[("\"3.00 m\"", "\"0.55 m\""), ("fill_depth = \"2.5 m\"", "fill_depth = \"0.4 m\"")],
        "levels-pit-inlet",
        NotMet,
        "0.56 m",
    ),
    // 3.00 - 2.44 = 0.56: the top of the stone; 10 mm less of it and the water comes out over it.
    (&[("\"2.5 m\"", "\"2.44 m\"")], "levels-pit-inlet", Met, "0.56 m"),
    (
        &[("\"2.5 m\"", "\"2.43 m\"")],
        "levels-pit-inlet",
        NotMet,
        "over its stone, which begins 0.57 m below ground",
    ),
    (
        &[("\"2.5 m\"", "\"2 m\"\npipe = { diameter = 110, length = \"2.44 m\" }")],
        "levels-pit-inlet",
        Met,
        "0.56 m below ground",
    ),
    // 4.20 - 3.00 = 1.20: equal passes.
    (&[], "levels-pit-water", Met, "1.2 m under it, at least 1.2 m"),
    (&[("\"3.00 m\"", "\"3.01 m\"")], "levels-pit-water", NotMet, "1.19 m under it"),
    (&[("\"4.20 m\"", "\"2.50 m\"")], "levels-pit-water", NotMet, "0.5 m deep in water"),
    (&[("\"4.20 m\"", "\"none\"")], "levels-pit-water", NotChecked, "ground.water_table says none"),
    (&[], "levels-order", Met, "levels in order"),
    (
        &[("below_top = \"300 mm\"", "below_top = \"400 mm\"")],
        "levels-order",
        NotMet,
        "inlet 0.55 m below ground, water line 0.5 m",
    ),
    (&[], "levels-inlet", Met, "50 mm between them, at least 50 mm"),
    (&[("below_top = \"300 mm\"", "below_top = \"301 mm\"")], "levels-inlet", NotMet, "49 mm between them"),
    (&[], "levels-drain", NotChecked, "between 1 in 80 and 1 in 50 asked: give tank.pipes.inlet.fall"),
    (&[], "manholes", Met, "600 mm, at least 600 mm"),
    (&[("[[\"600 mm\"", "[[\"599 mm\"")], "manholes", NotMet, "599 mm"),
];

#[test]
fn each_change_brings_its_verdict() {
    for (changes, id, verdict, says) in CASES {
        let mut text = JOB.to_owned();
        for (from, to) in *changes {
            assert!(text.contains(from), "{from}");
            text = text.replacen(from, to, 1);
        }
        let e = measured(&text, None).unwrap_or_else(|f| panic!("{text}\n{f:?}"));
        let all: Vec<_> = e.checks.iter().filter(|c| c.id == *id).collect();
        assert_eq!(all.len(), 1, "{id}");
        assert_eq!(all[0].verdict, *verdict, "{id}: {}", all[0].says);
        assert!(all[0].says.to_string().contains(says), "{id}: {}", all[0].says);
        assert!(e.checks.iter().all(|c| !c.source.is_empty() && !c.stages.is_empty()));
    }
}

#[test]
fn without_a_soak_pit_nothing_is_asked_of_one() {
    let text = JOB.split("[soak_pit]").next().unwrap();
    let ids: Vec<_> = measured(text, None).unwrap().checks.iter().map(|c| c.id).collect();
    assert!(ids.iter().all(|id| !id.contains("soak") && !id.contains("pit")), "{ids:?}");
}

#[test]
fn every_figure_of_the_checks_is_used_by_the_program() {
    // The loads are named by what goes over the cover; the weight of reinforced concrete belongs to the slab.
    let sources = |folder: &str| -> String {
        let files = std::fs::read_dir(root().join("crates/quantities/src").join(folder)).unwrap();
        files.map(|f| std::fs::read_to_string(f.unwrap().path()).unwrap()).collect()
    };
    // A pit knows whether its sides lean, a proposed soak pit what is left open.
    let proposed = std::fs::read_to_string(root().join("crates/sizing/src/soak_away.rs")).unwrap();
    let text = sources("checks") + &sources("cautions") + &sources("elements") + &proposed;
    for id in stock().checks.keys() {
        let named =
            text.contains(&format!("\"{id}\"")) || id.starts_with("load-") || id == "weight-reinforced";
        assert!(named, "{id}");
    }
}

#[test]
fn a_rules_own_distance_decides_over_its_verdict() {
    let text = std::fs::read_to_string(root().join("samples/rest-house/job.toml")).unwrap();
    let folder = root().join("target/tests-checked");
    std::fs::create_dir_all(&folder).unwrap();
    let size = |house: &str, rule: &str| -> Value {
        let site =
            format!("[site]\nhouse = \"{house}\"\nsoak = {{ well = \"17 m\", house = \"5 m\" }}\n[sizing]");
        std::fs::write(folder.join("job.toml"), text.replacen("[sizing]", &site, 1)).unwrap();
        let seen = run(&format!("size target/tests-checked/job.toml --rule {rule} --format json"));
        assert_eq!(seen.code, 0, "{}", seen.err);
        serde_json::from_str(&seen.out).unwrap()
    };
    let near = size("6.9 m", "bs-6297-1983");
    assert_eq!(near["complies"], Value::from(false));
    assert_eq!(near["reasons"][0], Value::from("distance to building 6.9 m, at least 7 m asked"));
    let far = size("7 m", "bs-6297-1983");
    assert_eq!(far["complies"], Value::from(true));
    let left = far["not_checked"].as_array().unwrap();
    assert!(left.iter().any(|l| l == "distances by this rule: tanker"), "{left:?}");
    assert!(left.iter().any(|l| l.as_str().unwrap().contains("site.well")), "{left:?}");
    let method =
        |id: &str| far["soakage"].as_array().unwrap().iter().find(|r| r["rule"] == id).unwrap().clone();
    let judged = &method("is-2470-2")["distances_judged"];
    assert_eq!((&judged[0]["met"], &judged[1]["met"]), (&Value::from(false), &Value::from(true)));
    for check in far["checks"].as_array().unwrap() {
        for field in ["id", "verdict", "says", "working", "source", "stages"] {
            assert!(check.get(field).is_some(), "{field}");
        }
    }
}
