//! Preliminaries and provisional items of the job file, and what the checklist finds not priced.

use crate::bill::{Bill, SideRow};
use crate::job::Job;
use crate::pricing::amounts::{Reader, extended};
use crate::problem::Problem;
use crate::rates::{CheckItem, Stock};

/// Items of the checklist that a measured work covers.
const BY_WORK: [(&str, &str); 3] =
    [("dry", "keep-dry"), ("support", "earthwork-support"), ("tests", "water-test")];

/// The rows of `preliminaries` or `provisional`.
pub(super) fn rows(money: &Reader<'_>, list: &str, problems: &mut Vec<Problem>) -> Vec<SideRow> {
    (0..money.job.count_of(list)).filter_map(|i| row(money, &format!("{list}[{i}]"), problems)).collect()
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
