//! The proof: the as-built bill reckoned anew in fractions, from quantities and rates, and held against the account.

use tankwright_geometry::Ratio;
use tankwright_quantities::bill::{Bill, BillRow};
use tankwright_quantities::decimal::{plain, ratio, rounded};
use tankwright_quantities::estimate::Balance;
use tankwright_quantities::words::Phrase;

use super::Contract;
use super::report::{Account, Basis, Entry, Settled};
use super::stars::key;
use super::states::State;

/// What the account was made of.
pub(super) struct Proof<'a> {
    pub(super) contract: &'a Contract<'a>,
    /// The job as built.
    pub(super) built: &'a State,
    /// Do its preliminaries count, or those of the contract?
    pub(super) own_preliminaries: bool,
    /// Items that variations state: what is added, and what is left out.
    pub(super) direct: &'a [(&'a Entry, bool)],
}

/// `variations`: measured works of the contract less omissions plus additions = the as-built bill. `account`: the
/// statement = the total of the as-built bill.
pub(super) fn balances(account: &Account, proof: &Proof<'_>) -> Vec<Balance> {
    let mut desk = Anew { digits: account.currency.digits, breaks: Vec::new() };
    let works = desk.works(account, proof);
    let entries = |of: fn(&super::report::Change) -> &Vec<Entry>| -> Ratio {
        account.changes.iter().flat_map(of).filter(|e| !e.preliminary).map(|e| ratio(e.amount)).sum()
    };
    let agreed = proof.contract.estimate.bill.measured.map_or(Ratio::UNKNOWN, ratio);
    let left = agreed - entries(|c| &c.omissions) + entries(|c| &c.additions);
    let breaks = std::mem::take(&mut desk.breaks);
    let of_works = Balance {
        name: "variations",
        says: Phrase::new("balance-variations"),
        left,
        right: works,
        unit: "",
        breaks,
    };

    let total = desk.total(account, proof, works);
    let s = &account.sums;
    let statement = ratio(s.contract) - ratio(s.omissions)
        + ratio(s.additions)
        + ratio(s.dayworks)
        + ratio(s.remeasured)
        + ratio(s.prime_cost)
        + ratio(s.provisional_sums)
        + account.on_costs.iter().map(|o| ratio(o.now) - ratio(o.contract)).sum();
    let says = Phrase::new("balance-account");
    if ratio(s.adjusted) != statement {
        desk.breaks.push(format!("the adjusted sum is {}, its lines give {}", s.adjusted, plain(statement)));
    }
    let settled = [&account.remeasured, &account.prime_cost, &account.provisional_sums];
    let worth = account.changes.iter().map(|c| c.worth);
    let worth = worth.chain(settled.into_iter().flatten().map(|s| s.worth));
    let worth = worth.chain(account.dayworks.iter().map(|d| d.worth)).map(ratio).sum();
    if ratio(s.adjusted) != ratio(s.contract) + ratio(s.left_out) + worth {
        desk.breaks
            .push("the contract and what each change is worth do not give the adjusted sum".to_owned());
    }
    let of_account =
        Balance { name: "account", says, left: statement, right: total, unit: "", breaks: desk.breaks };
    vec![of_works, of_account]
}

struct Anew {
    digits: u32,
    breaks: Vec<String>,
}

impl Anew {
    fn money(&mut self, value: Ratio) -> Ratio {
        rounded(value, self.digits).map_or(Ratio::UNKNOWN, ratio)
    }

    /// Every row as built at its rate, and the items that variations state.
    fn works(&mut self, account: &Account, proof: &Proof<'_>) -> Ratio {
        let rows =
            |bill: &'_ Bill| bill.sections.iter().flat_map(|s| s.rows.clone()).collect::<Vec<BillRow>>();
        let agreed = rows(&proof.contract.estimate.bill);
        let mut sum = Ratio::ZERO;
        for row in rows(&proof.built.bill) {
            let of_contract = agreed.iter().find(|r| key(r) == key(&row)).and_then(|r| r.rate.as_ref());
            let [code, says, unit] = key(&row);
            let star = || account.stars.iter().find(|s| s.code == code && s.says == says && s.unit == unit);
            let rate = of_contract.map(|(rate, _)| *rate).or_else(|| star().map(|s| s.rate));
            match rate {
                Some(rate) => sum = sum + self.money(ratio(row.quantity) * ratio(rate)),
                None => self.breaks.push(format!("{code} in {unit} has no rate")),
            }
        }
        for (entry, omit) in proof.direct {
            let amount = match (entry.worked, entry.basis) {
                (Some((quantity, rate)), Basis::Contract) => {
                    let same = |r: &&BillRow| r.reference == entry.row;
                    let agreed =
                        agreed.iter().find(same).and_then(|r| r.rate.as_ref()).map(|(rate, _)| *rate);
                    if agreed != Some(rate) {
                        self.breaks.push(format!("{}: {rate} is not the contract's rate", entry.code));
                    }
                    self.money(ratio(quantity) * ratio(rate))
                }
                (Some((quantity, rate)), _) => self.money(ratio(quantity) * ratio(rate)),
                (None, _) => ratio(entry.amount),
            };
            sum = if *omit { sum - amount } else { sum + amount };
        }
        sum
    }

    /// The works with all that stands beside them and the contract's additions, as its job file asks for them.
    fn total(&mut self, account: &Account, proof: &Proof<'_>, works: Ratio) -> Ratio {
        let bill = &proof.contract.estimate.bill;
        let preliminaries =
            if proof.own_preliminaries { &proof.built.preliminaries } else { &bill.preliminaries };
        let mut running = works + preliminaries.iter().map(|r| ratio(r.amount)).sum();
        let settled = [&account.remeasured, &account.prime_cost, &account.provisional_sums];
        for s in settled.into_iter().flatten() {
            running = running + self.settled(s);
        }
        for d in &account.dayworks {
            let cost = self.money(ratio(d.quantity) * ratio(d.rate));
            let percent = d.percent.map_or(Ratio::ZERO, ratio);
            running = running + cost + self.money(cost * percent / Ratio::int(100));
        }
        let job = proof.contract.job;
        let mut done: Vec<(String, Ratio)> = Vec::new();
        for i in 0..job.count_of("additions.list") {
            let path = |key: &str| format!("additions.list[{i}].{key}");
            let title = job.text(&path("title")).to_owned();
            let on = job.texts(&path("on"));
            let amount = match (job.number(&path("percent")), job.number(&path("amount"))) {
                _ if account.on_costs.get(i).is_some_and(|o| o.left_out) => Ratio::ZERO,
                (Some(percent), _) => {
                    let named = || done.iter().filter(|(t, _)| on.contains(t)).map(|(_, a)| *a);
                    let base = if on.is_empty() { running } else { works + named().sum() };
                    self.money(base * percent / Ratio::int(100))
                }
                (None, Some(amount)) => amount,
                (None, None) => Ratio::UNKNOWN,
            };
            running = running + amount;
            done.push((title, amount));
        }
        // The rounding of the offer was agreed as an amount.
        let rounding = bill.say.and(bill.additions.last()).map_or(Ratio::ZERO, |a| ratio(a.amount));
        running + rounding
    }

    fn settled(&mut self, s: &Settled) -> Ratio {
        let percent = s.percent.map_or(Ratio::ZERO, ratio);
        match (&s.worked, s.goods, s.add) {
            (Some((_, _, measured, rate)), ..) => self.money(ratio(*measured) * ratio(*rate)),
            (None, Some((goods, actual)), _) => {
                let goods = ratio(actual.unwrap_or(goods));
                goods + self.money(goods * percent / Ratio::int(100))
            }
            (None, None, add) => ratio(add.unwrap_or(s.omit)),
        }
    }
}
