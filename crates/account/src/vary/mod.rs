//! The account of variations: what was agreed, what was built, and what that changes in the price.
//!
//! The contract's rates hold for whatever the contract has; what is new gets a star rate. Each variation that changes
//! keys of the job file is written into its text and measured by itself, in the order of the file.

mod balance;
mod built;
mod chain;
mod codes;
mod compare;
mod entries;
mod exact;
mod items;
mod payment;
pub mod report;
mod settled;
mod stars;
mod states;
mod terms;
#[cfg(test)]
mod tests;
mod together;

pub use codes::CODES;
pub use report::Account;

use rust_decimal::Decimal;
use tankwright_quantities::estimate::{Balance, Estimate, Failure};
use tankwright_quantities::job::{Day, Job};
use tankwright_quantities::pricing::MoneyReader;
use tankwright_quantities::problem::{Problem, Severity, in_order};
use tankwright_quantities::rates::{PriceKind, PriceList, Stock};

use compare::claims;
use stars::Stars;

/// What was agreed.
#[derive(Clone, Copy, Debug)]
pub struct Contract<'a> {
    /// Its job file.
    pub job: &'a Job,
    /// The job, priced.
    pub estimate: &'a Estimate,
    /// Its price list.
    pub list: &'a PriceList,
}

/// What was built.
#[derive(Clone, Copy, Debug)]
pub struct Now<'a> {
    /// The job file of the account.
    pub job: &'a Job,
    /// Its text, into which variations are written.
    pub text: &'a str,
    /// The price list it names, where that is another: for what the contract's list does not have.
    pub list: Option<&'a PriceList>,
    /// The day of the account.
    pub date: &'a str,
}

/// What the parts of an account are made with.
struct Desk<'a> {
    contract: Contract<'a>,
    now: Now<'a>,
    stock: &'a Stock,
    stars: Stars,
    told: Vec<Problem>,
    /// What is dated after the day of the account.
    after: After,
}

/// What is dated after the day of the account, in words.
#[derive(Debug, Default)]
struct After {
    /// Not counted.
    left: Vec<String>,
    /// Counted all the same: the job as it is drawn has it in it.
    drawn: Vec<String>,
    /// Counted, for no day of an account is given.
    no_day: bool,
}

impl<'a> Desk<'a> {
    /// Money of the account's job file.
    const fn money(&self) -> MoneyReader<'a> {
        MoneyReader { job: self.now.job, currency: Some(&self.contract.estimate.bill.currency) }
    }

    /// Money of the contract's job file: in order, for it was priced.
    const fn of_contract(&self) -> MoneyReader<'a> {
        MoneyReader { job: self.contract.job, currency: Some(&self.contract.estimate.bill.currency) }
    }

    const fn digits(&self) -> u32 {
        self.contract.estimate.bill.currency.digits
    }

    /// Price lists that may give a star rate to an item stated by a variation. Where rates are of labour alone, none:
    /// what a list says is the full price.
    fn lists(&self) -> Vec<&'a PriceList> {
        let labour = self.contract.estimate.bill.client_buys.is_some();
        let mut lists = vec![self.contract.list];
        lists.extend(self.now.list.filter(|l| l.name != self.contract.list.name));
        if labour { Vec::new() } else { lists }
    }

    /// The words of a price list for a code of a work.
    fn list_words(&self, code: &str) -> Option<String> {
        let lists = self.lists();
        let rows = lists.iter().flat_map(|l| &l.rows).filter(|r| r.kind == PriceKind::Work);
        rows.filter(|r| r.code == code && !r.description.is_empty()).map(|r| r.description.clone()).next()
    }

    /// The day to which things count; nothing where the account has the date of the contract: the file is the contract
    /// itself, and nobody gave a day.
    fn day(&self) -> Option<Day> {
        let day = Day::read(self.now.date)?;
        Day::read(&self.contract.estimate.date).is_none_or(|of| day > of).then_some(day)
    }

    /// Does an entry of the account count? What it is called is kept where its date is after the day of the account.
    fn counts(&mut self, path: &str, name: &str, drawn: bool) -> bool {
        let date = Day::read(self.now.job.text(&format!("{path}.date")));
        let Some(date) = date.filter(|date| self.is_after(*date)) else { return true };
        let told = if drawn { &mut self.after.drawn } else { &mut self.after.left };
        told.push(format!("{name} ({date})"));
        drawn
    }

    /// Is a date after the day of the account? Where there is none, that is kept.
    fn is_after(&mut self, date: Day) -> bool {
        let day = self.day();
        self.after.no_day |= day.is_none() && Day::read(self.now.date).is_some_and(|day| date > day);
        day.is_some_and(|day| date > day)
    }

    fn refused(&self) -> bool {
        self.told.iter().any(|p| p.severity == Severity::Error)
    }
}

/// The account of a contract and what was built.
///
/// # Errors
/// Every problem of the account's job file (codes [`CODES`], and those of what is measured), or a balance that does not
/// close.
pub fn vary(contract: Contract<'_>, now: Now<'_>, stock: &Stock) -> Result<Account, Failure> {
    let mut desk =
        Desk { contract, now, stock, stars: Stars::default(), told: Vec::new(), after: After::default() };
    terms::check(&mut desk);
    stars::read(&mut desk);
    let variations = entries::read(&mut desk);
    let states = states::measure(&mut desk, &variations).map_err(Failure::Balance)?;
    let settled = together::Others {
        remeasured: settled::remeasured(&mut desk),
        prime_cost: settled::prime_cost(&mut desk),
        provisional_sums: settled::provisional_sums(&mut desk),
        dayworks: settled::dayworks(&mut desk),
    };
    let account = states.and_then(|states| {
        let first = states.all.first()?;
        let own = desk.now.job.count_of("preliminaries") > 0;
        let mut drawn = compare::of_rows(&contract.estimate.bill, &first.bill);
        if own {
            drawn.extend(compare::of_preliminaries(
                &contract.estimate.bill.preliminaries,
                &first.preliminaries,
            ));
        }
        let claimed = claims(&mut desk, &drawn, &variations);
        let differences = together::Differences { drawn, claimed, states: &states, own_preliminaries: own };
        together::account(&mut desk, &variations, &differences, settled)
    });
    if !desk.refused() {
        desk.stars.idle(&mut desk.told);
    }
    in_order(&mut desk.told);
    if desk.refused() {
        return Err(Failure::Job(desk.told));
    }
    // Without a problem told there is an account; were there none, that would be a fault of the program.
    let Some(account) = account else { return Err(Failure::Job(vec![too_large(&desk)])) };
    if account.balances.iter().any(|b| !Balance::holds(b)) {
        return Err(Failure::Balance(account.balances));
    }
    Ok(Account { cautions: desk.told, ..account })
}

fn too_large(desk: &Desk<'_>) -> Problem {
    let problem =
        Problem::error(codes::TOO_LARGE, desk.now.job.place("job"), "the account cannot be reckoned exactly");
    problem
        .label("this job")
        .hint("look for a slip in quantities and rates: the amounts are beyond any price of a tank")
}

/// The sum of amounts that were reckoned one by one.
fn total(amounts: impl IntoIterator<Item = Decimal>) -> Option<Decimal> {
    exact::sum(amounts)
}
