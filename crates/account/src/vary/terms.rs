//! The contract's money holds: the job file of the account says the same of it, or nothing.

use tankwright_quantities::problem::Problem;

use super::Desk;
use super::codes::{NO_ADDITION, NOT_READ, NOT_USED, OTHER_TERMS};
use super::entries::caution;

/// Lists of the contract's money, their keys, and where what really happened is written instead.
const LISTS: [(&str, &[&str], &str); 4] = [
    (
        "provisional",
        &["title", "amount", "unit", "quantity", "rate"],
        "leave it as in the contract, and write what was measured as [[remeasured]]",
    ),
    (
        "prime_cost",
        &["title", "amount", "percent"],
        "leave it as in the contract, and write what the goods cost as `actual`",
    ),
    (
        "provisional_sum",
        &["title", "amount", "defined"],
        "leave it as in the contract, and write what was spent as `spent`",
    ),
    (
        "additions.list",
        &["title", "percent", "amount", "on"],
        "additions stay as agreed; [account] leave_out leaves one out",
    ),
];

/// Tells what differs, and what is not read.
pub(super) fn check(desk: &mut Desk<'_>) {
    let (of, now) = (desk.contract.job, desk.now.job);
    let single = ["job.currency", "job.supply", "additions.say"];
    for path in single.into_iter().filter(|p| now.given(p)) {
        same(desk, path, "leave it as in the contract: what was agreed is what is accounted for");
    }
    for (list, keys, hint) in LISTS {
        if now.count_of(list) == 0 {
            continue;
        }
        if now.count_of(list) != of.count_of(list) {
            let what = format!(
                "[[{list}]] has {} entries, in the contract {}",
                now.count_of(list),
                of.count_of(list)
            );
            let problem = Problem::error(OTHER_TERMS, now.place(list), what).label("not as agreed");
            desk.told.push(problem.hint(format!("{hint}; what is new is a [[variation]]")));
            continue;
        }
        for i in 0..of.count_of(list) {
            for key in keys {
                same(desk, &format!("{list}[{i}].{key}"), hint);
            }
        }
    }
    for title in now.texts("account.leave_out") {
        let known: Vec<&str> = additions(desk).collect();
        if !known.contains(&title.as_str()) {
            let what = format!("the contract has no addition \"{title}\"");
            let problem = Problem::error(NO_ADDITION, now.place("account.leave_out"), what)
                .label("nothing to leave out");
            let hint = if known.is_empty() {
                "it has none".to_owned()
            } else {
                format!("it has: {}", known.join("; "))
            };
            desk.told.push(problem.hint(hint));
        }
    }
    let profile = &desk.contract.estimate.profile.0;
    if now.given("job.profile") && now.text("job.profile") != profile {
        let what =
            format!("measured by {profile}, as the contract is; {} is not used", now.text("job.profile"));
        let problem = caution(NOT_USED, now.place("job.profile"), what).label("not used");
        desk.told.push(problem.hint("what was agreed by one method is not measured again by another"));
    }
    let idle = ["variation", "star_rate", "remeasured", "daywork", "paid", "account"];
    if let Some(first) = idle.iter().find(|list| of.file != now.file && of.given(list)) {
        let what = format!("[[{first}]] of the contract's file is not read");
        let problem = caution(NOT_READ, of.place(first), what).label("not read");
        desk.told.push(problem.hint(format!("what happened after the contract stands in {}", now.file)));
    }
}

/// Titles of the contract's additions; the rounding of the offer is none.
fn additions<'a>(desk: &Desk<'a>) -> impl Iterator<Item = &'a str> + use<'a> {
    let job = desk.contract.job;
    (0..job.count_of("additions.list")).map(move |i| job.text(&format!("additions.list[{i}].title")))
}

fn same(desk: &mut Desk<'_>, path: &str, hint: &str) {
    let (of, now) = (desk.contract.job, desk.now.job);
    let value = |job: &tankwright_quantities::job::Job| job.values.get(path).map(|(value, _)| value.clone());
    if value(of) == value(now) {
        return;
    }
    let there = of.place(path).map_or_else(String::new, |p| format!(" (line {} of {})", p.line, p.file));
    let what = format!("{path} is not as in the contract{there}");
    desk.told.push(Problem::error(OTHER_TERMS, now.place(path), what).label("not as agreed").hint(hint));
}
