//! The objects of the account, field by field: only ever add.

use serde::Serialize;

#[derive(Serialize)]
pub(super) struct Out<'a> {
    pub(super) format: u8,
    pub(super) contract: PaperOut<'a>,
    pub(super) now: PaperOut<'a>,
    pub(super) date: &'a str,
    pub(super) profile: &'a str,
    pub(super) currency: &'a str,
    /// The contract's price list.
    pub(super) price_list: &'a str,
    /// The statement, top to bottom. Less comes with its sign.
    pub(super) statement: Statement,
    pub(super) payment: PaymentOut<'a>,
    pub(super) variations: Vec<ChangeOut<'a>>,
    /// What differs and no variation explains; null where there is nothing.
    pub(super) not_instructed: Option<ChangeOut<'a>>,
    pub(super) quantities: Vec<ComparedOut<'a>>,
    pub(super) star_rates: Vec<StarOut<'a>>,
    pub(super) provisional: Vec<SettledOut<'a>>,
    pub(super) prime_cost: Vec<SettledOut<'a>>,
    pub(super) provisional_sums: Vec<SettledOut<'a>>,
    pub(super) dayworks: Vec<DayworkOut<'a>>,
    pub(super) additions: Vec<OnCostOut<'a>>,
    pub(super) balances: Vec<BalanceOut>,
    pub(super) notes: Vec<String>,
}

#[derive(Serialize)]
pub(super) struct PaperOut<'a> {
    pub(super) title: &'a str,
    pub(super) date: &'a str,
    pub(super) file: &'a str,
}

#[derive(Serialize)]
pub(super) struct Statement {
    pub(super) contract_sum: String,
    pub(super) omissions: String,
    pub(super) additions: String,
    pub(super) dayworks: String,
    pub(super) provisional: String,
    pub(super) prime_cost: String,
    pub(super) provisional_sums: String,
    pub(super) on_costs: String,
    /// Of them: additions that the account leaves out, before anything else changed.
    pub(super) left_out: String,
    pub(super) adjusted_sum: String,
    pub(super) adjusted_sum_in_words: String,
}

#[derive(Serialize)]
pub(super) struct PaymentOut<'a> {
    pub(super) retention_percent: Option<String>,
    pub(super) retention_limit: Option<String>,
    pub(super) retention: String,
    /// Of it, what is due as soon as all is built; the rest so many days later.
    pub(super) retention_when_built: String,
    pub(super) retention_days: u32,
    pub(super) paid: Vec<ReceiptOut<'a>>,
    pub(super) paid_total: String,
    /// Below zero where too much is paid.
    pub(super) balance: String,
}

#[derive(Serialize)]
pub(super) struct ReceiptOut<'a> {
    pub(super) date: &'a str,
    pub(super) amount: String,
    pub(super) note: &'a str,
}

#[derive(Serialize)]
pub(super) struct ChangeOut<'a> {
    pub(super) id: &'a str,
    pub(super) date: &'a str,
    pub(super) by: &'a str,
    pub(super) title: &'a str,
    pub(super) reason: &'a str,
    pub(super) note: &'a str,
    pub(super) photo: &'a str,
    pub(super) set: Vec<KeyOut<'a>>,
    pub(super) omissions: Vec<EntryOut<'a>>,
    pub(super) additions: Vec<EntryOut<'a>>,
    pub(super) omitted: String,
    pub(super) added: String,
    pub(super) net: String,
    /// What it changes in the total, with what the contract adds to the works.
    pub(super) worth: String,
}

#[derive(Serialize)]
pub(super) struct KeyOut<'a> {
    pub(super) key: &'a str,
    pub(super) was: &'a str,
    pub(super) is: &'a str,
}

#[derive(Serialize)]
pub(super) struct EntryOut<'a> {
    #[serde(rename = "ref")]
    pub(super) reference: &'a str,
    /// Number in the contract's bill, or empty.
    pub(super) contract_ref: &'a str,
    pub(super) code: &'a str,
    pub(super) description: &'a str,
    pub(super) unit: &'a str,
    pub(super) quantity: Option<String>,
    pub(super) rate: Option<String>,
    pub(super) amount: String,
    /// `contract`, `star` or `amount`.
    pub(super) basis: &'static str,
    /// Position in `star_rates`, from 0.
    pub(super) star: Option<usize>,
    pub(super) extra_over: bool,
    pub(super) preliminary: bool,
}

#[derive(Serialize)]
pub(super) struct ComparedOut<'a> {
    pub(super) contract_ref: &'a str,
    pub(super) code: &'a str,
    pub(super) description: &'a str,
    pub(super) unit: &'a str,
    pub(super) contract: Option<String>,
    pub(super) built: Option<String>,
    pub(super) difference: String,
}

#[derive(Serialize)]
pub(super) struct StarOut<'a> {
    pub(super) code: &'a str,
    pub(super) description: &'a str,
    pub(super) unit: &'a str,
    pub(super) rate: String,
    /// `list` or `given`.
    pub(super) from: &'static str,
    pub(super) source: String,
    pub(super) working: &'a str,
    pub(super) build_up: Vec<LineOut<'a>>,
    pub(super) built: Option<String>,
}

#[derive(Serialize)]
pub(super) struct LineOut<'a> {
    pub(super) title: &'a str,
    pub(super) unit: Option<&'a str>,
    pub(super) quantity: Option<String>,
    pub(super) rate: Option<String>,
    pub(super) percent: Option<String>,
    pub(super) amount: String,
}

#[derive(Serialize)]
pub(super) struct SettledOut<'a> {
    pub(super) title: &'a str,
    pub(super) unit: Option<&'a str>,
    pub(super) quantity: Option<String>,
    pub(super) measured: Option<String>,
    pub(super) rate: Option<String>,
    pub(super) percent: Option<String>,
    pub(super) defined: Option<bool>,
    pub(super) contract: String,
    /// Null while it is open: the contract's figure stands.
    pub(super) actual: Option<String>,
    pub(super) difference: String,
    pub(super) worth: String,
    pub(super) date: &'a str,
    pub(super) by: &'a str,
    pub(super) note: &'a str,
    pub(super) photo: &'a str,
}

#[derive(Serialize)]
pub(super) struct DayworkOut<'a> {
    pub(super) date: &'a str,
    pub(super) by: &'a str,
    pub(super) title: &'a str,
    pub(super) quantity: String,
    pub(super) unit: &'a str,
    pub(super) rate: String,
    pub(super) source: Option<String>,
    pub(super) cost: String,
    pub(super) percent: Option<String>,
    pub(super) amount: String,
    pub(super) worth: String,
    pub(super) note: &'a str,
}

#[derive(Serialize)]
pub(super) struct OnCostOut<'a> {
    pub(super) title: &'a str,
    pub(super) percent: Option<String>,
    pub(super) contract: String,
    pub(super) now: String,
    pub(super) difference: String,
    pub(super) left_out: bool,
}

#[derive(Serialize)]
pub(super) struct BalanceOut {
    pub(super) name: &'static str,
    pub(super) says: String,
    pub(super) left: String,
    pub(super) right: String,
    pub(super) difference: String,
    pub(super) holds: bool,
}
