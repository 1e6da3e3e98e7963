//! What stands at a stage, lids and vents, bars over openings, one drawing by itself: read back from their SVG and held
//! against the job.

use tankwright_draw::{drawing, drawings, listed, long_section, of_stage};
use tankwright_quantities::stage::Stage;
use tankwright_tests::measured;
use tankwright_tests::program::root;
use tankwright_tests::random::{Wish, job};
use tankwright_tests::svg::{Element, elements, hundredths, texts};

use crate::drawings::{SAMPLES, area, chains, drawn, each_in_order, estimate, extent, parts};

fn words(all: &[Element]) -> String {
    texts(all).into_iter().map(|t| t.text).collect::<Vec<_>>().join(" ")
}

/// The first sketch of a stage.
fn sketch(sample: &str, stage: Stage) -> (Vec<Vec<i64>>, Vec<Element>) {
    let d = of_stage(&estimate(sample), stage).into_iter().next().unwrap();
    let found = chains(&d).into_iter().map(|c| c.1).collect();
    (found, elements(&d.svg).unwrap())
}

fn has(all: &[Element], part: &str) -> bool {
    parts(all, part).next().is_some()
}

#[test]
fn one_drawing_is_that_of_the_set() {
    for sample in SAMPLES {
        let e = estimate(sample);
        let all = drawings(&e);
        let heads: Vec<_> = all.iter().map(|d| (d.id.clone(), d.title.clone())).collect();
        assert_eq!(listed(&e), heads, "{sample}");
        for d in &all {
            assert_eq!(drawing(&e, &d.id).as_ref(), Some(d), "{sample}: {}", d.id);
        }
        assert_eq!(drawing(&e, "no-such-sheet"), None);
    }
}

#[test]
fn a_stage_shows_what_stands_and_its_own_work_bold() {
    // An empty pit: its length, its depth at the inlet; nothing of the tank.
    let (found, all) = sketch("rest-house", Stage::Dig);
    assert_eq!(found, [vec![35_500], vec![19_850]]);
    assert!(!["base", "wall", "cover", "lid", "vent", "new"].iter().any(|p| has(&all, p)));
    // Base and blinding, all of them new.
    let (found, all) = sketch("rest-house", Stage::Base);
    assert!(found.contains(&vec![1_500, 500]), "{found:?}");
    assert!(has(&all, "base") && has(&all, "blinding") && !has(&all, "wall") && !has(&all, "cover"));
    assert_eq!(area(&all, "new"), (3_550 * 150 + 3_550 * 50 + 5_000) / 10_000);
    // The lower lift: both ends up to the ring beam, the partition as high; 60 mm less at the outlet.
    let (_, all) = sketch("rest-house", Stage::WallsLower);
    assert!(has(&all, "base") && has(&all, "wall") && has(&all, "partition"));
    assert!(!["ring-beam", "cover", "span-beam", "pipe"].iter().any(|p| has(&all, p)));
    let ends = 220 * 760 + 220 * 700;
    assert_eq!(area(&all, "wall"), (ends + 5_000) / 10_000);
    // Finished: nothing of the cells is new, lids and vent are there.
    let (_, all) = sketch("rest-house", Stage::Finish);
    assert!(["cover", "wall", "lid", "vent", "pipe"].iter().all(|p| has(&all, p)) && !has(&all, "new"));
}

#[test]
fn an_invert_is_printed_in_millimetres_however_the_fall_divides() {
    // 20 m at 1 in 60 are 333.3 mm: from 1150 - 333.3 below ground.
    let job = "format = 1\n[job]\ntitle = \"t\"\ndate = \"2026-11-25\"\ncurrency = \"UGX\"\n[tank]\n\
               chambers = [\"2 m\"]\nwidth = \"1.5 m\"\nheight = \"1.6 m\"\ncover_top = \"-600 mm\"\n[tank.pipes]\n\
               inlet = { diameter = 160, below_top = 400, length = \"20 m\", fall = \"1 in 60\" }\n";
    let e = measured(job, None).unwrap();
    let site = drawing(&e, "site").unwrap();
    let says = words(&elements(&site.svg).unwrap());
    assert!(says.contains("816.7 to 1150 below ground"), "{says}");
}

#[test]
fn what_hangs_stands_with_what_it_hangs_on() {
    // Boards are made with the lower walls, and built into the upper ones.
    let boards = |stage| has(&sketch("school", stage).1, "board");
    let made = estimate("school")
        .sheet
        .items
        .iter()
        .any(|i| i.work.id.contains("board") && i.stage == Stage::WallsLower);
    assert!(made && !boards(Stage::RingBeam) && boards(Stage::WallsUpper));
}

#[test]
fn nothing_overlaps_on_the_sketches_of_stages() {
    for sample in SAMPLES {
        let e = estimate(sample);
        for stage in Stage::ALL {
            each_in_order(of_stage(&e, stage), &format!("{sample}: {}", stage.id()));
        }
    }
    for seed in 100..115 {
        let text = job(seed, Wish { profile: "exact", level: false });
        let e = measured(&text, None).unwrap_or_else(|f| panic!("{seed}: {f:?}\n{text}"));
        for stage in Stage::ALL {
            each_in_order(of_stage(&e, stage), &format!("seed {seed}: {}", stage.id()));
        }
    }
}

#[test]
fn lids_and_vents_are_drawn_to_scale_and_named() {
    let e = estimate("rest-house");
    let (_, all) = drawn(&e, "plan-cover");
    // Two lids of 600 x 600, one at either end of a tank 3 110 mm long inside.
    assert_eq!((parts(&all, "lid").count(), extent(&all, "lid")), (2, [3_110, 600]));
    assert_eq!(area(&all, "lid"), 2 * 600 * 600 / 10_000);
    let said = words(&all);
    assert!(
        said.contains("2 times manhole 600 x 600 with") && said.contains("vent 2500 above cover"),
        "{said}"
    );
    // At 1:25 a vent of 100 mm is a circle of 2 mm radius.
    let round = |e: &&Element| e.name == "circle" && hundredths(&e.with["r"]) == 200;
    assert_eq!(all.iter().filter(round).count(), 1);
    let (_, all) = drawn(&e, "long-section");
    assert_eq!((parts(&all, "lid").count(), extent(&all, "lid")[0]), (2, 3_110));
    // 100 mm across, cut short 500 mm over the cover.
    assert_eq!(extent(&all, "vent"), [100, 500]);
    // On shafts of a buried cover; over the manhole of a soak pit's cover.
    let (_, all) = drawn(&estimate("school"), "long-section");
    assert_eq!(parts(&all, "lid").count(), 4);
    let (_, all) = drawn(&estimate("lined-pits"), "soak-pit");
    assert_eq!(parts(&all, "lid").count(), 1);
    assert!(words(&all).contains("lid "));
}

#[test]
fn bars_over_a_wide_opening_have_their_detail() {
    let text = std::fs::read_to_string(root().join("samples/rest-house/job.toml")).unwrap();
    let (narrow, wide) = ("opening = { width = \"200 mm\"", "opening = { width = \"400 mm\"");
    assert!(text.contains(narrow));
    let e = measured(&text.replace(narrow, wide), None).unwrap();
    let (d, all) = drawn(&e, "beams");
    let found: Vec<_> = chains(&d).into_iter().map(|c| c.1).collect();
    // They bear 150 mm on either side of 400; the opening is 200 high, its wall 110 thick.
    assert!(found.contains(&vec![1_500, 4_000, 1_500]) && found.contains(&vec![2_000]), "{found:?}");
    let mark = e.steel.marks.iter().find(|m| m.member.key == "bars-lintel").unwrap();
    assert_eq!(mark.length_mm, 400 + 2 * 150);
    assert_eq!(words(&all).matches(&format!(" {}: 3 ", mark.mark)).count(), 2);
    each_in_order(vec![d], "lintel");
    // No bars, no detail.
    let (d, _) = drawn(&estimate("rest-house"), "beams");
    assert!(!d.alt.contains("opening"));
}

#[test]
fn a_section_in_a_narrow_room_keeps_its_letters_or_is_none() {
    // Room for letters of 1.8 mm on 176 x 135 mm.
    let room = [17_600 * 250 / 180, 13_500 * 250 / 180];
    let mut shown = 0;
    for sample in SAMPLES {
        let Some(view) = long_section(&estimate(sample), room) else { continue };
        shown += 1;
        assert!(view.size[0] <= room[0] && view.size[1] <= room[1], "{sample}: {:?}", view.size);
        assert!(!elements(&view.svg).unwrap().is_empty());
    }
    // The clinic is too long for it.
    assert!(long_section(&estimate("clinic"), room).is_none() && shown >= 5, "{shown}");
}
