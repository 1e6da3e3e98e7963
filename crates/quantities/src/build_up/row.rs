//! The built rate of a work by itself: what a search asks for rows that the first estimate did not have.

use rust_decimal::Decimal;

use super::price::Asked;
use super::{Outline, Piece, Terms, priced};
use crate::job::Job;
use crate::rates::{PriceList, Stock};

/// The rate of a piece of work where its list has no row for it; nothing where it cannot be built up either.
pub(crate) fn of_spec(job: &Job, stock: &Stock, prices: &PriceList, piece: Piece<'_>) -> Option<Decimal> {
    let outline = Outline::of(job, stock, piece).filter(|_| prices.builds_up())?;
    let terms = Terms::read(job, stock, &mut Vec::new());
    let digits = stock.currencies.get(job.text("job.currency"))?.0.digits;
    let asked = Asked { prices, terms: &terms, row: ("", ""), digits };
    priced(&outline, true, asked).ok().map(|worked| worked.rate)
}
