//! Money of the job file: exact, not finer than the currency's smallest unit, not too large to add up exactly.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use crate::decimal;
use crate::job::Job;
use crate::money::Currency;
use crate::problem::Problem;

/// No amount is larger: a sum of them still fits a decimal with all its places.
pub(crate) const LARGEST: i64 = 1_000_000_000_000_000_000;

/// Most places of a number in a job file.
const PLACES: u32 = 12;

/// The amount, unless it is too large.
pub(super) fn held(amount: Decimal) -> Option<Decimal> {
    (amount.abs() <= Decimal::from(LARGEST)).then_some(amount)
}

/// Quantity x rate, rounded to the currency; `None` when too large or not exact.
pub(super) fn extended(quantity: Decimal, rate: Decimal, digits: u32) -> Option<Decimal> {
    held(decimal::round(decimal::product(quantity, rate)?, digits))
}

/// The decimal that a number of the job file is.
pub(super) fn exact(number: Ratio) -> Option<Decimal> {
    (0..=PLACES).find_map(|p| decimal::rounded(number, p).filter(|d| decimal::ratio(*d) == number))
}

/// Reads money of the job file by path; what is wrong is told with its place.
#[derive(Clone, Copy, Debug)]
pub struct Reader<'a> {
    /// The job.
    pub job: &'a Job,
    /// `None` where the job's currency is not known, which is told elsewhere.
    pub currency: Option<&'a Currency>,
}

impl Reader<'_> {
    /// An amount, if one stands there. R050 where it is finer than the currency, R047 where it is too large.
    pub fn amount(&self, path: &str, problems: &mut Vec<Problem>) -> Option<Decimal> {
        let amount = self.number(path, problems)?;
        let currency = self.currency.filter(|c| decimal::round(amount, c.digits) != amount);
        if let Some(currency) = currency {
            let (code, digits) = (&currency.code, currency.digits);
            let message = format!("{path} is finer than the smallest unit of {code}");
            let places = match digits {
                0 => "are whole numbers".to_owned(),
                n => format!("have at most {n} places"),
            };
            let problem = Problem::error("R050", self.job.place(path), message);
            problems
                .push(problem.label(format!("this is {amount}")).hint(format!("amounts in {code} {places}")));
            return None;
        }
        Some(amount)
    }

    /// A number (quantity, rate, percentage), if one stands there. R047 where it is too large.
    pub fn number(&self, path: &str, problems: &mut Vec<Problem>) -> Option<Decimal> {
        let number = self.job.number(path)?;
        let value = exact(number).and_then(held);
        if value.is_none() {
            problems.push(self.too_large(path));
        }
        value
    }

    pub(super) fn too_large(&self, path: &str) -> Problem {
        let message = format!("{path} is too large to be reckoned exactly");
        let hint = "look for a slip: this is beyond any price of a tank";
        Problem::error("R047", self.job.place(path), message).label("more than 10^18").hint(hint)
    }

    pub(super) fn missing(&self, path: &str, hint: &str) -> Problem {
        let message = format!("{path} has no amount");
        Problem::error("R050", self.job.place(path), message).label("nothing to add up").hint(hint)
    }
}
