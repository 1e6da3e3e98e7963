//! Checks of the drawn job with their working: plain texts, as nothing else hangs on them.

use crate::book::{Desk, heads, stage_word, word};
use crate::cells::{Page, PageId};
use crate::text::checks::verdict;

/// The page; none where nothing was checked.
pub(crate) fn page(desk: &Desk<'_>) -> Option<Page> {
    let checks = &desk.estimate.checks;
    if checks.is_empty() {
        return None;
    }
    let columns = heads(&["book-verdict", "book-check", "book-stages", "book-source", "book-check-id"]);
    let mut page = Page::new(PageId::Checks, &word("book-checks"), &word("book-checks-remark"), &columns);
    page.widest = vec![22, 80, 26, 60, 24];
    let mut row = 3;
    for c in checks {
        page.text(row, 0, verdict(c.verdict));
        page.text(row, 1, c.says.to_string());
        page.text(row, 2, c.stages.iter().map(|s| stage_word(*s)).collect::<Vec<_>>().join(", "));
        page.text(row, 3, &c.source);
        page.text(row, 4, c.id);
        row += 1;
        for step in &c.working {
            page.text(row, 1, step.to_string());
            row += 1;
        }
    }
    Some(page)
}
