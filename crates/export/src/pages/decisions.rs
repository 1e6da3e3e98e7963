//! Decisions and balances: why a quantity differs from the model's, and what closes.

use tankwright_geometry::Ratio;
use tankwright_quantities::decimal;

use crate::book::{Desk, heads, word, words};
use crate::cells::{Cell, Page, PageId, Show};
use crate::expr::exact;

const SHOW: Show = Show::UpTo(0, 12);

pub(crate) fn page(desk: &Desk<'_>) -> Page {
    let columns =
        heads(&["book-item", "book-decision", "book-size", "book-unit", "book-size-exactly", "book-clause"]);
    let mut page =
        Page::new(PageId::Decisions, &word("book-decisions"), &word("book-decisions-remark"), &columns);
    page.widest = vec![46, 60, 18, 18, 24, 60, 40];
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
    row = voids(desk, &mut page, row + 1);
    row = notes(desk, &mut page, row);
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

/// Every void and end, kept or deducted; the row after them.
fn voids(desk: &Desk<'_>, page: &mut Page, mut row: u32) -> u32 {
    let items = || desk.estimate.sheet.items.iter().filter(|i| !i.judged.is_empty());
    if items().next().is_none() {
        return row;
    }
    page.heading(row, word("book-voids-judged"));
    let columns =
        ["book-item", "book-void", "book-size", "book-unit", "book-limit", "book-clause", "book-why"];
    page.head(row + 1, &heads(&columns));
    row += 2;
    for (item, j) in items().flat_map(|i| i.judged.iter().map(move |j| (i, j))) {
        let what = if j.times == 1 { j.what.to_string() } else { format!("{} x {}", j.times, j.what) };
        page.text(row, 0, &item.id);
        page.text(row, 1, what);
        figure(page, row, 2, j.size);
        page.text(row, 3, j.unit.id());
        if let Some(limit) = j.limit {
            figure(page, row, 4, limit);
        }
        page.text(row, 5, &j.clause);
        let kept = word(if j.kept { "paper-kept" } else { "paper-deducted" });
        page.text(row, 6, format!("{kept}: {}", j.why));
        row += 1;
    }
    row + 1
}

/// What the profile says of itself; the row after it.
fn notes(desk: &Desk<'_>, page: &mut Page, mut row: u32) -> u32 {
    let method = &desk.estimate.method;
    if method.notes.is_empty() && method.text.is_empty() {
        return row;
    }
    page.heading(row, words("paper-method", &[&desk.estimate.profile.1]));
    row += 1;
    if !method.text.is_empty() {
        page.text(row, 1, &method.text);
        row += 1;
    }
    for note in &method.notes {
        page.text(row, 0, word(note.kind.key()));
        page.text(row, 1, &note.says);
        page.text(row, 5, note.source.to_string());
        row += 1;
    }
    row + 1
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
