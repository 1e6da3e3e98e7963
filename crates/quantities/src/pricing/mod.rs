//! Pricing a bill: a rate for every row, preliminaries, provisional items, additions, the total.
//!
//! Everything that is wrong is told together, and then the bill stays unpriced. Cautions do not stop it.

mod additions;
mod amounts;
mod built;
mod chain;
mod codes;
mod labour;
#[cfg(test)]
mod labour_tests;
#[cfg(test)]
mod random_tests;
mod rates;
mod side;
#[cfg(test)]
mod tests;

pub(crate) use amounts::LARGEST;
pub use amounts::Reader as MoneyReader;
pub use codes::CODES;
pub use labour::Goods;

use rust_decimal::Decimal;

use crate::amount_words::amount_words;
use crate::bill::{AddedOn, Bill, SideRow};
use crate::build_up::{Asked, Terms};
use crate::job::Job;
use crate::problem::{Problem, Severity};
use crate::rates::{PriceList, Stock};

/// Prices a bill as drawn up. `date` is the job's, against which the age of the rates is told. With the goods that
/// the client buys the rates become those of labour, where the list prices any of these goods.
///
/// Gives every problem (codes [`CODES`]): with an error among them the bill is as it was.
pub fn price(
    bill: &mut Bill,
    job: &Job,
    stock: &Stock,
    prices: &PriceList,
    date: &str,
    client_buys: Option<Goods<'_>>,
) -> Vec<Problem> {
    let mut problems = Vec::new();
    currencies(job, stock, prices, &mut problems);
    let terms = Terms::read(job, stock, &mut problems);
    let asked =
        Asked { prices, terms: &terms, row: (&bill.currency.code, date), digits: bill.currency.digits };
    let with_full = client_buys.is_some_and(|goods| labour::prices_any(goods, prices));
    let builder = built::Builder::new(asked, client_buys.is_some(), with_full);
    let mut found = rates::look_up(bill, prices, date, builder, &mut problems);
    let parted =
        client_buys.and_then(|goods| labour::part(bill, goods, prices, date, &mut found, &mut problems));
    let money =
        amounts::Reader { job, currency: stock.currencies.get(job.text("job.currency")).map(|c| &c.0) };
    let preliminaries = side::rows(&money, "preliminaries", &mut problems);
    let provisional = side::provisional(&money, &mut problems);
    let not_priced = side::not_priced(bill, job, stock, &mut problems);
    let steps = additions::steps(&money, &mut problems);
    let say = money.amount("additions.say", &mut problems).filter(|s| !s.is_zero());
    if problems.iter().any(|p| p.severity == Severity::Error) {
        return problems;
    }

    let mut priced = Bill { preliminaries, provisional, not_priced, say, ..bill.clone() };
    let mut dates = Vec::new();
    if let Some(parted) = parted {
        let rows = priced.sections.iter_mut().flat_map(|s| &mut s.rows);
        rows.zip(parted.rows).for_each(|(row, labour)| row.labour = Some(labour));
        (priced.client_buys, dates) = (Some(parted.buys), parted.dates);
    }
    let done = rates::apply(&mut priced, found, &mut problems)
        .and_then(|()| additions::add_up(&mut priced, &steps))
        .ok_or_else(|| too_large(prices));
    match done {
        Ok(total) => {
            priced.total = Some(total);
            priced.total_in_words = amount_words(total, &priced.currency);
            priced.price_list = Some(rates::dates(&priced, prices, &dates));
            chain::told(&priced, &terms, &mut problems);
            *bill = priced;
        }
        Err(problem) => problems.push(problem),
    }
    problems
}

/// The preliminaries of a job, as a bill would price them; problems as [`price`].
pub fn preliminaries(job: &Job, stock: &Stock, problems: &mut Vec<Problem>) -> Vec<SideRow> {
    let currency = stock.currencies.get(job.text("job.currency")).map(|c| &c.0);
    side::rows(&amounts::Reader { job, currency }, "preliminaries", problems)
}

/// Titles of the checklist that neither a preliminary of the job nor a row of its bill covers.
#[must_use]
pub fn not_asked(bill: &Bill, job: &Job, stock: &Stock) -> Vec<String> {
    side::not_priced(bill, job, stock, &mut Vec::new())
}

/// What each addition of the job is taken on, priced or not.
///
/// # Errors
/// `R048`, `R049`: an `on` that names what does not stand before it, or leaves out the measured works.
pub fn added_on(job: &Job, stock: &Stock) -> Result<Vec<AddedOn>, Vec<Problem>> {
    let currency = stock.currencies.get(job.text("job.currency")).map(|c| &c.0);
    let mut problems = Vec::new();
    let on = additions::all_taken_on(&amounts::Reader { job, currency }, &mut problems);
    if problems.is_empty() { Ok(on) } else { Err(problems) }
}

/// The end of a priced bill over other measured works.
#[derive(Debug)]
pub(crate) struct Chain {
    bill: Bill,
    steps: Vec<additions::Step>,
}

impl Chain {
    /// Of a bill that is priced.
    pub(crate) fn of(bill: &Bill, job: &Job, stock: &Stock) -> Self {
        let currency = stock.currencies.get(job.text("job.currency")).map(|c| &c.0);
        let steps = additions::steps(&amounts::Reader { job, currency }, &mut Vec::new());
        let steps = steps.into_iter().map(additions::Step::untitled).collect();
        Self { bill: Bill { sections: Vec::new(), ..bill.clone() }, steps }
    }

    /// The total where the measured works come to this; `None` where a figure is too large.
    pub(crate) fn total(&mut self, measured: Decimal) -> Option<Decimal> {
        self.bill.measured = Some(amounts::held(measured)?);
        additions::add_up(&mut self.bill, &self.steps)
    }

    /// Decimal places of the currency.
    pub(crate) const fn digits(&self) -> u32 {
        self.bill.currency.digits
    }
}

fn too_large(prices: &PriceList) -> Problem {
    let message = format!("the amounts grow beyond {} and cannot be reckoned exactly", amounts::LARGEST);
    Problem::error("R047", None, message)
        .hint(format!("look for a slip in the rates of {} or in the job's amounts", prices.name))
}

fn currencies(job: &Job, stock: &Stock, prices: &PriceList, problems: &mut Vec<Problem>) {
    let code = job.text("job.currency");
    let place = || job.place("job.currency");
    if !stock.currencies.contains_key(code) {
        let known = stock.currencies.keys().map(String::as_str).collect::<Vec<_>>().join(", ");
        let problem = Problem::error("R044", place(), format!("the currency `{code}` is not known"));
        problems.push(problem.label("no entry of this name").hint(format!("known: {known}")));
    }
    if prices.currency != code {
        let message = format!("the price list {} is in {}, the job in {code}", prices.name, prices.currency);
        let hint = format!("name a price list in {code}, or change the job's currency: nothing is converted");
        problems.push(Problem::error("R043", place(), message).label("the job's currency").hint(hint));
    }
}

/// Sum of the amounts, as far as it is exact.
fn sum(amounts: impl IntoIterator<Item = Decimal>) -> Option<Decimal> {
    amounts.into_iter().try_fold(Decimal::ZERO, |sum, a| amounts::held(sum.checked_add(a)?))
}
