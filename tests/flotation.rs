//! The empty tank against water in the ground: a working of our own by hand (no source), to the last digit printed.

use tankwright_quantities::checks::{Check, Verdict};
use tankwright_quantities::estimate::Estimate;
use tankwright_tests::measured;

/// The rest house with a cover of 150 mm, a ring beam of 200 mm and pockets of 300 mm: other weights than the sample's.
pub(crate) const JOB: &str = include_str!("data/flotation.toml");

fn with(changes: &[(&str, &str)]) -> Estimate {
    let mut text = JOB.to_owned();
    for (from, to) in changes {
        assert!(text.contains(from), "{from}");
        text = text.replace(from, to);
    }
    measured(&text, None).unwrap_or_else(|f| panic!("{text}\n{f:?}"))
}

/// With water so deep below ground.
fn at(depth: &str) -> Estimate {
    with(&[("water_table = \"0 mm\"", &format!("water_table = \"{depth}\""))])
}

fn check<'a>(e: &'a Estimate, id: &str) -> &'a Check {
    e.checks.iter().find(|c| c.id == id).unwrap()
}

fn working(e: &Estimate, id: &str) -> String {
    check(e, id).working.iter().map(|p| format!("{p}\n")).collect()
}

fn has(text: &str, parts: &[&str]) {
    parts.iter().for_each(|p| assert!(text.contains(p), "{p}\n{text}"));
}

#[test]
fn finished_with_water_at_the_ground() {
    let e = with(&[]);
    let c = check(&e, "flotation-finished");
    assert_eq!(c.verdict, Verdict::NotMet);
    // Concrete 1.03305 base + 0.05808 pockets + 0.315568 columns + 0.40568 ring + 0.0933 beam + 0.92505 cover.
    // Outside 6.887 x 1.9 + (0.06 x 0.22 + 0.06 x 3.11 / 2) x 1.94 + 4 x 0.22 x 0.22 x 0.3.
    has(
        &working(&e, "flotation-finished"),
        &[
            "concrete 2.830728 m3 x 24 = 67.937 kN",
            "masonry 3.134639 m3 x 18 = 56.424 kN",
            "plaster and screed 0.518764 m3 x 20 = 10.375 kN",
            "weight 134.736 kN",
            "water 0 m below ground: 13.34999 m3 x 9.81 = 130.963 kN",
            "134.736 / 130.963 = 1.028,",
            "1.1 (engineers at physicsforums.com, thread 275631: 1.1 in the worst case, soil as under water): water at least 0.1255 m below ground",
            "water at least 0.2766 m below ground", // 0.27652, up
            "water at least 0.3431 m below ground", // 0.34301, up
            "water at least 0.609 m below ground",  // 0.60894, up
        ],
    );
    // 1.1 x 130.963 - 134.736 = 9.324 up; / 9.81 = 0.9504; / 6.887 / (18 - 9.81) = 0.1653.
    has(&c.says.to_string(), &["9.324 kN are lacking: 0.96 m3 of water", "0.166 m of soil", "0.126 m below"]);
}

#[test]
fn before_the_cover_is_cast() {
    // 134.736 - (0.0933 + 0.92505) x 24 = 110.296; outside 13.34999 - 6.887 x 0.15 = 12.31694 x 9.81 = 120.829.
    let e = with(&[]);
    let c = check(&e, "flotation-walls");
    assert_eq!(c.verdict, Verdict::NotMet);
    has(
        &working(&e, "flotation-walls"),
        &["weight 110.296 kN", "0.15 m below ground: 12.31694 m3 x 9.81 = 120.829 kN", "= 0.912,"],
    );
    // 13.34999 - 6.887 x 0.5 = 9.90649 x 9.81 = 97.183; 110.296 / 97.183 = 1.1349.
    let e = at("500 mm");
    assert_eq!(check(&e, "flotation-walls").verdict, Verdict::Met);
    has(&working(&e, "flotation-walls"), &["110.296 / 97.183 = 1.134,"]);
}

#[test]
fn lower_water_and_none() {
    for (depth, factor) in [("300 mm", "1.217"), ("500 mm", "1.386"), ("900 mm", "1.92"), ("1200 mm", "2.7")]
    {
        let e = at(depth);
        assert_eq!(check(&e, "flotation-finished").verdict, Verdict::Met, "{depth}");
        has(&working(&e, "flotation-finished"), &[&format!(" = {factor}, rounded down")]);
    }
    // The dig is 1.60 + 0.15 + 0.15 + 0.05 + 0.06 m deep at most.
    let dry = at("2010 mm");
    has(&check(&dry, "flotation-walls").says.to_string(), &["below the bottom of the dig"]);
    assert!(!working(&dry, "flotation-walls").contains("uplift with water"));
    // Under the floor, 1.75 m below ground at the outlet end, water counts as if it stood there.
    has(&working(&at("2000 mm"), "flotation-walls"), &["uplift with water 1.75 m below ground"]);
    let e = with(&[("water_table = \"0 mm\"", "water_table = \"none\"")]);
    // 110.296 / (1.1 x 9.81) = 10.2211 m3; (13.34999 - 10.2211) / 6.887 = 0.4543, up.
    for (id, level) in [("flotation-finished", "0.126 m"), ("flotation-walls", "0.455 m")] {
        let c = check(&e, id);
        assert_eq!(c.verdict, Verdict::NotChecked);
        has(&c.says.to_string(), &["ground.water_table", "less than 1.1 times", level]);
    }
}

#[test]
fn soil_over_a_buried_cover_hollow_blocks_and_a_deep_heap() {
    // Cover 0.50 m below ground: 6.887 x 0.5 = 3.4435 m3 x (18 - 9.81) = 28.202 kN.
    let e = with(&[
        ("[tank.cover]\n", "[tank.cover]\nsoil = \"1 m\"\n"),
        ("height = \"1.60 m\"", "height = \"1.60 m\"\ncover_top = \"-500 mm\""),
    ]);
    has(
        &working(&e, "flotation-finished"),
        &["soil over the cover, under water 3.4435 m3 x 8.19 = 28.202 kN"],
    );
    assert_eq!(check(&e, "flotation-finished").verdict, Verdict::Met);
    // Hollow blocks of 200 mm weigh less than solid walls of the same thickness.
    let weight = |unit: &str| {
        let e =
            with(&[("thickness = \"220 mm\"\n", &format!("thickness = \"220 mm\"\nunit = \"{unit}\"\n"))]);
        let text = working(&e, "flotation-finished");
        text.lines().find(|l| l.starts_with("masonry")).unwrap().to_owned()
    };
    assert_ne!(weight("block-400x200x200"), weight("brick-220x105x65"));
}
