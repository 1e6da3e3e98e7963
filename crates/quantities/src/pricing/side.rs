//! Preliminaries, provisional items, prime-cost and provisional sums of the job file, and what the checklist finds not
//! priced.

use rust_decimal::Decimal;

use crate::bill::{Bill, SideRow};
use crate::decimal;
use crate::job::Job;
use crate::pricing::amounts::{Reader, extended};
use crate::problem::Problem;
use crate::rates::{CheckItem, Stock};
use crate::words::Phrase;

/// Items of the checklist that a measured work covers.
const BY_WORK: [(&str, &str); 3] =
    [("dry", "keep-dry"), ("support", "earthwork-support"), ("tests", "water-test")];

/// The rows of `preliminaries` or `provisional`.
pub(super) fn rows(money: &Reader<'_>, list: &str, problems: &mut Vec<Problem>) -> Vec<SideRow> {
    (0..money.job.count_of(list)).filter_map(|i| row(money, &format!("{list}[{i}]"), problems)).collect()
}

/// The rows of `provisional`, then prime-cost sums, each with its profit and attendance, then provisional sums.
pub(super) fn provisional(money: &Reader<'_>, problems: &mut Vec<Problem>) -> Vec<SideRow> {
    let mut all = rows(money, "provisional", problems);
    for i in 0..money.job.count_of("prime_cost") {
        let path = |key: &str| format!("prime_cost[{i}].{key}");
        let title = money.job.text(&path("title"));
        let Some(amount) = money.amount(&path("amount"), problems) else { continue };
        let percent = money.number(&path("percent"), problems);
        all.push(SideRow { title: said("side-prime-cost", title), worked: None, amount });
        let Some(percent) = percent else { continue };
        let Some((each, on_it)) = attendance(amount, percent, money.currency.map_or(0, |c| c.digits)) else {
            problems.push(money.too_large(&path("amount")));
            continue;
        };
        let worked = Some(("%".to_owned(), percent, each));
        all.push(SideRow { title: said("side-attendance", title), worked, amount: on_it });
    }
    for i in 0..money.job.count_of("provisional_sum") {
        let path = |key: &str| format!("provisional_sum[{i}].{key}");
        let Some(amount) = money.amount(&path("amount"), problems) else { continue };
        let defined = money.job.flag(&path("defined"));
        let key = if defined { "side-sum-defined" } else { "side-sum-undefined" };
        all.push(SideRow { title: said(key, money.job.text(&path("title"))), worked: None, amount });
    }
    all
}

fn said(key: &'static str, title: &str) -> String {
    Phrase::with(key, &[title]).to_string()
}

/// One per cent of an amount, and so many of them, rounded to the currency.
fn attendance(amount: Decimal, percent: Decimal, digits: u32) -> Option<(Decimal, Decimal)> {
    let each = decimal::product(amount, Decimal::new(1, 2))?;
    Some((each, extended(percent, each, digits)?))
}

/// Nothing where a problem was told.
fn row(money: &Reader<'_>, entry: &str, problems: &mut Vec<Problem>) -> Option<SideRow> {
    let path = |key: &str| format!("{entry}.{key}");
    let title = money.job.text(&path("title")).to_owned();
    if money.job.has(&path("amount")) {
        let amount = money.amount(&path("amount"), problems)?;
        return Some(SideRow { title, worked: None, amount });
    }
    if !(money.job.has(&path("quantity")) && money.job.has(&path("rate"))) {
        let hint = "give amount, or unit, quantity and rate; amount = \"0\" says: included elsewhere";
        problems.push(money.missing(entry, hint));
        return None;
    }
    let quantity = money.number(&path("quantity"), problems);
    let (quantity, rate) = (quantity?, money.number(&path("rate"), problems)?);
    let digits = money.currency?.digits;
    let Some(amount) = extended(quantity, rate, digits) else {
        problems.push(money.too_large(entry));
        return None;
    };
    Some(SideRow { title, worked: Some((money.job.text(&path("unit")).to_owned(), quantity, rate)), amount })
}

/// Titles of the checklist that no preliminary and no measured work covers.
pub(super) fn not_priced(bill: &Bill, job: &Job, stock: &Stock, problems: &mut Vec<Problem>) -> Vec<String> {
    let entries: Vec<String> =
        (0..job.count_of("preliminaries")).map(|i| format!("preliminaries[{i}]")).collect();
    for entry in &entries {
        unknown(job, stock, entry, problems);
    }
    let covered = |item: &CheckItem| {
        let by_entry = entries.iter().any(|entry| {
            item.covers(job.text(&format!("{entry}.title")))
                || job.texts(&format!("{entry}.covers")).contains(&item.id)
        });
        let mut works = bill.sections.iter().flat_map(|s| &s.rows).map(|r| r.work.id);
        by_entry || works.any(|work| work == item.id || BY_WORK.contains(&(item.id.as_str(), work)))
    };
    stock.checklist.iter().filter(|i| !covered(i)).map(|i| i.title.clone()).collect()
}

/// `covers` names items of the checklist by id.
fn unknown(job: &Job, stock: &Stock, entry: &str, problems: &mut Vec<Problem>) {
    let path = format!("{entry}.covers");
    for id in job.texts(&path).iter().filter(|id| !stock.checklist.iter().any(|i| i.id == **id)) {
        let known = stock.checklist.iter().map(|i| i.id.as_str()).collect::<Vec<_>>().join(", ");
        let problem = Problem::error("R051", job.place(&path), format!("`{id}` is not on the checklist"));
        problems.push(problem.label("nothing of this name").hint(format!("one of: {known}")));
    }
}
