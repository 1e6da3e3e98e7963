//! Pricing one job after another that differ in a few dimensions only: what a search for the cheapest tank needs.
//!
//! A structure is set out by the elements themselves, which refuse what is impossible; its claims are measured by
//! the model. The ledger of a structure met before is not booked again: its `ledger::Form` is reckoned,
//! and every item is held against the model and the second formulas before it is priced. Where both sides of every
//! balance are the same polynomials of the inputs that vary, that is said once for all candidates of this form whose
//! planes stand in the same order (`identity`); where it cannot be said, each is measured.

mod boxes;
mod drawing;
mod family;
mod identity;
mod poly;
mod price;
mod proof;
#[cfg(test)]
mod tests;

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use crate::candidate::family::{Family, Reckoned};
use crate::estimate::{Capacity, Failure};
use crate::flow::{self, Settings};
use crate::job::Job;
use crate::model::Plans;
use crate::open_space::Spaces;
use crate::rates::{PriceList, Stock};

/// A candidate, measured, proved and priced.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Priced {
    /// The offered total, as the bill ends.
    pub total: Decimal,
    /// Outer plan of the tank, m2.
    pub plan: Ratio,
}

/// A row of a candidate's bill.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct PricedRow {
    /// Id of the work.
    pub work: &'static str,
    /// Specification or empty.
    pub spec: String,
    /// As the bill's row, in the work's unit.
    pub quantity: Decimal,
    /// Quantity x rate, rounded to the currency.
    pub amount: Decimal,
}

/// How candidates were reckoned.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// By forms, those made for the candidate among them.
    pub by_forms: u64,
    /// Forms of a ledger made because no known one held.
    pub ledgers_made: u64,
    /// Forms of an element's bars made because no known one held.
    pub bars_made: u64,
    /// Refused by the elements of a family met before.
    pub refused: u64,
    /// By the whole flow of an estimate: bills of labour, the first of a family, what has no form.
    pub whole: u64,
    /// Of these: the figures of a form did not pass the proof. None should.
    pub doubted: u64,
    /// Of those by forms: measured and held together one by one, because no identity said so for all of their kind.
    pub measured: u64,
}

/// So many kinds of jobs are kept apart.
const FAMILIES: usize = 64;

/// Prices candidates. One a thread: it keeps what does not change from one to the next.
#[derive(Debug)]
pub struct Pricer<'a> {
    stock: &'a Stock,
    prices: &'a PriceList,
    settings: &'a Settings,
    families: Vec<Family<'a>>,
    plans: Plans,
    spaces: Spaces,
    counts: Counts,
    /// Was the last one reckoned by forms?
    by_forms: bool,
}

impl<'a> Pricer<'a> {
    /// With the data that all candidates share.
    #[must_use]
    pub fn new(stock: &'a Stock, prices: &'a PriceList, settings: &'a Settings) -> Self {
        let (families, plans, spaces) = (Vec::new(), Plans::default(), Spaces::default());
        Self { stock, prices, settings, families, plans, spaces, counts: Counts::default(), by_forms: false }
    }

    /// The rows of the bill of the candidate priced last, where forms priced it; `None` after any other. Rows that came
    /// to nothing are left out.
    #[must_use]
    pub fn rows(&self) -> Option<Vec<PricedRow>> {
        let mut rows = self.families.first().filter(|_| self.by_forms)?.rows()?;
        rows.retain(|r| !r.quantity.is_zero());
        Some(rows)
    }

    /// How candidates were reckoned so far.
    #[must_use]
    pub const fn counts(&self) -> Counts {
        self.counts
    }

    /// Sets out, measures, proves and prices a job. `wanted` sees what the tank holds before anything is measured,
    /// and may decline: then there is no price.
    ///
    /// # Errors
    /// As [`flow::estimate`]: a refused job or price list, or a balance that does not close.
    pub fn price(
        &mut self,
        job: &Job,
        wanted: &dyn Fn(&Capacity) -> bool,
    ) -> Result<Option<Priced>, Failure> {
        self.by_forms = false;
        match self.families.iter_mut().position(|f| f.takes(job)) {
            Some(at) => self.families.swap(0, at),
            None => {
                // The first of a kind shows all that hangs on no length: names, recipes, rates.
                self.counts.whole += 1;
                let done = flow::estimate(job, self.stock, Some(self.prices), self.settings)?;
                if let Some(family) = Family::of(job, self.stock, self.prices, self.settings, &done) {
                    self.families.truncate(FAMILIES - 1);
                    self.families.insert(0, family);
                }
                return Ok(priced(&done, wanted));
            }
        }
        if let Some(family) = self.families.first_mut() {
            match family.reckon(job, wanted, (&mut self.plans, &mut self.spaces), &mut self.counts) {
                Reckoned::Priced(priced) => {
                    self.counts.by_forms += 1;
                    self.by_forms = true;
                    return Ok(Some(priced));
                }
                Reckoned::Declined => return Ok(None),
                Reckoned::Refused(problems) => {
                    self.counts.refused += 1;
                    return Err(Failure::Job(problems));
                }
                Reckoned::Not => {}
            }
        }
        job.take_problems();
        self.counts.whole += 1;
        let done = flow::estimate(job, self.stock, Some(self.prices), self.settings)?;
        Ok(priced(&done, wanted))
    }
}

fn priced(done: &crate::estimate::Estimate, wanted: &dyn Fn(&Capacity) -> bool) -> Option<Priced> {
    let total = done.bill.total.filter(|_| wanted(&done.capacity));
    total.map(|total| Priced { total, plan: done.outer_plan })
}
