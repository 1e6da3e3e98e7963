//! The usual mistakes: **the one list**. Each is a change of a row's lines, of what is measured, or of the job itself.
//!
//! A mistake knows lines, dimensions, notes and fields of works; it never knows an element.

mod dig;
mod dims;
mod earth;
mod faces;
#[cfg(test)]
pub(crate) mod fixture;
mod girth;
mod parts;
mod sums;
mod voids;

use std::rc::Rc;

use tankwright_quantities::words::Phrase;

use crate::measure::Row;
use crate::world::{Edit, Only, Pick, World};

/// What a mistake does.
#[derive(Clone)]
pub enum Act {
    /// Measures the job under edits; `twice`: what that leaves in is taken off once more.
    Job {
        /// What is taken out, and for which works.
        edits: Vec<(Edit, Only)>,
        /// Taken off once more in place of left in.
        twice: bool,
    },
    /// Measures something else.
    Picks(Vec<Pick>),
    /// Changes lines.
    Lines(Rc<dyn Fn(&mut Row)>),
}

/// A mistake made in one way.
#[derive(Clone)]
pub struct Variant {
    /// Id of the mistake.
    pub id: &'static str,
    /// In words.
    pub says: Phrase,
    /// What it does.
    pub act: Act,
}

/// A row of ours that theirs differs from.
pub struct Case<'a> {
    /// The job.
    pub world: &'a World<'a>,
    /// What the row is made of.
    pub picks: &'a [Pick],
    /// Its lines, as they should be.
    pub row: &'a Row,
}

/// One of the usual mistakes.
#[derive(Clone, Copy)]
pub struct Mistake {
    /// Stable id, kebab case.
    pub id: &'static str,
    /// The ways in which it can be made on a row; none where it cannot.
    pub ways: fn(&Case<'_>) -> Vec<(Phrase, Act)>,
}

/// Every mistake, in the order in which they act: what is measured first, dimensions next, factors on the whole last.
pub const ALL: &[Mistake] = &[
    parts::BEAM_KEPT,
    parts::BEAM_TWICE,
    parts::COLUMN_KEPT,
    parts::COLUMN_TWICE,
    dig::WITHOUT_POCKETS,
    dig::WITHOUT_WORKING_SPACE,
    dig::WITHOUT_PROJECTION,
    dig::WITHOUT_BLINDING,
    dig::WITHOUT_HARDCORE,
    earth::BACKFILL_WHOLE_DIG,
    earth::DISPOSAL_WHOLE_DIG,
    earth::DISPOSAL_WITHOUT_BACKFILL,
    earth::FILL_ON_SLAB,
    dig::WITHOUT_BASE,
    dig::WITHOUT_COVER,
    dig::WORKING_SPACE_BILLED,
    girth::CORNERS_TWICE,
    girth::INSIDE_GIRTH,
    girth::FULL_LENGTH,
    voids::OPENING_KEPT,
    voids::OPENING_DEDUCTED,
    voids::REVEALS_FORGOTTEN,
    voids::REVEALS_ADDED,
    faces::SOFFIT_FORGOTTEN,
    faces::OPENING_SIDES_FORGOTTEN,
    faces::PLASTER_ONE_SIDE,
    faces::PLASTER_OUTSIDE,
    faces::ABUTMENT_KEPT,
    dims::FEET_AS_METRES,
    dims::DIAMETER_FOR_RADIUS,
    dims::RADIUS_FOR_DIAMETER,
    dims::SQUARE_FOR_ROUND,
    dims::PI_ROUNDED,
    dims::THICKNESS_ROUNDED,
    dims::DEPTH_LEFT_OUT,
    dims::NUMBER_LEFT_OUT,
    sums::COUNTED_TWICE,
    sums::LINE_LEFT_OUT,
    sums::BULKING_BILLED,
    sums::WASTE_BILLED,
];

/// Ids of slips that are no change of measuring: in a figure itself, or in their own arithmetic.
pub const OF_FIGURES: &[&str] = &[
    "rounding",
    "cut-not-rounded",
    "digits-swapped",
    "digit-wrong",
    "point-shifted",
    "extension-wrong",
    "times-left-out",
    "dimension-misprinted",
    "subtotal-added",
];

/// Every way in which every mistake can be made on a row, in the order of the list.
#[must_use]
pub fn variants(case: &Case<'_>) -> Vec<Variant> {
    let of = |m: &Mistake| {
        let id = m.id;
        (m.ways)(case).into_iter().map(move |(says, act)| Variant { id, says, act }).collect::<Vec<_>>()
    };
    ALL.iter().flat_map(of).collect()
}

/// The row under mistakes, each of another kind; `None` where they cannot be made together.
#[must_use]
pub fn under(case: &Case<'_>, made: &[&Variant]) -> Option<Row> {
    let one = tankwright_geometry::Ratio::ONE;
    let mut picks = case.picks.to_vec();
    let mut terms = vec![(one, Vec::new())];
    let mut measured = false;
    for variant in made {
        match &variant.act {
            Act::Picks(other) => {
                picks.clone_from(other);
                measured = true;
            }
            Act::Job { edits, twice } => {
                measured = true;
                let with = |(w, e): &(tankwright_geometry::Ratio, Vec<(Edit, Only)>)| {
                    (*w, e.iter().chain(edits).copied().collect::<Vec<_>>())
                };
                let edited: Vec<_> = terms.iter().map(with).collect();
                terms = if *twice {
                    let two = terms.iter().map(|(w, e)| (*w + *w, e.clone()));
                    two.chain(edited.into_iter().map(|(w, e)| (-w, e))).collect()
                } else {
                    edited
                };
            }
            Act::Lines(_) => {}
        }
    }
    let mut row = case.row.clone();
    if measured {
        row.parts.clear();
        for (weight, edits) in terms {
            let parts = case.world.parts(&picks, &edits)?;
            if !parts.iter().any(|p| p.counts) {
                return None;
            }
            row.parts.extend(parts.into_iter().map(|mut p| {
                p.times = p.times * weight;
                p
            }));
        }
    }
    for variant in made {
        if let Act::Lines(change) = &variant.act {
            change(&mut row);
        }
    }
    Some(row)
}

/// A change of lines as a way.
fn lines(says: Phrase, change: impl Fn(&mut Row) + 'static) -> (Phrase, Act) {
    (says, Act::Lines(Rc::new(change)))
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    #[test]
    fn ids_are_said_once() {
        let ids: BTreeSet<&str> = super::ALL.iter().map(|m| m.id).collect();
        assert_eq!(ids.len(), super::ALL.len());
        assert!(super::OF_FIGURES.iter().all(|id| !ids.contains(id)));
    }
}
