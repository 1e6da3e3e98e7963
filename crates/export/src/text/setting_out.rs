//! Levels below ground level, sides and diagonals.

use tankwright_quantities::estimate::Estimate;

use super::table::{Col, Page, Table};
use crate::format::word;

/// The setting-out as a paper of its own.
#[must_use]
pub fn setting_out(e: &Estimate) -> String {
    let mut page = Page::default();
    super::head(&mut page, e);
    page.blank();
    marks(&mut page, e);
    page.done()
}

/// The table, in two halves side by side to save height.
pub(crate) fn marks(page: &mut Page, e: &Estimate) {
    if e.setting_out.is_empty() {
        return;
    }
    page.line(0, 2, word("paper-setting-out"));
    let mut table = Table::new(2, &[Col::Left(0), Col::Right(8)]);
    let rows: Vec<_> = e.setting_out.iter().map(|m| (m.title.to_string(), m.metres.clone())).collect();
    // Long titles need the whole width.
    if rows.len() > 6 && rows.iter().all(|(t, m)| t.chars().count() + m.chars().count().max(8) <= 44) {
        let half = rows.len().div_ceil(2);
        table = Table::new(2, &[Col::Left(0), Col::Right(8), Col::Left(0), Col::Right(8)]);
        for i in 0..half {
            let cells = [rows.get(i), rows.get(i + half)].into_iter().flatten();
            table.row(cells.flat_map(|(title, metres)| [title, metres]));
        }
    } else {
        rows.iter().for_each(|(title, metres)| table.row([title, metres]));
    }
    page.table(&table);
}

#[cfg(test)]
mod tests {
    use crate::handmade;
    use crate::text::setting_out;

    #[test]
    fn levels_and_sides() {
        let expected = r#"Rest house, hill road                                                 2026-11-25   east-africa   UGX

setting out: levels below ground level (+) and lengths, metres
  dig bottom, outlet end     1.955
  top of cover               0.000
"#;
        assert_eq!(setting_out(&handmade::estimate()), expected);
    }
}
