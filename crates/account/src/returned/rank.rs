//! What a copy comes to: its corrected sum, and an estimate of it with the open rows filled at the others' rates.

use rust_decimal::Decimal;
use tankwright_crosscheck::figure::step;
use tankwright_geometry::Ratio;
use tankwright_quantities::bill::AddedOn;
use tankwright_quantities::decimal;

use super::copy::Copy;
use super::form::{ADDITIONS, Asks, Form};
use super::state::State;

/// Sums of a copy, rounded to the currency; none where a figure is too large.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Reckoned {
    /// Amount of every row, in the order of the form.
    pub amounts: Vec<Decimal>,
    /// Sections, with the bidder's own rows in them.
    pub sections: Vec<(char, Decimal)>,
    /// Measured works.
    pub measured: Decimal,
    /// The bidder's own rows that stand in no section.
    pub outside: Decimal,
    /// The sum in total.
    pub total: Decimal,
}

/// An open row, and what would fill it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Filled {
    /// Place in the form's rows.
    pub row: usize,
    /// Highest and mean of the others' rates, the mean to two places more than the currency has; ours where nobody
    /// else priced the row; none where nobody did.
    pub rates: Option<[Ratio; 2]>,
    /// How many rates that is made of; 0: ours.
    pub of: usize,
}

/// A rate or percentage for every row; `None` where the copy has none.
pub(super) type Rates = Vec<Option<Ratio>>;

/// What counts of a copy: the rate that the form states, else the bidder's; an amount without a rate by its quantity.
pub(super) fn rates(form: &Form, copy: &Copy) -> Rates {
    let of = |(row, bid): (&super::form::FormRow, &super::copy::Bid)| {
        let stated = row.stated.map(decimal::ratio);
        stated.or_else(|| match (bid.state, &row.asks) {
            (State::Priced | State::Zero, _) => bid.rate.map(|r| r.value),
            (State::Lump, Asks::Rate(q)) if !q.is_zero() => Some(bid.printed?.value / decimal::ratio(*q)),
            (State::Nil | State::Included, _) => Some(Ratio::ZERO),
            _ => None,
        })
    };
    form.rows.iter().zip(&copy.bids).map(of).collect()
}

/// The rates of an estimate of ours; empty where the job is not priced.
pub(super) fn fill(
    form: &Form,
    mine: &Rates,
    states: &[State],
    others: &[&Rates],
    own: &Rates,
) -> Vec<Filled> {
    let open = |i: &usize| {
        let stated = form.rows.get(*i).is_some_and(|r| r.stated.is_some());
        states.get(*i).is_some_and(|s| s.open()) && !stated && mine.get(*i).copied().flatten().is_none()
    };
    let one = |row: usize| {
        let priced = |r: &&Rates| r.get(row).copied().flatten().filter(|r| r.signum() > 0);
        let rates: Vec<Ratio> = others.iter().filter_map(priced).collect();
        let most = rates.iter().copied().reduce(|a, b| a.max(b));
        let count = Ratio::int(i128::try_from(rates.len()).unwrap_or(1));
        let mean =
            (rates.iter().copied().sum::<Ratio>() / count).round_half_away(step(form.currency.digits + 2));
        let ours = || own.get(row).copied().flatten().map(|r| [r, r]);
        Filled { row, rates: most.map(|most| [most, mean]).or_else(ours), of: rates.len() }
    };
    (0..form.rows.len()).filter(open).map(one).collect()
}

/// Works a copy out with these rates, by the form's quantities. An amount without a rate stands as it is printed.
pub(super) fn reckon(form: &Form, copy: Option<&Copy>, rates: &Rates) -> Option<Reckoned> {
    let digits = form.currency.digits;
    let rate = |i: usize| rates.get(i).copied().flatten().unwrap_or(Ratio::ZERO);
    let mut amounts = vec![Decimal::ZERO; form.rows.len()];
    for (i, (row, amount)) in form.rows.iter().zip(&mut amounts).enumerate() {
        let Asks::Rate(quantity) = row.asks else { continue };
        *amount = decimal::rounded(decimal::ratio(quantity) * rate(i), digits)?;
    }
    let added =
        |letter: Option<char>, above: usize| sum(copy.into_iter().flat_map(|c| c.added_to(letter, above)));
    let mut out = Reckoned { outside: added(None, usize::MAX)?, ..Reckoned::default() };
    for s in form.sections.iter().filter(|s| s.letter != ADDITIONS) {
        let rows = form.rows_of(s.letter).filter_map(|i| amounts.get(i).copied());
        let total = sum(rows.chain([added(Some(s.letter), usize::MAX)?]))?;
        out.sections.push((s.letter, total));
        if s.measured() {
            out.measured = sum([out.measured, total])?;
        }
    }
    let mut running = sum(out.sections.iter().map(|(_, total)| *total))?;
    let mut done = Vec::new();
    for i in form.rows_of(ADDITIONS) {
        let Some(Asks::Percent(on)) = form.rows.get(i).map(|r| &r.asks) else {
            let fixed = amounts.get(i).copied()?;
            running = sum([running, fixed])?;
            done.push(fixed);
            continue;
        };
        let base = match on {
            AddedOn::Running => {
                let line = copy.and_then(|c| c.bids.get(i)).and_then(|b| b.line).unwrap_or(usize::MAX);
                sum([running, added(None, line)?])?
            }
            AddedOn::Measured | AddedOn::Amount => out.measured,
            AddedOn::Titles(at) => {
                sum(at.iter().filter_map(|i| done.get(*i).copied()).chain([out.measured]))?
            }
        };
        let amount = decimal::rounded(decimal::ratio(base) * rate(i) / Ratio::int(100), digits)?;
        running = sum([running, amount])?;
        done.push(amount);
        *amounts.get_mut(i)? = amount;
    }
    let total = sum([running, out.outside])?;
    Some(Reckoned { amounts, total, ..out })
}

/// Sum of money; none where it is too large.
pub(super) fn sum(amounts: impl IntoIterator<Item = Decimal>) -> Option<Decimal> {
    amounts.into_iter().try_fold(Decimal::ZERO, |sum, a| sum.checked_add(a))
}
