//! Sources: where data, rates, clauses and cautions come from.

use std::collections::BTreeSet;

use crate::book::{Desk, heads, word};
use crate::cells::{Page, PageId};
use crate::format::short_name;

pub(crate) fn page(desk: &Desk<'_>) -> Page {
    let estimate = desk.estimate;
    let columns = heads(&["book-what-for", "book-source"]);
    let mut page = Page::new(PageId::Sources, &word("book-sources"), "", &columns);
    page.widest = vec![50, 80];
    let mut row = 3;
    let mut part = |title: &'static str, rows: Vec<(String, String)>| {
        if rows.is_empty() {
            return;
        }
        page.heading(row, word(title));
        row += 1;
        for (what, source) in rows {
            page.text(row, 0, what);
            page.text(row, 1, source);
            row += 1;
        }
        row += 1;
    };
    part("book-data", estimate.sources.clone());
    part("book-profile-clauses", clauses(desk));
    let used = |d: &tankwright_quantities::estimate::DefaultUsed| {
        (format!("{} = {}", short_name(&d.path), d.value), d.source.clone())
    };
    part("book-defaults", estimate.defaults.iter().map(used).collect());
    let choices = estimate.materials.remarks.iter().map(|(says, source)| (says.to_string(), source.clone()));
    part("book-choices", choices.collect());
    part("book-price-rows", prices(desk));
    let cautions = estimate.cautions_of_job().map(|c| (format!("{} {}", c.code, c.says), c.source.clone()));
    part("book-cautions", cautions.collect());
    page
}

/// Clauses that decisions rest on, each once.
fn clauses(desk: &Desk<'_>) -> Vec<(String, String)> {
    let sheet = &desk.estimate.sheet;
    let decisions = sheet.items.iter().chain(&sheet.voids).flat_map(|i| &i.decisions);
    let clauses: BTreeSet<&str> = decisions.map(|d| d.clause.as_str()).filter(|c| !c.is_empty()).collect();
    let title = &desk.estimate.profile.1;
    clauses.into_iter().map(|c| (title.clone(), c.to_owned())).collect()
}

/// Rows of the price list, in bill order, each code once.
fn prices(desk: &Desk<'_>) -> Vec<(String, String)> {
    let mut seen = BTreeSet::new();
    let rows = desk.estimate.bill.sections.iter().flat_map(|s| &s.rows).filter_map(|r| r.rate.as_ref());
    rows.filter(|(_, from)| seen.insert((from.list.as_str(), from.line)))
        .map(|(_, f)| (f.code.clone(), format!("{}:{}, {}, {}", f.list, f.line, f.date, f.source)))
        .collect()
}
