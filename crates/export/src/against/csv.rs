//! Two profiles side by side as CSV: a row an item, then one for each rule.

use tankwright_quantities::estimate::Estimate;

use super::{profile_of, rows};
use crate::csv::text as harmless;
use crate::json::{exact, plain};

const HEAD: [&str; 11] = [
    "row",
    "work",
    "spec",
    "unit",
    "quantity",
    "unit_against",
    "quantity_against",
    "difference",
    "profile",
    "rule",
    "clause",
];

/// Rows `item`, each followed by its rows `rule`: there `difference` is what the rule adds to it.
#[must_use]
pub fn csv(first: &Estimate, second: &Estimate) -> String {
    let mut out = ::csv::WriterBuilder::new().terminator(::csv::Terminator::CRLF).from_writer(Vec::new());
    let mut put = |cells: [String; 11]| {
        let free = |i: usize| matches!(i, 2 | 9 | 10);
        let cells = cells.into_iter().enumerate();
        // Writing to memory does not fail.
        let _ = out.write_record(cells.map(|(i, c)| if free(i) { harmless(&c) } else { c }));
    };
    put(HEAD.map(str::to_owned));
    let side = |of: Option<(tankwright_quantities::works::Unit, rust_decimal::Decimal)>| {
        of.map_or_else(Default::default, |(unit, quantity)| (unit.id().to_owned(), plain(quantity)))
    };
    let no = String::new;
    for row in rows(first, second) {
        let ((unit, quantity), (unit_b, quantity_b)) = (side(row.here), side(row.against));
        let (work, spec) = (row.work.id.to_owned(), row.spec.clone());
        let difference = row.difference.map_or_else(no, plain);
        let head = ["item".to_owned(), work.clone(), spec.clone()];
        let [kind, w, s] = head;
        put([kind, w, s, unit, quantity, unit_b, quantity_b, difference, no(), no(), no()]);
        for rule in &row.rules {
            let profile = profile_of(rule, first, second).to_owned();
            put([
                "rule".to_owned(),
                work.clone(),
                spec.clone(),
                no(),
                no(),
                no(),
                no(),
                exact(rule.size),
                profile,
                rule.what.clone(),
                rule.clause.clone(),
            ]);
        }
    }
    out.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
}
