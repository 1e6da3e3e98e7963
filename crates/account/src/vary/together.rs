//! The account put together: entries with their references, sums, the statement, and its proof.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use tankwright_quantities::bill::{Bill, BillRow, SideRow, code};
use tankwright_quantities::words::Phrase;

use super::balance::{Proof, balances};
use super::built::as_built;
use super::chain::chain;
use super::codes::NO_EFFECT;
use super::compare::{Difference, of_preliminaries, of_rows};
use super::entries::{Variation, caution};
use super::exact::times;
use super::payment::payment;
use super::report::{Account, Basis, Change, Compared, Daywork, Entry, OnCost, Paper, Settled, Sums};
use super::stars::{Priced, key, no_rate};
use super::states::{State, States};
use super::{After, Desk, total};

/// What is settled beside the variations.
pub(super) struct Others {
    pub(super) remeasured: Vec<Settled>,
    pub(super) prime_cost: Vec<Settled>,
    pub(super) provisional_sums: Vec<Settled>,
    pub(super) dayworks: Vec<Daywork>,
}

/// What differs, and who explains it.
pub(super) struct Differences<'a> {
    /// Between the contract and the job file of the account as it stands.
    pub(super) drawn: Vec<Difference<'a>>,
    /// By variation.
    pub(super) claimed: Vec<Option<usize>>,
    pub(super) states: &'a States,
    /// Does the account's job file have preliminaries?
    pub(super) own_preliminaries: bool,
}

/// Entries under way: omissions, additions.
#[derive(Default)]
struct Pair(Vec<Entry>, Vec<Entry>);

/// The account; nothing where a problem was told or a figure is too large.
pub(super) fn account(
    desk: &mut Desk<'_>,
    variations: &[Variation],
    of: &Differences<'_>,
    mut others: Others,
) -> Option<Account> {
    let (contract, now) = (desk.contract, desk.now);
    let first = of.states.all.first()?;
    let mut changes = Vec::new();
    for (i, v) in variations.iter().enumerate() {
        let mut pair = Pair::default();
        let claimed = of.drawn.iter().zip(&of.claimed).filter(|(_, by)| **by == Some(i)).map(|(d, _)| d);
        claimed.for_each(|d| entries(desk, d, first, &v.path, &v.id, &mut pair));
        let (before, after) = (of.states.before(i), *of.states.after.get(i)?);
        let measured = pair.0.len() + pair.1.len();
        if before != after {
            let (before, after) = (of.states.all.get(before)?, of.states.all.get(after)?);
            let mut all = of_rows(&before.bill, &after.bill);
            all.extend(of_preliminaries(&before.preliminaries, &after.preliminaries));
            all.iter().for_each(|d| entries(desk, d, after, &v.path, &v.id, &mut pair));
        }
        if !v.edits.is_empty() && !desk.refused() && pair.0.len() + pair.1.len() == measured {
            let place = now.job.place(&format!("{}.set", v.path));
            let problem = caution(NO_EFFECT, place, format!("{} changes nothing in the bill", v.id));
            desk.told.push(
                problem
                    .label("no effect")
                    .hint("look whether the file has this already, or another key is meant"),
            );
        }
        if let Some(direct) = &v.direct {
            if direct.omit { &mut pair.0 } else { &mut pair.1 }.push(direct.entry.clone());
        }
        let text = |key: &str| now.job.text(&format!("{}.{key}", v.path)).to_owned();
        changes.push(Change {
            id: v.id.clone(),
            date: text("date"),
            by: text("by"),
            title: if v.direct.is_none() { text("title") } else { String::new() },
            reason: text("reason"),
            note: text("note"),
            photo: text("photo"),
            keys: of.states.keys.get(i).cloned().unwrap_or_default(),
            ..change(pair)?
        });
    }
    let mut pair = Pair::default();
    let open = of.drawn.iter().zip(&of.claimed).filter(|(_, by)| by.is_none()).map(|(d, _)| d);
    open.for_each(|d| entries(desk, d, first, "", "", &mut pair));
    if !(pair.0.is_empty() && pair.1.is_empty()) {
        changes.push(change(pair)?);
    }
    if desk.refused() {
        return None;
    }
    number(&mut changes);
    let built = of.states.all.last()?;
    let bill = &contract.estimate.bill;
    let leave_out = now.job.texts("account.leave_out");
    let (sums, on_costs) = sums(bill, leave_out, &mut changes, &mut others)?;
    let payment = payment(desk, sums.adjusted)?;
    let own = |key: &str| built.job.text(key).to_owned();
    let mut account = Account {
        contract: Paper {
            title: contract.estimate.title.clone(),
            date: contract.estimate.date.clone(),
            file: contract.estimate.file.clone(),
        },
        now: Paper { title: own("job.title"), date: own("job.date"), file: now.job.file.clone() },
        date: now.date.to_owned(),
        profile: contract.estimate.profile.clone(),
        currency: bill.currency.clone(),
        list: contract.list.name.clone(),
        compared: compared(bill, &built.bill, &changes),
        changes,
        remeasured: others.remeasured,
        prime_cost: others.prime_cost,
        provisional_sums: others.provisional_sums,
        dayworks: others.dayworks,
        stars: desk.stars.used.clone(),
        on_costs,
        sums,
        payment,
        balances: Vec::new(),
        cautions: Vec::new(),
        built: as_built(&built.text),
        notes: Vec::new(),
    };
    account.notes = notes(&account, &desk.after, bill.client_buys.is_some());
    let direct = direct(&account, variations);
    let proof =
        Proof { contract: &contract, built, own_preliminaries: of.own_preliminaries, direct: &direct };
    account.balances = balances(&account, &proof);
    Some(account)
}

/// The omission and the addition of a difference.
fn entries(desk: &mut Desk<'_>, d: &Difference<'_>, state: &State, path: &str, id: &str, pair: &mut Pair) {
    match d {
        Difference::Row(row, old, new) => {
            let Some((rate, basis, reference)) = rate(desk, row, state, path, id) else { return };
            for (quantity, list) in [(old, &mut pair.0), (new, &mut pair.1)] {
                let Some(quantity) = quantity else { continue };
                let Some(amount) = times(*quantity, rate, desk.contract.estimate.bill.currency.digits) else {
                    desk.told.push(super::too_large(desk));
                    continue;
                };
                list.push(Entry {
                    reference: String::new(),
                    row: reference.clone(),
                    code: code(row),
                    says: row.wording.to_string(),
                    unit: row.unit.id().to_owned(),
                    worked: Some((*quantity, rate)),
                    amount,
                    basis,
                    extra_over: false,
                    preliminary: false,
                    stated: false,
                });
            }
        }
        Difference::Preliminary(old, new) => {
            pair.0.extend(old.map(preliminary));
            pair.1.extend(new.map(preliminary));
        }
    }
}

fn preliminary(row: &SideRow) -> Entry {
    let unit = row.worked.as_ref().map(|(unit, ..)| unit.clone()).unwrap_or_default();
    Entry {
        reference: String::new(),
        row: String::new(),
        code: String::new(),
        says: row.title.clone(),
        unit,
        worked: row.worked.as_ref().map(|(_, quantity, rate)| (*quantity, *rate)),
        amount: row.amount,
        basis: Basis::Amount,
        extra_over: false,
        preliminary: true,
        stated: false,
    }
}

/// Rate of a row, where it comes from, and the row's number in the contract.
fn rate(
    desk: &mut Desk<'_>,
    row: &BillRow,
    state: &State,
    path: &str,
    id: &str,
) -> Option<(Decimal, Basis, String)> {
    let agreed = desk.contract.estimate.bill.sections.iter().flat_map(|s| &s.rows);
    if let Some(r) = agreed.into_iter().find(|r| key(r) == key(row)) {
        let (rate, _) = r.rate.as_ref()?;
        return Some((*rate, Basis::Contract, r.reference.clone()));
    }
    let lists = desk.lists();
    let star = desk.stars.of_row(row, &Priced { bill: state.priced.as_ref(), lists: &lists });
    let Some(star) = star else {
        let job = desk.now.job;
        let place = if path.is_empty() { None } else { job.place(&format!("{path}.set")) };
        let place = place.or_else(|| job.place(path)).or_else(|| job.place("job"));
        let (currency, date) = (&desk.contract.estimate.bill.currency.code, desk.now.date);
        let problem = no_rate(place, row, &[desk.contract.list], id, currency, date);
        desk.told.push(problem);
        return None;
    };
    Some((desk.stars.rate(star)?, Basis::Star(star), String::new()))
}

fn change(pair: Pair) -> Option<Change> {
    let sum = |list: &[Entry]| total(list.iter().map(|e| e.amount));
    let none = String::new;
    Some(Change {
        id: none(),
        date: none(),
        by: none(),
        title: none(),
        reason: none(),
        note: none(),
        photo: none(),
        keys: Vec::new(),
        omitted: sum(&pair.0)?,
        added: sum(&pair.1)?,
        omissions: pair.0,
        additions: pair.1,
        worth: Decimal::ZERO,
    })
}

/// References through the whole account.
fn number(changes: &mut [Change]) {
    let (mut omissions, mut additions) = (0, 0);
    for change in changes {
        for entry in &mut change.omissions {
            omissions += 1;
            entry.reference = format!("OM{omissions}");
        }
        for entry in &mut change.additions {
            additions += 1;
            entry.reference = format!("AD{additions}");
        }
    }
}

/// The total under way: works and what stands beside them, with what the contract adds.
struct Running<'a> {
    bill: &'a Bill,
    leave_out: &'a [String],
    measured: Decimal,
    beside: Decimal,
    total: Decimal,
}

impl Running<'_> {
    /// What more works, or more beside them, change in the total.
    fn worth(&mut self, works: Decimal, beside: Decimal) -> Option<Decimal> {
        self.measured = total([self.measured, works])?;
        self.beside = total([self.beside, beside])?;
        let (_, now) = chain(self.bill, self.measured, self.beside, self.leave_out)?;
        let last = std::mem::replace(&mut self.total, now);
        total([now, -last])
    }
}

/// The lines of the statement and what the contract adds to the works; says of each change what it is worth.
fn sums(
    bill: &Bill,
    leave_out: &[String],
    changes: &mut [Change],
    others: &mut Others,
) -> Option<(Sums, Vec<OnCost>)> {
    let sides = bill.preliminaries.iter().chain(&bill.provisional).map(|r| r.amount);
    let (agreed, measured, beside) = (bill.total?, bill.measured?, total(sides)?);
    let mut running = Running { bill, leave_out, measured, beside, total: agreed };
    let left_out = running.worth(Decimal::ZERO, Decimal::ZERO)?;
    for change in &mut *changes {
        let of = |list: &[Entry], preliminary: bool| {
            total(list.iter().filter(|e| e.preliminary == preliminary).map(|e| e.amount))
        };
        let net = |p: bool| total([of(&change.additions, p)?, -of(&change.omissions, p)?]);
        change.worth = running.worth(net(false)?, net(true)?)?;
    }
    for list in [&mut others.remeasured, &mut others.prime_cost, &mut others.provisional_sums] {
        for s in list {
            s.worth = running.worth(Decimal::ZERO, s.net())?;
        }
    }
    for d in &mut others.dayworks {
        d.worth = running.worth(Decimal::ZERO, d.amount)?;
    }
    let net = |list: &[Settled]| total(list.iter().map(Settled::net));
    let sums = Sums {
        contract: agreed,
        omissions: total(changes.iter().map(|c| c.omitted))?,
        additions: total(changes.iter().map(|c| c.added))?,
        dayworks: total(others.dayworks.iter().map(|d| d.amount))?,
        remeasured: net(&others.remeasured)?,
        prime_cost: net(&others.prime_cost)?,
        provisional_sums: net(&others.provisional_sums)?,
        left_out,
        ..Sums::default()
    };
    let (on_costs, adjusted) = chain(bill, running.measured, running.beside, leave_out)?;
    let settled = [sums.dayworks, sums.remeasured, sums.prime_cost, sums.provisional_sums];
    let before = total([agreed, -sums.omissions, sums.additions].into_iter().chain(settled))?;
    Some((Sums { on_costs: total([adjusted, -before])?, adjusted, ..sums }, on_costs))
}

/// Rows whose quantity differs, items that variations state counted where they belong.
fn compared(contract: &Bill, built: &Bill, changes: &[Change]) -> Vec<Compared> {
    let rows = |bill: &Bill| bill.sections.iter().flat_map(|s| s.rows.clone()).collect::<Vec<_>>();
    let mut all: Vec<Compared> = Vec::new();
    let mut at: BTreeMap<[String; 3], usize> = BTreeMap::new();
    let mut put = |key: [String; 3], row: &str, contract: Option<Decimal>, more: Option<Decimal>| {
        let n = *at.entry(key.clone()).or_insert(all.len());
        let [code, says, unit] = key;
        if n == all.len() {
            all.push(Compared { row: row.to_owned(), code, says, unit, contract: None, built: None });
        }
        if let Some(c) = all.get_mut(n) {
            c.contract = contract.or(c.contract);
            c.built = match (c.built, more) {
                (Some(a), Some(b)) => a.checked_add(b),
                (a, b) => a.or(b),
            };
        }
    };
    rows(contract).iter().for_each(|r| put(key(r), &r.reference, Some(r.quantity), None));
    rows(built).iter().for_each(|r| put(key(r), "", None, Some(r.quantity)));
    let agreed = rows(contract);
    for change in changes {
        let list =
            change.omissions.iter().map(|e| (e, true)).chain(change.additions.iter().map(|e| (e, false)));
        for (entry, omit) in list.filter(|(e, _)| e.stated) {
            let Some((quantity, _)) = entry.worked else { continue };
            let of_row = agreed.iter().find(|r| r.reference == entry.row).map(key);
            let own = [entry.code.clone(), entry.title(), entry.unit.clone()];
            let key = of_row.filter(|_| !entry.extra_over).unwrap_or(own);
            put(key, "", None, Some(if omit { -quantity } else { quantity }));
        }
    }
    all.retain(|c| c.contract != c.built);
    all
}

/// Items that variations state, as the account has them.
fn direct<'a>(account: &'a Account, variations: &[Variation]) -> Vec<(&'a Entry, bool)> {
    let stated = |v: &Variation| v.direct.as_ref().map(|d| (v.id.clone(), d.omit));
    let find = |(id, omit): (String, bool)| {
        let change = account.changes.iter().find(|c| c.id == id)?;
        let list = if omit { &change.omissions } else { &change.additions };
        Some((list.iter().find(|e| e.stated)?, omit))
    };
    variations.iter().filter_map(stated).filter_map(find).collect()
}

/// What the account rests on.
fn notes(account: &Account, after: &After, client_buys: bool) -> Vec<Phrase> {
    let mut notes = vec![Phrase::with("vary-note-rates", &[&account.list])];
    let titles = |of: &dyn Fn(&&OnCost) -> bool| {
        account.on_costs.iter().filter(of).map(|o| o.title.clone()).collect::<Vec<_>>().join(", ")
    };
    let follow = titles(&|o| o.percent.is_some() && !o.left_out);
    let fixed = titles(&|o| o.percent.is_none() && !o.rounding && !o.left_out);
    let left_out = titles(&|o| o.left_out);
    for (key, titles) in
        [("vary-note-follow", follow), ("vary-note-fixed", fixed), ("vary-note-left-out", left_out)]
    {
        if !titles.is_empty() {
            notes.push(Phrase::with(key, &[&titles]));
        }
    }
    if client_buys {
        notes.push(Phrase::new("vary-note-labour"));
    }
    if !account.payment.later.is_zero() {
        notes.push(Phrase::with("vary-note-later", &[&account.date]));
    }
    for (key, names) in [("vary-note-after", &after.left), ("vary-note-after-drawn", &after.drawn)] {
        if !names.is_empty() {
            notes.push(Phrase::with(key, &[&names.join(", "), &account.date]));
        }
    }
    if after.no_day {
        notes.push(Phrase::new("vary-note-no-day"));
    }
    if account.on_costs.iter().any(|o| o.rounding) {
        notes.push(Phrase::new("vary-note-rounding"));
    }
    notes
}
