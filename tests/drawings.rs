//! Drawings read back from their SVG: dimensions and areas are the job's and the model's, nothing overlaps, lines and
//! letters are those of the standards, the files are well-formed.

use std::collections::{BTreeMap, BTreeSet};

use tankwright_draw::paper::Rect;
use tankwright_draw::{Drawing, drawings};
use tankwright_quantities::estimate::Estimate;
use tankwright_tests::program::root;
use tankwright_tests::random::{Wish, job};
use tankwright_tests::svg::{Element, clashes, crossed, elements, hundredths, outlines, twice_area};
use tankwright_tests::{measured, net};

pub(crate) const SAMPLES: [&str; 7] =
    ["smallest", "rest-house", "guest-house", "lined-pits", "clinic", "school", "textbook"];
const FRAME: Rect = Rect([1_000, 1_000, 28_700, 20_000]);

pub(crate) fn estimate(sample: &str) -> Estimate {
    let path = root().join("samples").join(sample).join("job.toml");
    measured(&std::fs::read_to_string(path).unwrap(), None).unwrap_or_else(|f| panic!("{sample}: {f:?}"))
}

pub(crate) fn drawn(e: &Estimate, id: &str) -> (Drawing, Vec<Element>) {
    let drawing = drawings(e).into_iter().find(|d| d.id == id).unwrap_or_else(|| panic!("no {id}"));
    let all = elements(&drawing.svg).unwrap_or_else(|e| panic!("{id}: {e}"));
    (drawing, all)
}

/// 1 to so many, from the title block.
fn scale(all: &[Element]) -> i64 {
    let of = |e: &Element| e.text.trim().strip_prefix("scale 1:")?.split(' ').next()?.parse().ok();
    all.iter().find_map(of).unwrap_or_else(|| panic!("no scale"))
}

pub(crate) fn parts<'a>(
    all: &'a [Element],
    part: &str,
) -> impl Iterator<Item = Vec<Vec<[i64; 2]>>> + use<'a> {
    let part = part.to_owned();
    all.iter().filter(move |e| e.with.get("data-of") == Some(&part)).map(|e| outlines(&e.with["d"]))
}

/// Area on site of what is drawn of a part, in hundredths of a square metre, rounded.
pub(crate) fn area(all: &[Element], part: &str) -> i64 {
    let scale = scale(all);
    let twice: i64 = parts(all, part).map(|o| twice_area(&o)).sum();
    // Hundredths of a millimetre squared on paper: 10^10 of them, times the scale twice, are a square metre.
    (twice * scale * scale + 100_000_000) / 200_000_000
}

/// From end to end of a part on site, to the right and down, mm.
pub(crate) fn extent(all: &[Element], part: &str) -> [i64; 2] {
    let points: Vec<[i64; 2]> = parts(all, part).flatten().flatten().collect();
    [0, 1].map(|axis| {
        let of = || points.iter().map(|p| p[axis]);
        ((of().max().unwrap() - of().min().unwrap()) * scale(all) + 50) / 100
    })
}

/// Chains of dimensions as the description tells them: direction and figures in tenths of a millimetre.
pub(crate) fn chains(d: &Drawing) -> Vec<(String, Vec<i64>)> {
    let figures = |list: &str| -> Vec<i64> {
        let list = list.trim().trim_end_matches('.').trim_end_matches(" mm");
        list.split(", ").map(|f| hundredths(f) / 10).collect()
    };
    let chain = |s: &str| {
        let (way, list) = s.split_once(": ")?;
        list.ends_with(" mm").then(|| (way.to_owned(), figures(list)))
    };
    d.alt.split(". ").filter_map(chain).collect()
}

#[test]
fn the_long_section_of_the_rest_house_has_its_dimensions() {
    let e = estimate("rest-house");
    let (drawing, all) = drawn(&e, "long-section");
    let found = chains(&drawing);
    assert_eq!(found[0].1, [2_200, 20_000, 1_100, 10_000, 2_200]);
    assert_eq!(found[0].1.iter().sum::<i64>(), 2 * 2_200 + 20_000 + 1_100 + 10_000);
    // The base reaches from end to end; its thickness and the floor's fall are its height.
    assert_eq!(extent(&all, "base"), [220 + 2_000 + 110 + 1_000 + 220, 150 + 60]);
    assert_eq!(extent(&all, "blinding"), [3_550, 50 + 60]);
    // Square centimetres x 100: the slab less two manholes, the base, whatever its slope.
    assert_eq!(area(&all, "cover"), (3_550 - 2 * 600) * 125 / 10_000);
    assert_eq!(area(&all, "base"), 3_550 * 150 / 10_000);
    // Both ends between base and cover, less the ring beam, the hole and what the base rises under them.
    let ends = 220 * (1_600 - 150 - 110) + 220 * (1_660 - 150 - 110);
    assert_eq!(area(&all, "wall"), (ends + 5_000) / 10_000);
}

#[test]
fn the_plan_of_the_rest_house_has_its_dimensions() {
    let e = estimate("rest-house");
    let (drawing, all) = drawn(&e, "plan-floor");
    let found = chains(&drawing);
    let across = found.iter().find(|c| c.1.len() == 5 && c.0.contains("above")).unwrap();
    assert_eq!(across.1, [2_200, 6_500, 2_000, 6_500, 2_200]);
    let ring = 3_550 * 1_940 - 3_110 * 1_500;
    assert_eq!(area(&all, "column"), (4 * 220 * 220 + 5_000) / 10_000);
    assert_eq!(area(&all, "wall"), (ring - 4 * 220 * 220 + 5_000) / 10_000);
    assert_eq!(area(&all, "partition"), (110 * (1_500 - 200) + 5_000) / 10_000);
}

#[test]
fn sections_of_long_parts_times_their_width_are_the_model() {
    // A part that runs through the whole width, in jobs without holes in it.
    for (sample, part, work, width) in [
        ("rest-house", "base", "concrete-base", 1_940),
        ("rest-house", "blinding", "concrete-blinding", 1_940),
        ("clinic", "hardcore", "hardcore-bed", 2_600),
        ("school", "base", "concrete-base", 2_230),
    ] {
        let e = estimate(sample);
        let (_, all) = drawn(&e, "long-section");
        let drawn = area(&all, part) * width;
        // Cubic metres x 100 000.
        let model = e.sheet.items.iter().filter(|i| i.work.id == work && !i.spec.contains("over-break"));
        let model: tankwright_geometry::Ratio = model.filter_map(|i| i.model).sum();
        let model = (model * tankwright_geometry::Ratio::int(100_000)).floor().numer();
        let apart = (i128::from(drawn) - model).abs();
        assert!(apart < 100_000 / 50, "{sample}: {part}: {drawn} and {model}");
        assert!(net(&e, work) > 0.into());
    }
}

#[test]
fn chains_of_a_drawing_have_one_sum() {
    for sample in SAMPLES {
        let e = estimate(sample);
        // A sheet of details has many pictures.
        let whole = |d: &Drawing| !["beams", "columns"].iter().any(|of| d.id.starts_with(of));
        for d in drawings(&e).into_iter().filter(whole) {
            let mut sums: BTreeMap<String, BTreeSet<i64>> = BTreeMap::new();
            for (way, figures) in chains(&d).into_iter().filter(|(way, _)| !way.contains("below")) {
                assert!(figures.iter().all(|f| *f > 0), "{sample}: {}: {figures:?}", d.id);
                sums.entry(way).or_default().insert(figures.iter().sum());
            }
            // A filled dig stands in the last chain, and is wider than the tank.
            let most = if e.sketch.digs.iter().any(|d| d.filled) { 2 } else { 1 };
            assert!(sums.values().all(|s| s.len() <= most), "{sample}: {}: {sums:?}", d.id);
        }
    }
}

/// Everything that every drawing must be.
pub(crate) fn in_order(e: &Estimate, of: &str) {
    each_in_order(drawings(e), of);
}

/// The same of these.
pub(crate) fn each_in_order(all: Vec<Drawing>, of: &str) {
    for d in all {
        let all = elements(&d.svg).unwrap_or_else(|e| panic!("{of}: {}: {e}", d.id));
        let found = clashes(&all, &FRAME);
        assert!(found.is_empty(), "{of}: {}: {}", d.id, found.join("\n"));
        let over = crossed(&all);
        assert!(over.is_empty(), "{of}: {}: over thick lines: {}", d.id, over.join(", "));
        assert_eq!((d.width_mm, d.height_mm), (297, 210));
        // Nothing is drawn beyond the frame.
        for e in all.iter().filter(|e| e.name == "path" && !e.with.contains_key("fill")) {
            let points = e.with.get("d").filter(|_| e.with.contains_key("class")).map(|d| outlines(d));
            for [x, y] in points.unwrap_or_default().into_iter().flatten() {
                let on = (900..=28_800).contains(&x) && (900..=20_100).contains(&y);
                assert!(on, "{of}: {}: {x} {y} lies beyond the frame", d.id);
            }
        }
        // Each hatching stands in the legend and on the drawing.
        for pattern in all.iter().filter(|e| e.name == "pattern") {
            let id = &pattern.with["id"];
            let class = |e: &&Element| e.with.get("class").is_some_and(|c| c.split(' ').any(|c| c == id));
            assert!(all.iter().filter(class).count() > 1, "{of}: {}: {id} is not used", d.id);
        }
    }
}

#[test]
fn nothing_overlaps_on_the_samples() {
    for sample in SAMPLES {
        in_order(&estimate(sample), sample);
    }
}

#[test]
fn nothing_overlaps_on_fifty_random_jobs() {
    for seed in 0..50 {
        let text = job(seed, Wish { profile: "exact", level: false });
        let e = measured(&text, None).unwrap_or_else(|f| panic!("{seed}: {f:?}\n{text}"));
        in_order(&e, &format!("seed {seed}"));
    }
}

#[test]
fn lines_and_letters_are_those_of_the_standards() {
    // ISO 128-2: widths in steps of the square root of two; ISO 3098: capitals of 2.5, 3.5, 5 mm.
    let widths = [".18", ".25", ".35", ".5", ".7", "1"];
    for d in drawings(&estimate("school")) {
        let all = elements(&d.svg).unwrap();
        let style = &all.iter().find(|e| e.name == "style").unwrap().text;
        let mut seen = BTreeSet::new();
        for width in style.split("stroke-width:").skip(1) {
            let width = width.split([';', '}']).next().unwrap();
            assert!(widths.contains(&width), "{width}");
            seen.insert(width.to_owned());
        }
        assert!(seen.contains(".5") && seen.contains(".18"));
        let own = all.iter().filter_map(|e| e.with.get("stroke-width"));
        assert!(own.into_iter().all(|w| widths.contains(&w.as_str())), "{}", d.id);
        for size in style.split("font-size:").skip(1) {
            let size = hundredths(size.split("px").next().unwrap());
            // Capitals of the face are 1493 of 2048 units high.
            let capital = size * 1_493 / 2_048;
            assert!([250, 350, 500].iter().any(|c| (capital - c).abs() <= 1), "{capital}");
        }
    }
}

#[test]
fn words_of_the_user_cannot_break_a_drawing() {
    let text = std::fs::read_to_string(root().join("samples/guest-house/job.toml")).unwrap();
    let title = "\"a <b> & 'c' \\\"d\\\" \u{4e00}\"";
    let text = text.lines().map(|l| match l.split_once(" = ") {
        Some(("title", _)) => format!("title = {title}\n"),
        _ => format!("{l}\n"),
    });
    let text: String = text.collect();
    in_order(&measured(&text, None).unwrap(), "nonsense");
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    let (a, b) = (drawings(&estimate("clinic")), drawings(&estimate("clinic")));
    assert_eq!(a, b);
}

#[test]
fn the_drawings_of_the_rest_house_are_those_expected() {
    let update = std::env::var_os("TANKWRIGHT_UPDATE").is_some();
    let e = estimate("rest-house");
    let folder = root().join("samples/rest-house/expected");
    for id in ["long-section", "plan-floor"] {
        let (d, _) = drawn(&e, id);
        let path = folder.join(format!("{id}.svg"));
        if update {
            std::fs::write(&path, &d.svg).unwrap();
        }
        let then = std::fs::read_to_string(&path).unwrap_or_default();
        assert!(d.svg == then, "{id}.svg differs; run with TANKWRIGHT_UPDATE=1 if it should");
    }
}
