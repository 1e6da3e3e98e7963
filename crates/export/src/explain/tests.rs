//! Tests of the explanations.

use super::{explain, ids};
use crate::handmade;

fn said(id: &str) -> String {
    explain(&handmade::estimate(), id).unwrap_or_else(|near| format!("{near:?}"))
}

#[test]
fn a_bill_row_down_to_the_lines_of_the_job_file() {
    let expected = r#"E1   brickwork-wall/220   10.25 m2 x 46 500 = 476 625
Brick walls, 220 mm thick, in mortar 1:4
quantity   10.25 m2, stage walls-lower: 10.253496... booked to 2 places (east-africa)
         2 / 3.11 x 1.65                 10.2630  side walls
             3.11 = 2.00 + 1.00 + 0.11   [chambers 1 + chambers 2 + partitions.thickness]
               job.toml:22, 34
             0.22, named in the wording   [walls.thickness]   default
             1.65, booked from 1.6514... = 1.63 + 0.06 x 1.11 / 3.11   [height + base.fall x 1.11 /
               3.11]   job.toml:22, 24, 34, 30
   -1/4 pi / 0.11 x 0.11            -0.009503...  less pipe hole, inlet
             0.22, named in the wording   [walls.thickness]   default
rate       46 500 for brickwork-wall from rates/prices/demo-ugx.csv:31, 2026-10-01, invented, demo
           (priced by the plain code brickwork-wall)
from the job file
  chambers 1                2.00 m  job.toml:22
  chambers 2                1.00 m  job.toml:22
  height                    1.63 m  job.toml:24
  walls.thickness           0.22 m  default, common practice, no source
  partitions.thickness      0.11 m  job.toml:34
  base.fall                 0.06 m  job.toml:30
"#;
    for id in ["E1", "e1", "brickwork-wall", "brickwork-wall/220", " E1 "] {
        assert_eq!(said(id), expected, "{id}");
    }
}

#[test]
fn an_item_with_its_decisions_and_the_row_it_goes_to() {
    // 3.55 x 1.94 x 1.99 = 13.70513; 3.55 x 1.94 x 1.985 = 13.670695, less 13.70513 = -0.034435
    let expected = r#"excavation-pit/dig   Excavate pit, not deeper than 3.0 m
quantity   13.71 m3, stage dig: 13.70513 booked to 2 places (east-africa)
         1 / 3.55 x 1.94 x 1.99         13.70513  pit
             3.55 = 2.00 + 1.00 + 2 x 0.22 + 0.11   [chambers 1 + chambers 2 + 2 x walls.thickness +
               partitions.thickness]   job.toml:22, default, 34
             1.94 = 1.50 + 2 x 0.22   [width + 2 x walls.thickness]   job.toml:23, default
             1.99, booked from 1.985 = 1.63 + 1/2 x 0.06 + 0.325   [height + 1/2 x base.fall +
               0.325]   job.toml:24, 30
  decision     -0.034435  m3  dimension booked: pit (east-africa 1.2)
  decision      -0.00487  m3  total booked (east-africa 1.3)
  model 13.670695 m3
billed in A1 excavation-pit
rate       12 000 for excavation-pit from rates/prices/demo-ugx.csv:3, 2026-10-01, invented, demo
from the job file
  chambers 1                2.00 m  job.toml:22
  chambers 2                1.00 m  job.toml:22
  width                     1.50 m  job.toml:23
  height                    1.63 m  job.toml:24
  walls.thickness           0.22 m  default, common practice, no source
  partitions.thickness      0.11 m  job.toml:34
  base.fall                 0.06 m  job.toml:30
"#;
    assert_eq!(said("excavation-pit/dig"), expected);
}

#[test]
fn an_item_that_is_not_billed() {
    let expected = r#"cement-paste/plaster   Neat cement paste
quantity   10.25 m2, stage plaster
         1 / quantity of brickwork-wall/220/walls-lower       10.2500  on the walls
(measured, not billed: it is in the rate of another item)
"#;
    assert_eq!(said("cement-paste"), expected);
}

#[test]
fn sums_show_what_makes_them() {
    let total = r#"total   UGX 1 361 000
  A Earthworks                                                          164 520  earthworks
  E Masonry                                                             476 625  masonry
  measured works                                                        641 145
  preliminaries                                                         450 000
  provisional items                                                      85 000
  Contingency 5 %, on all before it                                      58 807
  Value added tax 18 %, on the measured works and Contingency           125 991
  Rounding of the offer                                                      57
  total                                                           UGX 1 361 000
one million three hundred and sixty-one thousand shillings
the offered total is rounded up to a multiple of 1 000
prices of demo-ugx, dated 2026-10-01 to 2026-11-01
not priced, and not in the total: water; watchman
"#;
    assert_eq!(said("total"), total);
    let tax = r#"Value added tax   18 % of 699 952 = 125 991
  699 952 is taken on the measured works and Contingency:
  measured works                                               641 145
  Contingency                                                   58 807
"#;
    assert_eq!(said("value added TAX"), tax);
    let section = r#"E Masonry   476 625
  E1  brickwork-wall/220  10.25 m2 x 46 500                    476 625
"#;
    assert_eq!(said("masonry"), section);
    let earth = r#"earth   billed 13.71 m3   dug 14.11   put back 0.00   carted 13.71 (17.14 loose, 3 loads of 6 m3)
  billed, net                  13.71
    excavation-pit/dig         13.71
  dug in fact                  14.11
  put back                      0.00
  carted, as it lay            13.71
  carted, loose                17.14
  dug in fact adds working space and over-break; loose is as it lay, swollen by the soil's factor
"#;
    assert_eq!(said("earth"), earth);
    assert!(said("capacity").contains("3.00 = 2.00 + 1.00   [chambers 1 + chambers 2]   job.toml:22"));
    assert!(said("provisional").contains("Rock, extra over"));
}

#[test]
fn an_unknown_id_offers_the_nearest() {
    let near = explain(&handmade::estimate(), "brikwork").err().unwrap_or_default();
    assert_eq!(near.first().map(String::as_str), Some("brickwork-wall"));
    assert!(explain(&handmade::estimate(), &"x".repeat(10_000)).is_err());
    assert!(explain(&handmade::estimate(), "").is_err());
}

#[test]
fn every_id_is_explained_in_lines_that_fit() {
    for id in ids(&handmade::estimate()) {
        let text = said(&id);
        assert!(!text.is_empty() && !text.starts_with("[\""), "{id}");
        assert!(text.lines().all(|l| l.chars().count() <= 100), "{text}");
    }
}

#[test]
fn materials_orders_and_marks() {
    let all: Vec<_> =
        ["cement", "sand-building", "bars/Y10", "orders/cement", "mark/1", "mark/2"].map(said).to_vec();
    crate::golden::same("explain.txt", &all.join("----\n"));
    assert!(said("orders/gravel").contains("orders/cement"), "{}", said("orders/gravel"));
}
