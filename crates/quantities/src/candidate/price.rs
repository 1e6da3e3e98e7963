//! From the figures of forms to a total: items rounded as the ledger rounds them, rows as the bill does.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use tankwright_geometry::{Ratio, nearest};

use crate::bill::row_places;
use crate::build_up::{self, Piece};
use crate::candidate::PricedRow;
use crate::candidate::family::Made;
use crate::estimate::Estimate;
use crate::job::Job;
use crate::ledger::{EXACT_PLACES, Form};
use crate::pricing::{Chain, LARGEST};
use crate::rates::{Lookup, PriceList, Profile, Rounding, Stock};
use crate::stage::Stage;
use crate::words::Phrase;
use crate::works::{Unit, Work};

/// An item of the bill: the same in all forms of a family.
#[derive(Debug)]
struct Priced {
    work: &'static Work,
    spec: String,
    stage: Stage,
    /// Parts of one unit in which it is summed.
    per: i128,
    /// Parts of one unit to which it is rounded.
    step: i128,
    unit: Unit,
    /// Place of its row; none where it is not billed.
    row: Option<usize>,
    refers: Vec<&'static Work>,
}

/// A row of the bill.
#[derive(Debug)]
struct Row {
    work: &'static Work,
    spec: String,
    unit: Unit,
    wording: Phrase,
    /// Digits and places of its rate; none where the list has none.
    rate: Option<(i128, u32)>,
}

/// How items are priced.
#[derive(Debug)]
pub(super) struct Tariff<'a> {
    prices: &'a PriceList,
    rounding: BTreeMap<Unit, Rounding>,
    /// Totals are rounded row by row.
    by_row: bool,
    items: Vec<Priced>,
    rows: Vec<Row>,
    chain: Chain,
    /// Length of bars as sold: what a built rate of bars hangs on besides.
    bars: Ratio,
    sums: Vec<i128>,
    quantities: Vec<i128>,
    amounts: Vec<i128>,
    /// Of each row: quantity and amount, in their smallest parts.
    priced: Vec<(i128, i128)>,
}

/// Where the job says how long bars are sold.
const BARS: &str = "steel.stock_length";

/// Ten to a power.
fn ten(places: u32) -> Option<i128> {
    10_i128.checked_pow(places)
}

impl<'a> Tariff<'a> {
    pub(super) fn of(
        job: &Job,
        stock: &Stock,
        profile: &Profile,
        prices: &'a PriceList,
        done: &Estimate,
    ) -> Option<Self> {
        done.bill.total?;
        Some(Self {
            prices,
            rounding: profile.places.clone(),
            by_row: profile.by_row.is_some(),
            items: Vec::new(),
            rows: Vec::new(),
            chain: Chain::of(&done.bill, job, stock),
            bars: job.len(BARS).value(),
            sums: Vec::new(),
            quantities: Vec::new(),
            amounts: Vec::new(),
            priced: Vec::new(),
        })
    }

    /// Do the rates hold for another job of the kind?
    pub(super) fn holds(&self, job: &Job) -> bool {
        job.len(BARS).value() == self.bars
    }

    /// Enters the items of a form; and whether parts of items entered before have changed by it.
    pub(super) fn enter(&mut self, form: Form, job: &Job, stock: &Stock) -> Option<(Made, bool)> {
        let mut items = Vec::new();
        let mut grown = false;
        for (i, head) in form.items.iter().enumerate() {
            let spec = &head.spec;
            let billed = !head.unbilled && !spec.work.void;
            let piece = || Piece {
                work: spec.work,
                spec: &spec.spec,
                made: &spec.made,
                stage: head.stage,
                unit: head.unit,
                // A rate built for faces in m hangs on their width, which may vary: such rows are priced whole.
                width: None,
            };
            let row = if billed { Some(self.row(piece(), &spec.wording, job, stock)) } else { None };
            // Words may change where the specification does not: the thickness of a cover. Then it is another row.
            let same = |p: &Priced| {
                p.work.id == spec.work.id
                    && p.spec == spec.spec
                    && p.stage == head.stage
                    && p.row == row
                    && p.refers == head.refers
            };
            let known = self.items.iter().position(same);
            let at = known.unwrap_or(self.items.len());
            if known.is_none() {
                let places = self.rounding.get(&head.unit).map_or(EXACT_PLACES, |r| r.places);
                self.items.push(Priced {
                    work: spec.work,
                    spec: spec.spec.clone(),
                    stage: head.stage,
                    per: 1,
                    step: ten(places)?,
                    unit: head.unit,
                    row,
                    refers: head.refers.clone(),
                });
            }
            let item = self.items.get_mut(at)?;
            for group in form.groups.iter().filter(|g| g.item == i) {
                let per = item.per.checked_mul(Ratio::of(item.per, group.value.denom()).denom())?;
                grown |= known.is_some() && per != item.per;
                item.per = per;
            }
            items.push(at);
        }
        let mut groups = Vec::new();
        for i in 0..form.items.len() {
            let from = groups.last().map_or(0, |g: &std::ops::Range<usize>| g.end);
            let own = form.groups.get(from..)?.iter().take_while(|g| g.item == i).count();
            groups.push(from..from + own);
        }
        if groups.last().map_or(0, |g| g.end) != form.groups.len() {
            return None;
        }
        let mut made = Made { form, items, groups, ..Made::default() };
        self.enter_again(std::iter::once(&mut made));
        Some((made, grown))
    }

    /// Enters the parts of items anew.
    pub(super) fn enter_again<'m>(&self, made: impl Iterator<Item = &'m mut Made>) {
        for made in made {
            let per =
                |item: usize| made.items.get(item).and_then(|i| self.items.get(*i)).map_or(0, |p| p.per);
            let parts = |g: &crate::ledger::Group| g.value.numer() * (per(g.item) / g.value.denom().max(1));
            made.parts = made.form.groups.iter().map(parts).collect();
        }
    }

    fn row(&mut self, piece: Piece<'_>, wording: &Phrase, job: &Job, stock: &Stock) -> usize {
        let Piece { work, spec, unit, .. } = piece;
        let same =
            |r: &Row| r.work.id == work.id && r.spec == spec && r.unit == unit && r.wording == *wording;
        if let Some(at) = self.rows.iter().position(same) {
            return at;
        }
        let rate = match self.prices.find(work.id, spec, unit.id()) {
            Lookup::Found { row, .. } => row.rate,
            // A built rate hangs on the specification, what it is made of and the bars as sold: see `holds`.
            Lookup::Missing => build_up::of_spec(job, stock, self.prices, piece),
            _ => None,
        };
        let rate = rate.map(|r| (r.mantissa(), r.scale()));
        self.rows.push(Row { work, spec: spec.to_owned(), unit, wording: wording.clone(), rate });
        self.rows.len() - 1
    }

    /// The rows of the last bill, those of quantity 0 too.
    pub(super) fn rows(&self) -> Option<Vec<PricedRow>> {
        let digits = self.chain.digits();
        let row = |(row, (quantity, amount)): (&Row, &(i128, i128))| {
            let decimal = |n: i128, places| Decimal::try_from_i128_with_scale(n, places).ok();
            Some(PricedRow {
                work: row.work.id,
                spec: row.spec.clone(),
                quantity: decimal(*quantity, row_places(row.unit))?.normalize(),
                amount: decimal(*amount, digits)?.normalize(),
            })
        };
        self.rows.iter().zip(&self.priced).map(row).collect()
    }

    /// The total of a bill of these forms; `None` where one must be drawn up whole: a row without a rate, a figure too
    /// large for this short way.
    pub(super) fn total<'m>(&mut self, made: impl Iterator<Item = &'m Made>) -> Option<Decimal> {
        self.sums.clear();
        self.sums.resize(self.items.len(), 0);
        for made in made {
            for ((group, value), part) in made.form.groups.iter().zip(&made.figures.value).zip(&made.parts) {
                let sum = self.sums.get_mut(*made.items.get(group.item)?)?;
                *sum = sum.checked_add(value.checked_mul(*part)?)?;
            }
        }
        self.quantities.clear();
        let plain = !self.by_row && self.rounding.values().all(|r| (r.of, r.least) == (1, 0));
        let mut rows = vec![(Ratio::ZERO, 0_i128); self.rows.len()];
        for (item, sum) in self.items.iter().zip(&self.sums) {
            // Rounded deductions can be more than a rounded gross that they take up wholly.
            self.quantities.push(if plain {
                nearest(sum.checked_mul(item.step)?, item.per)?.max(0)
            } else {
                let row = item.row.filter(|_| self.by_row).and_then(|r| rows.get_mut(r));
                whole(&self.rounding, item, Ratio::of(*sum, item.per), row)?
            });
        }
        for (i, item) in self.items.iter().enumerate().filter(|(_, item)| !item.refers.is_empty()) {
            let of = |(p, q): (&Priced, &i128)| {
                let same = |w: &&&Work| w.id == p.work.id && p.unit == item.unit && !p.work.void;
                let refers = item.refers.iter().filter(same).count();
                Ratio::of(*q, p.step) * Ratio::int(refers as i128)
            };
            let others: Ratio = self.items.iter().zip(&self.quantities).map(of).sum();
            let whole = (others + Ratio::of(*self.sums.get(i)?, item.per)) * Ratio::int(item.step);
            *self.quantities.get_mut(i)? = if plain {
                nearest(whole.numer(), whole.denom())?.max(0)
            } else {
                self::whole(&self.rounding, item, whole / Ratio::int(item.step), None)?
            };
        }
        let fine = ten(EXACT_PLACES)?;
        self.amounts.clear();
        self.amounts.resize(self.rows.len(), 0);
        for (item, quantity) in self.items.iter().zip(&self.quantities) {
            if let Some(row) = item.row {
                let sum = self.amounts.get_mut(row)?;
                *sum = sum.checked_add(quantity.checked_mul(fine / item.step)?)?;
            }
        }
        let digits = self.chain.digits();
        let mut measured = 0_i128;
        self.priced.clear();
        for (row, sum) in self.rows.iter().zip(&self.amounts) {
            if *sum == 0 {
                self.priced.push((0, 0));
                continue;
            }
            let places = row_places(row.unit);
            let quantity = nearest(*sum, ten(EXACT_PLACES - places)?)?;
            let amount = amount(quantity, places, row.rate?, digits)?;
            measured = measured.checked_add(amount)?;
            self.priced.push((quantity, amount));
        }
        self.chain.total(Decimal::try_from_i128_with_scale(measured, digits).ok()?)
    }
}

/// A total rounded as the profile does, in the item's steps: by itself, or together with what its row has come to.
fn whole(
    by_unit: &BTreeMap<Unit, Rounding>,
    item: &Priced,
    sum: Ratio,
    row: Option<&mut (Ratio, i128)>,
) -> Option<i128> {
    let rounded = |sum: Ratio| {
        let steps = by_unit.get(&item.unit).map_or(sum, |r| r.rounded(sum)) * Ratio::int(item.step);
        nearest(steps.numer(), steps.denom())
    };
    let sum = sum.max(Ratio::ZERO);
    let Some((of_row, billed)) = row else { return rounded(sum) };
    *of_row = *of_row + sum;
    let before = *billed;
    *billed = rounded(*of_row)?;
    billed.checked_sub(before)
}

/// Quantity x rate, rounded to the currency, in its smallest units; `None` where a decimal could not hold it exactly.
fn amount(quantity: i128, places: u32, (rate, scale): (i128, u32), digits: u32) -> Option<i128> {
    let product = quantity.checked_mul(rate)?;
    if product.unsigned_abs() >> 96 != 0 || places + scale > 28 {
        return None;
    }
    let amount = match (places + scale).checked_sub(digits) {
        Some(more) => nearest(product, ten(more)?)?,
        None => product.checked_mul(ten(digits - places - scale)?)?,
    };
    (amount.unsigned_abs() <= i128::from(LARGEST).unsigned_abs()).then_some(amount)
}

#[cfg(test)]
mod tests {
    use super::amount;

    /// In the smallest units of the currency, a half unit up.
    #[test]
    fn amounts_are_in_the_smallest_units() {
        assert_eq!(amount(3, 0, (5, 1), 2), Some(150)); // 3 x 0.5 = 1.50
        assert_eq!(amount(30, 1, (5, 0), 2), Some(1500)); // 3.0 x 5 = 15.00
        assert_eq!(amount(125, 2, (3, 0), 1), Some(38)); // 1.25 x 3 = 3.75
        assert_eq!(amount(-125, 2, (2, 0), 0), Some(-3)); // -1.25 x 2 = -2.5
        assert_eq!(amount(1, 20, (1, 9), 2), None);
    }
}
