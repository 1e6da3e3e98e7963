//! Lines counted twice or left out, and what is put on top of a net quantity: bulking, waste.

use std::collections::BTreeSet;

use tankwright_geometry::Ratio;
use tankwright_quantities::words::Phrase;
use tankwright_quantities::works::Earth;

use super::{Act, Case, Mistake, lines};
use crate::measure::{Part, Row, plain};

/// A line, a stage or the whole row is counted twice.
pub(super) const COUNTED_TWICE: Mistake = Mistake { id: "counted-twice", ways: counted_twice };
/// A line or a stage is left out.
pub(super) const LINE_LEFT_OUT: Mistake = Mistake { id: "line-left-out", ways: left_out };
/// Earth is billed as it lies loose.
pub(super) const BULKING_BILLED: Mistake = Mistake { id: "bulking-billed", ways: bulking };
/// Waste of a material is in the quantity.
pub(super) const WASTE_BILLED: Mistake = Mistake { id: "waste-billed", ways: waste };

/// Of which lines: a line of its own, or all lines of an item.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
enum Which {
    Line(String, Phrase),
    Item(String),
}

impl Which {
    fn is(&self, part: &Part) -> bool {
        match self {
            Self::Line(item, note) => part.item == *item && part.note == *note && part.times.signum() > 0,
            Self::Item(item) => part.item == *item,
        }
    }

    /// The line's own words; where the row has several items, which of them.
    fn name(&self, several: bool) -> String {
        match self {
            Self::Line(item, note) if several => format!("{note} ({item})"),
            Self::Line(_, note) => note.to_string(),
            Self::Item(item) => item.clone(),
        }
    }
}

/// Lines that add, and items, where there is more than one of either.
fn some(case: &Case<'_>) -> (Vec<Which>, bool) {
    let counted = || case.row.parts.iter().filter(|p| p.counts);
    let items: BTreeSet<&str> = counted().map(|p| p.item.as_str()).collect();
    let line = |p: &Part| Which::Line(p.item.clone(), p.note.clone());
    let mut all: BTreeSet<Which> = BTreeSet::new();
    if counted().count() > 1 {
        all.extend(counted().filter(|p| p.times.signum() > 0).map(line));
    }
    let several = items.len() > 1;
    if several {
        all.extend(items.into_iter().map(|i| Which::Item(i.to_owned())));
    }
    (all.into_iter().collect(), several)
}

fn counted_twice(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    let whole = |row: &mut Row| row.factor = row.factor * Ratio::int(2);
    let (some, several) = some(case);
    let way = |which: Which| {
        let says = Phrase::with("cross-counted-twice", &[&which.name(several)]);
        let change = move |row: &mut Row| {
            row.parts.iter_mut().filter(|p| which.is(p)).for_each(|p| p.times = p.times * Ratio::int(2));
        };
        lines(says, change)
    };
    let mut all = vec![lines(Phrase::new("cross-row-twice"), whole)];
    all.extend(some.into_iter().map(way));
    all
}

fn left_out(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    let (some, several) = some(case);
    let way = |which: Which| {
        let says = Phrase::with("cross-line-left-out", &[&which.name(several)]);
        let change = move |row: &mut Row| row.parts.retain(|p| !which.is(p));
        lines(says, change)
    };
    some.into_iter().map(way).collect()
}

fn factor(says: Phrase, by: Ratio) -> (Phrase, Act) {
    lines(says, move |row: &mut Row| row.factor = row.factor * by)
}

fn bulking(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    if !case.row.parts.iter().any(|p| p.counts && p.work.earth != Earth::None) {
        return Vec::new();
    }
    let own = case.world.job.text("ground.soil");
    let mut soils: Vec<_> = case.world.stock.soils.values().collect();
    soils.sort_by_key(|s| s.id != own);
    let mut seen = BTreeSet::new();
    let new = soils.into_iter().filter(|s| seen.insert(s.swell.0));
    new.map(|s| factor(Phrase::with("cross-bulking", &[&plain(s.swell.0), &s.title]), s.swell.0)).collect()
}

fn waste(case: &Case<'_>) -> Vec<(Phrase, Act)> {
    let items: BTreeSet<&str> = case.row.parts.iter().map(|p| p.item.as_str()).collect();
    let uses = case.world.estimate.materials.uses.iter().filter(|u| items.contains(u.item.as_str()));
    let mut percents: BTreeSet<Ratio> = uses.map(|u| u.waste_percent).collect();
    // Round figures that people put on everything: common practice, no source.
    percents.extend([5, 10].map(Ratio::int));
    let way = |p: Ratio| {
        let says = Phrase::with("cross-waste", &[&plain(p)]);
        factor(says, Ratio::ONE + p / Ratio::int(100))
    };
    percents.into_iter().filter(|p| p.signum() > 0).map(way).collect()
}

#[cfg(test)]
mod tests {
    use crate::mistakes::fixture::{JOB, made, ours};

    #[test]
    fn lines_twice_and_left_out() {
        let wall = &["brickwork-wall"];
        // 2 x 3.2; ends 1.90 x 0.2 x 1.6 = 0.608 each, sides 2 x 3.10 x 0.2 x 1.6 = 1.984
        assert_eq!(made(JOB, wall, "counted-twice"), ["6.4", "3.808", "3.808", "5.184"]);
        assert_eq!(made(JOB, wall, "line-left-out"), ["2.592", "2.592", "1.216"]);
    }

    #[test]
    fn what_is_put_on_top() {
        // 3.50 x 1.90 x 1.85 = 12.3025; firm clay swells by 1.4: 17.2235
        assert_eq!(ours(JOB, &["excavation-pit"]), "12.3025");
        let soils = made(JOB, &["excavation-pit"], "bulking-billed");
        assert!(soils.contains(&"17.2235".to_owned()), "{soils:?}");
        assert!(made(JOB, &["concrete-base"], "bulking-billed").is_empty());
        // 0.9975 x 1.05, x 1.10
        let waste = made(JOB, &["concrete-base"], "waste-billed");
        assert!(["1.047375", "1.09725"].iter().all(|w| waste.iter().any(|m| m == w)), "{waste:?}");
    }
}
