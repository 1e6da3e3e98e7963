//! Which mistakes, alone, in pairs or (where it is cheap and the figure has the digits) three together, give a figure.

use std::collections::BTreeSet;

use tankwright_geometry::Ratio;

use crate::figure::Figure;
use crate::mistakes::{Case, Variant, under, variants};
use crate::report::Explanation;

/// Three together are tried only where no more ways than this change the row at all.
const CHEAP: usize = 24;
/// And where the figure has digits enough that a match is hardly chance.
const DIGITS: usize = 5;

/// What was found, and how much was tried.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Found {
    /// Every explanation with the fewest mistakes.
    pub explained: Vec<Explanation>,
    /// How many mistakes, alone or together, were made.
    pub tried: usize,
}

/// Every explanation of a figure with the fewest mistakes; `unit`: how many of our unit one of theirs is.
#[must_use]
pub fn explain(case: &Case<'_>, figure: Figure, unit: Ratio) -> Found {
    let all = effective(case);
    let mut found = Found::default();
    for together in 1..=3 {
        let digits = figure.digits();
        if together == 3 && (all.len() > CHEAP || digits < DIGITS) {
            break;
        }
        let mut seen = BTreeSet::new();
        sets(&all, together, &mut |set| {
            found.tried += 1;
            let gives = under(case, set).is_some_and(|row| row.prints(figure, unit).is_some());
            if gives && seen.insert(set.iter().map(|v| v.id).collect::<Vec<_>>()) {
                let mistakes = set.iter().map(|v| v.id).collect();
                found
                    .explained
                    .push(Explanation { mistakes, says: set.iter().map(|v| v.says.clone()).collect() });
            }
        });
        if !found.explained.is_empty() {
            break;
        }
    }
    found
}

/// Ways that change the row, one of those that change it alike and have the same name.
#[must_use]
pub fn effective(case: &Case<'_>) -> Vec<Variant> {
    let right = case.row.totals();
    let mut seen: Vec<(&str, [Ratio; 4])> = Vec::new();
    let mut kept = Vec::new();
    for variant in variants(case) {
        let Some(row) = under(case, &[&variant]) else { continue };
        let totals = row.totals();
        let known = totals.iter().all(|t| t.is_known());
        if !known || totals == right || seen.contains(&(variant.id, totals)) {
            continue;
        }
        seen.push((variant.id, totals));
        kept.push(variant);
    }
    kept
}

/// Every set of so many ways, each of another mistake, in the order of the catalogue.
fn sets<'v>(all: &'v [Variant], many: usize, each: &mut dyn FnMut(&[&'v Variant])) {
    fn more<'v>(
        all: &'v [Variant],
        many: usize,
        set: &mut Vec<&'v Variant>,
        each: &mut dyn FnMut(&[&'v Variant]),
    ) {
        if many == 0 {
            each(set);
            return;
        }
        for (i, variant) in all.iter().enumerate() {
            if set.last().is_some_and(|l| l.id == variant.id) {
                continue;
            }
            set.push(variant);
            more(&all[i + 1..], many - 1, set, each);
            set.pop();
        }
    }
    more(all, many, &mut Vec::new(), each);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure;
    use crate::mistakes::fixture::{JOB, with};

    fn ids(job: &str, work: &str, text: &str) -> Vec<Vec<&'static str>> {
        with(job, &[work], |case| {
            let figure = figure::read(text).unwrap_or(Figure { value: Ratio::ZERO, places: 0 });
            let found = explain(case, figure, Ratio::ONE);
            found.explained.into_iter().map(|e| e.mistakes).collect()
        })
    }

    #[test]
    fn one_mistake_by_its_figure() {
        // 10.8 x 0.2 x 1.6
        let found = ids(JOB, "brickwork-wall", "3.456");
        assert_eq!(found, [vec!["corners-twice"], vec!["full-length-both-ways"]]);
        assert_eq!(ids(JOB, "concrete-base", "6.65"), [vec!["depth-left-out"]]);
    }

    #[test]
    fn two_together() {
        // 10.8 x 0.2 x 1.6 x 1.05 = 3.6288
        let found = ids(JOB, "brickwork-wall", "3.6288");
        assert!(found.contains(&vec!["corners-twice", "waste-billed"]), "{found:?}");
        assert!(found.iter().all(|set| set.len() == 2));
    }

    #[test]
    fn nothing_explains_a_figure_out_of_the_air() {
        assert!(ids(JOB, "concrete-base", "7.77777").is_empty());
    }
}
