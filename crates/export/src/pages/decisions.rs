//! Decisions and balances: why a quantity differs from the model's, and what closes.

use tankwright_geometry::Ratio;
use tankwright_quantities::decimal;

use crate::book::{Desk, heads, word};
use crate::cells::{Cell, Page, PageId, Show};
use crate::expr::exact;

const SHOW: Show = Show::UpTo(0, 12);

pub(crate) fn page(desk: &Desk<'_>) -> Page {
    let columns =
        heads(&["book-item", "book-decision", "book-size", "book-unit", "book-size-exactly", "book-clause"]);
    let mut page =
        Page::new(PageId::Decisions, &word("book-decisions"), &word("book-decisions-remark"), &columns);
    page.widest = vec![46, 60, 18, 18, 24, 60, 10];
    let mut row = 3;
    for item in desk.estimate.sheet.items.iter().chain(&desk.estimate.sheet.voids) {
        for decision in &item.decisions {
            page.text(row, 0, &item.id);
            page.text(row, 1, decision.what.to_string());
            figure(&mut page, row, 2, decision.size);
            page.text(row, 3, item.unit.id());
            page.text(row, 4, fraction(decision.size));
            page.text(row, 5, &decision.clause);
            row += 1;
        }
    }
    if row == 3 {
        page.text(row, 0, word("book-no-decisions"));
        row += 1;
    }
    row += 1;
    page.heading(row, word("book-balances"));
    page.head(
        row + 1,
        &heads(&[
            "book-balance",
            "book-says",
            "book-left",
            "book-right",
            "book-difference",
            "book-unit",
            "book-holds",
        ]),
    );
    row += 2;
    for balance in &desk.estimate.balances {
        page.text(row, 0, balance.name);
        page.text(row, 1, balance.says.to_string());
        figure(&mut page, row, 2, balance.left);
        figure(&mut page, row, 3, balance.right);
        figure(&mut page, row, 4, balance.left - balance.right);
        page.text(row, 5, balance.unit);
        page.text(row, 6, word(if balance.holds() { "book-yes" } else { "book-no" }));
        row += 1;
        for text in &balance.breaks {
            page.text(row, 1, text);
            row += 1;
        }
    }
    page
}

/// A number, to twelve places where no decimal holds it.
fn figure(page: &mut Page, row: u32, col: u16, value: Ratio) {
    match exact(value).or_else(|| decimal::rounded(value, 12)) {
        Some(number) => {
            page.put(row, col, Cell::number(number, SHOW));
        }
        None => page.text(row, col, word("book-unknown")),
    }
}

/// The fraction where no decimal holds it.
fn fraction(value: Ratio) -> String {
    if exact(value).is_some() { String::new() } else { decimal::plain(value) }
}
