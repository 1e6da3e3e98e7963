//! Beams and columns that stay in what they should have been taken out of, or are taken out twice.

use tankwright_quantities::words::Phrase;
use tankwright_quantities::works::Work;

use super::{Act, Case, Mistake};
use crate::world::{Edit, Only};

/// A beam is not taken out.
pub(super) const BEAM_KEPT: Mistake = Mistake { id: "beam-kept", ways: |c| ways(c, BEAMS, false) };
/// A beam is taken out twice.
pub(super) const BEAM_TWICE: Mistake = Mistake { id: "beam-twice", ways: |c| ways(c, BEAMS, true) };
/// Columns are not taken out.
pub(super) const COLUMN_KEPT: Mistake = Mistake { id: "column-kept", ways: |c| ways(c, COLUMNS, false) };
/// Columns are taken out twice.
pub(super) const COLUMN_TWICE: Mistake = Mistake { id: "column-twice", ways: |c| ways(c, COLUMNS, true) };

/// The part as it is called, and what takes it out of the job.
type Part = (&'static str, Edit);

const BEAMS: &[Part] = &[
    ("ring-beam", Edit::Without("tank.ring_beams")),
    ("wall-beam", Edit::Nothing("tank.cover.wall_beams")),
    ("span-beam", Edit::Without("tank.cover.span_beam")),
];
const COLUMNS: &[Part] = &[("column", Edit::Without("tank.columns"))];

fn ways(case: &Case<'_>, parts: &[Part], twice: bool) -> Vec<(Phrase, Act)> {
    let there = |(_, edit): &&Part| match edit {
        Edit::Without(path) | Edit::Set(path) => case.world.job.has(path),
        Edit::Nothing(path) => case.world.input(path).is_some_and(|(_, v)| !v.is_zero()),
    };
    let parts: Vec<&Part> = parts.iter().filter(there).collect();
    let any: Only = |_: &Work| true;
    let way = |some: &[&Part]| {
        let names: Vec<&str> =
            some.iter().map(|(key, _)| tankwright_quantities::words::look_up(key)).collect();
        let key = if twice { "cross-part-twice" } else { "cross-part-kept" };
        let edits = some.iter().map(|(_, e)| (*e, any)).collect();
        (Phrase::with(key, &[&names.join(", ")]), Act::Job { edits, twice })
    };
    let mut all: Vec<_> = parts.iter().map(|p| way(&[p])).collect();
    if parts.len() > 1 {
        all.push(way(&parts));
    }
    all
}

#[cfg(test)]
mod tests {
    use crate::mistakes::fixture::{JOB, made, ours};

    fn job() -> String {
        format!(
            "{JOB}[[tank.ring_beams]]\nabove_floor = \"700 mm\"\ndepth = \"200 mm\"\n\
             [tank.columns]\nsize = [\"200 mm\", \"200 mm\"]\n"
        )
    }

    #[test]
    fn a_ring_beam_in_the_wall() {
        // (2 x 1.90 + 2 x 3.10 - 4 x 0.20) x 0.2 x (1.6 - 0.2)
        assert_eq!(ours(&job(), &["brickwork-wall"]), "2.576");
        // x 1.6, and twice: x 1.2
        assert_eq!(made(&job(), &["brickwork-wall"], "beam-kept"), ["2.944"]);
        assert_eq!(made(&job(), &["brickwork-wall"], "beam-twice"), ["2.208"]);
    }

    #[test]
    fn columns_in_the_wall_and_in_the_beam() {
        // 10.0 x 0.2 x 1.4; 8.4 x 0.2 x 1.4
        assert_eq!(made(&job(), &["brickwork-wall"], "column-kept"), ["2.8"]);
        assert_eq!(made(&job(), &["brickwork-wall"], "column-twice"), ["2.352"]);
        // 10.0 x 0.2 x 0.2
        assert_eq!(made(&job(), &["concrete-ring-beam"], "column-kept"), ["0.4"]);
    }
}
