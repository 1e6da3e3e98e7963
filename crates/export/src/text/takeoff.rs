//! The take-off: dimension sheets, voids, decisions, balances, levels.

use tankwright_quantities::estimate::Estimate;

use super::table::{Col, Page, Table};
use super::{setting_out, sheet};
use crate::format::{say, value, word};

/// Every item with every line, and the proof that it is right.
#[must_use]
pub fn takeoff(e: &Estimate) -> String {
    let mut page = Page::default();
    super::head(&mut page, e);
    page.line(0, 2, &say("paper-takeoff-head", &[&e.profile.1]));
    super::method(&mut page, e);
    for phrase in &e.scope {
        page.line(0, 2, &phrase.to_string());
    }
    let mut last = None;
    let mut clauses = sheet::Clauses::default();
    for item in &e.sheet.items {
        if last != Some(item.work.section) {
            last = Some(item.work.section);
            page.heading(&word(&format!("section-{}", item.work.section.id())).to_uppercase());
        }
        sheet::item(&mut page, e, item, &mut clauses);
    }
    if !e.sheet.voids.is_empty() {
        page.heading(&word("paper-voids").to_uppercase());
        e.sheet.voids.iter().for_each(|item| sheet::item(&mut page, e, item, &mut clauses));
    }
    let voids = sheet::judged(e.sheet.items.iter(), &mut clauses);
    clauses.list(&mut page, word("paper-clauses"));
    proof(&mut page, e, &voids);
    page.blank();
    setting_out::marks(&mut page, e);
    page.blank();
    page.line(0, 4, &super::earth_line(e));
    page.line(0, 4, &super::capacity_line(e));
    if let Some(sizing) = &e.sizing {
        page.line(0, 4, &sizing.says.to_string());
    }
    page.blank();
    super::cautions(&mut page, e);
    defaults(&mut page, e);
    page.done()
}

/// Decisions item by item, then the balances.
fn proof(page: &mut Page, e: &Estimate, voids: &Table) {
    let count: usize = e.sheet.items.iter().chain(&e.sheet.voids).map(|i| i.decisions.len()).sum();
    let table = sheet::proof(e.sheet.items.iter().chain(&e.sheet.voids));
    if !table.is_empty() {
        page.heading(&say("paper-proof", &[&count.to_string()]));
        page.table(&table);
    }
    if !voids.is_empty() {
        let all = || e.sheet.items.iter().flat_map(|i| &i.judged);
        let kept: i64 = all().filter(|j| j.kept).map(|j| j.times).sum();
        let off = all().map(|j| j.times).sum::<i64>() - kept;
        page.heading(&say("paper-voids-judged", &[&kept.to_string(), &off.to_string()]));
        page.table(voids);
    }
    if !e.method.notes.is_empty() {
        page.heading(&say("paper-method", &[&e.profile.1]));
        page.table(&super::notes(e));
    }
    page.heading(&super::balances_line(e));
    if e.balances.is_empty() {
        return;
    }
    let mut table = Table::new(
        2,
        &[
            Col::Left(0),
            Col::Right(12),
            Col::Right(12),
            Col::Right(10),
            Col::Left(0),
            Col::Left(0),
            Col::Fill(0),
        ],
    );
    table.heads(["paper-balance", "paper-left", "paper-right", "paper-difference"]);
    for b in &e.balances {
        let holds = word(if b.holds() { "paper-closes" } else { "paper-open" });
        let (left, right) = (value(b.left, 2, 6), value(b.right, 2, 6));
        let says = std::iter::once(b.says.to_string())
            .chain(b.breaks.iter().cloned())
            .collect::<Vec<_>>()
            .join("; ");
        table.row([b.name, &left, &right, &value(b.left - b.right, 0, 6), b.unit, holds, &says]);
    }
    page.table(&table);
}

/// Every default used, with its source.
fn defaults(page: &mut Page, e: &Estimate) {
    if e.defaults.is_empty() {
        return;
    }
    page.heading(&say("paper-defaults-head", &[&e.defaults.len().to_string()]));
    let mut table = Table::new(2, &[Col::Left(0), Col::Left(0), Col::Fill(0)]);
    for d in &e.defaults {
        table.row([super::default_name(&d.path), d.value.clone(), d.source.clone()]);
    }
    page.table(&table);
}

#[cfg(test)]
mod tests {
    use crate::handmade;
    use crate::text::takeoff;

    #[test]
    fn dimension_sheets() {
        let expected = r#"Rest house, hill road                                                 2026-11-25   east-africa   UGX
dimension sheets in metres, measured by East African practice; values are shown to four places and
  added exactly
two chambers 2.00 + 1.00 m, 1.50 m wide, 1.63 m high

EARTHWORKS

excavation-pit   dig   Excavate pit, not deeper than 3.0 m
         1 / 3.55 x 1.94 x 1.99          13.7051  pit
             [chambers 1 + chambers 2 + 2 x walls.thickness + partitions.thickness, width + 2 x
               walls.thickness, height + 1/2 x base.fall + 0.325]
                                         13.7051  m3
  quantity 13.71 m3   net 13.70513 m3   model 13.670695 m3   stage: dig
  decision     -0.034435  m3  dimension booked: pit (a)
  decision      -0.00487  m3  total booked (b)

MASONRY

brickwork-wall   220   walls-lower   Brick walls, 220 mm thick, in mortar 1:4
         2 / 3.11 x 1.65                 10.2630  side walls
             [chambers 1 + chambers 2 + partitions.thickness, height + base.fall x 1.11 / 3.11]
   -1/4 pi / 0.11 x 0.11                 -0.0095  less pipe hole, inlet
                                         10.2535  m2
  quantity 10.25 m2   net 2.255769270089 m3   stage: walls, lower part

PLASTER AND WATERPROOFING

cement-paste   plaster   Neat cement paste (measured, not billed: it is in the rate of another item)
         1 / quantity of brickwork-wall/220/walls-lower       10.2500  on the walls
                                                              10.2500  m2
  quantity 10.25 m2   net 10.25 m2   stage: plaster

VOIDS AND OVER-BREAK, NOT BILLED

void-clear-space   walls-lower   Clear space
         1 / 3.00 x 1.50 x 1.63           7.3350  chambers  [chambers 1 + chambers 2, width, height]
                                          7.3350  m3
  quantity 7.34 m3   net 7.335 m3   stage: walls, lower part

clauses
  a  east-africa 1.2
  b  east-africa 1.3

quantity and decisions against the model; decisions: 2
  item                    booked     decisions         model  unexplained
  excavation-pit/dig       13.71     -0.039305     13.670695            0  m3

1 balances close
  balance          left         right  difference
  earth           13.71         13.71           0  m3  closes  dug = put back + taken away

setting out: levels below ground level (+) and lengths, metres
  dig bottom, outlet end     1.955
  top of cover               0.000

earth   billed 13.71 m3   dug 14.11   put back 0.00   carted 13.71 (17.14 loose, 3 loads of 6 m3)
holds 5 420 litres to the water line, 7 335 to the underside of the cover

cautions: 1
  C001  pit deeper than 1.2 m without support (common practice, no source) job.toml:14

defaults used: 1
  walls.thickness  220 mm  common practice, no source
"#;
        assert_eq!(takeoff(&handmade::estimate()), expected);
    }
}
