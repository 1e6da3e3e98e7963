//! What a drawn tank holds, chamber by chamber: a working of our own by hand (no source), to the last digit printed.

use tankwright_geometry::Ratio;
use tankwright_quantities::decimal::{rounded, shown};
use tankwright_quantities::estimate::Estimate;
use tankwright_tests::measured;

/// The rest house with a thicker cover than the sample's.
pub(crate) const JOB: &str = r#"format = 1

[job]
title = "Rest house with a cover of 150 mm"
date = "2026-11-25"
currency = "UGX"

[tank]
chambers = ["2.00 m", "1.00 m"]
width = "1.50 m"
height = "1.60 m"

[tank.base]
fall = "60 mm"

[tank.walls]
thickness = "220 mm"

[tank.partitions]
thickness = "110 mm"
air_gap = "150 mm"
opening = { width = "200 mm", height = "200 mm", below_top = "700 mm" }

[tank.columns]
size = ["220 mm", "220 mm"]

[tank.cover]
thickness = "150 mm"
span_beam = { width = "200 mm", depth = "150 mm", bearing = "220 mm" }

[tank.plaster]
thickness = "20 mm"
screed = { thickness = "30 mm" }

[tank.pipes]
inlet = { diameter = "110 mm", below_top = "300 mm" }
outlet = { diameter = "110 mm", below_top = "350 mm" }
"#;

fn drawn(changes: &[(&str, &str)]) -> Estimate {
    let mut text = JOB.to_owned();
    for (from, to) in changes {
        assert!(text.contains(from), "{from}");
        text = text.replace(from, to);
    }
    measured(&text, None).unwrap_or_else(|f| panic!("{text}\n{f:?}"))
}

fn nine(m3: Ratio) -> String {
    rounded(m3, 9).map(|d| shown(d, 9)).unwrap_or_default()
}

fn volumes(e: &Estimate) -> Vec<String> {
    let all = e.capacity.chambers.iter().map(|c| c.volume);
    all.clone().chain([all.sum()]).map(nine).collect()
}

/// Finished plan times the depth at its middle, m3: the sums of the working.
fn by_hand(length: Ratio, middle: Ratio, level: Ratio) -> Ratio {
    let fall = Ratio::of(60, 1_000) * (Ratio::of(3_110, 1_000) - middle) / Ratio::of(3_110, 1_000);
    let floor = Ratio::of(-1_750, 1_000) - fall + Ratio::of(30, 1_000);
    length * Ratio::of(1_500 - 2 * 20, 1_000) * (level - floor)
}

#[test]
fn each_chamber_to_its_water_line() {
    let e = drawn(&[]);
    assert_eq!(volumes(&e), ["3.607640283", "1.723472257", "5.331112540"]);
    let level = Ratio::of(-500, 1_000);
    let [first, second] = &e.capacity.chambers[..] else { panic!("{:?}", e.capacity) };
    assert_eq!(first.volume, by_hand(Ratio::of(2_000 - 40, 1_000), Ratio::of(1_000, 1_000), level));
    assert_eq!(
        second.volume,
        by_hand(Ratio::of(1_000 - 40, 1_000), Ratio::of(2_000 + 110 + 500, 1_000), level)
    );
    assert_eq!([first.depth, second.depth].map(nine), ["1.260707395", "1.229646302"]);
    assert_eq!([first.length, first.width, first.level], [Ratio::of(196, 100), Ratio::of(146, 100), level]);
    let sum = first.volume + second.volume;
    let share = |c: Ratio| rounded(c / sum * Ratio::int(100), 4).map(|d| shown(d, 4)).unwrap_or_default();
    assert_eq!([share(first.volume), share(second.volume)], ["67.6714", "32.3286"]);
    assert_eq!(e.capacity.to_water_line, Some(5_331));
    let to_inlet: Ratio = e.capacity.chambers.iter().filter_map(|c| c.to_inlet).sum();
    assert_eq!(nine(to_inlet), "5.544272540");
    // Free space: 350 mm to the cover, 200 mm to the beam; the way through is 370 mm under water.
    assert_eq!(e.capacity.cover - level, Ratio::of(350, 1_000));
    assert_eq!(e.capacity.beam.map(|b| b - level), Some(Ratio::of(200, 1_000)));
    assert_eq!(first.way.as_ref().map(|w| level - w.top), Some(Ratio::of(370, 1_000)));
    assert!(e.cautions.iter().all(|c| !["C015", "C016", "C017", "C018"].contains(&c.code)));
}

#[test]
fn what_finishes_and_columns_take_away() {
    let bare = drawn(&[("[tank.plaster]\nthickness = \"20 mm\"\nscreed = { thickness = \"30 mm\" }\n", "")]);
    assert_eq!(nine(bare.capacity.chambers.iter().map(|c| c.volume).sum()), "5.761591640");
    let flat = drawn(&[
        ("[tank.plaster]\nthickness = \"20 mm\"\nscreed = { thickness = \"30 mm\" }\n", ""),
        ("fall = \"60 mm\"", "fall = \"0 mm\""),
    ]);
    // Faces of masonry, no fall, no screed: (2.00 + 1.00) x 1.50 x 1.25.
    assert_eq!(nine(flat.capacity.chambers.iter().map(|c| c.volume).sum()), "5.625000000");
    let columns = drawn(&[("[\"220 mm\", \"220 mm\"]", "[\"300 mm\", \"300 mm\"]")]);
    assert_eq!(volumes(&columns)[2], "5.299112540");
    let full = drawn(&[]).capacity.chambers;
    let loss = |i: usize| nine(full[i].volume - columns.capacity.chambers[i].volume);
    assert_eq!([loss(0), loss(1)], ["0.016369183", "0.015630817"]);
}

#[test]
fn a_cascade_has_two_water_lines_and_is_told() {
    let e = drawn(&[
        ("height = \"200 mm\", below_top = \"700 mm\"", "height = \"150 mm\", below_top = \"220 mm\""),
        ("below_top = \"350 mm\"", "below_top = \"450 mm\""),
    ]);
    assert_eq!(volumes(&e), ["3.607640283", "1.583312257", "5.190952540"]);
    let levels: Vec<_> = e.capacity.chambers.iter().map(|c| c.level).collect();
    assert_eq!(levels, [Ratio::of(-500, 1_000), Ratio::of(-600, 1_000)]);
    let codes: Vec<_> =
        e.cautions.iter().map(|c| c.code).filter(|c| ["C015", "C016", "C017"].contains(c)).collect();
    assert_eq!(codes, ["C016", "C017"]);
    let drowned = drawn(&[
        ("height = \"200 mm\", below_top = \"700 mm\"", "height = \"150 mm\", below_top = \"100 mm\""),
        ("below_top = \"350 mm\"", "below_top = \"450 mm\""),
        ("depth = \"150 mm\", bearing", "depth = \"50 mm\", bearing"),
        ("air_gap = \"150 mm\"\n", ""),
    ]);
    assert!(drowned.cautions.iter().any(|c| c.code == "C015"));
}

#[test]
fn a_tank_without_a_water_line_has_no_capacity() {
    let e = drawn(&[("outlet = { diameter = \"110 mm\", below_top = \"350 mm\" }\n", "")]);
    assert!(e.capacity.chambers.is_empty() && e.capacity.to_water_line.is_none());
    let e = drawn(&[
        ("air_gap = \"150 mm\"\n", ""),
        ("opening = { width = \"200 mm\", height = \"200 mm\", below_top = \"700 mm\" }\n", ""),
    ]);
    assert!(e.capacity.to_water_line.is_none() && e.cautions.iter().any(|c| c.code == "C013"));
}
