//! The account as plain data: the one thing that its papers receive.

use rust_decimal::Decimal;
use tankwright_quantities::bill::RateFrom;
use tankwright_quantities::estimate::Balance;
use tankwright_quantities::money::Currency;
use tankwright_quantities::problem::Problem;
use tankwright_quantities::words::Phrase;

/// A job file of the account.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Paper {
    /// Title of the job.
    pub title: String,
    /// Its date.
    pub date: String,
    /// Name of the file.
    pub file: String,
}

/// Where the rate of an entry comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// A row of the contract's bill.
    Contract,
    /// A star rate: its place in [`Account::stars`].
    Star(usize),
    /// An amount of its own, without a rate.
    Amount,
}

/// One line of the bill of omissions or of additions.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// `OM1`, `AD1`: counted through the account.
    pub reference: String,
    /// Row of the contract's bill, `A2`; empty where it has none.
    pub row: String,
    /// `excavation-pit/1.5-3.0`; empty for what is not measured from the drawing.
    pub code: String,
    /// In words.
    pub says: String,
    /// Unit; empty where only an amount is given.
    pub unit: String,
    /// Quantity and rate, where it has them.
    pub worked: Option<(Decimal, Decimal)>,
    /// Quantity x rate, rounded to the currency.
    pub amount: Decimal,
    /// Where the rate comes from.
    pub basis: Basis,
    /// Extra over: the work itself is counted already.
    pub extra_over: bool,
    /// A preliminary: not among the measured works.
    pub preliminary: bool,
    /// Stated by the variation itself, not found by measuring.
    pub stated: bool,
}

impl Entry {
    /// What it is, and that it is extra over.
    #[must_use]
    pub fn title(&self) -> String {
        if self.extra_over && !self.says.to_lowercase().contains("extra over") {
            Phrase::with("vary-extra-over", &[&self.says]).to_string()
        } else {
            self.says.clone()
        }
    }
}

/// A variation with what it omits and adds. Without an id: what differs and nobody instructed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// Its number; empty for differences that no variation explains.
    pub id: String,
    /// When it was instructed.
    pub date: String,
    /// Who instructed it.
    pub by: String,
    /// What is done, in a few words; empty where the keys or the item say it.
    pub title: String,
    /// Why.
    pub reason: String,
    /// Further words, or empty.
    pub note: String,
    /// Photo, or empty.
    pub photo: String,
    /// Keys of the job file with what they were (empty where they were not there) and what they became; a part that
    /// is not built after all became nothing.
    pub keys: Vec<(String, String, String)>,
    /// Bill of omissions.
    pub omissions: Vec<Entry>,
    /// Bill of additions.
    pub additions: Vec<Entry>,
    /// Sum of the omissions.
    pub omitted: Decimal,
    /// Sum of the additions.
    pub added: Decimal,
    /// What it changes in the total, with what the contract adds to the works.
    pub worth: Decimal,
}

impl Change {
    /// What and why, in words.
    #[must_use]
    pub fn says(&self) -> String {
        if self.title.is_empty() { self.reason.clone() } else { format!("{}: {}", self.title, self.reason) }
    }

    /// Additions less omissions.
    #[must_use]
    pub fn net(&self) -> Decimal {
        self.added - self.omitted
    }
}

/// A provisional item, a prime-cost sum or a provisional sum: what the contract has, and what it came to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Settled {
    /// Title in the contract.
    pub title: String,
    /// Unit, quantity in the contract, quantity as measured, rate: where it has them.
    pub worked: Option<(String, Decimal, Decimal, Decimal)>,
    /// Profit and attendance, per cent, of a prime-cost sum.
    pub percent: Option<Decimal>,
    /// A provisional sum: is it defined?
    pub defined: Option<bool>,
    /// What the contract has, profit and attendance included.
    pub omit: Decimal,
    /// What it came to, likewise; none while it is open, and the contract's figure stands.
    pub add: Option<Decimal>,
    /// The goods alone, of a prime-cost sum: in the contract, and as they cost.
    pub goods: Option<(Decimal, Option<Decimal>)>,
    /// What it changes in the total, with what the contract adds to the works.
    pub worth: Decimal,
    /// When it was measured, or empty.
    pub date: String,
    /// By whom, or empty.
    pub by: String,
    /// Further words, or empty.
    pub note: String,
    /// Photo, or empty.
    pub photo: String,
}

impl Settled {
    /// What it changes.
    #[must_use]
    pub fn net(&self) -> Decimal {
        self.add.map_or(Decimal::ZERO, |add| add - self.omit)
    }
}

/// Work paid by the time and the goods it took.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Daywork {
    /// On which day.
    pub date: String,
    /// Who ordered or signed it.
    pub by: String,
    /// What was done.
    pub title: String,
    /// Quantity.
    pub quantity: Decimal,
    /// Unit, or empty.
    pub unit: String,
    /// Rate.
    pub rate: Decimal,
    /// The row of the price list, where the rate is one of the contract's list.
    pub from: Option<RateFrom>,
    /// Quantity x rate, rounded to the currency.
    pub cost: Decimal,
    /// Per cent on top.
    pub percent: Option<Decimal>,
    /// Cost with what is on top.
    pub amount: Decimal,
    /// What it changes in the total, with what the contract adds to the works.
    pub worth: Decimal,
    /// Further words, or empty.
    pub note: String,
}

/// Where a star rate comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum StarFrom {
    /// A price list.
    List(RateFrom),
    /// The job file of the account: file and line.
    Given(String, usize),
}

/// A line of a build-up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BuildLine {
    /// What it is.
    pub title: String,
    /// Unit, quantity and rate; else per cent on the lines before.
    pub worked: Option<(String, Decimal, Decimal)>,
    /// Per cent on the lines before.
    pub percent: Option<Decimal>,
    /// Amount, to four places.
    pub amount: Decimal,
}

/// The rate of an item that the contract does not have.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Star {
    /// `haunch/1:2:4`, or empty for an item that is not measured from the drawing.
    pub code: String,
    /// In words.
    pub says: String,
    /// Unit.
    pub unit: String,
    /// The rate.
    pub rate: Decimal,
    /// Where it comes from.
    pub from: StarFrom,
    /// How it comes about, in words, or empty.
    pub working: String,
    /// How it comes about, line by line.
    pub lines: Vec<BuildLine>,
    /// Sum of the lines, where there are any; the rate is what is said for it.
    pub built: Option<Decimal>,
}

/// A row of the bill, in the contract and as built.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Compared {
    /// Row of the contract's bill, or empty.
    pub row: String,
    /// `excavation-pit/1.5-3.0`.
    pub code: String,
    /// In words.
    pub says: String,
    /// Unit.
    pub unit: String,
    /// In the contract; none where it is not there.
    pub contract: Option<Decimal>,
    /// As built, items that variations state included; none where it is not there.
    pub built: Option<Decimal>,
}

/// What the contract adds to the works, before and after.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OnCost {
    /// Title.
    pub title: String,
    /// Per cent, where it follows.
    pub percent: Option<Decimal>,
    /// In the contract.
    pub contract: Decimal,
    /// Now.
    pub now: Decimal,
    /// The account leaves it out.
    pub left_out: bool,
    /// The rounding of the offer: it stays as agreed.
    pub rounding: bool,
}

/// The statement, line by line; every sum is exact.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sums {
    /// What was agreed.
    pub contract: Decimal,
    /// All omissions.
    pub omissions: Decimal,
    /// All additions.
    pub additions: Decimal,
    /// All dayworks.
    pub dayworks: Decimal,
    /// Provisional items as measured, less what the contract has.
    pub remeasured: Decimal,
    /// Prime-cost sums as they cost, likewise.
    pub prime_cost: Decimal,
    /// Provisional sums as spent, likewise.
    pub provisional_sums: Decimal,
    /// What the contract adds to all of these.
    pub on_costs: Decimal,
    /// What additions that are left out change in the total, before anything else.
    pub left_out: Decimal,
    /// The adjusted sum.
    pub adjusted: Decimal,
}

/// What is paid and what is still due.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Payment {
    /// Retention, per cent of the adjusted sum.
    pub percent: Option<Decimal>,
    /// Most that is held, per cent of the adjusted sum.
    pub limit: Option<Decimal>,
    /// Held back.
    pub retention: Decimal,
    /// Of it, what is due as soon as all is built.
    pub when_built: Decimal,
    /// Days from then until the rest is due.
    pub days: u32,
    /// Payments after the day of the account, which do not count.
    pub later: Decimal,
    /// Every payment up to then: date, amount, words.
    pub receipts: Vec<(String, Decimal, String)>,
    /// Their sum.
    pub paid: Decimal,
    /// Adjusted sum less retention less what is paid; below zero where too much is paid.
    pub due: Decimal,
}

/// The account.
#[derive(Clone, Debug)]
pub struct Account {
    /// What was agreed.
    pub contract: Paper,
    /// What was built.
    pub now: Paper,
    /// The day to which payments count.
    pub date: String,
    /// Measurement profile, id and title: the contract's.
    pub profile: (String, String),
    /// Currency.
    pub currency: Currency,
    /// The contract's price list.
    pub list: String,
    /// Variations in the order of the file; what nobody instructed comes last.
    pub changes: Vec<Change>,
    /// Rows whose quantity differs.
    pub compared: Vec<Compared>,
    /// Provisional items.
    pub remeasured: Vec<Settled>,
    /// Prime-cost sums.
    pub prime_cost: Vec<Settled>,
    /// Provisional sums.
    pub provisional_sums: Vec<Settled>,
    /// Dayworks.
    pub dayworks: Vec<Daywork>,
    /// Star rates, in the order in which they are used.
    pub stars: Vec<Star>,
    /// What the contract adds to the works.
    pub on_costs: Vec<OnCost>,
    /// The statement.
    pub sums: Sums,
    /// What is paid, and the balance.
    pub payment: Payment,
    /// `variations` and `account`, both closed.
    pub balances: Vec<Balance>,
    /// What a person must look at again.
    pub cautions: Vec<Problem>,
    /// The job as built: text of the job file with every change written in, and the variations as remarks.
    pub built: String,
    /// What the account rests on, in words.
    pub notes: Vec<Phrase>,
}
