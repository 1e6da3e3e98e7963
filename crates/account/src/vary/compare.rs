//! Two states item by item, and which variation explains what differs.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use tankwright_quantities::bill::{Bill, BillRow, SideRow};
use tankwright_quantities::job::suggestion;
use tankwright_quantities::problem::Problem;
use tankwright_quantities::works;

use super::Desk;
use super::codes::{COVERS, NO_EFFECT};
use super::entries::{Variation, caution, names};
use super::stars::key;

/// What differs between two states.
#[derive(Clone, Debug)]
pub(super) enum Difference<'a> {
    /// A row of the bill, with its quantity before and after.
    Row(&'a BillRow, Option<Decimal>, Option<Decimal>),
    /// A preliminary, before and after.
    Preliminary(Option<&'a SideRow>, Option<&'a SideRow>),
}

fn rows(bill: &Bill) -> impl Iterator<Item = &BillRow> {
    bill.sections.iter().flat_map(|s| &s.rows)
}

/// Rows whose quantity differs: those of the first bill in its order, then what the second brings.
pub(super) fn of_rows<'a>(before: &'a Bill, after: &'a Bill) -> Vec<Difference<'a>> {
    let now: BTreeMap<_, Decimal> = rows(after).map(|r| (key(r), r.quantity)).collect();
    let then: BTreeMap<_, Decimal> = rows(before).map(|r| (key(r), r.quantity)).collect();
    let kept = rows(before).filter_map(|r| {
        let new = now.get(&key(r)).copied();
        (new != Some(r.quantity)).then_some(Difference::Row(r, Some(r.quantity), new))
    });
    let brought = rows(after).filter(|r| !then.contains_key(&key(r)));
    kept.chain(brought.map(|r| Difference::Row(r, None, Some(r.quantity)))).collect()
}

/// Preliminaries that differ, by title.
pub(super) fn of_preliminaries<'a>(before: &'a [SideRow], after: &'a [SideRow]) -> Vec<Difference<'a>> {
    let find = |list: &'a [SideRow], title: &str| list.iter().find(|r| r.title.trim() == title.trim());
    let kept = before.iter().filter_map(move |r| {
        let new = find(after, &r.title);
        (new.map(|n| n.amount) != Some(r.amount)).then_some(Difference::Preliminary(Some(r), new))
    });
    let brought = after.iter().filter(move |r| find(before, &r.title).is_none());
    kept.chain(brought.map(|r| Difference::Preliminary(None, Some(r)))).collect()
}

/// Which variation explains each difference between the contract and the job file of the account; a name that
/// explains nothing is told.
pub(super) fn claims(
    desk: &mut Desk<'_>,
    all: &[Difference<'_>],
    variations: &[Variation],
) -> Vec<Option<usize>> {
    let mut claimed: Vec<Option<usize>> = vec![None; all.len()];
    let job = desk.now.job;
    // "all" is what the others leave.
    let named = |rest: bool| {
        variations
            .iter()
            .enumerate()
            .flat_map(move |(i, v)| v.covers.iter().map(move |c| (i, v, c.trim())))
            .filter(move |(.., name)| (*name == "all") == rest)
    };
    for (i, v, name) in named(false).chain(named(true)) {
        let fits: Vec<usize> =
            (0..all.len()).filter(|n| all.get(*n).is_some_and(|d| fits(d, name))).collect();
        let place = || job.place(&format!("{}.covers", v.path));
        let mut other = None;
        for n in &fits {
            match claimed.get_mut(*n) {
                Some(free @ None) => *free = Some(i),
                Some(Some(by)) if *by != i && name != "all" => other = Some(*by),
                _ => {}
            }
        }
        if let Some(by) = other.and_then(|by| variations.get(by)) {
            let what = format!("{} covers `{name}`, and {} covers it already", v.id, by.id);
            let problem = Problem::error(COVERS, place(), what).label("covered twice");
            desk.told.push(
                problem.hint("a difference belongs to one variation; name work/specification to part them"),
            );
        }
        if !fits.is_empty() {
            continue;
        }
        let work = name.split('/').next().unwrap_or(name);
        if ["all", "preliminaries"].contains(&name) || works::all().iter().any(|w| w.id == work && !w.void) {
            let what = format!("{} covers `{name}`, which is the same in both files", v.id);
            let problem = caution(NO_EFFECT, place(), what).label("no difference");
            desk.told.push(problem.hint("look whether what was built is drawn in the file"));
        } else {
            let near = suggestion(work, works::all().into_iter().map(|w| w.id));
            let problem =
                Problem::error(COVERS, place(), format!("{} covers `{name}`, which is no work", v.id));
            desk.told.push(problem.label("not a work").hint(format!(
                "{near}name works as `tankwright rules works` lists them, \"preliminaries\", or \"all\""
            )));
        }
    }
    claimed
}

fn fits(difference: &Difference<'_>, name: &str) -> bool {
    match difference {
        _ if name == "all" => true,
        Difference::Row(row, ..) => names(name, row.work.id, &row.spec),
        Difference::Preliminary(..) => name == "preliminaries",
    }
}
