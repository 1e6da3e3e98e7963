//! The cross-check as CSV: one row a fact, its kind in the first column.

use rust_decimal::Decimal;
use tankwright_crosscheck::Report;
use tankwright_crosscheck::report::Explanation;
use tankwright_quantities::estimate::Estimate;

use super::{ids, says};
use crate::csv::{figure, text as harmless};
use crate::json::{money, plain};

const HEAD: [&str; 13] = [
    "row",
    "line",
    "work",
    "spec",
    "text",
    "unit",
    "ours",
    "theirs",
    "difference",
    "agrees",
    "explained_by",
    "says",
    "worth",
];

/// Rows `item` (compared), `unmatched`, `missing`, and `dimensions`, `extension`, `total`, `percentage`, `brought` for
/// slips of arithmetic; several explanations stand in one cell, parted by bars.
#[must_use]
pub fn csv(e: &Estimate, r: &Report) -> String {
    let mut out = ::csv::WriterBuilder::new().terminator(::csv::Terminator::CRLF).from_writer(Vec::new());
    let mut put = |cells: [String; 13]| {
        // Numbers and ids are as they are; a quantity that matches nothing is the list's own text.
        let free = |i: usize| matches!(i, 3 | 4 | 5 | 11);
        let cells = cells.into_iter().enumerate();
        // Writing to memory does not fail.
        let _ = out.write_record(cells.map(|(i, c)| if free(i) { harmless(&c) } else { figure(&c) }));
    };
    put(HEAD.map(str::to_owned));
    let all = |list: &[Explanation], of: fn(&Explanation) -> String| {
        list.iter().map(of).collect::<Vec<_>>().join(" | ")
    };
    let lines = |l: &[usize]| l.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ");
    let e_ = String::new;
    for x in &r.rows {
        let agrees = if x.agrees { "yes" } else { "no" }.to_owned();
        let worth = money(&e.bill, x.worth).unwrap_or_default();
        let [ours, theirs, difference] = [x.ours, x.theirs, x.difference].map(plain);
        let (works, why) = (x.works.join("+"), all(&x.explained, ids));
        put([
            "item".to_owned(),
            lines(&x.lines),
            works,
            x.spec.clone(),
            x.text.clone(),
            x.unit.clone(),
            ours,
            theirs,
            difference,
            agrees,
            why,
            all(&x.explained, says),
            worth,
        ]);
    }
    for x in &r.unmatched {
        put([
            "unmatched".to_owned(),
            x.line.to_string(),
            x.perhaps.join(" | "),
            e_(),
            x.text.clone(),
            x.unit.clone(),
            e_(),
            x.quantity.clone(),
            e_(),
            e_(),
            e_(),
            x.why.to_string(),
            e_(),
        ]);
    }
    for x in &r.missing {
        let amount = money(&e.bill, x.amount).unwrap_or_default();
        put([
            "missing".to_owned(),
            e_(),
            x.work.to_owned(),
            x.spec.clone(),
            x.says.to_string(),
            x.unit.to_owned(),
            plain(x.quantity),
            e_(),
            e_(),
            e_(),
            e_(),
            e_(),
            amount,
        ]);
    }
    for x in &r.arithmetic {
        let [right, printed, difference]: [String; 3] =
            [x.should_be, x.printed, x.difference].map(|d: Decimal| plain(d));
        put([
            x.what.to_owned(),
            x.line.to_string(),
            e_(),
            e_(),
            x.text.clone(),
            e_(),
            right,
            printed,
            difference,
            "no".to_owned(),
            all(&x.explained, ids),
            all(&x.explained, says),
            e_(),
        ]);
    }
    out.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
}
