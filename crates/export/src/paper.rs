//! How a page falls on sheets of A4: margins, what is printed, breaks between parts instead of within them.

use std::collections::BTreeMap;

use rust_xlsxwriter::{Worksheet, XlsxError};

use crate::book::words;
use crate::cells::{Content, Look, Page};
use crate::sizes::{LINE, Sizes};

/// Paper size code of A4, and its sides in points.
const A4: u8 = 9;
const SIDES: [u32; 2] = [595, 842];
/// Margins left and right together, above and below together, points.
const MARGINS: [u32; 2] = [72, 98];
/// Most breaks a spreadsheet holds on a page.
const MOST_BREAKS: usize = 1_000;
/// A page up to so many hundredths of a sheet is made smaller to stand on one.
const NEARLY: u32 = 120;
/// Lines of a part that must follow its heading on the same sheet, where the part is longer than a sheet.
const FOLLOW: u32 = 5;

/// Sets up the paper of a sheet: A4, the width fitted, heads that repeat, foot with page x of y, breaks.
pub(crate) fn set_up(
    sheet: &mut Worksheet,
    page: &Page,
    sizes: &Sizes,
    title: &str,
) -> Result<(), XlsxError> {
    sheet.set_paper_size(A4).set_margins(0.5, 0.5, 0.6, 0.75, 0.3, 0.35);
    let one_sheet = nearly_one(page, sizes);
    sheet.set_print_fit_to_pages(1, u16::from(one_sheet));
    if page.landscape {
        sheet.set_landscape();
    }
    sheet.set_freeze_panes(page.heads, 0)?;
    sheet.set_repeat_rows(0, page.heads.saturating_sub(1))?;
    if let Some((rows, columns)) = page.printed {
        let last = rows.unwrap_or_else(|| last_row(page));
        sheet.set_print_area(0, 0, last, columns.saturating_sub(1))?;
    }
    if !one_sheet {
        sheet.set_page_breaks(&breaks(page, sizes))?;
    }
    let title: String = title.chars().take(80).collect();
    let foot = words("book-foot", &["&P", "&N"]);
    // An ampersand starts a code in a foot, and a square bracket could complete one.
    let title = title.replace('&', "&&").replace('[', "(").replace(']', ")");
    sheet.set_footer(format!("&L{title}&C{}&R{foot}", page.id.tab()));
    Ok(())
}

fn last_row(page: &Page) -> u32 {
    page.cells.keys().next_back().map_or(0, |(row, _)| *row)
}

/// A part of a page: its first row, its height, and the free rows before it, in points.
struct Part {
    start: u32,
    tall: u32,
    gap: u32,
}

/// Is the page so little longer than a sheet that it is better made smaller?
fn nearly_one(page: &Page, sizes: &Sizes) -> bool {
    let heights = sizes.heights();
    let height = |row: u32| heights.get(&row).copied().unwrap_or(LINE);
    let all: u32 = (0..=last_row(page)).map(height).sum();
    page.printed.is_none_or(|(rows, _)| rows.is_none()) && all <= room(page, sizes) * NEARLY / 100
}

/// Rows above which a new sheet begins.
fn breaks(page: &Page, sizes: &Sizes) -> Vec<u32> {
    let heights = sizes.heights();
    let height = |row: u32| heights.get(&row).copied().unwrap_or(LINE);
    let heads: u32 = (0..page.heads).map(height).sum();
    let room = room(page, sizes).saturating_sub(heads);
    let (mut breaks, mut used) = (Vec::new(), 0);
    for Part { start, tall, gap } in parts(page, height) {
        // A part that fits on a sheet stands on one; a longer one begins where some of it does.
        let needs = if tall <= room { tall } else { FOLLOW * LINE };
        used = if used > 0 { used + gap } else { 0 };
        if used > 0 && used + needs > room && breaks.len() < MOST_BREAKS {
            breaks.push(start);
            used = 0;
        }
        used += tall;
        if used > room && room > 0 {
            used %= room;
        }
    }
    breaks
}

/// Points of rows that one sheet takes, a little less to be safe with other fonts.
fn room(page: &Page, sizes: &Sizes) -> u32 {
    let printed = page.printed.map_or(u16::MAX, |(_, columns)| columns);
    // A column of so many characters is 7 dots each and 5 more wide, 4 dots to 3 points.
    let width: u32 =
        sizes.widths().filter(|(col, _)| *col < printed).map(|(_, chars)| (7 * chars + 5) * 3 / 4).sum();
    let [short, long] = SIDES;
    let (across, down) = if page.landscape { (long, short) } else { (short, long) };
    let (across, down) = (across - MARGINS[0], down - MARGINS[1]);
    // The page is made smaller to fit its width, never larger.
    down * width.max(across) / across * 98 / 100
}

/// The parts of a page: each from a heading that stands free to the next one.
fn parts(page: &Page, height: impl Fn(u32) -> u32) -> Vec<Part> {
    let mut rows: BTreeMap<u32, bool> = BTreeMap::new();
    for ((row, _), cell) in page.cells.iter().filter(|((row, _), _)| *row >= page.heads) {
        let heading = cell.look == Look::Heading && matches!(cell.content, Content::Text(_));
        *rows.entry(*row).or_default() |= heading;
    }
    let mut parts: Vec<Part> = Vec::new();
    let mut next = page.heads;
    for (row, heading) in rows {
        let free = row > next || row == page.heads;
        let gap = row.saturating_sub(next).saturating_mul(LINE);
        match parts.last_mut() {
            Some(part) if !(heading && free) => part.tall += gap + height(row),
            _ => parts.push(Part { start: row, tall: height(row), gap }),
        }
        next = row + 1;
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::{Book, workbook};
    use crate::cells::{Cell, PageId};
    use crate::evaluate::{Values, evaluate};
    use crate::fixture::estimate;

    /// A page of `n` parts with so many rows each, and a free row between them.
    fn long(n: u32, rows: u32) -> Page {
        let mut page = Page::new(PageId::Dimensions, "title", "", &["head".to_owned()]);
        let mut row = 3;
        for _ in 0..n {
            page.heading(row, "part");
            (1..=rows).for_each(|r| page.text(row + r, 0, "line"));
            row += rows + 2;
        }
        page
    }

    fn breaks_of(page: &Page) -> Vec<u32> {
        breaks(page, &Sizes::of(page, &Values::new()))
    }

    #[test]
    fn no_part_that_fits_on_a_sheet_is_broken_and_no_sheet_is_overfull() {
        let page = long(20, 8);
        let found = breaks_of(&page);
        // (842 - 98) x 0.98 = 729 points, 48 rows of 15; 3 heads leave 45, four parts of 10 rows.
        assert_eq!(found, (1..5).map(|n| 3 + n * 40).collect::<Vec<u32>>());
        for row in found {
            assert_eq!(page.cells.get(&(row, 0)).map(|c| c.look), Some(Look::Heading));
        }
    }

    #[test]
    fn a_page_a_little_longer_than_a_sheet_is_made_smaller() {
        let nearly = |page: &Page| nearly_one(page, &Sizes::of(page, &Values::new()));
        // 3 heads and 53 rows: 840 points of 729 x 1.2 = 874; two rows more than that are 2 sheets.
        assert!(nearly(&long(1, 52)));
        assert!(!nearly(&long(1, 56)));
        let mut page = long(1, 10);
        page.printed = Some((Some(2), 1));
        assert!(!nearly(&page));
    }

    #[test]
    fn a_part_longer_than_a_sheet_flows() {
        assert_eq!(breaks_of(&long(1, 500)), Vec::<u32>::new());
        // 42 rows used of 45: a heading would stand alone at the foot.
        let mut page = long(1, 40);
        page.heading(45, "next");
        (46..200).for_each(|r| page.text(r, 0, "line"));
        assert_eq!(breaks_of(&page), [45]);
    }

    #[test]
    fn the_client_gets_the_bill_alone_and_nobody_the_comparisons() {
        let book: Book = workbook(&estimate()).unwrap_or_default();
        assert!(evaluate(&book).is_ok());
        let printed = |id| book.page(id).and_then(|p| p.printed);
        assert_eq!(printed(PageId::Bill), Some((None, 6)));
        assert!(printed(PageId::Structure).is_some_and(|(rows, _)| rows.is_some()));
        assert_eq!(printed(PageId::Dimensions), None);
        assert_eq!(printed(PageId::Summary), Some((None, 3)));
        // Nothing that warns of a stale bill stands outside of what is printed.
        let bill = book.page(PageId::Bill).map(|p| p.cells.clone()).unwrap_or_default();
        let outside = bill.iter().filter(|((_, col), _)| *col >= 6);
        assert!(outside.into_iter().all(|(_, c): (_, &Cell)| matches!(c.content, Content::Text(_))));
    }
}
