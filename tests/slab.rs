//! The cover's slab and beam and the walls, screened: a working of our own by hand (no source), to the digits printed.

use tankwright_quantities::checks::{Check, Verdict};
use tankwright_quantities::flow::{self, Settings};
use tankwright_tests::{measured, stock};

use crate::capacity;

/// Steel of the working paper, and a manhole over each chamber.
const STEEL: &str = r#"
[steel]
cover = { short = "Y12@150", long = "Y12@200", layers = 1 }
span_beam = { main = "4Y16", links = "R8@200" }
cover_to_steel = "40 mm"
"#;

const BEAM: &str = "span_beam = { width = \"200 mm\", depth = \"150 mm\", bearing = \"220 mm\" }";

fn job(changes: &[(&str, &str)]) -> String {
    let mut text = format!("{}{STEEL}", capacity::JOB);
    for (from, to) in changes {
        assert!(text.contains(from), "{from}");
        text = text.replace(from, to);
    }
    text
}

fn checks(changes: &[(&str, &str)]) -> Vec<Check> {
    let text = job(changes);
    measured(&text, None).unwrap_or_else(|f| panic!("{text}\n{f:?}")).checks
}

/// Verdict, what it says, and its working, line by line.
fn told(all: &[Check], id: &str) -> (Verdict, String, Vec<String>) {
    let of: Vec<_> = all.iter().filter(|c| c.id == id).collect();
    assert_eq!(of.len(), 1, "{id}");
    (of[0].verdict, of[0].says.to_string(), of[0].working.iter().map(ToString::to_string).collect())
}

fn line<'t>(working: &'t [String], begins: &str) -> &'t str {
    working.iter().find(|l| l.starts_with(begins)).unwrap_or_else(|| panic!("{begins}: {working:#?}"))
}

#[test]
fn two_panels_beside_a_span_beam() {
    let all = checks(&[]);
    let (verdict, says, working) = told(&all, "slab-steel");
    assert_eq!(verdict, Verdict::Screened);
    assert_eq!(says, "cover, bars along the tank: need 180 mm2 a metre, have 565");
    // 0.15 x 25 + 2.5
    assert_eq!(working[0], "load 6.25 kN/m2: slab 150 mm of 25 kN/m3, on it 2.5 kN/m2 (garden, by default)");
    // 0.65 + 0.104, less than 0.65 + 0.11 + 0.10; the other side (3.11 + 0.104) / 0.754
    assert_eq!(
        working[1],
        "2 of panel 3.11 x 0.65 m clear: spans 0.754 m across the tank, the other side 4.263 times as long: bends one way"
    );
    // 6.25 x 0.754 x 0.754 / 8; 0.4442e6 / (140 x 0.87 x 104); 0.12 % of 150 x 1000; pi / 4 x 144 x 1000 / 150
    assert_eq!(
        working[2],
        "steel across the tank: moment 0.4442 kNm a metre, bending needs 35.1 mm2 a metre at depth 104 mm, least 180, has 754 (Y12 at 150 mm)"
    );
    // pi / 4 x 144 x 1000 / 200; depth 150 - 40 - 12 - 6
    assert_eq!(
        working[3],
        "steel along the tank spreads the load: at depth 92 mm, least 180 mm2 a metre, has 565 (Y12 at 200 mm)"
    );
    // 3 x 104 = 312: 300 rules; 5 x 92 = 460: 450 rules; 150 / 300 is the most of the two
    let (verdict, says, _) = told(&all, "slab-spacing");
    assert_eq!(
        (verdict, says.as_str()),
        (Verdict::Screened, "cover, bars across the tank: 150 mm apart, at most 300")
    );
    // 754 / 104 = 7.25; 0.4442 of 0.87 x 1000 x 104 x 104 = 9.4099 kNm
    let (verdict, says, _) = told(&all, "slab-depth");
    assert_eq!(verdict, Verdict::Screened);
    assert!(
        says.starts_with("cover: span 7.3 times its depth, at most 20; concrete used to 5 % of"),
        "{says}"
    );
}

#[test]
fn the_beam_under_them() {
    let all = checks(&[]);
    let (verdict, says, working) = told(&all, "span-beam-steel");
    assert_eq!(verdict, Verdict::Screened);
    // 300 - 40 - 8 - 8 = 244; span 3.33, less than 3.11 + 0.244; 6.25 x 0.85 + 0.2 x 0.15 x 25 = 6.0625 kN/m;
    // 6.0625 x 3.33 x 3.33 / 8 = 8.4033 kNm; 6.0625 x 3.33 / 2 = 10.09 kN
    assert_eq!(
        working[1],
        "load 6.0625 kN/m: 6.25 kN/m2 on 0.85 m, itself 0.75 kN/m; span 3.33 m, moment 8.4033 kNm, end shear 10.09 kN"
    );
    // 8.4033e6 / (140 x 0.87 x 244); two bars of pi / 4 x 256
    assert_eq!(working[2], "steel: needs 282.8 mm2 at depth 244 mm, has 402 (2 of 4 bars Y16 at the bottom)");
    assert!(
        says.starts_with("span beam: needs 282.8 mm2, has 402 if 2 of its 4 bars lie at the bottom"),
        "{says}"
    );
    // 3330 / 244 = 13.65, printed 13.6; 8.4033 of 0.87 x 200 x 244 x 244 = 10.3593 kNm
    let (verdict, says, _) = told(&all, "span-beam-depth");
    assert_eq!(verdict, Verdict::Screened);
    assert!(
        says.starts_with("span beam: span 13.6 times its depth, at most 20; concrete used to 81 %"),
        "{says}"
    );
    // Two bars Y12: 226 of 282.8 x ... at depth 246 less than needed.
    let (verdict, says, _) = told(&checks(&[("4Y16", "4Y12")]), "span-beam-steel");
    assert_eq!(verdict, Verdict::NotMet);
    assert!(says.contains("too little: needs 280.5 mm2, has 226"), "{says}"); // 8.4033e6 / (140 x 0.87 x 246)
}

#[test]
fn without_the_beam_one_panel_bends_one_way() {
    let all = checks(&[(BEAM, "")]);
    let (verdict, _, working) = told(&all, "slab-steel");
    assert_eq!(verdict, Verdict::Screened);
    // 1.5 + 0.104; (3.11 + 0.104) / 1.604
    assert!(
        working[1]
            .ends_with("spans 1.604 m across the tank, the other side 2.004 times as long: bends one way")
    );
    // 6.25 x 1.604 x 1.604 / 8 = 2.0100; 2.01e6 / (140 x 0.87 x 104): the least, 180, rules
    assert!(
        working[2]
            .contains("moment 2.01 kNm a metre, bending needs 158.7 mm2 a metre at depth 104 mm, least 180")
    );
    let (_, says, _) = told(&all, "slab-depth");
    assert!(says.starts_with("cover: span 15.4 times its depth"), "{says}"); // 1604 / 104
    assert!(!all.iter().any(|c| c.id.starts_with("span-beam")));
}

/// No air gap: partitions bear the slab, and the short chamber's panel spans along the tank.
#[test]
fn partitions_that_reach_the_slab_bear_it() {
    let all = checks(&[(BEAM, ""), ("air_gap = \"150 mm\"", "")]);
    let (_, _, working) = told(&all, "slab-steel");
    // Chamber 2.00 x 1.50: along 2.0 + 0.104 (under 2.0 + 0.165), across 1.604; 2.104 / 1.604 = 1.312
    let first = line(&working, "1 of panel 2 x 1.5");
    assert!(first.ends_with("spans 1.604 m across the tank, 2.104 m the other way, 1.312 times as long: bends both ways, numbers 0.0937 and 0.0545"));
    // Between 0.093 and 0.099, 0.055 and 0.051; 0.0937 x 6.25 x 1.604 x 1.604, 0.0545 x ...
    assert!(working.iter().any(|l| l.contains("steel across the tank: moment 1.5067 kNm")));
    assert!(working.iter().any(|l| l.contains("steel along the tank: moment 0.8764 kNm")));
    // Chamber 1.00 x 1.50: bars along it bear; depth 150 - 40 - 12 - 6 = 92: 1.0 + 0.092, 1.5 + 0.092
    let second = line(&working, "1 of panel 1 x 1.5");
    assert!(second.contains("spans 1.092 m along the tank, 1.592 m the other way, 1.458 times"), "{second}");
}

#[test]
fn soil_adds_to_the_load_and_wheels_are_never_passed() {
    let soil = checks(&[(BEAM, &format!("{BEAM}\nsoil = \"300 mm\""))]);
    let (_, _, working) = told(&soil, "slab-steel");
    assert!(working[0].starts_with("load 11.65 kN/m2") && working[0].ends_with("soil 300 mm of 18 kN/m3"));
    assert!(working[2].contains("moment 0.8279 kNm")); // 11.65 x 0.754 x 0.754 / 8
    // A cover below ground carries what lies over it: the same.
    let buried = checks(&[("height = \"1.60 m\"", "height = \"1.60 m\"\ncover_top = \"-300 mm\"")]);
    assert_eq!(told(&buried, "slab-steel").2[0], working[0]);
    for kind in ["car", "lorry"] {
        let all = checks(&[(BEAM, &format!("{BEAM}\ntraffic = \"{kind}\""))]);
        assert_eq!(told(&all, "slab-steel").0, Verdict::Flagged);
        let (verdict, says, _) = told(&all, "slab-traffic");
        assert_eq!(verdict, Verdict::Flagged);
        assert!(says.contains(kind) && says.contains("one layer of bars"), "{says}");
    }
    assert!(!soil.iter().any(|c| c.id == "slab-traffic"));
}

#[test]
fn too_little_too_far_too_thin_and_not_given() {
    let little = checks(&[(BEAM, ""), ("Y12@150", "R6@300"), ("width = \"1.50 m\"", "width = \"2.40 m\"")]);
    let (verdict, says, _) = told(&little, "slab-steel");
    assert_eq!(verdict, Verdict::NotMet);
    // pi / 4 x 36 x 1000 / 300 = 94; two ways, 3.217 / 2.507 = 1.283: 0.0915 x 6.25 x 2.507 x 2.507 = 3.5942 kNm
    // 3.5942e6 / (140 x 0.87 x 107) = 275.8
    assert_eq!(says, "cover, bars across the tank: too little: needs 275.8 mm2 a metre, has 94");
    let (verdict, says, _) = told(&checks(&[("Y12@200", "Y12@460")]), "slab-spacing");
    assert_eq!(
        (verdict, says.as_str()),
        (Verdict::NotMet, "cover, bars along the tank: too far apart: 460 mm, at most 450")
    );
    let thin = checks(&[(BEAM, ""), ("thickness = \"150 mm\"", "thickness = \"100 mm\"")]);
    let (verdict, says, _) = told(&thin, "slab-depth");
    assert_eq!(verdict, Verdict::NotMet); // (1500 + 54) / 54 = 28.8
    assert!(says.starts_with("cover: too thin: span 28.8 times its depth, at most 20"), "{says}");
    let none = measured(capacity::JOB, None).unwrap().checks;
    for id in ["slab-steel", "span-beam-steel"] {
        let (verdict, says, _) = told(&none, id);
        assert_eq!(verdict, Verdict::NotChecked);
        assert!(says.contains("not given"), "{says}");
    }
}

#[test]
fn the_manholes_of_the_rest_house_leave_no_slab() {
    let text =
        std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../samples/rest-house/job.toml"));
    let job = tankwright_tests::read(&text.unwrap(), false).unwrap();
    let all = flow::estimate(&job, stock(), None, &Settings::default()).unwrap().checks;
    let (verdict, says, working) = told(&all, "slab-openings");
    assert_eq!(verdict, Verdict::Flagged);
    assert!(says.contains("trimmers, and an engineer"), "{says}");
    assert_eq!(working[0], "manhole 1: 600 x 600 mm in a panel of 3110 x 650 mm");
    let holes = |size: &str| {
        let holes = format!("{BEAM}\nmanholes = [[\"600 mm\", \"{size}\"], [\"600 mm\", \"{size}\"]]");
        told(&checks(&[(BEAM, &holes)]), "slab-openings").0
    };
    assert_eq!([holes("325 mm"), holes("326 mm")], [Verdict::Screened, Verdict::Flagged]); // half of 650
}

#[test]
fn walls_are_flagged_and_never_passed() {
    let level = [("fall = \"60 mm\"", "fall = \"0 mm\"")];
    let all = checks(&level);
    let (verdict, says, working) = told(&all, "wall-earth");
    assert_eq!(verdict, Verdict::Flagged);
    assert!(says.ends_with("no limit with a source: an engineer"), "{says}");
    // (1 - 0.4226182617) / (1 + 0.4226182617); 0.40586 x 18 x 1.75
    assert_eq!(
        working[0],
        "earth at 25 degrees of friction: 0.40586 of its weight 18 kN/m3 presses; 1.75 m deep: 12.785 kN/m2 at the foot"
    );
    assert_eq!(
        working[1].split(':').nth(1),
        Some(
            " section modulus 0.0080667 m3 a metre; ring beams, columns and corners help and are not reckoned"
        )
    );
    // 12.785 x 1.75 x 1.75 / 15, / 33.5; 2.61 / 0.0080667 / 1000
    assert_eq!(
        working[2],
        "top held by the cover: 12.785 x 1.75 x 1.75 / 15 = 2.61 kNm a metre at the foot, / 33.5 = 1.169 between; tension 0.324 N/mm2"
    );
    let (verdict, says, working) = told(&all, "wall-backfill");
    assert_eq!(verdict, Verdict::Flagged);
    assert!(says.contains("2.5 times as much"), "{says}"); // 15 / 6
    assert!(
        working[0]
            .ends_with(" 12.785 x 1.75 x 1.75 / 6 = 6.526 kNm a metre at the foot; tension 0.809 N/mm2")
    ); // / 6
    // With the fall the floor is lowest at the inlet end: 1.75 + 0.06.
    let fallen = checks(&[]);
    assert!(told(&fallen, "wall-earth").1.starts_with("earth 1.81 m deep"));
    let (verdict, says, _) = told(&fallen, "wall-depth");
    assert_eq!(verdict, Verdict::Flagged);
    assert!(
        says.starts_with(
            "walls of 220 mm hold 1.261 m of water and 1.81 m of earth: usual are 1.5 m of liquid and 1 m"
        ),
        "{says}"
    );
    // Shallower than both: still flagged.
    let low = checks(&[
        ("height = \"1.60 m\"", "height = \"0.60 m\""),
        ("below_top = \"700 mm\"", "below_top = \"200 mm\""),
        ("height = \"200 mm\"", "height = \"100 mm\""),
    ]);
    let (verdict, says, _) = told(&low, "wall-depth");
    assert_eq!(verdict, Verdict::Flagged);
    assert!(says.contains("inside the usual"), "{says}");
    // Ground water 1 m down: 0.40586 x (18 x 1 + 8.19 x 0.75) + 9.81 x 0.75
    let wet = checks(&[level[0], ("[tank]\n", "[ground]\nwater_table = \"1 m\"\n\n[tank]\n")]);
    let (_, _, working) = told(&wet, "wall-earth");
    assert!(working[0].ends_with("17.156 kN/m2 at the foot"), "{working:?}");
    assert!(working[1].starts_with("in it ground water over the lowest 0.75 m"));
    // Soft clay has entries of its own: (1 - 0.1045284633) / (1 + ...) = 0.81073, 16 x 1.75 x that
    let soft = checks(&[level[0], ("[tank]\n", "[ground]\nsoil = \"soft-clay\"\n\n[tank]\n")]);
    assert!(told(&soft, "wall-earth").2[0].ends_with("22.7 kN/m2 at the foot"));
}

/// A figure of the trade has its source beside it, and a check those of its own figures only.
#[test]
fn a_check_names_the_sources_of_its_figures() {
    let all = checks(&[]);
    for (id, sources) in [
        (
            "span-beam-steel",
            &["EN 1991-1-1 Annex A: reinforced", "EN 12566-1, pedestrians", "after IS 456: 140 N/mm2"][..],
        ),
        ("span-beam-depth", &["BS 8110: span over depth 20", "concrete M15: d = root of M / 0.87"]),
        ("wall-earth", &["EN 1991-1-1, Annex A, range of soils", "p H2 / 15 at the foot, / 33.5 between"]),
        ("wall-depth", &["usual practice for walls of 215 to 230 mm", "about 1 m, little water"]),
    ] {
        let told: Vec<_> = all.iter().filter(|c| c.id == id).map(|c| c.source.as_str()).collect();
        let [told] = told[..] else { panic!("{id}: {told:?}") };
        for source in sources {
            assert_eq!(told.matches(source).count(), 1, "{id}: {told}");
        }
        assert_eq!(told.contains("BS 8110"), id == "span-beam-depth", "{told}");
    }
}
