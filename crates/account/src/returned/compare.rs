//! Copies side by side: every row with every rate, what is far, what each copy comes to, who is lowest.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;
use tankwright_quantities::decimal;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::problem::Problem;

use super::copy::Copy;
use super::far::{self, Far, median};
use super::form::{ADDITIONS, Form, PRELIMINARIES, PROVISIONAL};
use super::rank::{Filled, Rates, Reckoned, fill, rates, reckon};
use super::state::State;

/// A row of the form with every rate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Across {
    /// What counts in each copy: the rate or percentage, an amount without a rate by its quantity; none where the row
    /// is open.
    pub rates: Vec<Option<Ratio>>,
    /// Ours, where the job is priced.
    pub own: Option<Ratio>,
    /// Lowest and highest of the copies, where at least two priced the row.
    pub range: Option<[Ratio; 2]>,
    /// Median of the copies.
    pub median: Option<Ratio>,
}

/// What a copy comes to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Side {
    /// With every extension and sum made right.
    pub corrected: Reckoned,
    /// Open rows, and what would fill them.
    pub filled: Vec<Filled>,
    /// An estimate: the open rows at the highest of the others' rates, and at their mean.
    pub complete: [Reckoned; 2],
    /// Place by the corrected sum, from 1; equal sums share one. A copy that prices nothing has none.
    pub rank: Option<usize>,
    /// Place by the sum with the open rows at the highest rates.
    pub rank_complete: Option<usize>,
}

/// Copies side by side.
#[derive(Clone, Debug)]
pub struct Comparison {
    /// The form.
    pub form: Form,
    /// The copies, in the order given.
    pub copies: Vec<Copy>,
    /// What each comes to, in the same order.
    pub sides: Vec<Side>,
    /// Row by row.
    pub rows: Vec<Across>,
    /// Rates far from the others, row by row.
    pub far: Vec<Far>,
    /// How many times the median is far.
    pub ratio: Ratio,
    /// What the form comes to at our own rates, where the job is priced.
    pub own: Option<Reckoned>,
}

/// Sets copies side by side.
///
/// # Errors
/// `B006` where a file is named twice; `R047` where figures grow beyond what can be reckoned exactly.
pub fn compare(
    form: Form,
    estimate: &Estimate,
    copies: Vec<Copy>,
    ratio: Ratio,
) -> Result<Comparison, Vec<Problem>> {
    for (i, copy) in copies.iter().enumerate() {
        if copies.iter().take(i).any(|c| c.file == copy.file) {
            let problem = Problem::error("B006", None, format!("the copy `{}` is named twice", copy.file));
            return Err(vec![problem.hint("name each copy once")]);
        }
    }
    let all: Vec<Rates> = copies.iter().map(|c| rates(&form, c)).collect();
    let own = own_rates(&form, estimate);
    let sides = copies.iter().enumerate().map(|(i, copy)| {
        let others: Vec<&Rates> = all.iter().enumerate().filter(|(j, _)| *j != i).map(|(_, r)| r).collect();
        side(&form, copy, all.get(i)?, &others, &own)
    });
    let Some(mut sides) = sides.collect::<Option<Vec<Side>>>() else { return Err(vec![too_large()]) };
    let priced: Vec<bool> = copies.iter().zip(&all).map(|(copy, rates)| prices(&form, copy, rates)).collect();
    let ranks =
        [ranks(&sides, &priced, |s| s.corrected.total), ranks(&sides, &priced, |s| s.complete[0].total)];
    for (i, side) in sides.iter_mut().enumerate() {
        [side.rank, side.rank_complete] =
            [0, 1].map(|of: usize| ranks.get(of).and_then(|r| r.get(i)).copied().flatten());
    }
    let rows: Vec<Across> = (0..form.rows.len()).map(|row| across(row, &all, &own)).collect();
    let stated = |row: usize| form.rows.get(row).is_some_and(|r| r.stated.is_some());
    let far = rows.iter().enumerate().filter(|(row, _)| !stated(*row));
    let far = far.flat_map(|(row, r)| far::of_row(row, &r.rates, r.own, ratio)).collect();
    let own = if own.iter().all(Option::is_none) { None } else { reckon(&form, None, &own) };
    Ok(Comparison { form, copies, sides, rows, far, ratio, own })
}

fn too_large() -> Problem {
    let hint = "look for a rate or an amount beyond any price of a tank";
    Problem::error("R047", None, "the copies' figures grow beyond what can be reckoned exactly").hint(hint)
}

fn side(form: &Form, copy: &Copy, mine: &Rates, others: &[&Rates], own: &Rates) -> Option<Side> {
    let states: Vec<State> = copy.bids.iter().map(|b| b.state).collect();
    let filled = fill(form, mine, &states, others, own);
    let complete = |which: usize| {
        let mut rates = mine.clone();
        for open in &filled {
            if let (Some(rate), Some(fill)) = (rates.get_mut(open.row), open.rates) {
                *rate = fill.get(which).copied();
            }
        }
        reckon(form, Some(copy), &rates)
    };
    let corrected = reckon(form, Some(copy), mine)?;
    let complete = [complete(0)?, complete(1)?];
    Some(Side { corrected, filled, complete, rank: None, rank_complete: None })
}

/// Does a copy price anything of its own? What the form states is nobody's offer.
fn prices(form: &Form, copy: &Copy, rates: &Rates) -> bool {
    let own = form.rows.iter().zip(rates).filter(|(row, _)| row.stated.is_none());
    own.filter_map(|(_, rate)| *rate).any(|rate| rate.signum() > 0) || !copy.added.is_empty()
}

fn ranks(sides: &[Side], priced: &[bool], of: impl Fn(&Side) -> Decimal) -> Vec<Option<usize>> {
    let ranked = || sides.iter().zip(priced).map(|(side, priced)| priced.then(|| of(side)));
    let below = |mine: Decimal| ranked().flatten().filter(|sum| *sum < mine).count();
    ranked().map(|sum| sum.map(|mine| below(mine) + 1)).collect()
}

fn across(row: usize, all: &[Rates], own: &Rates) -> Across {
    let rates: Vec<Option<Ratio>> = all.iter().map(|r| r.get(row).copied().flatten()).collect();
    let priced: Vec<Ratio> = rates.iter().flatten().copied().filter(|r| r.signum() > 0).collect();
    let range = match (priced.iter().min(), priced.iter().max()) {
        (Some(low), Some(high)) if priced.len() > 1 => Some([*low, *high]),
        _ => None,
    };
    Across { own: own.get(row).copied().flatten(), range, median: median(&priced), rates }
}

/// Our own rates, percentages and amounts, row by row; none where the job is not priced.
fn own_rates(form: &Form, e: &Estimate) -> Rates {
    let bill = &e.bill;
    if bill.total.is_none() {
        return vec![None; form.rows.len()];
    }
    let measured = |reference: &str| {
        let mut rows = bill.sections.iter().flat_map(|s| &s.rows);
        rows.find(|r| r.reference == reference).and_then(|r| r.rate.as_ref()).map(|(rate, _)| *rate)
    };
    let nth = |row: &super::form::FormRow| {
        row.reference.get(1..).and_then(|n| n.parse::<usize>().ok()).map(|n| n - 1)
    };
    let of = |row: &super::form::FormRow| {
        let side = |rows: &[tankwright_quantities::bill::SideRow]| {
            let row = rows.get(nth(row)?)?;
            Some(
                row.worked
                    .as_ref()
                    .map_or(row.amount, |(unit, n, rate)| if unit == "%" { *n } else { *rate }),
            )
        };
        let found = match row.letter {
            PRELIMINARIES => side(&bill.preliminaries),
            PROVISIONAL => side(&bill.provisional),
            ADDITIONS => bill.additions.get(nth(row)?).map(|a| a.percent.unwrap_or(a.amount)),
            _ => measured(&row.reference),
        };
        found.map(decimal::ratio)
    };
    form.rows.iter().map(of).collect()
}
