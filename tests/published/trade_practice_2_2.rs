//! A worked dimension sheet: a tank 3.00 x 1.20 x 1.80 with a half-brick baffle 1.50 high, measured in the East African
//! manner.
//!
//! Known difference: the sheet keeps both manholes in the soffit (0.36 m2 each, under 0.4). Ours lie against the end
//! walls, at the edge of the soffit, and a void at the edge is always deducted (D-SMM A2(b)).

use rust_decimal::Decimal;
use tankwright_quantities::estimate::Estimate;
use tankwright_tests::figures::{Figure, Publication, near, same, slip};
use tankwright_tests::{crosschecked, explained, measured, net, quantity};

pub(super) const OF: Publication = Publication {
    title: "A worked dimension sheet, East African manner",
    source: "The project's notes on trade practice, section 2.2 (all its arithmetic re-added there)",
    remarks: &[],
};

/// The tank, from which its variation (section 6) begins too.
pub(super) const JOB: &str = r#"
format = 1
[job]
title = "worked sheet 2.2"
date = "2026-11-25"
currency = "UGX"
profile = "east-africa"
[tank]
chambers = ["1.93 m", "0.96 m"]
width = "1.20 m"
height = "1.80 m"
[tank.pit]
face = "open"
[tank.base]
blinding = { thickness = "50 mm" }
concrete = { thickness = "150 mm" }
projection = "150 mm"
[tank.walls]
thickness = "230 mm"
[tank.partitions]
thickness = "110 mm"
air_gap = "300 mm"
[tank.cover]
thickness = "120 mm"
manholes = [["600 mm", "600 mm"], ["600 mm", "600 mm"]]
[tank.plaster]
screed = { thickness = "20 mm" }
"#;

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn of(e: &Estimate, id: &str) -> Decimal {
    e.sheet.find(id).unwrap_or_else(|| panic!("no item {id}")).quantity
}

pub(super) fn figures() -> Vec<Figure> {
    let e = measured(JOB, None).unwrap();
    let exact = measured(JOB, Some("exact")).unwrap();
    let edge = "both manholes lie at the edge of the soffit, and a void at the edge is always deducted (D-SMM A2(b))";
    vec![
        same("excavation to 1.50 m, m3", "11.05", of(&e, "excavation-pit/net/0-1.5/dig")),
        same("excavation from 1.50 to 3.00 m, m3", "4.57", of(&e, "excavation-pit/net/1.5-3.0/dig")),
        same("excavation, m3", "15.62", quantity(&e, "excavation-pit")),
        same("bottom levelled, m2", "7.37", quantity(&e, "bottom-trim")),
        same("blinding, m3", "0.37", quantity(&e, "concrete-blinding")),
        same("base, m3", "1.11", quantity(&e, "concrete-base")),
        same("edge of base, m", "11.44", net(&exact, "formwork-base-edge") / d("0.15")),
        same("one-brick wall, m2", "16.78", quantity(&e, "brickwork-wall")),
        near("one-brick wall, m3", "3.86", net(&e, "brickwork-wall")),
        same("half-brick baffle, m2", "1.80", quantity(&e, "brickwork-partition")),
        // 15.12 walls + 3.60 baffle faces + 0.13 top - 0.33 abutments.
        same("plaster, m2", "18.52", quantity(&e, "plaster-wall")),
        same("floor screed, m2", "3.47", quantity(&e, "screed")),
        // Both manholes are 0.0432 m3, under 0.05: kept in the slab.
        same("cover slab, m3", "0.69", quantity(&e, "concrete-cover")),
        slip("soffit, m2", "3.60", "2.88", quantity(&e, "formwork-cover-soffit"), edge),
        same("edge of cover, m", "10.24", net(&exact, "formwork-cover-edge") / d("0.12")),
        same("sides of manholes, m", "4.80", net(&exact, "formwork-manhole") / d("0.12")),
        same("manhole covers, nr", "2", net(&exact, "manhole-cover")),
        same("backfill, m3", "3.12", quantity(&e, "backfill")),
        same("disposal, m3", "12.50", quantity(&e, "disposal")),
    ]
}

#[test]
fn cover_with_both_manholes_taken_out() {
    let e = measured(JOB, None).unwrap();
    // By exact they are taken out: 3.46 x 1.66 x 0.12 - 2 x 0.6 x 0.6 x 0.12.
    assert_eq!(
        net(&e, "concrete-cover"),
        d("3.46") * d("1.66") * d("0.12") - d("2") * d("0.6") * d("0.6") * d("0.12")
    );
}

#[test]
fn wall_by_centre_line_and_by_plan() {
    let e = measured(JOB, None).unwrap();
    // Wall by centre line = plan-area difference x height.
    let centre_line = d("9.32") * d("0.23") * d("1.80");
    assert_eq!(centre_line, (d("3.46") * d("1.66") - d("3.00") * d("1.20")) * d("1.80"));
    assert_eq!(net(&e, "brickwork-wall"), centre_line);
    // The slips of section 1.3: external and internal girth are 9.9 % out.
    assert!(d("2") * (d("3.46") + d("1.66")) * d("1.80") > d("18.42"));
}

#[test]
fn edges_are_the_sheet_s_metres_times_their_height() {
    let e = measured(JOB, Some("exact")).unwrap();
    assert_eq!(net(&e, "formwork-base-edge"), d("11.44") * d("0.15"));
    assert_eq!(net(&e, "formwork-cover-edge"), d("10.24") * d("0.12"));
    assert_eq!(net(&e, "formwork-manhole"), d("8") * d("0.60") * d("0.12"));
    // Soffit: 3.00 x 1.20 less two manholes; the air gap lets the baffle's strip count.
    assert_eq!(net(&e, "formwork-cover-soffit"), d("3.00") * d("1.20") - d("2") * d("0.36"));
}

/// What the cross-check says of one figure for a kind of work.
fn named(job: &str, words: &str, unit: &str, figure: &str) -> Vec<String> {
    let list = format!("description,unit,quantity\n{words},{unit},{figure}\n");
    explained(&crosschecked(job, &list, None).unwrap(), 2)
}

#[test]
fn the_cross_check_names_the_wrong_girths_of_section_2_2() {
    // External girth 2 x (3.46 + 1.66) = 10.24 x 1.80, internal 2 x (3.00 + 1.20) = 8.40 x 1.80
    assert!(named(JOB, "One brick wall", "m2", "18.43").contains(&"corners-twice".to_owned()));
    assert!(named(JOB, "One brick wall", "m2", "15.12").contains(&"inside-girth".to_owned()));
}

#[test]
fn the_cross_check_names_the_methods_of_section_1_3() {
    // Exact net 0.603; kept by another method 0.689. This job keeps both: somebody takes them out.
    let exact = JOB.replace("\"east-africa\"", "\"exact\"");
    assert!(named(&exact, "Concrete cover slab", "m3", "0.689").contains(&"opening-kept".to_owned()));
    assert!(named(JOB, "Concrete cover slab", "m3", "0.603").contains(&"opening-deducted".to_owned()));
    // Soffit 2.88 with both manholes out, 3.60 with both in
    assert!(
        named(&exact, "Formwork to soffit of cover slab", "m2", "3.60").contains(&"opening-kept".to_owned())
    );
    // Ends of the baffle on the plaster: 18.52 without, 18.85 with 2 x 0.11 x 1.50
    assert!(named(JOB, "Plaster to walls inside", "m2", "18.85").contains(&"abutment-kept".to_owned()));
}

#[test]
fn the_cross_check_names_working_space_and_earth() {
    // 15.62 net; with 300 mm all round 4.36 x 2.56 x 2.12 = 23.66
    let space = JOB.replace("face = \"open\"", "face = \"open\"\nworking_space = \"300 mm\"");
    assert!(named(&space, "Excavate pit", "m3", "23.66").contains(&"working-space-billed".to_owned()));
    // 12.50 carted, firm clay swells by 1.4: 17.5; the whole dig 15.62
    assert!(named(JOB, "Cart away surplus", "m3", "17.50").contains(&"bulking-billed".to_owned()));
    let whole = named(JOB, "Cart away surplus", "m3", "15.62");
    assert!(
        ["disposal-whole-dig", "disposal-without-backfill"].iter().all(|id| whole.iter().any(|w| w == id))
    );
    assert!(named(JOB, "Backfill round tank", "m3", "15.62").contains(&"backfill-whole-dig".to_owned()));
}
