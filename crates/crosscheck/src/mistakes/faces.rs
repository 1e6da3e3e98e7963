//! Faces: soffits and sides of openings forgotten, plaster on one side or outside, what abuts not taken out.

use tankwright_geometry::Ratio;
use tankwright_quantities::words::{Phrase, look_up};
use tankwright_quantities::works::{self, FaceRule, Forms, Proof, Work};

use super::{Act, Case, Mistake, lines};
use crate::measure::{Part, Row};

/// The soffit of a slab or beam has no formwork.
pub(super) const SOFFIT_FORGOTTEN: Mistake = Mistake { id: "soffit-forgotten", ways: soffit };
/// The sides of openings have no formwork.
pub(super) const OPENING_SIDES_FORGOTTEN: Mistake =
    Mistake { id: "opening-sides-forgotten", ways: opening_sides };
/// Partitions plastered on one side.
pub(super) const PLASTER_ONE_SIDE: Mistake = Mistake { id: "plaster-one-side", ways: one_side };
/// The outside of the walls is plastered too, or in place of the inside.
pub(super) const PLASTER_OUTSIDE: Mistake = Mistake { id: "plaster-outside", ways: outside };
/// What stands against a face, or is built into a wall, is not taken off it.
pub(super) const ABUTMENT_KEPT: Mistake = Mistake { id: "abutment-kept", ways: abutment };

fn forms(of: fn(&Forms) -> [Option<&'static Work>; 2], work: &Work) -> bool {
    works::all().iter().any(|w| of(&w.forms).into_iter().flatten().any(|f| f == work))
}

/// Lines left out, where others stay.
fn left_out(case: &Case<'_>, says: Phrase, which: fn(&Part) -> bool) -> Vec<(Phrase, Act)> {
    let counted = || case.row.parts.iter().filter(|p| p.counts);
    if !counted().any(which) || counted().all(which) {
        return Vec::new();
    }
    let change = move |row: &mut Row| row.parts.retain(|p| !which(p));
    vec![lines(says, change)]
}

fn soffit(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    let is = |p: &Part| {
        let soffit = forms(|f| [f.soffit, None], p.work);
        let sides = forms(|f| [f.inside, f.outside], p.work);
        soffit && (!sides || p.note.key == "underside" || p.note.key == "less")
    };
    left_out(case, Phrase::new("cross-soffit"), is)
}

fn opening_sides(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    left_out(case, Phrase::new("cross-opening-sides"), |p| forms(|f| [f.hole, None], p.work))
}

fn one_side(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    let says = |key: &str| Phrase::with("cross-one-side", &[look_up(key)]);
    let inlet = left_out(case, says("partition-inlet-side"), |p| p.note.key == "partition-inlet-side");
    let outlet = left_out(case, says("partition-outlet-side"), |p| p.note.key == "partition-outlet-side");
    inlet.into_iter().chain(outlet).collect()
}

/// Is it a face of the outer walls inside?
fn wall_face(part: &Part) -> bool {
    part.work.proof == Proof::Faces(FaceRule::Inside)
        && ["end-wall-inlet", "end-wall-outlet", "side-walls"].contains(&part.note.key)
}

fn outside(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    let Some((_, thickness)) = case.world.input("tank.walls.thickness") else { return Vec::new() };
    if !case.row.parts.iter().any(wall_face) {
        return Vec::new();
    }
    let two = thickness / Ratio::int(5_000);
    let outer = move |part: &Part| {
        let mut part = part.clone();
        if let Some(dim) = part.dims.first_mut() {
            dim.set(dim.value + two);
        }
        part
    };
    let both = move |row: &mut Row| {
        let more: Vec<Part> = row.parts.iter().filter(|p| wall_face(p)).map(outer).collect();
        row.parts.extend(more);
    };
    let instead = move |row: &mut Row| {
        row.parts.iter_mut().filter(|p| wall_face(p)).for_each(|p| *p = outer(p));
    };
    vec![lines(Phrase::new("cross-outside"), both), lines(Phrase::new("cross-outside-instead"), instead)]
}

const HOLES: [&str; 4] = ["opening", "pipe-hole", "manhole", "shaft"];
const MEMBERS: [&str; 4] = ["column", "ring-beam", "wall-beam", "span-beam"];

fn abutment(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    // Off a face whatever stands there; off a solid what is built into it. Holes, and beams and columns in a solid, have
    // mistakes of their own.
    let faces = |p: &Part| {
        let face = matches!(p.work.proof, Proof::Faces(_));
        let is = |keys: &[&str]| keys.iter().any(|k| p.note.args.first().is_some_and(|a| a == look_up(k)));
        p.note.key == "less" && p.times.signum() < 0 && !is(&HOLES) && (face || !is(&MEMBERS))
    };
    let mut kinds: Vec<&String> =
        case.row.parts.iter().filter(|p| p.counts && faces(p)).filter_map(|p| p.note.args.first()).collect();
    kinds.sort();
    kinds.dedup();
    let way = |some: Vec<String>| {
        let says = Phrase::with("cross-abutment", &[&some.join(", ")]);
        let change = move |row: &mut Row| {
            row.parts.retain(|p| !(faces(p) && p.note.args.first().is_some_and(|a| some.contains(a))));
        };
        lines(says, change)
    };
    let mut all: Vec<_> = kinds.iter().map(|k| way(vec![(*k).clone()])).collect();
    if kinds.len() > 1 {
        all.push(way(kinds.into_iter().cloned().collect()));
    }
    all
}

#[cfg(test)]
mod tests {
    use crate::mistakes::fixture::{JOB, made, ours};

    #[test]
    fn formwork_of_a_cover() {
        let job =
            JOB.replace("manholes = []", "manholes = [[\"600 mm\", \"500 mm\"], [\"600 mm\", \"500 mm\"]]");
        let all = &["formwork-cover-soffit", "formwork-manhole"];
        // 3.10 x 1.50 - 1.50 x 0.10 - 2 x 0.6 x 0.5 = 3.90 and 2 x 2 x (0.6 + 0.5) x 0.1 = 0.44
        assert_eq!(ours(&job, all), "4.34");
        assert_eq!(made(&job, all, "soffit-forgotten"), ["0.44"]);
        assert_eq!(made(&job, all, "opening-sides-forgotten"), ["3.9"]);
        assert!(made(&job, &["formwork-manhole"], "opening-sides-forgotten").is_empty());
    }

    #[test]
    fn plaster_of_walls_and_partition() {
        let job = format!("{JOB}[tank.plaster]\nthickness = \"20 mm\"\n");
        let plaster = &["plaster-wall"];
        // (2 x 1.50 + 2 x 3.10) x 1.6 = 14.72, partition 2 x 1.50 x 1.6 = 4.80, less 2 x 0.10 x 1.6 = 0.32
        assert_eq!(ours(&job, plaster), "19.2");
        assert_eq!(made(&job, plaster, "plaster-one-side"), ["16.8", "16.8"]);
        assert_eq!(made(&job, plaster, "abutment-kept"), ["19.52"]);
        // Outside (2 x 1.90 + 2 x 3.50) x 1.6 = 17.28: added, and in place of 14.72
        assert_eq!(made(&job, plaster, "plaster-outside"), ["36.48", "21.76"]);
    }
}
