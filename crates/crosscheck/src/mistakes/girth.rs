//! Lengths round the tank: corners counted twice, inside girth, walls at full length both ways.

use tankwright_geometry::{Atom, InputId, Len, Ratio};
use tankwright_quantities::words::Phrase;

use super::{Act, Case, Mistake, lines};
use crate::measure::{Part, Row};

/// Outside girth x thickness: each corner stands in two walls.
pub(super) const CORNERS_TWICE: Mistake = Mistake { id: "corners-twice", ways: corners_twice };
/// Inside girth: no corner stands in any wall.
pub(super) const INSIDE_GIRTH: Mistake = Mistake { id: "inside-girth", ways: inside_girth };
/// Long and short walls, partitions too, all taken from outside to outside.
pub(super) const FULL_LENGTH: Mistake = Mistake { id: "full-length-both-ways", ways: full_length };

fn corners_twice(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    way(case, Phrase::new("cross-corners-twice"), |part, wall| match around(part, wall) {
        Some(Around::Clear) => Ratio::int(2),
        Some(Around::Girth) => Ratio::int(4),
        _ => Ratio::ZERO,
    })
}

fn inside_girth(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    way(case, Phrase::new("cross-inside-girth"), |part, wall| match around(part, wall) {
        Some(Around::Outer) => Ratio::int(-2),
        Some(Around::Girth) => Ratio::int(-4),
        _ => Ratio::ZERO,
    })
}

fn full_length(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    way(case, Phrase::new("cross-full-length"), |part, wall| match around(part, wall) {
        Some(Around::Clear) => Ratio::int(2),
        Some(Around::Girth) => Ratio::int(4),
        None if part.work.by_area && part.times.signum() > 0 => Ratio::int(2),
        _ => Ratio::ZERO,
    })
}

/// How a line runs along the walls.
enum Around {
    /// Between the inner faces.
    Clear,
    /// From outside to outside.
    Outer,
    /// All round on the centre line.
    Girth,
}

/// So many wall thicknesses are added to the first dimension of lines.
fn way(case: &Case<'_>, says: Phrase, add: fn(&Part, InputId) -> Ratio) -> Vec<(Phrase, Act)> {
    let Some((wall, thickness)) = case.world.input("tank.walls.thickness") else { return Vec::new() };
    let metres = thickness / Ratio::int(10_000);
    let change = move |row: &mut Row| {
        for part in &mut row.parts {
            let more = add(part, wall) * metres;
            if let Some(dim) = part.dims.first_mut() {
                dim.set(dim.value + more);
            }
        }
    };
    vec![lines(says, change)]
}

/// A line of the walls, or of a beam as wide as they are; nothing for deductions and for other lines.
fn around(part: &Part, wall: InputId) -> Option<Around> {
    if part.times.signum() <= 0 {
        return None;
    }
    let first = coefficient(&part.dims.first()?.len, wall);
    let [two, four] = [2, 4].map(Ratio::int);
    match part.dims.len() {
        1 if first == four => Some(Around::Girth),
        3 if !is(&part.dims.get(1)?.len, wall) => None,
        3 if first == two => Some(Around::Outer),
        3 if first.is_zero() => Some(Around::Clear),
        _ => None,
    }
}

/// How often a length has an input.
fn coefficient(len: &Len, input: InputId) -> Ratio {
    len.terms().iter().filter(|t| t.atom == Atom::Input(input)).map(|t| t.coef).sum()
}

fn is(len: &Len, input: InputId) -> bool {
    len.terms().len() == 1 && coefficient(len, input) == Ratio::ONE
}

#[cfg(test)]
mod tests {
    use crate::mistakes::fixture::{JOB, made, ours};

    // Clear 3.10 (2.00 + 0.10 + 1.00) x 1.50, outside 3.50 x 1.90, walls 0.20 thick, 1.60 high.
    #[test]
    fn a_wall_by_its_girths() {
        // 2 x 1.90 + 2 x 3.10 = 10.0; x 0.2 x 1.6
        assert_eq!(ours(JOB, &["brickwork-wall"]), "3.2");
        // 2 x 1.90 + 2 x 3.50 = 10.8
        assert_eq!(made(JOB, &["brickwork-wall"], "corners-twice"), ["3.456"]);
        assert_eq!(made(JOB, &["brickwork-wall"], "full-length-both-ways"), ["3.456"]);
        // 2 x 1.50 + 2 x 3.10 = 9.2
        assert_eq!(made(JOB, &["brickwork-wall"], "inside-girth"), ["2.944"]);
    }

    #[test]
    fn full_length_runs_partitions_through_the_walls() {
        // 1.50 x 0.10 x 1.60, 1.90 x 0.10 x 1.60
        assert_eq!(ours(JOB, &["brickwork-partition"]), "0.24");
        assert_eq!(made(JOB, &["brickwork-partition"], "full-length-both-ways"), ["0.304"]);
        assert_eq!(made(JOB, &["brickwork-partition"], "corners-twice"), ["0.24"]);
    }

    #[test]
    fn a_ring_beam_and_the_iron_in_the_joints() {
        let job = format!("{JOB}[[tank.ring_beams]]\nabove_floor = \"700 mm\"\ndepth = \"200 mm\"\n");
        // 10.8 x 0.2 x 0.2
        assert_eq!(made(&job, &["concrete-ring-beam"], "corners-twice"), ["0.432"]);
        // 21 courses of 75 mm in 1.60 m, iron in every third but the top one: 6 strips of 2 x (3.30 + 1.70) = 10.0,
        // outside 10.8
        assert_eq!(ours(JOB, &["hoop-iron"]), "60");
        assert_eq!(made(JOB, &["hoop-iron"], "corners-twice"), ["64.8"]);
    }
}
