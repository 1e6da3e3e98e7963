//! Items that a variation states itself: at the contract's rate, at a star rate, or as an amount.

use rust_decimal::Decimal;
use tankwright_quantities::bill::{BillRow, code};
use tankwright_quantities::job::suggestion;
use tankwright_quantities::problem::Problem;
use tankwright_quantities::works;

use super::Desk;
use super::codes::{ITEM_HOW, NO_ROW, TOO_LARGE};
use super::entries::names;
use super::exact::times;
use super::report::{Basis, Entry};
use super::stars::{Wanted, build_up};

/// An item of a variation, priced.
#[derive(Debug)]
pub(super) struct Direct {
    /// Left out, not added?
    pub(super) omit: bool,
    /// The line; its reference is given when the account is put together.
    pub(super) entry: Entry,
}

/// The item of the variation at a path; nothing where it states none, or where a problem was told.
pub(super) fn direct(desk: &mut Desk<'_>, path: &str, id: &str) -> Option<Direct> {
    let job = desk.now.job;
    let at = |key: &str| format!("{path}.{key}");
    let has = |key: &str| job.given(&at(key));
    // Beside what is measured, a title names the variation.
    let named = ["set", "drop", "covers"].iter().any(|k| has(k));
    let says = |k: &&str| has(k) && !(named && *k == "title");
    if !["title", "item", "unit", "quantity", "rate", "amount", "build_up"].iter().any(says) {
        let idle = ["omit", "extra_over", "working"].into_iter().find(|k| has(k));
        if let Some(key) = idle {
            desk.told.push(how(desk, &at(key), format!("{id} says {key} of no item"), "no item here"));
        }
        return None;
    }
    let (omit, extra_over) = (job.flag(&at("omit")), job.flag(&at("extra_over")));
    let mut told = Vec::new();
    let money = desk.money();
    let quantity = money.number(&at("quantity"), &mut told);
    let rate = money.number(&at("rate"), &mut told);
    let amount = money.amount(&at("amount"), &mut told);
    let built = build_up(desk, path, &mut told);
    let clean = told.is_empty();
    desk.told.extend(told);
    if !clean {
        return None;
    }
    let title = job.text(&at("title")).to_owned();
    let blank = Entry {
        reference: String::new(),
        row: String::new(),
        code: String::new(),
        says: title.clone(),
        unit: job.text(&at("unit")).to_owned(),
        worked: None,
        amount: Decimal::ZERO,
        basis: Basis::Amount,
        extra_over,
        preliminary: false,
        stated: true,
    };
    let lists = desk.lists();
    let now = desk.now;
    let around = (&now, lists.as_slice(), desk.digits());
    let priced = rate.is_some() || built.is_some();
    let entry = match (has("item"), amount, quantity) {
        (true, None, Some(quantity)) => {
            let row = found(desk, path, id)?;
            let entry = Entry { row: row.reference, code: row.code, unit: row.unit, ..blank };
            let says = if title.is_empty() { row.says } else { title };
            if let (Some(rate), false) = (row.rate, priced) {
                let worked = Some((quantity, rate));
                Entry { says, worked, basis: Basis::Contract, ..entry }
            } else if row.rate.is_some() {
                let what =
                    format!("{id} gives a rate of its own for `{}`, which the contract prices", entry.code);
                desk.told.push(how(desk, &at("item"), what, "the contract's rate holds"));
                return None;
            } else {
                let wanted = Wanted { code: &entry.code, says: &says, unit: &entry.unit, path, id };
                let star = desk.stars.of_variation(around, &wanted, rate, built, &mut desk.told)?;
                let worked = Some((quantity, desk.stars.rate(star)?));
                Entry { says, worked, basis: Basis::Star(star), ..entry }
            }
        }
        (false, None, Some(quantity)) if priced && !title.is_empty() && !blank.unit.is_empty() => {
            let wanted = Wanted { code: "", says: &title, unit: &blank.unit, path, id };
            let star = desk.stars.of_variation(around, &wanted, rate, built, &mut desk.told)?;
            Entry { worked: Some((quantity, desk.stars.rate(star)?)), basis: Basis::Star(star), ..blank }
        }
        (false, Some(amount), None) if !priced && !title.is_empty() => Entry { amount, ..blank },
        _ => {
            let what = format!("the item of {id} must be priced in one way");
            desk.told.push(how(desk, path, what, "not one of the ways below"));
            return None;
        }
    };
    let amount = match entry.worked {
        Some((quantity, rate)) => times(quantity, rate, desk.digits()),
        None => Some(entry.amount),
    };
    let Some(amount) = amount else {
        let what = format!("the item of {id} is too large to be reckoned exactly");
        desk.told.push(Problem::error(TOO_LARGE, job.place(&at("quantity")), what).label("quantity x rate"));
        return None;
    };
    Some(Direct { omit, entry: Entry { amount, ..entry } })
}

fn how(desk: &Desk<'_>, path: &str, what: String, label: &str) -> Problem {
    let hint = "give item and quantity (the contract's rate), or title, unit, quantity and rate or build_up (a star \
                rate), or title and amount";
    Problem::error(ITEM_HOW, desk.now.job.place(path), what).label(label).hint(hint)
}

/// The row that an item names.
struct Named {
    reference: String,
    code: String,
    says: String,
    unit: String,
    /// The contract's rate, where the contract has the item.
    rate: Option<Decimal>,
}

fn found(desk: &mut Desk<'_>, path: &str, id: &str) -> Option<Named> {
    let job = desk.now.job;
    let place = || job.place(&format!("{path}.item"));
    let (name, unit) = (job.text(&format!("{path}.item")).trim(), job.text(&format!("{path}.unit")));
    let rows: Vec<&BillRow> = desk.contract.estimate.bill.sections.iter().flat_map(|s| &s.rows).collect();
    let fits = |r: &&&BillRow| r.reference.eq_ignore_ascii_case(name) || names(name, r.work.id, &r.spec);
    let mut named: Vec<&BillRow> = rows.iter().filter(fits).copied().collect();
    // The whole of a code is meant, where one row has it.
    if named.len() > 1 && named.iter().filter(|r| code(r) == name).count() == 1 {
        named.retain(|r| code(r) == name);
    }
    let named: Vec<&BillRow> = named.into_iter().filter(|r| unit.is_empty() || r.unit.id() == unit).collect();
    let of = |r: &BillRow| Named {
        reference: r.reference.clone(),
        code: code(r),
        says: r.wording.to_string(),
        unit: r.unit.id().to_owned(),
        rate: r.rate.as_ref().map(|(rate, _)| *rate),
    };
    match named[..] {
        [one] => return Some(of(one)),
        [] => {}
        ref many => {
            let list =
                many.iter().map(|r| format!("{} {}", r.reference, code(r))).collect::<Vec<_>>().join(", ");
            let problem = Problem::error(
                NO_ROW,
                place(),
                format!("{id}: `{name}` is more than one row of the contract"),
            );
            desk.told.push(problem.label("which one").hint(format!("name one of: {list}")));
            return None;
        }
    }
    let work = name.split('/').next().unwrap_or(name);
    let known = works::all().into_iter().find(|w| w.id == work && !w.void);
    if known.is_some() && !unit.is_empty() {
        let (reference, code, unit) = (String::new(), name.to_owned(), unit.to_owned());
        let says = desk.list_words(name).unwrap_or_else(|| name.to_owned());
        return Some(Named { reference, code, says, unit, rate: None });
    }
    let codes: Vec<String> = rows.iter().map(|r| code(r)).collect();
    let works = rows.iter().map(|r| r.work.id);
    let near = suggestion(name, codes.iter().map(String::as_str).chain(works));
    let hint = if known.is_some() {
        format!("{near}for an item that the contract does not have give its unit too")
    } else {
        format!(
            "{near}`tankwright bill` prints the numbers, `tankwright rules works` the works; what is neither is \
                 given by title, unit, quantity and rate"
        )
    };
    let problem = Problem::error(NO_ROW, place(), format!("{id}: the contract has no item `{name}`"));
    desk.told.push(problem.label("not in the contract's bill").hint(hint));
    None
}
