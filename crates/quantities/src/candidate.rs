//! Pricing one job after another that differ in a few dimensions only: what a search for the cheapest tank needs.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use crate::estimate::{Capacity, Failure};
use crate::flow::{self, Settings};
use crate::job::Job;
use crate::rates::{PriceList, Stock};

/// A candidate, measured, proved and priced.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Priced {
    /// The offered total, as the bill ends.
    pub total: Decimal,
    /// Outer plan of the tank, m2.
    pub plan: Ratio,
}

/// Prices candidates. One a thread: it keeps what does not change from one to the next.
#[derive(Debug)]
pub struct Pricer<'a> {
    stock: &'a Stock,
    prices: &'a PriceList,
    settings: &'a Settings,
}

impl<'a> Pricer<'a> {
    /// With the data that all candidates share.
    #[must_use]
    pub fn new(stock: &'a Stock, prices: &'a PriceList, settings: &'a Settings) -> Self {
        Self { stock, prices, settings }
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
        let done = flow::estimate(job, self.stock, Some(self.prices), self.settings)?;
        let plan = done.outer_plan;
        Ok(done.bill.total.filter(|_| wanted(&done.capacity)).map(|total| Priced { total, plan }))
    }
}
