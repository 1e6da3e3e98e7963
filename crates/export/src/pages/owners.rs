//! Uses that are no item's: found again in the bar schedule, so that they follow it.

use tankwright_geometry::Ratio;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::materials::{Factor, Use};
use tankwright_quantities::stage::Stage;

use crate::book::Desk;
use crate::cells::{At, Range};
use crate::expr::Expr;

/// What a use stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Owner {
    /// An item of the ledger.
    Item,
    /// A mark of the schedule, by its place: number x cutting length.
    Mark(usize),
    /// The mass of all bars of a stage.
    Steel(Stage),
    /// A figure of its own: it stays as it was stored.
    Stored,
}

/// The owner of each use, in order. Only what agrees to the last digit is taken for the same.
pub(crate) fn of(estimate: &Estimate) -> Vec<Owner> {
    let mut taken = vec![false; estimate.steel.marks.len()];
    estimate.materials.uses.iter().map(|u| one(estimate, u, &mut taken)).collect()
}

fn one(estimate: &Estimate, used: &Use, taken: &mut [bool]) -> Owner {
    if !used.item.is_empty() {
        return Owner::Item;
    }
    let marks = &estimate.steel.marks;
    if let (Some(bar), [step]) = (used.material.strip_prefix("bars/"), used.steps.as_slice()) {
        let same = |(i, free): (usize, &mut bool)| {
            let mark = marks.get(i).filter(|_| !*free)?;
            let length = Ratio::from(mark.length_mm) / Ratio::int(1_000);
            let fits = mark.stage == used.stage
                && mark.bar.id() == bar
                && used.base == Ratio::int(mark.count.into())
                && step.factor == Factor::Number(length);
            fits.then(|| {
                *free = true;
                Owner::Mark(i)
            })
        };
        return taken.iter_mut().enumerate().find_map(same).unwrap_or(Owner::Stored);
    }
    let kg: Ratio = marks.iter().filter(|m| m.stage == used.stage).map(|m| m.mass).sum();
    if !kg.is_zero() && kg == used.base { Owner::Steel(used.stage) } else { Owner::Stored }
}

/// Kilograms of the bars of a stage, on the page Bars.
pub(crate) fn steel(desk: &Desk<'_>, stage: Stage) -> Option<Expr> {
    let marks = desk.estimate.steel.marks.iter().zip(&desk.places.goods.marks);
    let cells: Option<Vec<At>> = marks.filter(|(m, _)| m.stage == stage).map(|(_, at)| at.mass).collect();
    let cells = cells?;
    let range = Range::over(&cells)?;
    // Marks stand in the order of stages.
    if range.cells().eq(cells.iter().copied()) {
        return Some(Expr::Sum(range));
    }
    Some(Expr::total(cells.into_iter().map(Expr::Cell).collect()))
}

/// Metres of marks: number x cutting length.
pub(crate) fn metres(desk: &Desk<'_>, marks: &[usize]) -> Option<Expr> {
    let one = |mark: &usize| {
        let at = desk.places.goods.marks.get(*mark)?;
        Some(Expr::Mul(vec![Expr::Cell(at.count?), Expr::Cell(at.length?)]))
    };
    let products: Option<Vec<Expr>> = marks.iter().map(one).collect();
    Some(Expr::total(products?).over(Expr::int(1_000)))
}
