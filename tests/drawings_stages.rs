//! What stands at a stage, lids and vents, bars over openings, one drawing by itself: read back from their SVG and held
//! against the job.

use std::collections::BTreeSet;

use tankwright_draw::{drawing, drawings, listed, long_section, of_stage};
use tankwright_quantities::estimate::Estimate;
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
fn figures_say_what_they_are_and_how_many() {
    let small = std::fs::read_to_string(root().join("samples/smallest/job.toml")).unwrap();
    let more = "\n[[inspection_chambers]]\nsize = [600, 450]\ndepth = \"0.80 m\"\nnumber = 3\n\
        [[drain]]\nlength = \"10 m\"\nwidth = \"600 mm\"\nstone_below = \"300 mm\"\ndepth = \"1.20 m\"\n";
    let e = measured(&format!("{small}{more}"), None).unwrap();
    let title =
        |e: &Estimate, id: &str| listed(e).into_iter().find(|(own, _)| own == id).map(|(_, title)| title);
    let said = |text: &str| Some(text.to_owned());
    assert_eq!(title(&e, "drain"), said("Drainage trench 10000 x 600"));
    assert_eq!(title(&e, "inspection-chamber"), said("Inspection chamber 600 x 450, 3 of them"));
    for (sample, pits) in [("lined-pits", "\u{2300}2000, 5 of them"), ("clinic", "\u{2300}2200, 3 of them")] {
        assert_eq!(title(&estimate(sample), "soak-pit"), said(&format!("Soak pit {pits}")));
    }
    let shown = |id: &str| elements(&drawing(&e, id).unwrap().svg).unwrap();
    let all = shown("inspection-chamber");
    assert!(parts(&all, "lid").count() == 1 && words(&all).contains("lid 600 x 450"), "{}", words(&all));
    // On 300 of stone in a trench of 1200.
    let said = words(&shown("drain"));
    assert!(said.contains("perforated pipe \u{2300}110 -0.900 invert"), "{said}");
    assert!(said.contains("600 740 460 1200"), "soil, stone of 300 + 110 + 50: {said}");
    // A plain pit: stone half way up.
    let pit = "\n[soak_pit]\ndiameter = \"2.00 m\"\ndepth = \"2.40 m\"\nfill_depth = \"1.00 m\"\n";
    let pit = measured(&format!("{small}{pit}"), None).unwrap();
    let said = words(&elements(&drawing(&pit, "soak-pit").unwrap().svg).unwrap());
    assert!(said.starts_with("2000 1400 1000 2400 section"), "2400 - 1000 of soil over the stone: {said}");
    // One trench, and several.
    let scope = |e: &Estimate| e.scope.iter().map(ToString::to_string).collect::<Vec<_>>().join("; ");
    let two = measured(&format!("{small}{more}number = 2\n"), None).unwrap();
    assert!(
        scope(&e).contains("; 1 drainage trench, 10.00 m long, 0.60 m wide, 1.20 m deep;"),
        "{}",
        scope(&e)
    );
    assert!(scope(&pit).contains("soak pit") && !scope(&e).contains("soak pit"), "{}", scope(&pit));
    assert!(scope(&two).contains("; 2 drainage trenches, each 10.00 m long"), "{}", scope(&two));
}

/// Whatever stands at a stage stands on ground, or on what does.
#[test]
fn nothing_hangs_in_the_air_at_any_stage() {
    for sample in SAMPLES {
        let e = estimate(sample);
        for stage in Stage::ALL {
            let space = e.space.until(stage);
            let [nx, ny, nz] = space.size();
            let solid = |c| space.look(c).is_some_and(|l| !space.looks[l].is_void());
            let all = (0..nx).flat_map(|x| (0..ny).flat_map(move |y| (0..nz).map(move |z| [x, y, z])));
            let mut hang: BTreeSet<_> = all.filter(|c| solid(*c)).collect();
            let on_ground = |c: &[usize; 3]| c[2] == 0 || space.look([c[0], c[1], c[2] - 1]).is_none();
            let mut next: Vec<_> = hang.iter().copied().filter(on_ground).collect();
            while let Some(cell) = next.pop() {
                if hang.remove(&cell) {
                    for axis in 0..3 {
                        let mut near = [cell, cell];
                        near[0][axis] = cell[axis].wrapping_sub(1);
                        near[1][axis] = cell[axis] + 1;
                        next.extend(near);
                    }
                }
            }
            let parts: BTreeSet<_> =
                hang.iter().filter_map(|c| space.look(*c)).map(|l| space.looks[l].part).collect();
            assert!(parts.is_empty(), "{sample}, {}: {parts:?}", stage.id());
        }
    }
}

/// A level more parts a layer in two, which are what it was; cylinders stand as high as before.
#[test]
fn one_more_level_changes_nothing_that_is_there() {
    for sample in SAMPLES {
        let space = estimate(sample).space;
        let flat = |l: usize| !space.z[l].follows && !space.z[l + 1].follows;
        for layer in (0..space.size()[2]).filter(|l| flat(*l)) {
            let middle = (space.z[layer].off + space.z[layer + 1].off) / 2;
            let cut = space.with_level(middle);
            assert_eq!(cut.size()[2], space.size()[2] + 1, "{sample}");
            let [nx, ny, nz] = cut.size();
            for (x, y, z) in (0..nx).flat_map(|x| (0..ny).flat_map(move |y| (0..nz).map(move |z| (x, y, z))))
            {
                let was = space.z.iter().position(|l| *l == cut.z[z]).unwrap_or(layer);
                assert_eq!(cut.look([x, y, z]), space.look([x, y, was]), "{sample}: {x} {y} {z}");
                assert_eq!(cut.stage([x, y, z]), space.stage([x, y, was]), "{sample}: {x} {y} {z}");
            }
            for (is, was) in cut.rounds.iter().zip(&space.rounds) {
                let [of_cut, of_space] = [is.cells[2].map(|z| cut.z[z]), was.cells[2].map(|z| space.z[z])];
                assert_eq!(of_cut, of_space, "{sample}");
            }
        }
    }
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
