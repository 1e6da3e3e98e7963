//! The one screen that ends `estimate`.

use tankwright_quantities::estimate::Estimate;

use super::table::{Col, Page, Table};
use super::{money, setting_out};
use crate::format::say;

/// What it is, what it holds, earth, money, proof, cautions and the files written.
#[must_use]
pub fn screen(e: &Estimate, files: &[String]) -> String {
    let mut page = Page::default();
    super::head(&mut page, e);
    for phrase in &e.scope {
        page.line(0, 2, &phrase.to_string());
    }
    page.line(0, 2, &super::capacity_line(e));
    page.blank();
    page.line(0, 4, &super::earth_line(e));
    page.blank();
    let mut table = Table::new(0, &[Col::Fill(58), Col::Right(20)]);
    for s in &e.bill.sections {
        table.row([super::section_title(s), money::amount(&e.bill, s.total)]);
    }
    money::chain(&mut table, &e.bill);
    page.table(&table);
    money::foot(&mut page, e);
    page.blank();
    setting_out::marks(&mut page, e);
    page.blank();
    page.line(0, 2, &super::balances_line(e));
    super::cautions(&mut page, e);
    if !e.defaults.is_empty() {
        let list: Vec<_> = e
            .defaults
            .iter()
            .map(|d| format!("{} {}", super::default_name(&d.path), d.value).replace(' ', "\u{a0}"))
            .collect();
        page.line(0, 2, &say("paper-defaults", &[&list.len().to_string(), &list.join(", ")]));
    }
    if !files.is_empty() {
        page.blank();
        page.line(0, 2, &say("paper-written", &[&files.join("  ")]));
    }
    page.done()
}

#[cfg(test)]
mod tests {
    use crate::fixture;
    use crate::text::screen;

    #[test]
    fn one_screen() {
        let text = screen(&fixture::estimate(), &["out/rest-house.xlsx".to_owned()]);
        assert_eq!(text, "");
    }
}
