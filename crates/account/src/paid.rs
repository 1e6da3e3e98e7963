//! What the client has paid: `[[paid]]` of the job file.

use rust_decimal::Decimal;
use tankwright_quantities::job::{Day, Job};
use tankwright_quantities::money::Currency;
use tankwright_quantities::pricing::MoneyReader;
use tankwright_quantities::problem::Problem;

/// Codes of this room, each with its meaning in one line.
pub const CODES: &[(&str, &str)] = &[("J200", "a payment of nothing")];

/// A payment received.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Receipt {
    /// On which day.
    pub date: Day,
    /// How much.
    pub amount: Decimal,
    /// The job file's own words, or empty.
    pub note: String,
}

/// All payments received, by date; those of one day as they stand in the file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Paid {
    /// The payments.
    pub receipts: Vec<Receipt>,
}

impl Paid {
    /// Sum of what was paid up to a day, that day included; `None` beyond what a decimal holds.
    #[must_use]
    pub fn up_to(&self, day: Day) -> Option<Decimal> {
        sum(self.receipts.iter().filter(|r| r.date <= day))
    }

    /// Sum of all payments; `None` beyond what a decimal holds.
    #[must_use]
    pub fn total(&self) -> Option<Decimal> {
        sum(&self.receipts)
    }
}

fn sum<'a>(receipts: impl IntoIterator<Item = &'a Receipt>) -> Option<Decimal> {
    receipts.into_iter().try_fold(Decimal::ZERO, |sum, r| sum.checked_add(r.amount))
}

/// Reads `[[paid]]`, with every problem of it: J200, R047, R050.
#[must_use]
pub fn paid(job: &Job, currency: &Currency) -> (Paid, Vec<Problem>) {
    let money = MoneyReader { job, currency: Some(currency) };
    let mut problems = Vec::new();
    let mut receipts: Vec<Receipt> = (0..job.count_of("paid"))
        .filter_map(|i| {
            let path = |key: &str| format!("paid[{i}].{key}");
            let date = Day::read(job.text(&path("date")))?;
            let amount = money.amount(&path("amount"), &mut problems)?;
            if amount.is_zero() {
                let place = job.place(&path("amount"));
                let problem = Problem::error("J200", place, format!("paid[{i}] is a payment of nothing"));
                problems.push(problem.label("this is 0").hint("write what was paid, or leave the entry out"));
                return None;
            }
            Some(Receipt { date, amount, note: job.text(&path("note")).to_owned() })
        })
        .collect();
    receipts.sort_by_key(|r| r.date);
    (Paid { receipts }, problems)
}

#[cfg(test)]
mod tests {
    use super::*;
    use tankwright_quantities::{flow, job};

    fn read(text: &str, digits: u32) -> (Paid, Vec<&'static str>) {
        let (job, told) = job::read("job.toml", &format!("{text}\n"), &flow::job_tables());
        assert!(told.iter().all(|p| p.code == "J006"), "{told:?}");
        let currency = Currency { digits, ..Currency::default() };
        let (paid, problems) = paid(&job, &currency);
        assert!(problems.iter().all(|p| p.place.is_some() && p.hint.is_some()));
        (paid, problems.iter().map(|p| p.code).collect())
    }

    const THREE: &str = "[[paid]]\ndate = \"2026-12-20\"\namount = \"250.50\"\n\
        [[paid]]\ndate = \"2026-12-01\"\namount = \"1000\"\nnote = \"deposit, by bank\"\n\
        [[paid]]\ndate = \"2027-01-08\"\namount = 300\n";

    #[test]
    fn payments_stand_by_date_and_are_summed_up_to_a_day() {
        let (paid, told) = read(THREE, 2);
        assert_eq!(told, Vec::<&str>::new());
        let notes: Vec<&str> = paid.receipts.iter().map(|r| r.note.as_str()).collect();
        assert_eq!(notes, ["deposit, by bank", "", ""]);
        let up_to = |day: &str| Day::read(day).and_then(|d| paid.up_to(d));
        assert_eq!(up_to("2026-11-30"), Some(Decimal::ZERO));
        assert_eq!(up_to("2026-12-20"), Some(Decimal::new(100_000 + 25_050, 2)));
        assert_eq!(paid.total(), Some(Decimal::new(100_000 + 25_050 + 30_000, 2)));
        assert_eq!(read("", 2), (Paid::default(), Vec::new()));
    }

    #[test]
    fn all_that_is_wrong_is_told_together() {
        let (paid, told) = read(&THREE.replace("300", "0"), 0);
        assert_eq!(told, ["R050", "J200"]);
        assert_eq!(paid.receipts.len(), 1);
    }
}
