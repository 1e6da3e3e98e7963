//! Cautions about the chain of on-costs: what it leaves out, what is charged twice.

use crate::bill::{Bill, BillRow};
use crate::build_up::{Group, Terms, Worked, audit};
use crate::problem::{Problem, Severity};

/// What the chain of on-costs leaves out, and what stands in it and under the additions too: cautions.
pub(super) fn told(bill: &Bill, terms: &Terms, problems: &mut Vec<Problem>) {
    let rows: Vec<(&BillRow, &Worked)> = bill
        .sections
        .iter()
        .flat_map(|s| &s.rows)
        .filter_map(|r| Some((r, r.build_up.as_deref()?)))
        .collect();
    if rows.is_empty() {
        return;
    }
    let caution = |code, what: String, hint: &str| {
        let problem = Problem { severity: Severity::Caution, ..Problem::error(code, None, what) };
        problem.hint(hint)
    };
    for (i, on_cost) in terms.on_costs.iter().enumerate() {
        let title = &on_cost.title;
        let left = |(row, worked): &(&BillRow, &Worked)| {
            let left = audit(worked).into_iter().find(|l| l.on_cost == i && !l.groups.is_empty())?;
            Some((row.reference.clone(), worked.per, worked.unit.clone(), left))
        };
        let left: Vec<_> = rows.iter().filter_map(left).collect();
        if let Some((reference, per, unit, first)) = left.first() {
            let mut groups: Vec<Group> = left.iter().flat_map(|(.., l)| &l.groups).map(|(g, _)| *g).collect();
            groups.sort_unstable();
            groups.dedup();
            let groups: Vec<&str> = groups.into_iter().map(Group::id).collect();
            let many = if left.len() == 1 { String::new() } else { format!(" and {} more", left.len() - 1) };
            let (more, code) = (first.more.normalize(), &bill.currency.code);
            let what = format!(
                "on-cost `{title}` is taken on less than the cost: it leaves out {} in {reference}{many}; on all before it {reference} would be {code} {more} more for {per} {unit}",
                groups.join(", ")
            );
            problems.push(caution(
                "R104",
                what,
                "leave `on` out to take it on all before it; keep it where that is meant",
            ));
        }
        if let Some(addition) =
            bill.additions.iter().find(|a| a.percent.is_some() && same_charge(title, &a.title))
        {
            let what = format!(
                "`{title}` is in the built rates, and `{}` is added under [additions]: on {} rows it may be charged twice",
                addition.title,
                rows.len()
            );
            problems.push(caution(
                "R105",
                what,
                "charge it in one place: in the rates, or at the end of the bill",
            ));
        }
    }
}

/// Words that say what is charged.
const CHARGES: [&str; 5] = ["vat", "tax", "profit", "overhead", "overheads"];

/// Do two titles charge the same?
fn same_charge(a: &str, b: &str) -> bool {
    let words = |t: &str| -> Vec<String> {
        let lower = t.to_lowercase();
        lower.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).map(str::to_owned).collect()
    };
    let (a, b) = (words(a), words(b));
    let charge = |w: &&str| a.iter().any(|x| x == *w) && b.iter().any(|x| x == *w);
    a == b || CHARGES.iter().any(charge)
}
