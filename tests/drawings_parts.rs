//! Details of beams and columns, formed faces, the site: read back from their SVG and held against the job, the bar
//! schedule and the ledger.

use std::collections::BTreeMap;

use tankwright_draw::drawings;
use tankwright_geometry::Ratio;
use tankwright_quantities::decimal::{ratio, rounded, shown};
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::sketch::{Along, Plan};
use tankwright_quantities::works::{Class, FaceRule, Proof, Unit};
use tankwright_tests::measured;
use tankwright_tests::random::{Wish, job};
use tankwright_tests::svg::{Element, elements, hundredths, texts};

use crate::drawings::{SAMPLES, chains, drawn, estimate, extent, parts};

/// Round black things by their radius on paper, hundredths of a millimetre.
fn dots(all: &[Element]) -> BTreeMap<i64, usize> {
    let black =
        all.iter().filter(|e| e.name == "circle" && e.with.get("class").is_some_and(|c| c == "black"));
    black.fold(BTreeMap::new(), |mut found, e| {
        *found.entry(hundredths(&e.with["r"])).or_default() += 1;
        found
    })
}

fn words(all: &[Element]) -> String {
    texts(all).into_iter().map(|t| t.text).collect::<Vec<_>>().join(" ")
}

#[test]
fn beams_of_the_rest_house_have_their_size_their_bars_and_their_marks() {
    let e = estimate("rest-house");
    let (drawing, all) = drawn(&e, "beams");
    // Ring beam 220 x 150, span beam 200 x 150, 40 mm of concrete over the links.
    let found: Vec<_> = chains(&drawing).into_iter().map(|c| c.1).collect();
    let covered = |size: i64| vec![400, size - 800, 400];
    for size in [2_200, 1_500, 2_000, 1_500] {
        assert!(found.contains(&covered(size)) && found.contains(&vec![size]), "{size}: {found:?}");
    }
    let sizes: Vec<_> =
        parts(&all, "member").map(|o| (o[0][2][0] - o[0][0][0], o[0][2][1] - o[0][0][1])).collect();
    assert_eq!(
        sizes,
        [(2_200, 1_500), (2_000, 1_500)],
        "at 1:10 hundredths of a millimetre are tenths on site"
    );
    // 4Y10 in the one, 4Y12 in the other, at 1:10: radii of 0.5 and 0.6 mm.
    let dots = dots(&all);
    assert_eq!((dots.get(&50), dots.get(&60)), (Some(&4), Some(&4)), "{dots:?}");
    // Built against the wall inside: one face of the ring beam; both sides and the underside of the span beam.
    assert_eq!(parts(&all, "board").count(), 1 + 3);
    let said = words(&all);
    for mark in e.steel.marks.iter().filter(|m| ["ring", "span"].iter().any(|b| m.member.key.contains(b))) {
        assert!(said.contains(&format!(" {}: ", mark.mark)), "{}: {said}", mark.mark);
    }
}

#[test]
fn a_column_from_its_side_has_its_lap_and_its_legs() {
    let e = estimate("rest-house");
    let (drawing, all) = drawn(&e, "columns");
    let found: Vec<_> = chains(&drawing).into_iter().map(|c| c.1).collect();
    // Pocket 250, blinding 50, base 150; starters stand 40 x 12 above the floor; 1600 + 60 up to the cover of 125.
    assert!(found.contains(&vec![16_600 + 1_250 - 4_800, 4_800, 4_500]), "{found:?}");
    assert!(found.contains(&vec![1_250, 16_600, 4_500]), "{found:?}");
    assert!(words(&all).contains("3: 4 Y12, columns, starter bars"));
}

#[test]
fn every_mark_of_a_member_stands_on_its_detail() {
    for sample in SAMPLES {
        let e = estimate(sample);
        let said: String = drawings(&e)
            .iter()
            .filter(|d| d.id.starts_with("beams") || d.id.starts_with("columns"))
            .map(|d| words(&elements(&d.svg).unwrap()) + " ")
            .collect();
        for mark in e.sketch.details.iter().flat_map(|d| &d.marks) {
            let note = format!("{mark}: ");
            assert!(
                said.starts_with(&note) || said.contains(&format!(" {note}")),
                "{sample}: {mark}: {said}"
            );
        }
        let beams = |m: &&tankwright_quantities::steel::Mark| {
            ["bars-ring", "bars-wall-beam", "bars-span", "bars-column", "bars-starters"]
                .iter()
                .any(|k| m.member.key.starts_with(k))
        };
        let of_members = e.steel.marks.iter().filter(beams).count();
        assert_eq!(e.sketch.details.iter().map(|d| d.marks.len()).sum::<usize>(), of_members, "{sample}");
    }
}

/// Every formwork that faces prove: their sum is the model's quantity to the last fraction, and what is printed on the
/// drawing is the sum of what is printed face by face.
fn formed_faces_add_up(e: &Estimate, of: &str) {
    let mut all_faces = Ratio::ZERO;
    for item in e.sheet.items.iter().filter(|i| i.work.class == Class::Formwork && i.unit == Unit::M2) {
        if !matches!(item.work.proof, Proof::Faces(FaceRule::Forms)) {
            continue;
        }
        let own = e.sketch.formed.iter().filter(|f| f.work == item.work.id && f.stage == item.stage);
        let sum: Ratio = own.map(|f| f.area).sum();
        assert_eq!(Some(sum), item.model, "{of}: {}", item.id);
        all_faces = all_faces + sum;
    }
    let sheets: Vec<_> = drawings(e).into_iter().filter(|d| d.id.starts_with("formwork")).collect();
    let said: String = sheets.iter().map(|d| words(&elements(&d.svg).unwrap()) + " ").collect();
    assert_eq!(sheets.is_empty(), all_faces.is_zero(), "{of}");
    if !sheets.is_empty() {
        let total = rounded(e.sketch.formed.iter().map(|f| f.area).sum(), 3).map(|d| shown(d, 3)).unwrap();
        assert!(said.contains(&format!("Altogether {total} m2")), "{of}: {said}");
    }
}

#[test]
fn formed_faces_add_up_to_the_ledger() {
    for sample in SAMPLES {
        let text = tankwright_tests::program::root().join("samples").join(sample).join("job.toml");
        let e = measured(&std::fs::read_to_string(text).unwrap(), Some("exact")).unwrap();
        formed_faces_add_up(&e, sample);
        // By `exact` the ledger's figure is the model's.
        for item in e.sheet.items.iter().filter(|i| i.work.class == Class::Formwork) {
            if let Some(model) = item.model {
                let apart = (model - ratio(item.net)).abs();
                assert!(apart < Ratio::of(2, 1_000), "{sample}: {}: {apart:?}", item.id);
            }
        }
    }
    for seed in 0..20 {
        let text = job(seed, Wish { profile: "exact", level: false });
        formed_faces_add_up(&measured(&text, None).unwrap(), &format!("seed {seed}"));
    }
}

#[test]
fn the_faces_of_the_rest_house_are_drawn_to_scale() {
    let e = estimate("rest-house");
    let (_, all) = drawn(&e, "formwork");
    // The ring beam's inner faces: 1500, 2000 and 1000 by 150, two of each; the longest face of all is the span beam's.
    let said = words(&all);
    for face in
        ["2 times 1500 x 150: 0.450 m2", "2 times 2000 x 150: 0.600 m2", "2 times 1000 x 150: 0.300 m2"]
    {
        assert!(said.contains(face), "{face}: {said}");
    }
    let (scale, widest) = (25, parts(&all, "formed").map(|o| o[0][1][0] - o[0][0][0]).max().unwrap());
    assert_eq!(widest * scale, (2_000 + 110 + 1_000) * 100);
    assert!(extent(&all, "formed")[0] > 3_110);
}

#[test]
fn the_site_shows_distances_and_of_many_pits_the_first_two_and_the_last() {
    let e = estimate("school");
    let (_, all) = drawn(&e, "site");
    let figures: Vec<String> = texts(&all).into_iter().map(|t| t.text).collect();
    // From the tank, then from the soak pit.
    for far in ["12000", "45000", "60000", "4000", "16000", "40000", "55000"] {
        assert!(figures.iter().any(|f| f == far), "{far}: {figures:?}");
    }
    let (drawing, all) = drawn(&estimate("lined-pits"), "site");
    let found: Vec<_> = chains(&drawing).into_iter().map(|c| c.1).collect();
    // Five pits of 2 m, 6 m apart: from the second to the last 3 x (2 + 6) - 2.
    assert_eq!(found, [vec![90_000, 35_500, 60_000, 20_000], vec![20_000, 60_000, 20_000, 220_000, 20_000]]);
    assert!(words(&all).contains("pipes and ground between them shortened"));
}

/// Further lines of pipes lie beside the tank, each with its length and its fall.
#[test]
fn further_lines_of_pipes_are_on_the_site() {
    let e = estimate("guest-house");
    let lines: Vec<_> = e.sketch.stops.iter().filter(|s| s.along == Along::Beside).collect();
    let runs: Vec<_> =
        lines.iter().map(|s| (s.plan, s.says.iter().map(|p| p.key).collect::<Vec<_>>())).collect();
    let run = |length, diameter| Plan::Run { length, diameter };
    let fall = vec!["draw-fall", "draw-inverts"];
    assert_eq!(runs, [(run(120_000, 1_100), fall), (run(50_000, 500), Vec::new())]);
}
