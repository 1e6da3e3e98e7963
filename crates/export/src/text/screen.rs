//! The one screen that ends `estimate`.

use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::materials::Rounding;
use tankwright_quantities::orders::{StageOrder, Total};
use tankwright_quantities::steel::Cutting;

use super::bars::{mass, of_length, proof, two};
use super::goods::{dates, material, packs_of, stage, title};
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
    if let Some(sizing) = &e.sizing {
        page.line(0, 2, &sizing.says.to_string());
    }
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
    goods(&mut page, e);
    page.blank();
    setting_out::marks(&mut page, e);
    page.blank();
    page.line(0, 2, &super::balances_line(e));
    super::checks::counted(&mut page, e);
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

/// `out/orders/ (12 files)`.
#[must_use]
pub fn folder_of(name: &str, files: usize) -> String {
    say("paper-folder-of", &[&files.to_string(), name]).replace(' ', "\u{a0}")
}

/// Goods named on the screen; the orders have them all.
const NAMED: usize = 4;

/// Bars and goods to buy, and when the first of them are ordered.
fn goods(page: &mut Page, e: &Estimate) {
    if e.steel.marks.is_empty() && e.orders.totals.is_empty() {
        return;
    }
    page.blank();
    if !e.steel.marks.is_empty() {
        let one =
            |c: &Cutting| format!("{}\u{a0}{} ({})", c.bar.id(), of_length(c.bars, c.stock_mm), proof(c));
        let bars: Vec<_> = e.steel.cutting.iter().map(one).collect();
        let buy =
            if bars.is_empty() { String::new() } else { say("paper-screen-bars-buy", &[&bars.join("; ")]) };
        page.line(0, 8, &say("paper-screen-bars", &[&two(mass(e)), &buy]));
    }
    let is_bar = |t: &&Total| material(e, &t.material).is_some_and(|m| m.rounding == Rounding::Plan);
    let bought: Vec<_> = e.orders.totals.iter().filter(|t| t.packs > 0 && !is_bar(t)).collect();
    let one =
        |t: &&Total| format!("{} {}", title(e, &t.material), packs_of(e, &t.material, t.packs, t.ordered));
    let mut named: Vec<_> = bought.iter().take(NAMED).map(one).collect();
    if let Some(more) = bought.len().checked_sub(NAMED).filter(|n| *n > 0) {
        named.push(say("paper-screen-more", &[&more.to_string()]));
    }
    if !named.is_empty() {
        page.line(0, 8, &say("paper-screen-buy", &[&named.join("; ")]));
    }
    let first_of = |o: &&StageOrder| o.lines.iter().any(|l| l.packs > 0);
    if let Some(order) = e.orders.stages.iter().find(first_of)
        && let Some(when) = dates(e, order.stage)
    {
        page.line(0, 8, &say("paper-screen-first", &[&stage(order.stage), &when]));
    }
}

#[cfg(test)]
mod tests {
    use crate::handmade;
    use crate::text::screen;

    #[test]
    fn one_screen() {
        let text = screen(&handmade::estimate(), &["out/rest-house.xlsx".to_owned()]);
        let expected = r#"Rest house, hill road                                                 2026-11-25   east-africa   UGX
two chambers 2.00 + 1.00 m, 1.50 m wide, 1.63 m high
holds 5 420 litres to the water line, 7 335 to the underside of the cover

earth   billed 13.71 m3   dug 14.11   put back 0.00   carted 13.71 (17.14 loose, 3 loads of 6 m3)

A Earthworks                                                             164 520
E Masonry                                                                476 625
measured works                                                           641 145
  preliminary: Setting out                                               450 000
  provisional: Rock, extra over, 1 m3 x 85 000                            85 000
  Contingency 5 %                                                         58 807
  Value added tax 18 %                                                   125 991
  Rounding of the offer                                                       57
total                                                              UGX 1 361 000
one million three hundred and sixty-one thousand shillings
the offered total is rounded up to a multiple of 1 000
prices of demo-ugx, dated 2026-10-01 to 2026-11-01
not priced, and not in the total: water; watchman

bars    14.87 kg; to buy Y10 5 bars of 6 m (proved least)
to buy  cement 12 bags of 50 kg; building sand 1 trip of 3 m3
first   for base: order by Fri 27 Nov 2026, deliver Tue 1 Dec 2026

setting out: levels below ground level (+) and lengths, metres
  dig bottom, outlet end     1.955
  top of cover               0.000

1 balances close
cautions: 1
  C001  pit deeper than 1.2 m without support (common practice, no source) job.toml:14
defaults used: 1 (sources in the take-off): walls.thickness 220 mm

written: out/rest-house.xlsx
"#;
        assert_eq!(text, expected);
    }
}
