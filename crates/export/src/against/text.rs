//! Two profiles side by side as a paper: what differs with its rules, what does not by name.

use rust_decimal::Decimal;
use tankwright_quantities::against::Row;
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::works::Unit;

use super::{profile_of, rows};
use crate::format::{least_places, quantity, say, value, word};
use crate::text::sheet::Clauses;
use crate::text::table::{Col, Page, Table};

/// A paper of at most 100 columns.
#[must_use]
pub fn text(first: &Estimate, second: &Estimate) -> String {
    let mut page = Page::default();
    crate::text::head(&mut page, first);
    page.line(0, 2, &say("paper-against-head", &[&first.profile.1, &second.profile.1]));
    for e in [first, second] {
        if !e.method.text.is_empty() {
            page.line(2, 4, &format!("{}: {}", e.profile.0, e.method.text));
        }
    }
    page.blank();
    let (same, differ): (Vec<Row>, Vec<Row>) = rows(first, second).into_iter().partition(Row::same);
    let mut clauses = Clauses::default();
    let cols = [Col::Fill(44), Col::Right(12), Col::Left(4), Col::Right(12), Col::Left(4), Col::Right(12)];
    let mut table = Table::new(0, &cols);
    let [a, b] = [first, second].map(|e| e.profile.0.as_str());
    table.row([word("paper-against-item"), a, "", b, "", word("paper-difference")]);
    for row in &differ {
        let name =
            [row.work.id, &row.spec].into_iter().filter(|s| !s.is_empty()).collect::<Vec<_>>().join("/");
        let (here, unit) = side(row.here);
        let (there, unit_there) = side(row.against);
        let unit_of = row.here.or(row.against).map_or(Unit::Item, |(unit, _)| unit);
        let difference =
            row.difference.map_or_else(|| word("paper-against-unit").to_owned(), |d| signed(d, unit_of));
        table.row([name.as_str(), &here, unit, &there, unit_there, &difference]);
        for rule in &row.rules {
            let clause = if rule.clause.is_empty() {
                String::new()
            } else {
                say("paper-clause", &[&clauses.letter(&rule.clause)])
            };
            let sign = if rule.size.signum() > 0 { "+" } else { "" };
            let amount = match rule.size.is_zero() {
                true => String::new(),
                false => format!("{sign}{}  ", value(rule.size, 2, 4)),
            };
            let of = profile_of(rule, first, second);
            table.across(&format!("{of}: {amount}{}{clause}", rule.what));
        }
    }
    page.table(&table);
    page.blank();
    if !same.is_empty() {
        let names: Vec<&str> = same.iter().map(|r| r.work.id).collect();
        page.line(0, 2, &say("paper-against-same", &[&same.len().to_string(), &names.join(", ")]));
    }
    clauses.list(&mut page, word("paper-clauses"));
    for e in [first, second].into_iter().filter(|e| !e.method.notes.is_empty()) {
        page.heading(&say("paper-method", &[&e.profile.1]));
        page.table(&crate::text::notes(e));
    }
    page.done()
}

/// Quantity and unit of a side.
fn side(of: Option<(Unit, Decimal)>) -> (String, &'static str) {
    of.map_or_else(
        || (word("paper-against-none").to_owned(), ""),
        |(unit, n)| (quantity(n, least_places(unit)), unit.id()),
    )
}

fn signed(value: Decimal, unit: Unit) -> String {
    let text = quantity(value, least_places(unit));
    if value.is_sign_positive() && !value.is_zero() { format!("+{text}") } else { text }
}
