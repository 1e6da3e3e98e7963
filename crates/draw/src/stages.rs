//! What stands at a stage: earlier work as it is, the stage's own bold, later work left out. It follows from the stage of
//! each cell, face and pipe; no part is known by name.

use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::stage::Stage;
use tankwright_quantities::words::{Phrase, look_up};

use crate::paper::Item;
use crate::views::{Made, Sheet, plan, section};
use crate::{Drawing, finished, sheet, sheets};

/// A sheet of a card.
#[derive(Clone, Copy)]
enum Shown {
    /// The tank as it stands then.
    Long,
    Cross,
    Floor,
    Cover,
    /// What stands by itself and is built then.
    Own,
    /// Sheets of the set, and those whose name goes on with a number; of several names the first that the job has.
    Sheets(&'static [&'static str]),
}

/// What shows a stage, in the order of its card.
const SHOWN: [(Stage, &[Shown]); 12] = [
    (Stage::SetOut, &[Shown::Sheets(&["site", "plan-floor"])]),
    (Stage::Dig, &[Shown::Long]),
    (Stage::Base, &[Shown::Long]),
    (Stage::WallsLower, &[Shown::Long, Shown::Floor]),
    (Stage::RingBeam, &[Shown::Cross]),
    (Stage::WallsUpper, &[Shown::Long]),
    (Stage::Plaster, &[Shown::Cross]),
    (Stage::Cover, &[Shown::Long, Shown::Sheets(&["cover-steel", "plan-cover"])]),
    (Stage::SoakPit, &[Shown::Own, Shown::Sheets(&["site"])]),
    (Stage::Pipes, &[Shown::Long, Shown::Own, Shown::Sheets(&["site"])]),
    (Stage::Strike, &[Shown::Sheets(&["formwork", "cross-section"])]),
    (Stage::Finish, &[Shown::Long, Shown::Cover]),
];

/// The drawings of a stage.
pub(crate) fn drawn(e: &Estimate, stage: Stage) -> Vec<Drawing> {
    let then = standing(e, stage);
    let shown = SHOWN.iter().find(|(s, _)| *s == stage).map_or(&[][..], |(_, shown)| *shown);
    let sketch = |made: Made| vec![finished(&then, titled(made, stage), None)];
    let one = |shown: &Shown| match shown {
        Shown::Long => sketch(section::long(e).standing_in(&then).draw()),
        Shown::Cross => sketch(section::cross(e).standing_in(&then).draw()),
        Shown::Floor => sketch(plan::floor(&then)),
        Shown::Cover => sketch(plan::cover(&then)),
        Shown::Own => of_set(e, |all| all.iter().map(|s| s.stage == Some(stage)).collect()),
        Shown::Sheets(ids) => of_set(e, |all| named(all, ids)),
    };
    shown.iter().flat_map(one).collect()
}

/// Those sheets of the set that are wanted.
fn of_set(e: &Estimate, wanted: impl FnOnce(&[Sheet<'_>]) -> Vec<bool>) -> Vec<Drawing> {
    let all = sheets(e);
    let (of, wanted) = (all.len(), wanted(&all));
    let own = (1..).zip(all).zip(wanted).filter(|(_, wanted)| *wanted);
    own.map(|((n, sheet), _)| finished(e, (sheet.make)(), Some([n, of]))).collect()
}

/// Which sheets have a name, or go on under it with a number; of several names the first that the job has.
fn named(all: &[Sheet<'_>], ids: &[&str]) -> Vec<bool> {
    let goes_on = |rest: &str| rest.strip_prefix('-').is_some_and(|n| n.parse::<u32>().is_ok());
    let is = |own: &str, id: &str| own.strip_prefix(id).is_some_and(|rest| rest.is_empty() || goes_on(rest));
    let id = ids.iter().find(|id| all.iter().any(|s| is(&s.id, id)));
    all.iter().map(|s| id.is_some_and(|id| is(&s.id, id))).collect()
}

/// The job as it stands at the end of a stage.
fn standing(e: &Estimate, stage: Stage) -> Estimate {
    let space = e.space.until(stage);
    let [nx, ny, nz] = space.size();
    let solid = |cell| space.look(cell).and_then(|l| space.looks.get(l)).is_some_and(|l| !l.is_void());
    let tops = (0..nz).rev().flat_map(|z| (0..nx).map(move |x| [x, z])).filter_map(|[x, z]| {
        let own = (0..ny).any(|y| solid([x, y, z]));
        own.then(|| space.x.get(x).map_or(0, |at| space.level(z + 1, *at).max(space.level(z + 1, at + 1))))
    });
    let dug = e.sketch.digs.iter().map(|d| space.floor.outlet - d.below_floor);
    let top = tops.max().or_else(|| dug.max()).unwrap_or(0);
    let sketch = e.sketch.until(stage, top);
    Estimate { space, sketch, ..e.clone() }
}

/// With the stage in its title, and a word on what is bold.
fn titled(mut made: Made, stage: Stage) -> Made {
    let name = format!("stage-{}", stage.id());
    made.title = Phrase::with("draw-at-stage", &[&made.title, look_up(&name)]).to_string();
    let forms = made.paper.items.iter().any(|i| matches!(i, Item::Area { of: "form", .. }));
    sheet::caution(&mut made.paper, if forms { "draw-new-forms" } else { "draw-new-bold" });
    made
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_stage_has_its_drawing() {
        assert_eq!(SHOWN.map(|(stage, _)| stage), Stage::ALL);
        assert!(SHOWN.iter().all(|(_, shown)| !shown.is_empty()));
    }
}
