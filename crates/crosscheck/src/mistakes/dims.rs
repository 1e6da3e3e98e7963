//! Dimensions: feet read as metres, diameters and radii, a rounded thickness, a depth or a number left out.

use std::collections::BTreeSet;

use tankwright_geometry::{PI, Ratio};
use tankwright_quantities::words::Phrase;

use super::{Act, Case, Mistake, lines};
use crate::measure::{Dim, Part, Row, inputs_of, plain, revalued};

/// A dimension in feet read as metres, or the other way round.
pub(super) const FEET_AS_METRES: Mistake = Mistake { id: "feet-as-metres", ways: feet };
/// The diameter taken for the radius.
pub(super) const DIAMETER_FOR_RADIUS: Mistake =
    Mistake { id: "diameter-for-radius", ways: |c| circle(c, "cross-diameter", Ratio::int(2)) };
/// The radius taken for the diameter.
pub(super) const RADIUS_FOR_DIAMETER: Mistake =
    Mistake { id: "radius-for-diameter", ways: |c| circle(c, "cross-radius", Ratio::of(1, 2)) };
/// A round plan measured as the square about it.
pub(super) const SQUARE_FOR_ROUND: Mistake = Mistake { id: "square-for-round", ways: square };
/// Pi with few places.
pub(super) const PI_ROUNDED: Mistake = Mistake { id: "pi-rounded", ways: pi_rounded };
/// The least dimension of each line rounded or cut.
pub(super) const THICKNESS_ROUNDED: Mistake = Mistake { id: "thickness-rounded", ways: thickness_rounded };
/// A dimension not multiplied: an area for a volume, a length for an area.
pub(super) const DEPTH_LEFT_OUT: Mistake = Mistake { id: "depth-left-out", ways: left_out };
/// One measured where the job has several.
pub(super) const NUMBER_LEFT_OUT: Mistake = Mistake { id: "number-left-out", ways: one_of_several };

/// Exactly.
const FOOT: Ratio = Ratio::of(3048, 10_000);
/// What is thinner is a thickness, metres.
const THIN: Ratio = Ratio::of(1, 2);

fn most_dims(case: &Case<'_>) -> usize {
    case.row.parts.iter().map(|p| p.dims.len()).max().unwrap_or(0)
}

fn nth(i: usize) -> String {
    (i + 1).to_string()
}

fn feet(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    let mut ways = scaled(case, "cross-feet", Ratio::ONE / FOOT);
    ways.extend(lengths(case));
    ways.extend(scaled(case, "cross-metres", FOOT));
    ways
}

/// All dimensions, and each in turn.
fn scaled(case: &Case<'_>, key: &'static str, by: Ratio) -> Vec<(Phrase, Act)> {
    let dims = most_dims(case);
    let mut ways = Vec::new();
    let all = move |row: &mut Row| {
        row.parts.iter_mut().flat_map(|p| &mut p.dims).for_each(|d| d.set(d.value * by));
    };
    if dims > 1 {
        ways.push(lines(Phrase::with(key, &["1-3"]), all));
    }
    for i in 0..dims {
        let change = move |row: &mut Row| {
            row.parts.iter_mut().filter_map(|p| p.dims.get_mut(i)).for_each(|d| d.set(d.value * by));
        };
        ways.push(lines(Phrase::with(key, &[&nth(i)]), change));
    }
    ways
}

/// Each length of the drawing that the row is made of and that somebody may write in feet.
fn lengths(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    let (mut ways, by) = (Vec::new(), Ratio::ONE / FOOT);
    let mut inputs = BTreeSet::new();
    case.row.parts.iter().flat_map(|p| &p.dims).for_each(|d| inputs_of(&d.len, &mut inputs));
    let values: std::rc::Rc<[Ratio]> = case.world.job.inputs.iter().map(|i| i.value).collect();
    for id in inputs {
        let Some(input) = case.world.job.inputs.get(id.0 as usize) else { continue };
        if input.value / Ratio::int(10_000) < THIN {
            continue;
        }
        let values = values.clone();
        let change = move |row: &mut Row| {
            let value = |i: u32| values.get(i as usize).copied().unwrap_or(Ratio::UNKNOWN);
            let at = |i: tankwright_geometry::InputId| if i == id { value(i.0) * by } else { value(i.0) };
            row.parts.iter_mut().flat_map(|p| &mut p.dims).for_each(|d| {
                let more = revalued(&d.len, &at) - d.len.value() / Ratio::int(10_000);
                d.set(d.value + more);
            });
        };
        ways.push(lines(Phrase::with("cross-feet", &[&input.path]), change));
    }
    ways
}

/// How often the diameter enters a circle's line.
fn power(part: &Part) -> usize {
    match part.dims.as_slice() {
        _ if !part.round => 0,
        [.., a, b] if part.dims.len() == 3 && a.len == b.len => 2,
        [a, b, ..] if a.len == b.len => 2,
        _ => 1,
    }
}

fn circle(case: &Case<'_>, key: &'static str, by: Ratio) -> Vec<(Phrase, Act)> {
    let change = move |row: &mut Row| {
        for part in &mut row.parts {
            part.times = (0..power(part)).fold(part.times, |t, _| t * by);
        }
    };
    if case.row.parts.iter().any(|p| p.round && p.counts) {
        vec![lines(Phrase::new(key), change)]
    } else {
        Vec::new()
    }
}

fn pi_rounded(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    if !case.row.parts.iter().any(|p| p.round) {
        return Vec::new();
    }
    let way = |(text, pi): (&str, Ratio)| {
        let change = move |row: &mut Row| {
            row.parts.iter_mut().filter(|p| p.round).for_each(|p| p.times = p.times * pi / PI);
        };
        lines(Phrase::with("cross-pi", &[text]), change)
    };
    [("3.14", Ratio::of(314, 100)), ("22/7", Ratio::of(22, 7)), ("3.1416", Ratio::of(31_416, 10_000))]
        .map(way)
        .into()
}

fn square(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    let change = |row: &mut Row| {
        row.parts.iter_mut().filter(|p| p.round).for_each(|p| p.times = p.times * Ratio::int(4) / PI);
    };
    let round = case.row.parts.iter().any(|p| p.round);
    round.then(|| lines(Phrase::new("cross-square"), change)).into_iter().collect()
}

/// A step, and whether what is over is cut off.
type Rounding = (Ratio, bool, &'static str);

fn thickness_rounded(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    let feet = |n: i128| FOOT * Ratio::of(1, n);
    let metres = [(1, 100, "10 mm"), (5, 100, "50 mm"), (1, 10, "100 mm")];
    let mut steps: Vec<Rounding> = metres.iter().map(|(a, b, t)| (Ratio::of(*a, *b), false, *t)).collect();
    steps.push((Ratio::of(1, 100), true, "10 mm"));
    steps.extend([
        (feet(100), false, "0.01 ft"),
        (feet(100), true, "0.01 ft"),
        (feet(1000), true, "0.001 ft"),
    ]);
    let rounded = |value: Ratio, (step, cut, _): Rounding| {
        if cut { (value / step).floor() * step } else { value.round_half_away(step) }
    };
    let key = |(_, cut, _): Rounding| if cut { "cross-thickness-cut" } else { "cross-thickness-rounded" };
    let mut ways = Vec::new();
    for s in steps {
        let all_key = if s.1 { "cross-all-cut" } else { "cross-all-rounded" };
        let thin = move |row: &mut Row| {
            for part in &mut row.parts {
                let least = part.dims.iter().map(|d| d.value).min();
                let is_least = |d: &&mut Dim| Some(d.value) == least && d.value < THIN && !d.value.is_zero();
                part.dims.iter_mut().filter(is_least).for_each(|d| d.set(rounded(d.value, s)));
            }
        };
        ways.push(lines(Phrase::with(key(s), &[s.2]), thin));
        if s.2.ends_with("ft") {
            let all = move |row: &mut Row| {
                row.parts.iter_mut().flat_map(|p| &mut p.dims).for_each(|d| d.set(rounded(d.value, s)));
            };
            ways.push(lines(Phrase::with(all_key, &[s.2]), all));
        }
    }
    if most_dims(case) == 0 { Vec::new() } else { ways }
}

fn left_out(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    let dims = most_dims(case);
    if dims < 2 {
        return Vec::new();
    }
    let way = |i: usize| {
        let sample =
            case.row.parts.iter().find_map(|p| p.dims.get(i)).map(|d| plain(d.value)).unwrap_or_default();
        let change = move |row: &mut Row| {
            let has = |p: &&mut Part| p.dims.len() > i;
            row.parts.iter_mut().filter(has).for_each(|p| {
                p.dims.remove(i);
            });
        };
        lines(Phrase::with("cross-left-out", &[&nth(i), &sample]), change)
    };
    (0..dims).rev().map(way).collect()
}

fn one_of_several(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    let numbers: BTreeSet<Ratio> =
        case.row.parts.iter().map(|p| p.number).filter(|n| *n > Ratio::ONE).collect();
    let way = |n: Ratio| {
        let change = move |row: &mut Row| {
            row.parts.iter_mut().filter(|p| p.number == n).for_each(|p| p.times = p.times / n);
        };
        lines(Phrase::with("cross-number-left-out", &[&plain(n)]), change)
    };
    // What is counted, as covers and tees: one of so many alike.
    let counted = |p: &Part| p.dims.is_empty() && p.number == Ratio::ONE && p.times > Ratio::ONE;
    let counts: BTreeSet<Ratio> = case.row.parts.iter().filter(|p| counted(p)).map(|p| p.times).collect();
    let alike = move |n: Ratio| {
        let change = move |row: &mut Row| {
            row.parts.iter_mut().filter(|p| counted(p) && p.times == n).for_each(|p| p.times = Ratio::ONE);
        };
        lines(Phrase::with("cross-number-left-out", &[&plain(n)]), change)
    };
    numbers.into_iter().map(way).chain(counts.into_iter().map(alike)).collect()
}

#[cfg(test)]
mod tests {
    use crate::mistakes::fixture::{JOB, made, ours};

    #[test]
    fn feet_and_metres() {
        let base = &["concrete-base"];
        // 3.50 x 1.90 x 0.15
        assert_eq!(ours(JOB, base), "0.9975");
        let depth = made(JOB, base, "feet-as-metres");
        // Booked to 0.1 mm: 3.50 x 1.90 x 0.0457, and all three 1.0668 x 0.5791 x 0.0457
        assert!(depth.contains(&"0.303905".to_owned()), "{depth:?}");
        assert!(depth.contains(&"0.028232723316".to_owned()), "{depth:?}");
    }

    #[test]
    fn circles() {
        let job = format!("{JOB}[soak_pit]\ndiameter = \"2 m\"\ndepth = \"3 m\"\nfill_depth = \"2 m\"\n");
        let pit = &["excavation-soak-pit"];
        // pi/4 x 2 x 2 x 3, pi x 2 x 2 x 3, pi/4 x 1 x 1 x 3
        assert_eq!(ours(&job, pit), "9.4247779608");
        assert_eq!(made(&job, pit, "diameter-for-radius"), ["37.6991118432"]);
        assert_eq!(made(&job, pit, "radius-for-diameter"), ["2.3561944902"]);
        // The square about it, 2 x 2 x 3; what has no circle has none.
        assert_eq!(made(&job, pit, "square-for-round"), ["12"]);
        assert!(made(&job, &["concrete-base"], "square-for-round").is_empty());
        assert_eq!(made(&job, pit, "pi-rounded").first().map(String::as_str), Some("9.42"));
    }

    #[test]
    fn one_of_two_pits() {
        let pits = format!(
            "{JOB}[soak_pit]\ndiameter = \"2 m\"\ndepth = \"3 m\"\nfill_depth = \"2 m\"\nnumber = 2\n"
        );
        // 2 x pi / 4 x 2.00 x 2.00 x 2.00, and half of it
        assert_eq!(ours(&pits, &["soak-fill"]), "12.5663706144");
        assert_eq!(made(&pits, &["soak-fill"], "number-left-out"), ["6.2831853072"]);
        assert!(made(JOB, &["concrete-base"], "number-left-out").is_empty());
        // One cover of two alike.
        let two = "manholes = [[\"600 mm\", \"600 mm\"], [\"600 mm\", \"600 mm\"]]";
        let covers = JOB.replace("manholes = []", two);
        assert_eq!(ours(&covers, &["manhole-cover"]), "2");
        assert_eq!(made(&covers, &["manhole-cover"], "number-left-out"), ["1"]);
    }

    #[test]
    fn depths_and_thicknesses() {
        let base = &["concrete-base"];
        // Without the depth 3.50 x 1.90, without the breadth 3.50 x 0.15, without the length 1.90 x 0.15
        assert_eq!(made(JOB, base, "depth-left-out"), ["6.65", "0.525", "0.285"]);
        // 0.15 to 10 and 50 mm stays, to 100 mm is 0.2: 3.50 x 1.90 x 0.2
        let rounded = made(JOB, base, "thickness-rounded");
        assert_eq!(rounded[..3], ["0.9975", "0.9975", "1.33"]);
    }
}
