//! Openings kept or deducted against the rule, and their reveals.

use tankwright_quantities::words::{Phrase, look_up};

use super::{Act, Case, Mistake, lines};
use crate::measure::{Out, Part, Row};

/// Voids that the rule deducts stay in.
pub(super) const OPENING_KEPT: Mistake = Mistake { id: "opening-kept", ways: kept };
/// Voids that the rule keeps are deducted.
pub(super) const OPENING_DEDUCTED: Mistake = Mistake { id: "opening-deducted", ways: deducted };
/// Reveals of openings forgotten.
pub(super) const REVEALS_FORGOTTEN: Mistake = Mistake { id: "reveals-forgotten", ways: reveals_forgotten };
/// Reveals added where the rule adds none.
pub(super) const REVEALS_ADDED: Mistake = Mistake { id: "reveals-added", ways: reveals_added };

/// Parts that are holes, as deductions name them.
const VOIDS: [&str; 4] = ["opening", "pipe-hole", "manhole", "shaft"];

fn is_reveal(part: &Part) -> bool {
    ["reveal-sides", "reveal-head", "reveal-sill", "reveal-left-out"].contains(&part.note.key)
}

/// The hole a deduction is for.
fn hole(part: &Part) -> Option<&'static str> {
    let of = part.note.args.first()?;
    let named = ["less", "void-kept", "part-in-part"].contains(&part.note.key);
    VOIDS.into_iter().find(|v| named && look_up(v) == of)
}

/// One way for each kind of hole, and one for all of them.
fn ways(case: &Case<'_>, key: &'static str, which: fn(&Part) -> bool, count: bool) -> Vec<(Phrase, Act)> {
    let there: Vec<&str> =
        VOIDS.into_iter().filter(|v| case.row.parts.iter().any(|p| which(p) && hole(p) == Some(v))).collect();
    let way = |some: Vec<&'static str>| {
        let names: Vec<&str> = some.iter().map(|v| look_up(v)).collect();
        let says = Phrase::with(key, &[&names.join(", ")]);
        let change = move |row: &mut Row| {
            let mine = |p: &&mut Part| which(p) && hole(p).is_some_and(|h| some.contains(&h));
            row.parts.iter_mut().filter(mine).for_each(|p| p.counts = count);
        };
        lines(says, change)
    };
    let mut all: Vec<_> = there.iter().map(|v| way(vec![*v])).collect();
    if there.len() > 1 {
        all.push(way(there));
    }
    all
}

fn kept(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    ways(case, "cross-opening-kept", |p| p.counts, false)
}

fn deducted(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    ways(case, "cross-opening-deducted", |p| p.out == Out::Kept, true)
}

fn reveals_forgotten(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    set(case, "cross-reveals-forgotten", |p| p.counts && is_reveal(p), false)
}

fn reveals_added(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    set(case, "cross-reveals-added", |p| p.out == Out::Kept && is_reveal(p), true)
}

fn set(case: &Case<'_>, key: &'static str, which: fn(&Part) -> bool, count: bool) -> Vec<(Phrase, Act)> {
    let change = move |row: &mut Row| {
        row.parts.iter_mut().filter(|p| which(p)).for_each(|p| p.counts = count);
    };
    if case.row.parts.iter().any(which) { vec![lines(Phrase::new(key), change)] } else { Vec::new() }
}

#[cfg(test)]
mod tests {
    use crate::mistakes::fixture::{JOB, made, ours};

    fn job() -> String {
        let holes = "manholes = [[\"600 mm\", \"500 mm\"], [\"600 mm\", \"500 mm\"]]";
        let opening = "opening = { width = \"200 mm\", height = \"300 mm\", below_top = \"600 mm\" }\n";
        JOB.replace("manholes = []", holes)
            .replace("[tank.partitions]\n", &format!("[tank.partitions]\n{opening}"))
    }

    #[test]
    fn manholes_in_the_cover() {
        let cover = &["concrete-cover"];
        // 3.50 x 1.90 x 0.10 - 2 x 0.60 x 0.50 x 0.10
        assert_eq!(ours(&job(), cover), "0.605");
        assert_eq!(made(&job(), cover, "opening-kept"), ["0.665"]);
        // This method keeps voids up to 0.05 m3: somebody deducts them.
        let method = job().replace("\"exact\"", "\"east-africa\"");
        assert_eq!(ours(&method, cover), "0.665");
        assert_eq!(made(&method, cover, "opening-deducted"), ["0.605"]);
    }

    #[test]
    fn reveals_of_an_opening() {
        let plaster = &["plaster-wall"];
        let job = format!("{}[tank.plaster]\nthickness = \"20 mm\"\n", job());
        // (2 x 1.50 + 2 x 3.10) x 1.6 + 2 x 1.50 x 1.6 - 2 x 0.10 x 1.6 - 2 x 0.20 x 0.30 = 19.08,
        // reveals 2 x 0.3 x 0.1 + 2 x 0.2 x 0.1 = 0.10
        assert_eq!(ours(&job, plaster), "19.18");
        assert_eq!(made(&job, plaster, "reveals-forgotten"), ["19.08"]);
        assert_eq!(made(&job, plaster, "opening-kept"), ["19.3"]);
        // 0.06 m2 is under the limit of 0.5: kept, without reveals
        let method = job.replace("\"exact\"", "\"east-africa\"");
        assert_eq!(ours(&method, plaster), "19.2");
        assert_eq!(made(&method, plaster, "reveals-added"), ["19.3"]);
        assert_eq!(made(&method, plaster, "opening-deducted"), ["19.08"]);
    }
}
